"""Faces, areas and minutes against examples worked by hand; open times by the rule of thumb."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.glue_up_spec import Pace
from dovelayout.glueup.timing import (
    clamps_across,
    clamps_for,
    corner_area_mm2,
    corner_faces,
    divider_area_mm2,
    open_minutes,
)
from dovelayout.joints.corner import CornerJoint
from dovelayout.wood.glue import find_glue
from tests.divider_jobs import divider_job
from tests.glue_jobs import glue_box, planned
from tests.jobs import corner_job, loaded


def _corner(**keys: Any) -> CornerJoint:
    return loaded(corner_job(**{"tail_count": 5, "pin": 6, "half_pin": 8, **keys})).joints[0]


def test_four_corners_of_eight_tails_are_64_faces_and_6_4_minutes_of_brushing() -> None:
    """4 corners x 8 tails x 2 cheeks = 64 faces; x 6 s = 384 s = 6.4 min (common practice's own example)."""
    (stage,) = planned(glue_box(tail_count=8, width=300)).stages
    assert stage.labour.faces == 64
    assert stage.spread_minutes == pytest.approx(6.4)
    # and 4 corners x 20 s; 300 mm wide: 3 clamps from end to end of each of two pin boards x 15 s
    assert stage.labour.clamps == 6
    assert stage.minutes == pytest.approx(6.4 + 4 * 20 / 60 + 6 * 15 / 60)


def test_two_people_halve_the_brushing_alone() -> None:
    (stage,) = planned(glue_box(tail_count=8, width=300, shop={"hands": 2})).stages
    assert stage.minutes == pytest.approx(3.2 + 4 * 20 / 60 + 6 * 15 / 60)


def test_the_pace_is_the_makers_own() -> None:
    pace = {"seconds_a_face": 10, "seconds_a_corner": 30, "seconds_a_clamp": 0}
    (stage,) = planned(glue_box(tail_count=2, width=70, glueup=pace)).stages
    assert stage.minutes == pytest.approx((16 * 10 + 4 * 30) / 60)


def test_faces_are_cheeks() -> None:
    assert corner_faces(_corner()) == 10
    # a tail at either edge has a square outer side, which meets no pin
    assert corner_faces(_corner(half_pin=0)) == 8
    # a mitred shoulder is glued as well
    assert corner_faces(_corner(mitre={"face_edge": 14})) == 11


def test_area_is_that_of_the_cheeks_drawn_on_the_face() -> None:
    """A cheek's length on the outside face, as drawn, times the thickness of the tail board."""
    for keys in ({}, {"slope": "1:5"}, {"joint": "half_blind", "lap": 5}):
        joint = _corner(**keys)
        tails, _ = joint.end_faces()
        drawn_mm = sum(math.dist(one, other) for one, other in tails.outside.cheeks)
        assert corner_area_mm2(joint) == pytest.approx(drawn_mm * 19)


def test_area_by_hand() -> None:
    """5 tails in 19 mm boards at 1:6: 10 cheeks of 19 x sqrt(19^2 + (19/6)^2) = 19 x 19.262."""
    assert corner_area_mm2(_corner(slope="1:6")) == pytest.approx(10 * 19 * 19.2621, rel=1e-5)


def test_a_divider_is_glued_over_its_zone_alone() -> None:
    """Tongue 6 - 0.13 = 5.87 high at 8 degrees: cheek 5.87 / cos 8 = 5.928; both, 50 mm long."""
    (divider,) = loaded(divider_job(depth=6, glue_zone=50)).dividers
    assert divider_area_mm2(divider) == pytest.approx(2 * 50 * 5.87 / math.cos(math.radians(8)), rel=1e-6)
    (barefaced,) = loaded(divider_job(depth=6, glue_zone=50, cheeks="upper")).dividers
    assert divider_area_mm2(barefaced) == pytest.approx(50 * (5.87 + 5.87 / math.cos(math.radians(8))), rel=1e-6)
    (whole,) = loaded(divider_job(depth=6)).dividers
    assert divider_area_mm2(whole) == pytest.approx(divider_area_mm2(divider) * 300 / 50)


def test_grams_are_area_times_spread() -> None:
    """180 g/m2 on 10 cheeks x 4 corners."""
    (stage,) = planned(glue_box()).stages
    assert stage.labour.glue_g(find_glue("pva")) == pytest.approx(stage.labour.area_mm2 * 180 / 1e6)


@pytest.mark.parametrize(
    ("width", "clamps"), [(60, 1), (76, 1), (77, 2), (125, 2), (250, 2), (251, 3), (375, 3), (376, 4)]
)
def test_clamps_across_a_joint(width: float, clamps: int) -> None:
    assert clamps_across(_corner(width=width, tail_count=3)) == clamps


def test_a_clamp_from_end_to_end_serves_both_corners() -> None:
    joints = loaded(glue_box()).joints
    assert clamps_for(joints) == 4
    assert clamps_for(joints[:1]) == 2


@pytest.mark.parametrize(
    ("degrees", "minutes"),
    [(21, (5, 10)), (31, (2.5, 5)), (11, (10, 20)), (26, (5 / math.sqrt(2), 10 / math.sqrt(2))), (None, (5, 10))],
)
def test_open_time_halves_in_ten_degrees(degrees: float | None, minutes: tuple[float, float]) -> None:
    assert open_minutes(find_glue("pva"), Pace(), degrees) == pytest.approx(minutes)


def test_the_label_comes_first() -> None:
    assert open_minutes(find_glue("pva"), Pace(open_minutes=8), 21) == (8, 8)


@given(st.integers(1, 8), st.integers(1, 4))
def test_more_hands_never_take_longer(tails: int, hands: int) -> None:
    one, more = (
        planned(glue_box(tail_count=tails, width=260, shop={"hands": n})).stages[0] for n in (hands, hands + 1)
    )
    assert more.minutes < one.minutes
