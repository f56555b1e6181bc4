"""Changes that are tried: what they begin with, how far they go, and that each is what it says."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.remedy import first_passing, mm_text, other_counts, wider_half_pins, wider_pins
from dovelayout.joints.corner import CornerJoint
from tests.jobs import corner_job, loaded


def _joint(**keys: Any) -> CornerJoint:
    return loaded(corner_job(**{"tail_count": 4, "pin": 6, "half_pin": 8, **keys})).joints[0]


def test_counts_go_down_to_one_tail_and_up_by_forty() -> None:
    assert [row["tail_count"] for row in other_counts(_joint(), fewer=True)] == [3, 2, 1]
    assert [row["tail_count"] for row in other_counts(_joint(), fewer=False)] == list(range(5, 44))
    set_out = loaded(corner_job(tails_at=[[10, 90], [100, 190]])).joints[0]
    assert list(other_counts(set_out, fewer=True)) == []


def test_pins_are_widened_by_halves_and_then_with_fewer_tails() -> None:
    rows = list(wider_pins(_joint(pin=6.2)))
    assert [row["pin_mm"] for row in rows[:3]] == [6.5, 7.0, 7.5]
    assert rows[0].keys() == {"pin_mm"}
    counts = [row.get("tail_count", 4) for row in rows]
    assert sorted(set(counts), reverse=True) == [4, 3, 2]
    assert counts == sorted(counts, reverse=True)
    assert rows[counts.index(3)]["pin_mm"] == 6.5


def test_pins_are_widened_from_the_narrowest_and_not_from_the_one_that_a_lid_is_sawn_off_through() -> None:
    """That one is 2 mm wider by what the saw and the plane take."""
    joint = _joint(lid={"at": 100, "kerf": 1, "clean_up": 1})
    assert sorted(round(pin.width_mm, 6) for pin in joint.full_pins)[:2] == [6, 6]
    assert max(pin.width_mm for pin in joint.full_pins) > 7
    assert next(wider_pins(joint)) == {"pin_mm": 6.5}


def test_half_pins_are_widened_from_the_narrower_of_the_two() -> None:
    rows = list(wider_half_pins(_joint(half_pin=8)))
    assert [row["half_pin_mm"] for row in rows[:2]] == [8.5, 9.0]
    assert sorted({row.get("tail_count", 4) for row in rows}) == [2, 3, 4]
    for tails_at, first in (
        ([[3, 90], [100, 190]], [[3.5, 90], [100, 190]]),
        ([[10, 90], [100, 197]], [[10, 90], [100, 196.5]]),
        ([[3, 90], [100, 197]], [[3.5, 90], [100, 196.5]]),
    ):
        joint = loaded(corner_job(tails_at=tails_at)).joints[0]
        spans = next(wider_half_pins(joint))["tails_at"]
        assert [[span.start_mm, span.end_mm] for span in spans] == first


def test_the_first_that_passes_is_taken_and_what_cannot_be_built_is_passed_over() -> None:
    tried: list[int] = []

    def passes(joint: CornerJoint) -> bool:
        tried.append(len(joint.tails))
        return len(joint.tails) == 2

    candidates = [{"tail_count": 400}, {"tail_count": 3}, {"tail_count": 2}, {"tail_count": 1}]
    remedy = first_passing(_joint(), candidates, passes)
    assert remedy is not None
    assert tried == [3, 2]
    assert (remedy.words, dict(remedy.changes[0].values)) == ("tail_count 2", {"tail_count": 2})
    assert (remedy.changes[0].table, remedy.changes[0].name) == ("corner", "A")
    assert first_passing(_joint(), candidates, lambda joint: False) is None


@pytest.mark.parametrize(
    ("value_mm", "text"), [(6.0, "6 mm"), (6.25, "6.25 mm"), (45.6664, "45.666 mm"), (0.0004, "0 mm")]
)
def test_lengths_stand_in_a_job_to_the_thousandth(value_mm: float, text: str) -> None:
    assert mm_text(value_mm) == text


def test_pins_of_a_layout_that_the_maker_set_out_are_widened_from_the_narrowest() -> None:
    """4 and 8 mm: half a mm more for the first is trimmed off the tails on both its sides."""
    joint = loaded(corner_job(tails_at=[[10, 60], [64, 120], [128, 190]])).joints[0]
    spans = next(wider_pins(joint))["tails_at"]
    assert [[span.start_mm, span.end_mm] for span in spans] == [[10, 59.75], [64.25, 120], [128, 190]]
