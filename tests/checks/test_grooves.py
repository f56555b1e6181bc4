"""Grooves at a corner: where they show and where not, and which boards have them."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.finding import Finding, Level
from tests.jobs import corner_job, findings, level

AFTER = {"depth": 5, "ploughed": "after"}


def _only(check: str, **keys: Any) -> Finding:
    (finding,) = findings(corner_job(**keys), check)
    return finding


def test_without_half_pins_none_is_broken_by_a_groove_through_a_pin() -> None:
    finding = _only(
        "groove-shows", tails_at=[[0, 40], [50, 95], [105, 200]], groove={"from_edge": 41, "width": 6, **AFTER}
    )
    assert finding.level is Level.WARN
    assert "leaves a hole at the corner" in finding.message


def test_the_pins_that_a_groove_runs_through_are_named_by_their_inside_and_no_others() -> None:
    """A pin from 40 to 50 flares to 36.83 and 53.17 on the inside, and 6 mm of groove lie in it."""
    finding = _only(
        "groove-shows", tails_at=[[8, 40], [50, 95], [105, 190]], groove={"from_edge": 42, "width": 6, **AFTER}
    )
    assert "through a pin (36.8-53.2 mm) and" in finding.message
    assert finding.measured == 6.0


def test_a_groove_clear_of_the_joint_is_no_matter() -> None:
    job = corner_job(covers=[20, 180], tails_at=[[30, 80], [95, 160]], groove={"from_edge": 8, "width": 6, **AFTER})
    assert findings(job, "stopped-groove") == ()
    assert level(job, "groove-shows") is Level.OK


@pytest.mark.parametrize(("from_edge", "expected"), [(4, Level.OK), (12, Level.WARN)])
def test_a_mitred_shoulder_hides_a_groove_inside_it(from_edge: float, expected: Level) -> None:
    job = corner_job(
        mitre={"face_edge": 14}, tails_at=[[24, 80], [95, 180]], groove={"from_edge": from_edge, "width": 6, **AFTER}
    )
    assert level(job, "groove-shows") is expected


def test_a_board_that_stops_above_the_groove_has_none() -> None:
    deep = {"from_edge": 8, "width": 6, "depth": 9, "ploughed": "after"}
    both = findings(corner_job(tail_count=5, pin=6, half_pin=8, groove=deep), "groove-depth")
    assert [f.where for f in both] == ["corner A, groove in side", "corner A, groove in top"]
    back = corner_job(pin_width=180, covers=[20, 200], tail_count=5, pin=6, half_pin=8, groove=deep)
    (finding,) = findings(back, "groove-depth")
    assert finding.where == "corner A, groove in side"


@pytest.mark.parametrize(("thickness", "expected"), [(10.0, Level.OK), (9.9, Level.NOTE)])
def test_under_10_mm_slips_are_better_than_a_groove(thickness: float, expected: Level) -> None:
    job = corner_job(
        thickness=thickness,
        slope="1:7",
        tail_count=5,
        pin=6,
        half_pin=8,
        groove={"from_edge": 16, "width": 4, "depth": 3},
    )
    assert level(job, "groove-depth") is expected


def test_a_groove_is_made_as_deep_as_the_thinner_board_bears() -> None:
    """0.4 of 15 mm, though it is only too deep there."""
    job = corner_job(
        pin_thickness=15, tail_count=5, pin=6, half_pin=8, groove={"from_edge": 16, "width": 4, "depth": 7}
    )
    (finding,) = findings(job, "groove-depth")
    assert finding.where == "corner A, groove in top"
    assert finding.changes[0].values["groove"]["depth"] == "6 mm"
