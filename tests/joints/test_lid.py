"""A lid sawn off after the glue-up: the pin at the saw is widened by what is lost, and each side keeps its half."""

from __future__ import annotations

import pytest

from dovelayout.errors import DovelayoutError
from tests.jobs import corner_job, loaded

BOX = {"width": 160, "thickness": 12, "tail_count": 5, "pin": 6, "half_pin": 8}


def test_the_pin_at_the_saw_is_wider_by_kerf_and_planing_and_no_other() -> None:
    joint = loaded(corner_job(**BOX, lid={"at": 120, "kerf": 1.2, "clean_up": 0.8})).joints[0]
    widths = [pin.width_mm for pin in joint.full_pins]
    assert sorted(widths) == pytest.approx([6, 6, 6, 8])
    (wide,) = [pin for pin in joint.full_pins if pin.width_mm > 7]
    assert joint.saw_line_mm == pytest.approx((wide.start_mm + wide.end_mm) / 2)
    # after the saw and the plane, half a pin of 6 mm is left on either side
    assert joint.saw_line_mm - 1.0 - wide.start_mm == pytest.approx(3)
    assert wide.end_mm - joint.saw_line_mm - 1.0 == pytest.approx(3)
    # nearest pin to 120 mm; and the tails are all of one width: (160 - 16 - 24 - 2) / 5
    assert [tail.width_mm for tail in joint.tails] == pytest.approx([23.6] * 5)
    assert abs(joint.saw_line_mm - 120) <= (23.6 + 6) / 2


def test_both_templates_carry_both_sides_of_the_saw() -> None:
    joint = loaded(corner_job(**BOX, lid={"at": 120, "kerf": 1.2, "clean_up": 0.8})).joints[0]
    for faces in joint.end_faces():
        low, high = faces.saw_lines_mm
        assert high - low == pytest.approx(2.0)
        assert (low + high) / 2 == pytest.approx(joint.saw_line_mm)


def test_a_layout_set_out_by_the_maker_is_sawn_where_it_is_wanted_if_a_pin_is_there() -> None:
    spans = [[8, 50], [60, 100], [112, 152]]
    job = corner_job(width=160, thickness=12, tails_at=spans, lid={"at": 106, "kerf": 1, "clean_up": 1})
    assert loaded(job).joints[0].saw_line_mm == 106
    off = corner_job(width=160, thickness=12, tails_at=spans, lid={"at": 80, "kerf": 1, "clean_up": 1})
    with pytest.raises(DovelayoutError, match=r"isn't inside a pin; the pins are at 50-60, 100-112 mm"):
        loaded(off)


def test_one_tail_has_no_pin_to_saw_through() -> None:
    job = corner_job(width=60, thickness=12, tail_count=1, pin=6, half_pin=10, lid={"at": 30})
    with pytest.raises(DovelayoutError, match="two tails or more"):
        loaded(job)


@pytest.mark.parametrize(("at", "fits"), [(100.9, False), (101.1, True), (110.9, True), (111.1, False)])
def test_the_whole_cut_stays_inside_the_pin_that_the_maker_set_out(at: float, fits: bool) -> None:
    """1 mm to either side of the line is lost, in a pin from 100 to 112."""
    spans = [[8, 50], [60, 100], [112, 152]]
    job = corner_job(width=160, thickness=12, tails_at=spans, lid={"at": at, "kerf": 1, "clean_up": 1})
    if fits:
        assert loaded(job).joints[0].saw_line_mm == at
    else:
        with pytest.raises(DovelayoutError, match="isn't inside a pin"):
            loaded(job)
