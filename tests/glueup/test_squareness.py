"""Diagonals and lean against exact trigonometry: corners of a leaning box by their coordinates, nothing of the room."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.assembly import assemblies
from dovelayout.checks.finding import Level
from dovelayout.glueup.squareness import (
    DIFFERENCE,
    ELSEWHERE,
    LONG_THIN,
    UNEQUAL,
    Diagonal,
    Lean,
    diagonals,
    lean_findings,
    nearest,
)
from dovelayout.place import Place
from tests.glue_jobs import glue_box, glue_findings, loudness, planned, with_changes
from tests.jobs import corner_job, loaded


def by_coordinates(a: float, b: float, lean: float) -> tuple[float, float]:
    """Diagonals of a box whose upright side b leans by `lean` at its top: corners in a drawing, Pythagoras."""
    top = math.sqrt(b**2 - lean**2)
    foot, heel, far, near = (0.0, 0.0), (a, 0.0), (a + lean, top), (lean, top)
    return math.dist(foot, far), math.dist(heel, near)


def _diagonal(a: float, b: float) -> Diagonal:
    return Diagonal(where="case", place=Place(kind="box", name="case"), sides_mm=(a, b), allowed_mm=1.0)


def test_a_lean_of_one_millimetre_on_600_by_900() -> None:
    """By the law of cosines d1 - d2 is about 2 a e / d for a side b that stands e out of square, and a is the other side:
    the 600 side 1 mm out gives 2 x 900 / 1081.67 = 1.664 mm, which the trade rounds to 1.7; the 900 side 1 mm out gives
    2 x 600 / 1081.67 = 1.109 mm. Both are right, for different leans, and the plan prints both."""
    for (a, b), difference_mm in (((900.0, 600.0), 1.6641), ((600.0, 900.0), 1.1094)):
        measured = Lean(diagonal=_diagonal(a, b), measured_mm=by_coordinates(a, b, 1.0))
        assert measured.difference_mm == pytest.approx(difference_mm, abs=2e-4)
        assert measured.off_mm[1] == pytest.approx(1.0, abs=1e-9)


sides = st.floats(40, 3000)


@given(sides, sides, st.floats(0, 30))
def test_the_lean_comes_back_from_its_diagonals(a: float, b: float, lean: float) -> None:
    measured = Lean(diagonal=_diagonal(a, b), measured_mm=by_coordinates(a, b, lean))
    assert measured.off_mm[1] == pytest.approx(lean, abs=1e-6)
    assert measured.degrees == pytest.approx(math.degrees(math.asin(lean / b)), abs=1e-6)
    assert measured.off_mm[0] == pytest.approx(a * lean / b, abs=1e-5)
    # whatever the lean, a parallelogram's diagonals fit its sides
    assert measured.residue_mm == pytest.approx(0.0, abs=1e-6)


def test_expected_diagonals_come_from_the_boards_less_what_the_joints_take() -> None:
    """Sides 500 long, ends 400, all 19 thick: inside 500 - 38 by 400 - 38."""
    (case,) = assemblies(loaded(glue_box()).joints)
    inside, outside = diagonals(case)
    assert inside.length_mm == pytest.approx(math.hypot(462, 362))
    assert outside.length_mm == pytest.approx(math.hypot(500, 400))


def test_proud_ends_lengthen_no_diagonal() -> None:
    """Boards cut longer by what stands proud at both ends make the same case."""
    (case,) = assemblies(loaded(glue_box(length=501, across=401, box={"proud": 0.5})).joints)
    inside, outside = diagonals(case)
    assert inside.length_mm == pytest.approx(math.hypot(462, 362))
    assert outside.length_mm == pytest.approx(math.hypot(500, 400))


def test_a_half_blind_front_takes_only_the_sockets_off_the_sides() -> None:
    job = glue_box(box={"joint": "half_blind", "lap": 5})
    (case,) = assemblies(loaded(job).joints)
    inside, outside = diagonals(case)
    assert inside.length_mm == pytest.approx(math.hypot(500 - 2 * 14, 400 - 2 * 19))
    assert outside.length_mm == pytest.approx(math.hypot(500 + 2 * 5, 400))


@pytest.mark.parametrize(
    ("keys", "allowed_mm"),
    [
        ({"length": 300, "across": 200}, 0.5),  # a small box
        ({"length": 700, "across": 600}, 1.0),  # a carcase
        ({"length": 700, "across": 600, "box": {"joint": "half_blind", "lap": 5}}, 0.5),  # a drawer
        ({"length": 480, "across": 360}, 0.5),  # a diagonal of 600 exactly
        ({"length": 480, "across": 361}, 1.0),
    ],
)
def test_drawers_and_small_boxes_are_held_closer(keys: dict[str, Any], allowed_mm: float) -> None:
    assert {row.allowed_mm for row in planned(glue_box(**keys)).diagonals} == {allowed_mm}


def _said(measured: tuple[float, float]) -> list[tuple[str, Level]]:
    lean = nearest(planned(glue_box(length=700, across=600)).diagonals, measured)
    assert lean is not None
    return [(finding.unit, finding.level) for finding in lean_findings(lean)]


EXPECTED = math.hypot(662, 562)
MEASURED: list[tuple[tuple[float, float], list[tuple[str, Level]]]] = [
    ((EXPECTED, EXPECTED), []),
    ((EXPECTED + 0.5, EXPECTED - 0.5), []),  # 1 mm, just allowed
    ((EXPECTED + 0.51, EXPECTED - 0.5), [(DIFFERENCE.unit, Level.WARN)]),
    ((EXPECTED - 2.0, EXPECTED + 1.99), [(DIFFERENCE.unit, Level.WARN)]),  # four times as much, all but a hair
    ((EXPECTED - 2.0, EXPECTED + 2.01), [(DIFFERENCE.unit, Level.STOP)]),
    ((EXPECTED + 2, EXPECTED + 2), []),
    ((EXPECTED + 4, EXPECTED + 4), [("mm", Level.WARN)]),  # no box of these boards
]


@pytest.mark.parametrize(("measured", "said"), MEASURED)
def test_measured_diagonals_speak_beyond_what_is_allowed(
    measured: tuple[float, float], said: list[tuple[str, Level]]
) -> None:
    assert _said(measured) == said


def test_the_inside_or_the_outside_is_recognised() -> None:
    found = planned(glue_box(length=700, across=600)).diagonals
    outside = math.hypot(700, 600)
    lean = nearest(found, (outside + 0.2, outside - 0.2))
    assert lean is not None
    assert lean.diagonal.where == "case, outside"
    assert nearest((), (1.0, 1.0)) is None


def _four_boards(right: float) -> dict[str, Any]:
    job = glue_box()
    job["board"].append({**job["board"][0], "name": "right side", "length": right})
    job["board"][0] |= {"name": "left side", "count": 1}
    job["board"][2] |= {"count": 1}
    del job["box"]
    keys = {"tail_count": 4, "pin": 6, "half_pin": 8, "slope": "1:7"}
    job["board"][1] |= {"name": "front", "count": 1}
    job["board"].append({**job["board"][1], "name": "back"})
    job["corner"] = [
        {"name": "A", "tails": "left side.right", "pins": "front.left", **keys},
        {"name": "B", "tails": "right side.left", "pins": "front.right", **keys},
        {"name": "C", "tails": "right side.right", "pins": "back.left", **keys},
        {"name": "D", "tails": "left side.left", "pins": "back.right", **keys},
    ]
    return job


RIGHT_SIDES = [(500, "ok"), (500.5, "ok"), (500.6, "warn"), (503, "warn"), (503.1, "stop")]


@pytest.mark.parametrize(("right", "level"), RIGHT_SIDES)
def test_sides_that_differ_between_their_corners(right: float, level: str) -> None:
    job = _four_boards(right)
    assert loudness(job, UNEQUAL.check) == level
    for finding in glue_findings(job, UNEQUAL.check):
        assert loudness(with_changes(job, finding.changes), UNEQUAL.check) is Level.OK


def test_four_corners_written_one_by_one_are_a_ring_too() -> None:
    (chain,) = assemblies(loaded(_four_boards(500)).joints)
    assert chain.ring
    assert [row.length_mm for row in planned(_four_boards(500)).diagonals] == [
        row.length_mm for row in planned(glue_box()).diagonals
    ]


def test_a_single_corner_has_no_diagonals() -> None:
    assert planned(corner_job(tail_count=4, pin=6, half_pin=8)).diagonals == ()


HELD = [{"name": "panel", "in": "case"}]
LENGTHS = [(400, "ok"), (1600, "ok"), (1601, "note")]  # four times its width, and beyond

EXAMPLES: list[partial[object]] = [
    *(partial(_said, measured) for measured, _ in MEASURED),
    *(partial(loudness, _four_boards(right), UNEQUAL.check) for right, _ in RIGHT_SIDES),
    *(partial(loudness, glue_box(length=length, captured=HELD), LONG_THIN.check) for length, _ in LENGTHS),
]


@pytest.mark.parametrize(("length", "level"), LENGTHS)
def test_a_long_thin_box_with_something_in_it(length: float, level: str) -> None:
    assert loudness(glue_box(length=length, captured=HELD), LONG_THIN.check) == level
    assert loudness(glue_box(length=length), LONG_THIN.check) is Level.OK


@pytest.mark.parametrize("rule", [DIFFERENCE, ELSEWHERE, UNEQUAL, LONG_THIN], ids=lambda rule: rule.measures)
def test_rules_have_a_source(rule: Any) -> None:
    assert rule.source
