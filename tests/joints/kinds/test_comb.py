"""Combs: worked numbers, what can't be, and what a kind that settles keys itself says of them.

The equal fingers are plain division; no published source.
"""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.errors import LayoutError
from dovelayout.joints.kinds.comb import CombJoint
from dovelayout.joints.slope import STRAIGHT
from tests.jobs import applied, corner_job, error_of, findings, loaded, values_of

COMB = {"joint": "comb", "slope": None, "width": 99, "thickness": 12, "pin_thickness": 15}


def _joint(**keys: Any) -> CombJoint:
    joint = loaded(corner_job(**{**COMB, **keys})).joints[0]
    assert isinstance(joint, CombJoint)
    return joint


def test_fingers_share_the_width_and_the_pin_board_stands_at_both_edges() -> None:
    joint = _joint(tail_count=5)
    edges = [mm for pin in joint.pins for mm in (pin.start_mm, pin.end_mm)]
    assert edges == pytest.approx([9.0 * step for step in range(12)])  # 99 mm in 11 fingers
    assert [pin.half for pin in joint.pins] == [True, False, False, False, False, True]
    assert all(tail.width_mm == tail.neck_mm == pytest.approx(9.0) for tail in joint.tails)
    assert all(pin.root_mm == pin.width_mm for pin in joint.pins)
    tails, pins = joint.end_faces()
    assert (tails.baseline_mm, pins.baseline_mm) == (15, 12)
    assert joint.proposed == {}
    assert joint.slope is STRAIGHT


def test_the_count_is_proposed_for_fingers_as_wide_as_the_thinner_board_is_thick() -> None:
    joint = _joint()
    assert joint.proposed == {"tail_count": 4}  # 99 / 12 = 8.25: nine fingers of 11 mm are nearest
    assert joint.tails[0].width_mm == pytest.approx(11)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"slope": "1:7"}, "a comb joint takes no slope: its cheeks are straight; leave slope out"),
        ({"pin": 9}, "takes no pin: its fingers are all of one width"),
        ({"half_pin": 9}, "takes no half_pin"),
        ({"spacing": "graduated"}, "takes no spacing"),
        ({"lap": 3}, "a comb joint takes no lap"),
        ({"lip": {"overhang": 8, "thickness": 4}}, "a comb joint takes no lip"),
        (
            {"tail_count": 17},
            "17 fingers of 99.0 mm are 2.8 mm wide, under the 3 mm that can still be sawn and chopped; 16",
        ),
        ({"width": 20, "pin_width": 8, "tail_count": 1, "covers": [0, 8]}, "a wider board would do"),
        ({"tail_count": 1, "lid": {"at": 30}}, "two tails or more would do"),
    ],
)
def test_what_can_not_be_is_said(keys: dict[str, Any], said: str) -> None:
    assert said in error_of(corner_job(**{**COMB, **keys}))


def test_a_lid_is_sawn_off_between_the_two_fingers_that_it_needs() -> None:
    """60 mm less 2 of saw and plane in 19 mm stock would be one finger of 19; two leave a pin between: 58 / 5 = 11.6."""
    joint = _joint(width=60, thickness=19, lid={"at": 30, "kerf": 1, "clean_up": 1})
    assert [tail.width_mm for tail in joint.tails] == [pytest.approx(11.6)] * 2
    assert joint.proposed == {"tail_count": 2}


def test_sixteen_fingers_are_the_most_and_are_laid_out() -> None:
    assert _joint(tail_count=16).tails[0].width_mm == pytest.approx(3.0)


def test_varied_stays_straight_and_refuses_what_is_settled() -> None:
    joint = _joint(tail_count=5)
    assert len(joint.varied(tail_count=3).pins) == 4
    with pytest.raises(LayoutError, match="takes no pin"):
        joint.varied(pin_mm=4.0)
    from dovelayout.joints.slope import Slope

    with pytest.raises(LayoutError, match="takes no slope"):
        joint.varied(slope=Slope(6))


def test_fingers_of_the_makers_own_need_not_be_equal() -> None:
    joint = _joint(tails_at=[[12, 30], [39, 90]])
    assert [(tail.start_mm, tail.neck_end_mm) for tail in joint.tails] == [(12, 30), (39, 90)]


def test_a_lid_is_sawn_through_a_finger_that_is_wider_by_what_is_lost() -> None:
    joint = _joint(width=101, tail_count=5, lid={"at": 60, "kerf": 1.2, "clean_up": 0.8})
    widths = [round(pin.width_mm, 6) for pin in joint.full_pins]
    assert sorted(widths) == [9, 9, 9, 11]
    assert joint.saw_line_mm == pytest.approx(54 + 5.5)


def test_it_says_that_nothing_but_glue_holds_it() -> None:
    (finding,) = findings(corner_job(**COMB, tail_count=4), "little-hold")
    assert finding.measured is None
    assert "glue alone" in finding.message


def test_run_out_is_judged_without_a_slope() -> None:
    job = corner_job(**COMB, tail_count=4, board={"runout": "1:4"})
    (finding,) = [f for f in findings(job, "short-grain") if f.unit == "share"]
    assert finding.message.startswith("the run-out 14.0° leaves the corners")
    assert finding.fix == "a board with straighter grain for the tails"
    assert finding.changes == ()


def test_thin_fingers_are_mended_with_fewer_of_them() -> None:
    job = corner_job("eastern white pine", **COMB, tail_count=14)
    found = [f for f in findings(job) if f.changes]
    assert found
    for finding in found:
        assert set(values_of(finding)) == {"tail_count"}
        assert finding.check not in {f.check for f in findings(applied(job, finding.changes))}
