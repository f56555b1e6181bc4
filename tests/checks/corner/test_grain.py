"""Slope and grain: what is said where no slope helps, and of a bare slope before any layout."""

from __future__ import annotations

import math
from typing import Any

import pytest

from dovelayout.checks.corner.grain import fibre_angle_deg, hold_note_ratio, slope_findings
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.wood.species import Wood, find_wood
from tests.jobs import corner_job, findings

CHERRY, PINE, BALSA = (find_wood(name) for name in ("black cherry", "eastern white pine", "balsa"))


def _bare(ratio: float, wood: Wood, runout_deg: float = 0.0) -> list[Finding]:
    return list(slope_findings(Slope(ratio), wood, runout_deg, Place(kind="slope")))


@pytest.mark.parametrize(
    ("ratio", "wood", "runout_deg", "fix"),
    [
        (4.0, CHERRY, 0.0, "slope 1:4.5 (12.5°)"),  # 1:4.42
        (6.0, CHERRY, 3.81, "slope 1:6.5 (8.7°)"),  # 12.75 - 3.81 degrees
        (14.0, CHERRY, 0.0, "slope 1:8.5 (6.7°)"),  # 4 sqrt(4.8 MPa)
        (9.0, PINE, 0.0, "slope 1:6.5 (8.7°)"),
        (
            6.0,
            CHERRY,
            20.0,
            "no slope up to 1:12 passes here: a board with straighter grain for the tails",
        ),
    ],
)
def test_a_bare_slope_is_given_the_nearest_that_passes(ratio: float, wood: Wood, runout_deg: float, fix: str) -> None:
    assert _bare(ratio, wood, runout_deg)[0].fix == fix


def test_balsa_takes_no_slope_at_all() -> None:
    fixes = {finding.fix for finding in _bare(6.0, BALSA) if finding.check == "short-grain"}
    assert fixes == {"no slope up to 1:12 passes here: a stronger wood for the tails"}


def test_a_wood_too_soft_for_any_slope_relies_on_glue() -> None:
    """4 sqrt(1.4 MPa) = 4.7: under 1:5, the steepest that is tried."""
    soft = corner_job("pith", slope="1:8")
    soft["wood"] = [{"name": "pith", "kind": "softwood", "mor_mpa": 60, "comp_perp_mpa": 1.4}]
    (finding,) = findings(soft, "little-hold")
    assert finding.fix == "no slope of 1:5 or finer passes in this wood; rely on glue and a good fit"
    assert (finding.limit, finding.level) == (pytest.approx(4 * math.sqrt(1.4), abs=0.001), Level.NOTE)


@pytest.mark.parametrize(
    ("known", "unchecked"),
    [
        ({"mor_mpa": 85}, {"little-hold"}),
        ({"comp_perp_mpa": 4.8}, {"short-grain", "corner-blowout", "thin-pin", "half-pin"}),
        ({"mor_mpa": 85, "comp_perp_mpa": 4.8}, set()),
    ],
)
def test_what_a_wood_of_ones_own_leaves_blank_is_not_checked(known: dict[str, Any], unchecked: set[str]) -> None:
    job = corner_job("hearsay", tail_count=5, pin=6, half_pin=8)
    job["wood"] = [{"name": "hearsay", "kind": "hardwood", **known}]
    found = findings(job)
    assert {f.check for f in found if f.message.startswith("not checked, because")} == unchecked
    assert worst_level(found).rank <= Level.NOTE.rank


def test_the_fibres_leave_the_wood_at_slope_and_run_out_together_and_never_beyond_square() -> None:
    assert fibre_angle_deg(Slope(6), 5.0) == pytest.approx(math.degrees(math.atan(1 / 6)) + 5)
    assert fibre_angle_deg(Slope(1.1), 60.0) == 90.0


def test_the_slope_that_a_wood_wants_goes_with_the_root_of_its_hardness_to_crushing() -> None:
    assert CHERRY.comp_perp_mpa is not None
    assert hold_note_ratio(CHERRY) == pytest.approx(4 * CHERRY.comp_perp_mpa**0.5)
    assert hold_note_ratio(find_wood("birch plywood")) is None
