"""Cupped sides, split bottoms and held panels: sums by hand, and when what is done."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import pytest
from hypothesis import given

from dovelayout.casework.panel import Glued, Panel
from dovelayout.checks.finding import Level
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Swing
from dovelayout.repair.panel import CuppedSide, HeldPanel, SplitBottom, mend_bottom, mend_panel, mend_side
from dovelayout.wood.species import find_wood
from tests.strategies import lengths


@pytest.mark.parametrize(
    ("hollow_mm", "inward", "method", "worst"),
    [
        (0.3, False, "leave it", Level.OK),  # within its play
        (5.0, True, "leave it", Level.OK),
        (1.8, False, "plane it", Level.OK),  # 1.5 of 12 mm
        (1.9, False, "plane it", Level.WARN),
        (3.3, False, "plane it", Level.WARN),  # 3 of 12 mm
        (3.4, False, "recut", Level.STOP),
    ],
)
def test_a_cupped_side(hollow_mm: float, inward: bool, method: str, worst: Level) -> None:
    side = CuppedSide(hollow_mm=hollow_mm, width_mm=120.0, thickness_mm=12.0, play_mm=0.3, inward=inward)
    advice = mend_side(side)
    assert (advice.method, advice.worst) == (method, worst)


@given(hollow_mm=lengths(0.1, 10), width_mm=lengths(30, 600))
def test_a_hollow_lies_on_its_circle(hollow_mm: float, width_mm: float) -> None:
    radius = CuppedSide(hollow_mm=hollow_mm, width_mm=width_mm, thickness_mm=12.0).radius_mm
    assert radius - math.copysign(math.sqrt(radius**2 - width_mm**2 / 4), radius - hollow_mm) == pytest.approx(
        hollow_mm, abs=1e-4
    )


@pytest.mark.parametrize(
    ("crack_mm", "overhang_mm", "missing_mm", "strip_mm"),
    [
        (1.5, 7.5, 0.0, 0.0),  # 6 mm past the back when closed: as drawers are worked out
        (1.5, 6.0, 1.5, 20.0),
        (2.0, -30.0, 38.0, 38.0),
    ],
)
def test_a_split_bottom(crack_mm: float, overhang_mm: float, missing_mm: float, strip_mm: float) -> None:
    bottom = SplitBottom(crack_mm=crack_mm, overhang_mm=overhang_mm, length_mm=300.0, thickness_mm=6.0, slot_mm=16.5)
    assert (bottom.missing_mm, bottom.strip_mm) == pytest.approx((missing_mm, strip_mm))
    advice = mend_bottom(bottom)
    planed = [row.value for row in advice.figures if row.what.startswith("planed off")]
    assert planed == ([pytest.approx(strip_mm - missing_mm)] if strip_mm else [])
    assert "a slot 16.5 mm" in advice.steps[-1]
    assert advice.steps[0].startswith("Free it first")


def test_a_held_panel_is_closed_only_while_its_grooves_hold_it() -> None:
    # 9 mm of groove, 4 mm of play and 3 mm of shrinkage in 300, held in its middle: 9 - 7/2 mm stay in each groove
    board = Board(name="back", wood=find_wood("black cherry"), length_mm=500, width_mm=300, thickness_mm=9)
    panel = Panel(name="back", board=board, groove_mm=9.0, play_mm=4.0, glued=Glued.MIDDLE)
    hold_mm = panel.hold_mm(Swing(shrinks_share=0.01, grows_share=0.0, year_share=0.01))
    assert hold_mm == pytest.approx(5.5)
    for crack_mm, keyed in ((0.1, False), (4.0, False), (4.1, True), (8.0, True)):  # 1.5 mm must stay in
        held = HeldPanel(crack_mm=crack_mm, crack_length_mm=200.0, thickness_mm=9.0, hold_mm=hold_mm)
        assert held.keyed is keyed
        assert bool(mend_panel(held).findings) is keyed
    (unknown,) = mend_panel(HeldPanel(crack_mm=2.0, crack_length_mm=200.0, thickness_mm=9.0)).findings
    assert "not checked" in unknown.message


EXAMPLES: tuple[Callable[[], object], ...] = tuple(
    partial(mend_side, CuppedSide(hollow_mm=hollow_mm, width_mm=120.0, thickness_mm=12.0))
    for hollow_mm in (1.0, 1.5, 1.6, 3.0, 3.1)
)
