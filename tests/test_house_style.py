"""What holds for every function: short, few positional arguments, no positional booleans."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import dovelayout

HOME = Path(dovelayout.__file__).parent
MOST_LINES = 60
MOST_POSITIONAL = 4


def _breaks(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """(rule, line) of every break in a module."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if len(node.args) > MOST_POSITIONAL:
                yield "positional arguments", node.lineno
            if any(isinstance(one, ast.Constant) and isinstance(one.value, bool) for one in node.args):
                yield "positional booleans", node.lineno
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            if (node.end_lineno or 0) - node.lineno + 1 > MOST_LINES and not _is_command(node):
                yield "long functions", node.lineno
            if any(_is_bool(one) for one in (*node.args.posonlyargs, *node.args.args)) and not _is_command(node):
                yield "positional booleans", node.lineno


def _is_bool(argument: ast.arg) -> bool:
    return isinstance(argument.annotation, ast.Name) and argument.annotation.id == "bool"


def _is_command(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """Whether its parameters are a command's options, which are long and positional by nature."""
    options = [*function.args.args, *function.args.kwonlyargs]
    return any("Annotated" in ast.unparse(one.annotation) for one in options if one.annotation is not None)


def _rooms() -> dict[str, list[Path]]:
    rooms: dict[str, list[Path]] = {}
    for path in sorted(HOME.rglob("*.py")):
        rooms.setdefault(path.relative_to(HOME).with_suffix("").parts[0], []).append(path)
    return rooms


@pytest.mark.parametrize("room", sorted(_rooms()))
def test_functions_are_short_and_calls_name_their_arguments(room: str) -> None:
    found = [
        f"{path.relative_to(HOME)}:{line}: {rule}"
        for path in _rooms()[room]
        for rule, line in _breaks(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert found == []


def test_the_scan_would_notice() -> None:
    code = """
def switched(at: float, on: bool) -> None:
    call(1, 2, 3, 4, 5)
    call(True)
    call(1, 2, 3, 4, on=True)
"""
    long = "def long() -> None:\n" + "    pass\n" * MOST_LINES
    assert sorted(_breaks(ast.parse(code))) == [
        ("positional arguments", 3),
        ("positional booleans", 2),
        ("positional booleans", 4),
    ]
    assert list(_breaks(ast.parse(long))) == [("long functions", 1)]
