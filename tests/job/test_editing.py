"""Editing a job's text: what was asked changes, everything else stays letter for letter."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import JobError
from dovelayout.job.editing import MOST_EDIT_CHARS, edited, fix_edits
from dovelayout.job.starter import Start, starter

TEXT = """# a job written by hand
title = "Thread tray"   # mine
units = "mm"

[[board]]
name = "side"           # two of them
species = "black cherry"
length = 300
width = 160
thickness = 16

[[board]]
name = "front"
species = "black cherry"
length = 400
width = 160
thickness = 16

# the corner
[[corner]]
name = "A"
tails = "side.right"
pins = "front.left"
pin = 6                 # narrow
groove = { from_edge = 10, width = 5, depth = 5 }
"""


def _changed_lines(old: str, new: str) -> list[str]:
    return [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line[0] in "+-"]


def _set(key: str, value: Any, table: str = "corner", name: str = "A") -> dict[str, Any]:
    return {"op": "set", "table": table, "name": name, "key": key, "value": value}


def test_one_key_is_one_line_and_its_comment_stays() -> None:
    assert _changed_lines(TEXT, edited(TEXT, [_set("pin", "7.5")])) == [
        "- pin = 6                 # narrow",
        "+ pin = 7.5                 # narrow",
    ]


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("7", 7),
        ("7.5", 7.5),
        ("1/4 in", "1/4 in"),
        ("19 mm", "19 mm"),
        ("7,5", "7,5"),
        ("1:7", "1:7"),
        ("[[8, 40], [50, 90]]", [[8, 40], [50, 90]]),
        (True, True),
        ('"; drop', '"; drop'),
    ],
)
def test_values_are_written_as_they_are_meant(typed: Any, read: Any) -> None:
    (corner,) = tomllib.loads(edited(TEXT, [_set("pin", typed)]))["corner"]
    assert corner["pin"] == read


def test_a_key_in_an_inline_table_alone_changes() -> None:
    text = edited(TEXT, [_set("groove.from_edge", "12")])
    assert text == TEXT.replace("from_edge = 10", "from_edge = 12")
    (corner,) = tomllib.loads(edited(TEXT, [_set("lid.at", "50")]))["corner"]
    assert corner["lid"] == {"at": 50}


def test_keys_are_taken_out_and_tables_made_where_they_are_missing() -> None:
    text = edited(
        TEXT, [{"op": "unset", "table": "corner", "name": "A", "key": "pin"}, _set("kerf", "0.6", "shop", "")]
    )
    tables = tomllib.loads(text)
    assert "pin" not in tables["corner"][0]
    assert tables["shop"] == {"kerf": 0.6}
    assert edited(TEXT, [{"op": "unset", "table": "corner", "name": "A", "key": "lap"}]) == TEXT


def test_rows_come_and_go() -> None:
    text = edited(TEXT, [{"op": "add", "table": "divider", "values": {"name": "shelf", "host": "side.left", "at": 40}}])
    assert tomllib.loads(text)["divider"] == [{"name": "shelf", "host": "side.left", "at": 40}]
    assert text.startswith(TEXT.rstrip("\n"))
    without = edited(text, [{"op": "remove", "table": "divider", "name": "shelf"}])
    assert tomllib.loads(without) == tomllib.loads(TEXT)


def test_a_renamed_board_is_followed_by_its_named_ends() -> None:
    text = TEXT.replace('name = "side"', 'name = "side"\nends = ["foot", "side"]').replace(
        '"side.right"', '"side.foot"'
    )
    tables = tomllib.loads(edited(text, [{"op": "rename", "table": "board", "name": "side", "value": "post"}]))
    assert tables["board"][0]["ends"] == ["foot", "side"]
    assert tables["corner"][0]["tails"] == "post.foot"


def test_a_renamed_board_is_followed_wherever_it_is_named() -> None:
    text = edited(TEXT, [{"op": "rename", "table": "board", "name": "side", "value": "left side"}])
    tables = tomllib.loads(text)
    assert tables["board"][0]["name"] == "left side"
    assert tables["corner"][0]["tails"] == "left side.right"
    assert tables["corner"][0]["pins"] == "front.left"
    assert "# two of them" in text


def test_a_fix_with_explicit_tails_replaces_the_keys_it_stands_for() -> None:
    changes = [{"table": "corner", "name": "A", "values": {"tails_at": [["8 mm", "40 mm"]]}}]
    (corner,) = tomllib.loads(edited(TEXT, fix_edits(changes)))["corner"]
    assert corner["tails_at"] == [["8 mm", "40 mm"]]
    assert "pin" not in corner


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        ({"op": "explode"}, "not known"),
        ({}, "not known"),
        (_set("pin", "6", name="Z"), "was not found"),
        (_set("pin", "6", table="board", name=""), "needs the name"),
        (_set("pin.x.y.z", "6"), "can't be written"),
        (_set("pin; drop", "6"), "can't be written"),
        (_set("pin", "x" * 5000), "too long"),
        (_set("pin", None), "can't be written"),
        (_set("pin.x", "6"), "no table"),
        ({"op": "add", "table": "corner"}, "needs its keys"),
        ({"op": "rename", "table": "board", "name": "side", "value": " "}, "a name is wanted"),
        ({"op": "set", "table": 7, "name": "A", "key": "pin", "value": 1}, "no plain text"),
    ],
)
def test_what_can_not_be_edited_is_told(edit: dict[str, Any], told: str) -> None:
    with pytest.raises(JobError, match=told):
        edited(TEXT, [edit])


def test_a_table_of_its_own_is_taken_out_by_its_name() -> None:
    with_a_shop = TEXT + '\n[shop]\nglue = "pva"\n'
    assert "shop" not in tomllib.loads(edited(with_a_shop, [{"op": "remove", "table": "shop", "name": "shop"}]))
    with pytest.raises(JobError, match="there is no shop"):
        edited(TEXT, [{"op": "remove", "table": "shop", "name": "shop"}])


@pytest.mark.parametrize("op", ["set", "unset", "remove", "rename"])
@pytest.mark.parametrize("value", ["3", '"x"', "[1, 2]", '["a"]', "[[1]]"])
def test_a_table_that_is_none_is_told(op: str, value: str) -> None:
    edit = {"op": op, "table": "divider", "name": "divider", "key": "at", "value": "7"}
    with pytest.raises(JobError, match=r"is no table|was not found|not written as"):
        edited(f"divider = {value}\n" + TEXT, [edit])


@pytest.mark.parametrize(
    "text", ["= nonsense", "a = 1\na = 2", "x = " + "[" * 3000 + "]" * 3000, "#" * (MOST_EDIT_CHARS + 1)]
)
def test_a_text_that_is_no_job_is_told(text: str) -> None:
    with pytest.raises(JobError):
        edited(text, [_set("title", "x", "", "")])


@pytest.mark.parametrize("path", sorted((Path(__file__).parents[2] / "samples").glob("*.toml")), ids=lambda p: p.stem)
def test_nothing_asked_changes_nothing(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert edited(text, []) == text


@pytest.mark.parametrize("kind", Start)
@given(value=st.text(max_size=60))
def test_any_text_comes_back_as_it_was_typed_or_as_the_number_it_reads_as(kind: str, value: str) -> None:
    text = starter(kind)
    try:
        found = tomllib.loads(edited(text, [_set("title", value, "", "")]))["title"]
    except JobError:
        assert value.strip().startswith(("[", "{")) or any(0xD800 <= ord(ch) <= 0xDFFF for ch in value)
        return
    if isinstance(found, int | float):
        assert float(value) == found
    elif isinstance(found, str):
        assert found == value.strip()
