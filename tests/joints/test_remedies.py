"""Whatever a joint or a piece of casework is refused for, the error says what would be right."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import dovelayout

HOME = Path(dovelayout.__file__).parent
FILES = sorted(path for room in ("joints", "casework") for path in (HOME / room).rglob("*.py"))


def without_remedy(source: str) -> list[int]:
    """Lines that make a LayoutError without its remedy."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "LayoutError"
        and [keyword.arg for keyword in node.keywords] != ["remedy"]
    ]


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(HOME)))
def test_every_layout_error_says_what_would_be_right(path: Path) -> None:
    assert without_remedy(path.read_text(encoding="utf-8")) == []


def test_this_search_would_notice() -> None:
    assert without_remedy('raise LayoutError("no")\n') == [1]
    assert without_remedy('raise LayoutError("no", remedy="yes")\n') == []
