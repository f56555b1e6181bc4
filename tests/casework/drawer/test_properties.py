"""Drawers of any opening, assembled again from their cut list with arithmetic of the test's own: they go in with the
clearance of their fit in the dampest month, hold together in the driest, and the bottom neither falls out nor jams.

The movement is Eq 13-2 with the coefficients of Table 13-5 and the moisture contents of Table 4-2, typed here; the program
takes the larger of two known coefficients, so its drawers may have a little more air, never less.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from dovelayout.checks.drawers import check_drawer
from dovelayout.checks.finding import Level
from tests.drawer_strategies import FITS, TABLE_4_2_70_F, TABLE_13_5, drawer_tables
from tests.jobs import loaded

LEAST_MM = 0.03  # Table 4-2 has one decimal: 0.05 % of moisture over 300 mm
SHAVING_MM = 0.2
LIP = (8.0, 6.0)


class Bench:
    """A drawer put together from its boards alone."""

    def __init__(self, tables: dict[str, Any]) -> None:
        self.job = loaded(tables)
        (self.drawer,) = self.job.drawers
        self.asked = tables["drawer"][0]
        self.board = {part.role: part.board for part in self.drawer.parts}
        low, high = tables["shop"]["humidity"]
        built = TABLE_4_2_70_F[tables["shop"]["built_at"]]
        self.months = {"driest": TABLE_4_2_70_F[low] - built, "built": 0.0, "dampest": TABLE_4_2_70_F[high] - built}
        self.lipped = self.asked["front"] == "lipped"
        front = next(joint for joint in self.job.joints if joint.name.endswith("front left"))
        self.tail_mm = front.depth_mm  # how far a side goes into the front
        side = self.board["side"]
        self.box_mm = self.board["front"].length_mm - (2 * LIP[0] if self.lipped else 0.0)
        self.inside_mm = self.box_mm - 2 * (side.thickness_mm - SHAVING_MM)
        self.long_mm = side.length_mm + self.board["front"].thickness_mm - self.tail_mm
        self.inside_long_mm = self.long_mm - self.board["front"].thickness_mm - self.board["back"].thickness_mm

    def moved(self, role: str, mm: float, month: str, *, thick: bool = False) -> float:
        """A dimension in a month: across a board's width, or through its thickness."""
        if role == "case":
            species, rings = self.asked["case_species"], self.asked["case_rings"]
        elif role == "bottom" and self.asked["bottom"] == "plywood":
            return mm
        else:
            species = self.asked["front_species"] if role == "front" else self.asked["species"]
            rings = self.asked[f"{role}_rings"]
        tangential, radial = TABLE_13_5[species]
        coefficient = tangential if (rings == "flat") != thick else radial
        return mm * (1 + coefficient * self.months[month])


@given(tables=drawer_tables())
def test_it_goes_in_with_the_clearance_of_its_fit_in_the_dampest_month(tables: dict[str, Any]) -> None:
    bench = Bench(tables)
    side_mm, top_mm = FITS[bench.asked["fit"]]
    side = bench.board["side"]
    grown = bench.moved("side", side.thickness_mm, "dampest", thick=True) - side.thickness_mm
    if bench.lipped:
        side_mm = min(side_mm, max(0.25, 0.75 - grown))  # a lip bears 1.6 mm of play in all
    assert (bench.asked["width"] - bench.box_mm) / 2 - grown >= side_mm - LEAST_MM
    high_mm = max(bench.moved(role, side.width_mm, "dampest") for role in ("front", "side"))
    assert bench.asked["height"] - bench.asked["runner"] - high_mm >= top_mm - 5 * LEAST_MM
    # and no more slack than that, a tenth's rounding and the doubt of a coefficient
    assert (bench.asked["width"] - bench.box_mm) / 2 - grown <= side_mm + 0.15
    assert bench.asked["height"] - bench.asked["runner"] - high_mm <= top_mm + 0.1 + 0.008 * side.width_mm


