"""Texts kept as data: every one of them filled with its file's own examples, and nothing filled in that isn't named there."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

import dovelayout
from dovelayout.drawing.sheets.frame import Legend
from dovelayout.texts import Texts
from tests.limits import rules

HOME = Path(dovelayout.__file__).parent


def _files() -> Iterator[Texts]:
    """Every file of texts in the package: those that `Texts` is made for somewhere at the top of a module."""
    for path in sorted(HOME.rglob("data/*.toml")):
        room = ".".join(path.parent.parent.relative_to(HOME).parts)
        source = "".join(file.read_text(encoding="utf-8") for file in path.parent.parent.rglob("*.py"))
        if f'Texts("{room}", "{path.stem}")' in source:
            yield Texts(room, path.stem)


FILES = list(_files())
TEXTS = [
    pytest.param(file, key, text, id=f"{file.room}/{file.name}: {key}")
    for file in FILES
    for key, entry in file.all().items()
    for text in ((entry,) if isinstance(entry, str) else entry)
]


def _places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_the_walk_finds_the_files_of_every_room() -> None:
    assert {file.room for file in FILES} == {
        "checks",
        "checks.movement",
        "drawing",
        "glueup",
        "planning",
        "repair",
        "report",
    }
    assert len(TEXTS) > 200


@pytest.mark.parametrize(("file", "key", "text"), TEXTS)
def test_every_text_is_filled_by_the_examples_of_its_file(file: Texts, key: str, text: str) -> None:
    assert isinstance(text, str), "a text or a list of texts"
    assert all(name.isidentifier() for name in _places(text)), "plain names, such as {width}"
    said = text.format(**file.placeholders())
    assert said
    assert said == " ".join(said.split()), "single spaces, none at either end"
    assert "{" not in said
    assert "}" not in said


@pytest.mark.parametrize("file", FILES, ids=lambda file: f"{file.room}/{file.name}")
def test_every_placeholder_that_a_file_names_is_used_in_it(file: Texts) -> None:
    used = {
        name
        for entry in file.all().values()
        for text in ((entry,) if isinstance(entry, str) else entry)
        for name in _places(text)
    }
    assert used == set(file.placeholders())


@pytest.mark.parametrize("file", FILES, ids=lambda file: f"{file.room}/{file.name}")
def test_no_file_says_a_thing_twice_in_one_table(file: Texts) -> None:
    for entry in file.all().values():
        assert isinstance(entry, str) or len(set(entry)) == len(entry)


DRAWN = [file for file in FILES if file.room == "drawing"]


def _strings_in_source(file: Texts) -> Iterator[str]:
    """The strings in the modules that use a file, as patterns: a field in one stands for a word."""
    for path in (HOME / file.room).rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(source)) if f'Texts("{file.room}", "{file.name}")' in source else ():
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield re.escape(node.value)
            if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                yield "".join(
                    re.escape(str(one.value)) if isinstance(one, ast.Constant) else r"\w+" for one in node.values
                )


@pytest.mark.parametrize("file", DRAWN, ids=lambda file: file.name)
def test_every_text_of_a_sheet_is_named_in_the_source(file: Texts) -> None:
    """Those of the other rooms are said one by one in tests/test_texts_said.py."""
    patterns = set(_strings_in_source(file))
    assert [key for key in file.all() if not any(re.fullmatch(one, key) for one in patterns)] == []


@pytest.mark.parametrize("legend", Legend)
def test_every_legend_has_words(legend: Legend) -> None:
    assert bool(legend.words) is (legend is not Legend.NONE)


REPAIR = Texts("repair", "gap")


def test_a_text_a_list_and_a_finding_are_filled() -> None:
    assert REPAIR("size.fix", method="slip", rest="0.6 mm") == "slip: 0.6 mm"
    assert len(REPAIR.rows("wait.steps")) == 2
    said = REPAIR.finding("size", method="slip", rest="0.6 mm")
    assert said == {"message": "too wide for glue and finish to close by themselves", "fix": "slip: 0.6 mm"}
    assert REPAIR.unchecked("no_depth")["because"].startswith("how deep")
    assert "size.fix" in REPAIR
    assert "size.nothing" not in REPAIR
    # braces and the like in what is filled in are left as they are
    assert REPAIR("size.fix", method="{rest}", rest="{0}") == "{rest}: {0}"


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("size.fix", {"method": "slip"}),  # one isn't filled
        ("size.fix", {"method": "slip", "rest": "0.6 mm", "wideness": "0.6 mm"}),  # one isn't named in the file
        ("size.nothing", {}),
        ("placeholders.rest", {}),
    ],
)
def test_what_is_missing_or_unknown_is_refused(key: str, values: dict[str, str]) -> None:
    with pytest.raises(KeyError):
        REPAIR(key, **values)


def test_one_text_isnt_a_list_nor_a_list_one_text() -> None:
    with pytest.raises(TypeError, match=r"wait\.steps is a list"):
        REPAIR("wait.steps")
    with pytest.raises(TypeError, match=r"flush is one text"):
        REPAIR.rows("flush")


def test_a_file_that_isnt_there_is_an_error() -> None:
    with pytest.raises(FileNotFoundError):
        Texts("repair", "nothing")("any")


def test_every_rule_of_both_rooms_says_why_it_matters_and_shows_an_example() -> None:
    own = [row for row in rules() if row.place.split(".")[0] in ("glueup", "repair")]
    assert len(own) > 15
    for row in own:
        for said in (row.value.why, row.value.example):
            assert said.endswith("."), f"{row.place}.{row.name}: a sentence"
            assert said[0].isupper() or said[0].isdigit()
