"""The sliding dovetail: figures by hand, what can't be, and the key in its housing at every station."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import LayoutError
from dovelayout.joints.board import BoardEnd, End
from dovelayout.joints.face import FaceName
from dovelayout.joints.sliding import (
    DEFAULT_SLOPE,
    Bit,
    Cheek,
    Datum,
    SlidingJoint,
    Sloped,
    build_sliding,
)
from dovelayout.joints.slope import Slope
from tests.slides import housing_section, sliding_joints, sliding_spec, tongue_section

AREA_MM2 = 1e-9


def joint(**keys: Any) -> SlidingJoint:
    return build_sliding(sliding_spec(**keys))


def test_straight_joint_by_hand() -> None:
    # slope 1:5, depth 6, slip 1: the tongue is 5 high and leans 1 a side; the housing leans 1.2
    plain = joint(at_mm=100, depth_mm=6, slip_mm=1, slope=Slope(5), wide_mm=16)
    assert plain.neck_lower_mm == 100
    for station in (0.0, 77.0, 240.0):
        neck, floor = plain.neck_at(station), plain.floor_at(station)
        assert (neck.start_mm, neck.end_mm) == (100, 114)
        assert (floor.start_mm, floor.end_mm) == pytest.approx((98.8, 115.2))
        end = plain.tongue_at(station, plain.tongue_mm)
        assert (end.start_mm, end.end_mm) == (99, 115)
    assert plain.shoulders_mm == (2.5, 2.5)  # a key of 19
    assert plain.key_lower_mm == 97.5
    assert (plain.rear_mm, plain.length_mm, plain.rear_gap_mm) == (240, 240, 60)


def test_the_key_is_as_wide_as_its_board_unless_said() -> None:
    plain = joint()
    assert plain.tongue_at(plain.rear_mm, plain.tongue_mm).width_mm == pytest.approx(19)


def test_eight_degrees_unless_said() -> None:
    assert pytest.approx(8.0, abs=1e-12) == DEFAULT_SLOPE.degrees


@pytest.mark.parametrize(("sloped", "lower", "upper"), [(Sloped.LOWER, 1.0, 0.0), (Sloped.UPPER, 0.0, 1.0)])
def test_barefaced_joint_leans_on_one_side_and_is_flush_on_the_other(
    sloped: Sloped, lower: float, upper: float
) -> None:
    bare = joint(sloped=sloped, slope=Slope(5), depth_mm=5, slip_mm=0)
    neck, floor = bare.neck_at(0), bare.floor_at(0)
    assert neck.start_mm - floor.start_mm == pytest.approx(lower)
    assert floor.end_mm - neck.end_mm == pytest.approx(upper)
    assert bare.shoulders_mm == pytest.approx((lower, upper))


def test_taper_by_hand_runs_in_on_its_cheek_alone() -> None:
    # 1:320 over 240 mm: 0.75 mm
    slid = joint(taper_ratio=320, taper_on=Cheek.UPPER)
    rear, front = slid.neck_at(240), slid.neck_at(0)
    assert rear.start_mm == front.start_mm
    assert rear.end_mm - front.end_mm == pytest.approx(0.75)
    # and goes on to the host's back edge, 60 mm behind the key
    assert slid.neck_at(300).end_mm - rear.end_mm == pytest.approx(60 / 320)


def test_a_taper_is_on_the_lower_cheek_unless_another_is_the_only_sloped_one() -> None:
    assert joint(taper_ratio=320).taper_on is Cheek.LOWER
    assert joint(taper_ratio=320, sloped=Sloped.UPPER).taper_on is Cheek.UPPER


def test_centre_and_clearance_by_hand() -> None:
    middle = joint(measured_to=Datum.CENTRE, at_mm=150, clearance_mm=0.05)
    assert middle.neck_at(0).middle_mm == pytest.approx(150)
    assert middle.neck_at(0).width_mm - middle.tongue_at(0, 0).width_mm == pytest.approx(0.1)
    lower = joint(at_mm=150, clearance_mm=0.05)
    assert lower.neck_at(0).start_mm == pytest.approx(150)


def test_stopped_joint_has_a_notch_as_long_as_the_stop_less_the_set_back() -> None:
    stopped = joint(stop_mm=12, set_back_mm=2)
    assert (stopped.front_mm, stopped.notch_mm, stopped.rear_mm, stopped.length_mm) == (12, 10, 242, 230)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"depth_mm": 19}, "goes through side.*6.3 mm is a third"),
        ({"depth_mm": 1.0}, "1.13 mm would be the least"),
        ({"slip_mm": -0.1}, "drive the key into the host"),
        ({"set_back_mm": 61}, "1 mm out behind side; a key 239 mm wide would end flush"),
        ({"set_back_mm": 5}, "would show in front.*stop it 5 mm from the front"),
        ({"stop_mm": 235}, "leaves 5 mm of tongue; 230 mm is the furthest"),
        ({"wide_mm": 20}, "19 mm is the widest"),
        ({"wide_mm": 6, "depth_mm": 12}, "neck is 2.66 mm at the front and breaks off; 10.8 mm deep"),
        ({"wide_mm": 3.1}, "a thicker key would do"),
        ({"taper_ratio": 10}, "is a wedge.*1:320 the usual"),
        ({"at_mm": 0.5}, "at 0.85 mm it would just lie on the board"),
        ({"at_mm": 490}, "just lie on the board"),
    ],
)
def test_what_cant_be_is_said_with_the_nearest_that_can(keys: dict[str, Any], says: str) -> None:
    with pytest.raises(LayoutError, match=says):
        joint(**keys)


def test_the_nearest_that_is_named_can_be() -> None:
    joint(depth_mm=6.3)
    joint(depth_mm=1.13)
    joint(stop_mm=230)
    joint(wide_mm=6, depth_mm=10.8)
    joint(at_mm=0.85)


@pytest.mark.parametrize(
    ("degrees", "depth_mm", "neck_mm"),
    [
        # 12.7 - 2 x 9.5 x tan 14 = 12.7 - 19 x 0.249328 = 7.963
        (14.0, 9.5, 7.963),
        # 12.7 - 2 x 19 x tan 8 = 12.7 - 38 x 0.140541 = 7.359
        (8.0, 19.0, 7.359),
    ],
)
def test_neck_that_a_bit_leaves(degrees: float, depth_mm: float, neck_mm: float) -> None:
    bit = Bit(diameter_mm=12.7, slope=Slope(1 / math.tan(math.radians(degrees))))
    assert bit.neck_mm(depth_mm) == pytest.approx(neck_mm, abs=5e-4)
    assert not bit.ploughed_first  # a straight bit before it is something that is said


@given(slid=sliding_joints(), share=st.floats(0, 1))
def test_the_key_lies_in_its_housing_and_leaves_only_what_was_stated(slid: SlidingJoint, share: float) -> None:
    station = slid.front_mm + share * slid.length_mm
    tongue, housing = tongue_section(slid, station), housing_section(slid, station)
    assert tongue.is_valid
    assert housing.is_valid
    assert tongue.difference(housing).area < AREA_MM2
    # the void is the slip over the floor's width, and the clearance beside both cheeks
    at_tongue_end, floor = slid.housing_at(station, slid.tongue_mm), slid.floor_at(station)
    over = slid.spec.slip_mm * (at_tongue_end.width_mm + floor.width_mm) / 2
    beside = 2 * slid.spec.clearance_mm * slid.tongue_mm
    assert housing.area - tongue.area == pytest.approx(over + beside, abs=1e-7)


@given(slid=sliding_joints(), share=st.floats(0, 1), travel_share=st.floats(0, 1))
def test_the_key_slides_in_from_the_rear_and_gets_tight_only_when_home(
    slid: SlidingJoint, share: float, travel_share: float
) -> None:
    station = slid.front_mm + share * slid.length_mm
    back_mm = travel_share * (slid.host.width_mm - station)
    tongue, housing = tongue_section(slid, station), housing_section(slid, station + back_mm)
    assert tongue.difference(housing).area < AREA_MM2
    if slid.spec.taper_ratio is not None:
        room_mm = slid.housing_at(station + back_mm, 0).width_mm - slid.tongue_at(station, 0).width_mm
        assert room_mm - 2 * slid.spec.clearance_mm == pytest.approx(back_mm / slid.spec.taper_ratio, abs=1e-9)


@given(slid=sliding_joints())
def test_a_tapered_key_goes_no_further_than_home(slid: SlidingJoint) -> None:
    if slid.spec.taper_ratio is None or slid.spec.clearance_mm:
        return
    past_mm = min(5.0, slid.length_mm / 2)
    tongue = tongue_section(slid, slid.rear_mm)
    assert tongue.difference(housing_section(slid, slid.rear_mm - past_mm)).area > 0


@given(slid=sliding_joints())
def test_the_key_stands_on_its_board_and_the_housing_on_the_host(slid: SlidingJoint) -> None:
    low = slid.key_lower_mm
    assert min(slid.shoulders_mm) >= 0
    for station in (slid.front_mm, slid.rear_mm):
        for z in (0.0, slid.tongue_mm):
            span = slid.tongue_at(station, z)
            assert low - 1e-9 <= span.start_mm < span.end_mm <= low + slid.key.thickness_mm + 1e-9
    host = shapely.box(0, 0, slid.host.length_mm, slid.host.thickness_mm)
    for station in (slid.front_mm, slid.rear_mm, slid.host.width_mm):
        assert housing_section(slid, station).difference(host).area < AREA_MM2


@given(slid=sliding_joints())
def test_varied_is_the_same_as_built_anew(slid: SlidingJoint) -> None:
    assert slid.varied() == slid
    assert slid.varied(cup_mm=0.2) == build_sliding(replace(slid.spec, cup_mm=0.2))


@pytest.mark.parametrize(
    ("end", "face", "on_the_left"),
    [
        (End.LEFT, FaceName.OUTSIDE, True),  # seen from outside, face edge down: that is what left means
        (End.RIGHT, FaceName.OUTSIDE, False),
        (End.LEFT, FaceName.INSIDE, False),  # seen from the other side, left is right
        (End.RIGHT, FaceName.INSIDE, True),
    ],
)
def test_the_end_measured_from_lies_where_one_who_looks_at_the_housing_sees_it(
    end: End, face: FaceName, on_the_left: bool
) -> None:
    spec = sliding_spec(face=face)
    looked_at = build_sliding(replace(spec, host=BoardEnd(board=spec.host.board, end=end)))
    assert looked_at.end_on_the_left is on_the_left
    assert looked_at.name == spec.name
