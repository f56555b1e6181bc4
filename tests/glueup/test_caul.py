"""Cauls: feet on the tails, notches clear of every pin."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest
from hypothesis import given

from dovelayout.checks.finding import Level, worst_level
from dovelayout.glueup.caul import CLEAR_MM, PAD, caul_findings, caul_for
from dovelayout.joints.kinds.through import ThroughJoint
from tests.glue_jobs import glue_box, loudness
from tests.jobs import corner_job, loaded
from tests.strategies import half_blind_joints, through_joints


def _caul(**keys: Any) -> Any:
    return caul_for(loaded(corner_job(**{"tail_count": 5, "pin": 6, "half_pin": 8, **keys})).joints[0])


def test_a_caul_by_hand() -> None:
    """200 wide, 5 tails, pins 6 and half pins 8: tails (200 - 16 - 24) / 5 = 32 wide; at 1:6 in 19 mm they lose 19/6 =
    3.167 a side, so each foot is 32 - 2 x 3.167 - 2 x 1 = 23.667, the first from 8 + 3.167 + 1 = 12.167 on."""
    caul = _caul(slope="1:6")
    assert caul.length_mm == 200
    assert [pad.width_mm for pad in caul.pads] == [pytest.approx(23.6667, abs=1e-4)] * 5
    assert caul.pads[0].start_mm == pytest.approx(12.1667, abs=1e-4)
    assert caul.pads[1].start_mm == pytest.approx(12.1667 + 38, abs=1e-4)


def test_notches_are_deeper_than_the_pins_stand_proud() -> None:
    assert _caul().deep_mm == 3.0
    assert _caul(proud=0.8).deep_mm == 3.0
    assert _caul(proud=2.5).deep_mm == 4.5


@given(through_joints() | half_blind_joints())
def test_feet_stand_on_tails_and_on_nothing_else(joint: ThroughJoint) -> None:
    caul = caul_for(joint)
    necks = [(tail.neck_start_mm - caul.start_mm, tail.neck_end_mm - caul.start_mm) for tail in joint.tails]
    for pad in caul.pads:
        assert any(low - 1e-6 <= pad.start_mm and pad.end_mm <= high + 1e-6 for low, high in necks)
    for pin in joint.pins:
        low = max(0.0, pin.root_start_mm - CLEAR_MM - caul.start_mm)
        high = min(caul.length_mm, pin.root_end_mm + CLEAR_MM - caul.start_mm)
        assert any(notch.start_mm <= low + 1e-6 and high <= notch.end_mm + 1e-6 for notch in caul.notches)


def _foot(neck: float) -> Level:
    """How loud a caul is over a tail with so wide a neck."""
    caul = _caul(tail_count=None, pin=None, half_pin=None, tails_at=[[20, 20 + neck + 2 * 19 / 6], [60, 100]])
    return worst_level(caul_findings(caul))


FEET = [(6.0, Level.OK), (5.0, Level.OK), (4.9, Level.NOTE)]
EXAMPLES = [partial(_foot, neck) for neck, _ in FEET]


@pytest.mark.parametrize(("neck", "level"), FEET)
def test_a_narrow_foot_is_told(neck: float, level: Level) -> None:
    """A foot is the tail's neck less 1 mm on either side; under 3 mm it is told."""
    assert _foot(neck) is level


def test_the_plan_tells_it() -> None:
    assert loudness(glue_box(tail_count=12, width=160), PAD.check) is Level.NOTE
