"""What the page shows of a job: the same verdict and drawing as everywhere, and errors beside their fields."""

from __future__ import annotations

import json
import typing
from enum import StrEnum
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import shapely
from hypothesis import given, settings

from dovelayout.checks.finding import Finding, Level
from dovelayout.drawing.screen import corner_drawing
from dovelayout.job.described import terms
from dovelayout.job.reader import read_job
from dovelayout.joints.corner import CornerJoint
from dovelayout.page.forms import forms
from dovelayout.page.view import job_of, look, spots_of
from dovelayout.place import Place
from dovelayout.verdict.verdict import judged
from tests.conftest import examples
from tests.odd_names import ODD, PLAIN, renamed, text
from tests.strategies import corner_joints

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
TERM_PICTURES = Path(__file__).parents[2] / "dovelayout" / "page" / "static" / "terms"


def _look(text: str, **keys: Any) -> dict[str, Any]:
    seen = look(text, name="x.toml", **keys)
    json.dumps(seen, allow_nan=False)
    return seen


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_is_shown_with_the_verdict_of_check(path: Path) -> None:
    seen = _look(path.read_text(encoding="utf-8"))
    verdict = judged(read_job(path))
    assert seen["error"] is None
    assert seen["worst"] == verdict.worst.value
    assert [row["message"] for row in seen["findings"]] == [row.message for row in verdict.for_people]
    assert [row["name"] for row in seen["corners"]] == [joint.name for joint, _ in verdict.corners]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_finding_of_the_corner_that_is_drawn_has_its_place_on_the_drawing(path: Path) -> None:
    for corner in _look(path.read_text(encoding="utf-8"))["corners"]:
        seen = _look(path.read_text(encoding="utf-8"), show=corner["name"])
        assert seen["drawing"]["corner"] == corner["name"]
        names = {spot["name"] for spot in seen["drawing"]["spots"]}
        for finding in seen["findings"]:
            if corner["name"] in finding["corners"]:
                assert finding["spots"]
                assert set(finding["spots"]) <= names
            else:
                assert finding["spots"] == []


@settings(max_examples=examples(60))
@given(joint=corner_joints())
def test_spots_lie_on_the_drawing_and_tails_do_not_overlap_pins(joint: CornerJoint) -> None:
    drawn = corner_drawing(joint)
    sheet = shapely.box(0, 0, drawn.sheet.width_mm, drawn.sheet.height_mm).buffer(0.01)
    shapes = {spot.name: shapely.union_all([shapely.Polygon(ring) for ring in spot.rings]) for spot in drawn.spots}
    assert all(sheet.contains(shape) for shape in shapes.values())
    assert len([name for name in shapes if name.startswith("tail ")]) == len(joint.tails)
    parts = [shape for name, shape in shapes.items() if name.split()[0] in ("tail", "pin")]
    assert sum(shape.area for shape in parts) == pytest.approx(shapely.union_all(parts).area, abs=0.05 * len(parts))


BOARD = '[[board]]\nname = "{}"\nspecies = "black cherry"\nlength = 300\nwidth = 160\nthickness = 16\n'
JOB = BOARD.format("side") + BOARD.format("front")


@pytest.mark.parametrize(
    ("corner", "field"),
    [
        ('tails = "side.left"\npins = "front.right"\npin = "wide"', ("corner", "A", "pin")),
        ('tails = "side.left"\npins = "front.right"\nslope = "1:0"', ("corner", "A", "slope")),
        ('tails = "side.left"\npins = "frnt.right"', ("corner", "A", "pins")),
        ('tails = "side.left"\npins = "front.right"\ngroove = { from_edge = "x", width = 5, depth = 5 }',
         ("corner", "A", "groove.from_edge")),
        ('tails = "side.left"\npins = "front.right"\ntails_at = [[1, "z"]]', ("corner", "A", "tails_at")),
        ('tails = "side.left"\npins = "front.right"\npin = 500', ("corner", "A", "")),
    ],
)  # fmt: skip
def test_an_error_names_the_field_it_belongs_to(corner: str, field: tuple[str, str, str]) -> None:
    seen = _look(JOB + '[[corner]]\nname = "A"\n' + corner)
    error = seen["error"]
    assert error["problem"]
    table, name, key = field
    assert (error["table"], error["name"]) == (table, name)
    assert error["key"].split(".")[0] == key.split(".")[0]
    assert seen["tables"]["corner"][0]["name"] == "A"  # the fields still show what was typed


@pytest.mark.parametrize(
    "text", ["", "= no", "x = " + "[" * 3000, 'title = "a"', "\x00", "a = 1e999", "🪵", "#" * 1_000_001]
)
def test_what_is_no_job_is_told_and_never_raises(text: str) -> None:
    assert _look(text)["error"]["problem"]


