"""The boards themselves: sizes that look like a slip, widths, plywood."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.finding import Level
from tests.jobs import corner_job, findings, level, values_of

INCH = 25.4


@pytest.mark.parametrize("rough", [1.0, 1.25, 1.5, 2.0])
def test_every_size_of_rough_hardwood_is_taken_for_one_and_a_hair_off_it_is_not(rough: float) -> None:
    """4/4 to 8/4 (common practice, no source)."""
    for off_mm, expected in (
        (0.0, Level.NOTE),
        (0.01, Level.NOTE),
        (-0.01, Level.NOTE),
        (0.03, Level.OK),
        (-0.03, Level.OK),
    ):
        job = corner_job(thickness=rough * INCH + off_mm, width=400, tail_count=3, pin=12, half_pin=14)
        assert level(job, "nominal") is expected


@pytest.mark.parametrize(
    ("thickness", "expected"), [(2.9, Level.NOTE), (3.0, Level.OK), (100, Level.OK), (100.1, Level.NOTE)]
)
def test_thinner_than_veneer_and_thicker_than_a_board(thickness: float, expected: Level) -> None:
    job = corner_job(thickness=thickness, width=600, slope="1:8", tail_count=2, pin=30, half_pin=40)
    assert level(job, "nominal") is expected


@pytest.mark.parametrize(("side", "top"), [(203, 200), (200, 203)])
def test_boards_of_two_widths_are_asked_about_whichever_is_the_wider(side: float, top: float) -> None:
    (finding,) = findings(corner_job(width=side, pin_width=top, tail_count=5, pin=6, half_pin=8), "widths")
    assert (finding.level, finding.measured) == (Level.WARN, 3.0)
    assert values_of(finding) == {"covers": ["0 mm", "200 mm"]}


@pytest.mark.parametrize(
    ("keys", "offered"),
    [
        ({"pin": 3, "half_pin": 5}, {"pin": "6 mm", "half_pin": "6 mm"}),
        ({"pin": 4, "half_pin": 9}, {"pin": "6 mm", "half_pin": "9 mm"}),  # a half pin that is wide enough stays
    ],
)
def test_plywood_gets_pins_of_6_mm(keys: dict[str, Any], offered: dict[str, str]) -> None:
    (finding,) = findings(corner_job("birch plywood", tail_count=4, **keys), "plywood")
    assert values_of(finding) == offered


def test_a_layout_in_plywood_that_the_maker_set_out_is_not_set_out_anew() -> None:
    (finding,) = findings(corner_job("birch plywood", tails_at=[[10, 90], [94, 190]]), "plywood")
    assert (finding.fix, finding.changes) == ("pins and half pins of 6 mm or more, or another joint", ())


@pytest.mark.parametrize(("off_mm", "expected"), [(0.095, Level.OK), (0.105, Level.WARN)])
def test_a_tenth_of_a_mm_of_width_is_planed_off_without_a_thought(off_mm: float, expected: Level) -> None:
    assert level(corner_job(pin_width=200 + off_mm, tail_count=5, pin=6, half_pin=8), "widths") is expected
