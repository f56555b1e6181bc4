"""Changes that are tried: what they begin with, how far they go, and that each is what it says."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dovelayout.change import Change
from dovelayout.checks.remedy import (
    by_setting,
    by_varying,
    fewer_tails,
    in_turn,
    mm_text,
    more_tails,
    no_remedies,
    wider_half_pins,
    wider_pins,
)
from dovelayout.joints.corner import CornerJoint
from tests.jobs import corner_job, loaded


def _joint(**keys: Any) -> CornerJoint:
    return loaded(corner_job(**{"tail_count": 4, "pin": 6, "half_pin": 8, **keys})).joints[0]


def test_counts_go_down_to_one_tail_and_up_by_forty() -> None:
    assert [row["tail_count"] for row in fewer_tails(_joint())] == [3, 2, 1]
    assert [row["tail_count"] for row in more_tails(_joint())] == list(range(5, 44))
    set_out = loaded(corner_job(tails_at=[[10, 90], [100, 190]])).joints[0]
    assert [*fewer_tails(set_out), *more_tails(set_out)] == []


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
    assert next(iter(wider_pins(joint))) == {"pin_mm": 6.5}


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
        spans = next(iter(wider_half_pins(joint)))["tails_at"]
        assert [[span.start_mm, span.end_mm] for span in spans] == first


def test_a_joint_is_varied_by_what_can_be_built_and_as_changes_of_its_own_table() -> None:
    joint = _joint()
    remedies = list(by_varying(joint, [{"tail_count": 400}, {"tail_count": 3}, {"pin_mm": 7.5}], "or {}")())
    assert [remedy.words for remedy in remedies] == ["or tail count 3", "or pin 7.5 mm"]
    assert remedies[0].changes == (Change(table="corner", name="A", key="tail_count", value=3),)
    assert remedies[1].changes == (Change(table="corner", name="A", key="pin", value="7.5 mm"),)
    assert remedies[0].joint == joint.varied(tail_count=3)


def test_remedies_are_worked_out_anew_each_time_and_in_turn() -> None:
    joint = _joint()
    both = in_turn(by_varying(joint, fewer_tails), by_setting("shop", "shop", {"fit": "0.1 mm"}, "a looser fit"))
    words = ["tail count 3", "tail count 2", "tail count 1", "a looser fit"]
    assert [remedy.words for remedy in both()] == [remedy.words for remedy in both()] == words
    assert list(no_remedies()) == []


def test_a_count_is_not_proposed_for_one_drawer_of_a_bank() -> None:
    """The table lays out drawers of several heights."""
    joint = _joint()
    own = replace(joint, spec=replace(joint.spec, piece="A"))
    of_a_bank = replace(joint, spec=replace(joint.spec, piece="reels 2"))
    assert len(list(by_varying(own, fewer_tails)())) == 3
    assert list(by_varying(of_a_bank, fewer_tails)()) == []
    assert len(list(by_varying(of_a_bank, [{"pin_mm": 7.0}])())) == 1


@pytest.mark.parametrize(
    ("value_mm", "text"), [(6.0, "6 mm"), (6.25, "6.25 mm"), (45.6664, "45.666 mm"), (0.0004, "0 mm")]
)
def test_lengths_stand_in_a_job_to_the_thousandth(value_mm: float, text: str) -> None:
    assert mm_text(value_mm) == text


def test_pins_of_a_layout_that_the_maker_set_out_are_widened_from_the_narrowest() -> None:
    """4 and 8 mm: half a mm more for the first is trimmed off the tails on both its sides."""
    joint = loaded(corner_job(tails_at=[[10, 60], [64, 120], [128, 190]])).joints[0]
    spans = next(iter(wider_pins(joint)))["tails_at"]
    assert [[span.start_mm, span.end_mm] for span in spans] == [[10, 59.75], [64.25, 120], [128, 190]]


def test_braces_in_a_name_are_no_place_to_fill_in() -> None:
    (remedy,) = by_setting("board", "{a}", {"width": "3 mm"}, "{a}: {}")()
    assert remedy.words == "{a}: width 3 mm"