def test_forms_and_the_schema_know_the_same_keys() -> None:
    from dovelayout.job.tables.schema import TABLES, JobTable

    for table in set(TABLES) & set(JobTable.model_fields):
        known = {field.alias or key for key, field in TABLES[table].model_fields.items()}
        # keys of an inline table are fields of their own: 'groove.width'
        offered = {field.key.split(".")[0] for field in forms().get(table, ())}
        assert known == offered, table


def _words(annotation: object) -> set[str]:
    """The texts that a key may be, of a Literal or an enum somewhere in its annotation."""
    if typing.get_origin(annotation) is typing.Literal:
        return {str(value) for value in typing.get_args(annotation)}
    if isinstance(annotation, type) and issubclass(annotation, StrEnum):
        return set(annotation)
    return {word for inner in typing.get_args(annotation) for word in _words(inner)}


def test_choices_are_the_words_that_the_schema_takes() -> None:
    from dovelayout.job.tables.schema import TABLES

    looked_at = 0
    for table, fields in forms().items():
        for field in fields:
            head, _, inner = field.key.partition(".")
            model = TABLES.get(head if inner else table)
            if not field.choices or model is None or field.key == "joint":
                continue
            keys = {known.alias or key: known for key, known in model.model_fields.items()}
            allowed = _words(keys[inner or head].annotation)
            assert set(field.choices) - {""} <= allowed, (table, field.key)
            assert len(allowed) == len(set(field.choices) - {""}), (table, field.key)
            looked_at += 1
    assert looked_at > 20


def test_every_term_has_a_picture_and_every_picture_a_term() -> None:
    named = {field.term for fields in forms().values() for field in fields if field.term}
    for path in TERM_PICTURES.glob("*.svg"):
        assert (
            ElementTree.parse(path).getroot().tag.endswith("svg")
        )  # a browser shows nothing of one that isn't well-formed
    assert named == set(terms()) == {path.stem for path in TERM_PICTURES.glob("*.svg")}


def test_names_that_look_like_words_of_a_message_stay_names() -> None:
    for name in ("A", "B"):
        plain, odd = (look(text(names), name="x.toml", show=names[name]) for names in (PLAIN, ODD))
        for seen in (plain, odd):
            seen["drawing"].pop("svg")  # a name that is too long for its place is shortened there
        assert odd == renamed(plain)
        shown = {(f["check"], *f["spots"]) for f in odd["findings"] if ODD[name] in f["corners"]}
        boards = {f"board {ODD[board]}" for board in ("three", "one" if name == "A" else "two")}
        assert {spot for _, *spots in shown for spot in spots if spot.startswith("board ")} == boards
        assert ("squareness", f"board {ODD['one' if name == 'A' else 'two']}") in shown
        assert ("groove-depth", "groove") in shown
        assert ("half-pin", "half pin at the far edge") in shown
        assert ("thin-pin", "pin 1") in shown


@pytest.mark.parametrize(
    ("part", "number", "board", "shown"),
    [
        ("tail", 2, "", ["tail 2"]),
        ("pin", 2, "", ["pin 2"]),
        ("pin", 30, "", ["board side", "board front"]),  # not there
        ("half pin at the face edge", None, "", ["half pin at the face edge"]),
        ("half pins", None, "front.right", ["half pin at the face edge", "half pin at the far edge"]),
        ("pins", None, "front.right", ["pin 1", "pin 2"]),
        ("between the tails", None, "", ["pin 1", "pin 2"]),
        ("between the pins", None, "", ["tail 1", "tail 2", "tail 3"]),
        ("cheeks", None, "", ["tail 1", "tail 2", "tail 3"]),
        ("groove", None, "side", ["groove"]),
        ("lap", None, "front", ["board front"]),
        ("thickness", None, "side", ["board side"]),
        ("widths", None, "", ["board side", "board front"]),
    ],
)
def test_a_part_is_shown_where_it_is_drawn(part: str, number: int | None, board: str, shown: list[str]) -> None:
    corner = """
[[corner]]
name = "A"
tails = "side.left"
pins = "front.right"
tail_count = 3
groove = { from_edge = 20, width = 5, depth = 5 }
"""
    (joint,) = job_of(JOB + corner, "x.toml").joints
    place = Place(kind="corner", name="A", part=part, number=number, board=board)
    finding = Finding(check="any", level=Level.NOTE, place=place, message="")
    assert sorted(spots_of(finding, corner_drawing(joint).spots)) == sorted(shown)
