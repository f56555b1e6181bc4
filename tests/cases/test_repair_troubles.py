"""Troubles that makers have told of after the saw, and what the repairs say of them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dovelayout.repair.gap import Gap, GapMethod, GapPlace, MovedBoard, gap_advice, plan_gap
from dovelayout.repair.seized import SeizedKey, mend_slide
from dovelayout.repair.symptoms import diagnose
from dovelayout.wood.glue import find_glue
from dovelayout.wood.species import find_wood


@pytest.mark.parametrize(
    ("width_mm", "methods"),
    [
        (0.6, {GapMethod.SLIP, GapMethod.SLIVER}),
        (0.1, {GapMethod.LEAVE}),
        (2.0, {GapMethod.PATCH}),
    ],
)
def test_sawed_on_the_wrong_side_one_kerf_takes_a_slip_a_hairline_nothing_and_two_mm_a_patch(
    width_mm: float, methods: set[GapMethod]
) -> None:
    for place in (GapPlace.END, GapPlace.CHEEK):
        assert plan_gap(Gap(width_mm=width_mm, length_mm=19.0, place=place)).method in methods


def test_one_kerf_is_filled_from_the_waste_of_that_socket_without_a_wedge() -> None:
    (row,) = diagnose("sawed on the wrong side of the line").symptoms
    assert "the waste of that very socket" in row.remedy
    assert "No thin wedge" in row.remedy
    plan = plan_gap(Gap(width_mm=0.6, length_mm=19.0, place=GapPlace.CHEEK, depth_mm=19.0, kerf_mm=0.6))
    assert plan.slip is not None
    assert not plan.slip.tapered


def test_gap_at_one_lap_alone_is_a_high_floor_and_not_the_layout() -> None:
    (row,) = diagnose("gap at lap, one socket only").symptoms
    assert "floor is high" in row.cause
    assert "The layout is right" in row.cause


def test_drawer_back_transferred_mirror_image_is_half_lapped_on_new_wood_and_recut() -> None:
    (row,) = diagnose("back transferred mirror-image").symptoms
    assert "half-lap" in row.remedy
    assert row.level.value == "stop"


def test_chest_that_opened_in_its_first_winter_isnt_filled_and_more_than_the_season_asks_for_the_moisture() -> None:
    winter = MovedBoard(wood=find_wood("cherry"), thickness_mm=19.0, tight_pct=65.0, now_pct=25.0)
    gap = Gap(width_mm=0.25, length_mm=30.0, place=GapPlace.END, season=winter)
    assert plan_gap(gap).method is GapMethod.WAIT
    told = replace(gap, width_mm=0.8)
    finding = gap_advice(told, plan_gap(told)).findings[0]
    assert "wetter than thought" in finding.message
    assert "moisture content" in finding.fix


def test_drawer_that_stuck_after_a_move_to_a_drier_state_isnt_blamed_on_movement() -> None:
    found = diagnose("the bottom drawer moves an inch and is stuck since we moved somewhere drier")
    (row,) = found.symptoms
    assert row.cause.startswith("not movement")
    assert row.asks


def test_drawer_back_that_jammed_after_two_inches_is_sawn_off_and_re_entered() -> None:
    key = SeizedKey(length_mm=150.0, from_home_mm=99.0, glue=find_glue("pva"), glue_set=True)
    assert mend_slide(key).method == "saw off and re-enter from the other edge"


def test_laps_blown_out_in_figured_wood_get_their_chips_back() -> None:
    (row,) = diagnose("laps blown out").symptoms
    assert "save the chip" in row.remedy
    assert "backing block" in row.next_time