@given(tables=drawer_tables())
def test_it_never_stops_on_the_back_of_the_case(tables: dict[str, Any]) -> None:
    bench = Bench(tables)
    bottom = bench.board["bottom"]
    groove = bench.drawer.groove
    for month in bench.months:
        # the bottom is home in the front's groove, and reaches backwards
        reach_mm = bench.board["front"].thickness_mm - groove.depth_mm + bench.moved("bottom", bottom.width_mm, month)
        reach_mm = max(reach_mm, bench.long_mm) - (LIP[1] if bench.lipped else 0.0)
        assert bench.moved("case", bench.asked["depth"], month) - reach_mm >= 2.5


@given(tables=drawer_tables())
def test_the_bottom_neither_falls_out_nor_jams(tables: dict[str, Any]) -> None:
    bench = Bench(tables)
    bottom, back, groove = bench.board["bottom"], bench.board["back"], bench.drawer.groove
    slips_mm = 2 * 12.0 if bench.asked["side_thickness"] < 10 else 0.0
    room_mm = bench.inside_mm - slips_mm + 2 * groove.depth_mm
    if bench.asked["muntin"]:
        room_mm -= 50.0 - 2 * groove.depth_mm  # two panels in the grooves of a muntin 50 mm wide
    assert bottom.count == (2 if bench.asked["muntin"] else 1)
    play_mm = room_mm - bottom.count * bottom.length_mm
    assert play_mm > 0.5  # along the grain nothing moves: it goes in
    assert groove.depth_mm - play_mm > 0.2  # pushed into one groove it is still in the other
    home_mm = groove.depth_mm + bench.inside_long_mm + back.thickness_mm
    for month in bench.months:
        past_mm = bench.moved("bottom", bottom.width_mm, month) - home_mm
        assert past_mm >= -0.01  # still under the whole back
        if bench.asked["bottom"] == "solid":
            # the screw stands in the middle of the back, 4 mm thick: inside the slot, with wood behind its head
            screw_mm = past_mm + back.thickness_mm / 2
            assert screw_mm + 2.0 <= bench.drawer.bottom.slot_mm + LEAST_MM
            assert screw_mm >= 4.0


@given(tables=drawer_tables())
def test_every_part_adds_up_and_nothing_stands_against_it(tables: dict[str, Any]) -> None:
    bench = Bench(tables)
    front, side, back = (bench.board[role] for role in ("front", "side", "back"))
    assert bench.drawer.adds_up
    assert back.length_mm == pytest.approx(bench.box_mm)
    assert side.count == 2
    if not bench.lipped:
        assert front.width_mm == pytest.approx(side.width_mm)
    groove = bench.drawer.groove
    assert groove.far_mm + back.width_mm < side.width_mm
    assert groove.depth_mm <= 0.41 * (side.thickness_mm if bench.asked["side_thickness"] >= 10 else 12.0)
    for one in bench.drawer.sums:
        total_mm = sum(term.times * term.value_mm for term in one.terms) + one.room_mm
        assert abs(total_mm - one.into_mm) < 1e-6
    worst = [finding for finding in check_drawer(bench.drawer) if finding.level.rank >= Level.WARN.rank]
    assert {finding.check for finding in worst} <= {"racking"}


@given(tables=drawer_tables())
def test_its_corners_hide_the_groove_and_left_and_right_are_a_pair(tables: dict[str, Any]) -> None:
    bench = Bench(tables)
    groove = bench.drawer.groove
    joints = {joint.name.removeprefix("d "): joint for joint in bench.job.joints}
    assert list(joints) == ["front left", "front right", "back right", "back left"]
    for place in ("front", "back"):
        left, right = joints[f"{place} left"], joints[f"{place} right"]
        assert left.tails == right.tails
        assert left.pins == right.pins
        assert left.spec.tails.end is not right.spec.tails.end
        assert left.kind == ("half_blind" if place == "front" else "through")
    lowest = joints["front left"].tails[0]
    if bench.asked["side_thickness"] >= 10:
        assert lowest.neck_start_mm <= groove.from_edge_mm
        assert groove.far_mm <= lowest.neck_end_mm
    assert joints["back left"].covers.start_mm >= groove.far_mm - 1e-9
    assert joints["back left"].covers.width_mm == pytest.approx(bench.board["back"].width_mm)
