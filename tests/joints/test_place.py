"""Where a joint lies on its boards, at the edges of what can be."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from dovelayout.errors import LayoutError
from dovelayout.joints.board import BoardEnd
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import build_sliding
from tests.jobs import corner_job, error_of, loaded
from tests.slides import sliding_spec

LONG = 200 / math.cos(math.radians(10))  # of an end that leans by 10 degrees, 200 mm across


def _joint(**keys: Any) -> CornerJoint:
    return loaded(corner_job(**{"tail_count": 4, "pin": 8, "half_pin": 10, **keys})).joints[0]


@pytest.mark.parametrize(("off_mm", "fits"), [(0.195, True), (-0.195, True), (0.205, False), (-0.205, False)])
def test_a_board_that_is_planed_to_a_canted_end_without_a_thought(off_mm: float, fits: bool) -> None:
    job = corner_job(angle=80, pin_width=LONG + off_mm, tail_count=4, pin=8, half_pin=10)
    if fits:
        assert loaded(job).joints[0].covers.end_mm == pytest.approx(LONG)
    else:
        assert f"make it {LONG:.2f} mm" in error_of(job)


@pytest.mark.parametrize("edge", ["face_edge", "far_edge"])
def test_the_smallest_mitre_is_a_mitre(edge: str) -> None:
    """Square it takes its stretch; on a canted corner it is refused."""
    (stretch,) = _joint(mitre={edge: 0.9}).mitres
    assert stretch.width_mm == pytest.approx(0.9)
    canted = corner_job(angle=80, pin_width=LONG, tail_count=4, pin=8, half_pin=10, mitre={edge: 0.9})
    assert "mitre goes with square corners" in error_of(canted)


@pytest.mark.parametrize("angle", [80, 100])
@pytest.mark.parametrize("lap", [None, 5])
def test_every_tail_has_two_cheeks_and_the_edge_of_a_leaning_board_is_none(angle: float, lap: float | None) -> None:
    half_blind = {} if lap is None else {"joint": "half_blind", "lap": lap}
    tails, pins = _joint(angle=angle, pin_width=LONG, **half_blind).end_faces()
    for face in (tails.outside, tails.inside, pins.inside):
        assert len(face.cheeks) == 2 * 4


@pytest.mark.parametrize("leans_deg", [0, 15, -15])
def test_the_floor_of_every_socket_is_as_wide_as_its_tail(leans_deg: int) -> None:
    """Also where a cheek leans past it on the way down; the pin board's edge lies tan 15 x 5 mm aside at the lap."""
    lean = math.radians(leans_deg)
    joint = _joint(joint="half_blind", lap=5, angle=90 - leans_deg, pin_width=200 / math.cos(lean))
    _, pins = joint.end_faces()
    floors = sorted((a[0], b[0]) for a, b in pins.end_grain.cheeks if a[1] == b[1] == 5)
    aside_mm = 5 * math.tan(lean)
    assert floors == [pytest.approx((tail.start_mm + aside_mm, tail.end_mm + aside_mm)) for tail in joint.tails]


def test_two_tails_have_a_pin_to_saw_a_lid_off_through() -> None:
    joint = _joint(tail_count=2, lid={"at": 100, "kerf": 1, "clean_up": 1})
    assert joint.saw_line_mm == pytest.approx(100)


@pytest.mark.parametrize(("ratio", "fits"), [(20.0, True), (19.9, False)])
def test_the_steepest_taper(ratio: float, fits: bool) -> None:
    if fits:
        assert build_sliding(sliding_spec(taper_ratio=ratio)).tapered
    else:
        with pytest.raises(LayoutError, match="1:20 is the steepest"):
            build_sliding(sliding_spec(taper_ratio=ratio))


@pytest.mark.parametrize("at_mm", [-2.0, 495.0])
def test_where_a_housing_would_just_lie_on_the_board_it_does_and_a_hair_further_out_it_does_not(at_mm: float) -> None:
    with pytest.raises(LayoutError, match="it would just lie on the board") as caught:
        build_sliding(sliding_spec(at_mm=at_mm))
    named_mm = float(str(caught.value).partition("; at ")[2].partition(" mm")[0])
    build_sliding(sliding_spec(at_mm=named_mm))
    out = -0.011 if at_mm < 0 else 0.011
    with pytest.raises(LayoutError):
        build_sliding(sliding_spec(at_mm=named_mm + out))


def test_a_host_as_long_as_the_housing_is_wide_takes_it_over_its_whole_length() -> None:
    spec = sliding_spec(host_mm=(500, 300, 19))
    joint = build_sliding(spec)
    wide = joint.floor_at(joint.host.width_mm).width_mm
    low_mm = spec.at_mm - joint.floor_at(joint.host.width_mm).start_mm
    exact = replace(spec.host.board, length_mm=wide + 1e-6)
    whole = replace(spec, host=BoardEnd(board=exact, end=spec.host.end), at_mm=low_mm + 5e-7)
    assert build_sliding(whole).floor_at(joint.host.width_mm).width_mm == pytest.approx(wide)
    short = replace(spec.host.board, length_mm=wide - 1e-6)
    with pytest.raises(LayoutError, match="a narrower key would do"):
        build_sliding(replace(whole, host=BoardEnd(board=short, end=spec.host.end)))


def test_kerf_pins_are_as_fine_as_the_saw_and_0_7_mm_where_the_shop_names_none() -> None:
    """0.5 to 0.8 mm (common practice, no source)."""
    keys = {"spacing": "kerf pins", "tail_count": 4, "half_pin": 10}
    assert {round(pin.width_mm, 9) for pin in loaded(corner_job(**keys)).joints[0].full_pins} == {0.7}
    sawn = loaded(corner_job(**keys, shop={"kerf": 0.5})).joints[0]
    assert {round(pin.width_mm, 9) for pin in sawn.full_pins} == {0.5}
