"""Every choice a job can make stands once, as an enum: nowhere else in the package are its words listed again."""

from __future__ import annotations

import ast
import itertools
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path

import pytest

import dovelayout
from dovelayout.job.tables.schema import TABLES, JobTable, within

HOME = Path(dovelayout.__file__).parent
FILES = sorted((*HOME.rglob("*.py"), *(HOME / "job" / "data").rglob("*.toml")))
CHOICES: dict[str, frozenset[str]] = {
    kind.__name__: frozenset(kind)
    for model in (JobTable, *TABLES.values())
    for field in model.model_fields.values()
    for kind in within(field.annotation)
    if issubclass(kind, StrEnum)
}

OTHERWISE_MEANT = {
    ("drawing/cards/patch.py", "HostFace"): "the faces of a board's end, of which a housing lies in one of two",
    ("repair/trace.py", "HostFace"): "the faces of a board's end, of which a housing lies in one of two",
    ("casework/box.py", "End"): "which of a pair of equal sides, not which end of one",
    ("glueup/checks.py", "When"): "the keys of a stage: what comes before it and after it",
    ("glueup/squareness.py", "HostFace"): "where a diagonal is measured",
    ("units/lengths.py", "Unit"): "every unit that is read, of which a job may be written in three",
}


def _texts(nodes: list[ast.expr | None]) -> frozenset[str]:
    found = (node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str))
    return frozenset(found)


def lists_in(source: str) -> Iterator[frozenset[str]]:
    """The texts of every list, tuple, set, table, Literal and chain of comparisons in a Python file."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.List(elts=items) | ast.Tuple(elts=items) | ast.Set(elts=items):
                yield _texts([*items])
            case ast.Dict(keys=keys):
                yield _texts(keys)
            case ast.ClassDef(bases=[*_, ast.Name(id="StrEnum")]):
                continue


def spelled_out(text: str, words: frozenset[str]) -> bool:
    """Whether all words stand in a row in a text, parted as lists in prose are."""
    found = (sep.join(order) for order in itertools.permutations(words) for sep in (" | ", ", ", "/", " or "))
    return len(words) > 2 and any(row in text for row in found) if len(words) <= 5 else " | ".join(words) in text


def listed_again(path: Path) -> list[str]:
    """The enums whose words a file lists."""
    source = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        lists = list(lists_in(source))
        found = [name for name, words in CHOICES.items() if any(words <= listed for listed in lists)]
        texts = [
            node.value
            for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        ]
    else:
        found, texts = [], [source]
    found += [name for name, words in CHOICES.items() if any(spelled_out(text, words) for text in texts)]
    where = str(path.relative_to(HOME))
    return [name for name in dict.fromkeys(found) if (where, name) not in OTHERWISE_MEANT]


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(HOME)))
def test_no_file_lists_the_words_of_a_choice_again(path: Path) -> None:
    assert listed_again(path) == []


def test_no_key_of_a_job_is_a_literal() -> None:
    for path in (HOME / "job").rglob("*.py"):
        names = [node.id for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Name)]
        assert "Literal" not in names, path


def test_this_search_would_notice(tmp_path: Path) -> None:
    assert len(CHOICES) >= 18
    assert frozenset({"flat", "quarter", "rift"}) in set(lists_in('RINGS = ("flat", "quarter", "rift")'))
    assert frozenset({"flat", "quarter"}) in set(lists_in('x = {"flat": 1, "quarter": 2}'))
    assert spelled_out("rings: flat, quarter, rift", CHOICES["Rings"])
    assert spelled_out("# piston | good | workaday: what is left", CHOICES["Fit"])
    assert not spelled_out("good, or a workaday fit", CHOICES["Fit"])
    for (where, _), why in OTHERWISE_MEANT.items():
        assert (HOME / where).is_file()
        assert why
