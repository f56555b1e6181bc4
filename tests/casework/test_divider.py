"""Dividers: hosts in pairs, and what is set out on them."""

from __future__ import annotations

import pytest

from dovelayout.casework.divider import build_divider, setting_out
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.sliding import Cheek
from dovelayout.wood.species import find_wood
from tests.slides import sliding_spec


def _host(width_mm: float) -> BoardEnd:
    wood = find_wood("black cherry")
    board = Board(name="other", wood=wood, length_mm=500, width_mm=width_mm, thickness_mm=19)
    return BoardEnd(board=board, end=End.RIGHT)


def test_distances_to_set_out_by_hand() -> None:
    spec = sliding_spec(at_mm=200, stop_mm=12, set_back_mm=2, taper_ratio=100.0, taper_on=Cheek.UPPER, wide_mm=16.0)
    (joint,) = build_divider(spec, hosts=[spec.host], key_ends=[End.LEFT]).joints
    neck_mm = joint.neck_at(joint.rear_mm).width_mm
    assert [row.value_mm for row in setting_out(joint)] == pytest.approx(
        # rear, front (230 mm at 1:100), stop, notch, depth, tongue, free behind: 300 - 240 - 2
        [200, 200 + neck_mm, 200, 200 + neck_mm - 2.3, 12, 10, 6, 5.87, 58]
    )


def test_a_straight_through_divider_needs_fewer() -> None:
    spec = sliding_spec()
    divider = build_divider(spec, hosts=[spec.host], key_ends=[End.LEFT])
    assert len(setting_out(divider.joint)) == 5
    assert divider.glue_zone_mm == 240
    assert divider.rear_gap_mm == 60


def test_hosts_that_differ_in_depth_are_refused() -> None:
    spec = sliding_spec()
    with pytest.raises(LayoutError, match="differ in depth: side 300 mm and other 310 mm; make them equal"):
        build_divider(spec, hosts=[spec.host, _host(310)], key_ends=[End.LEFT, End.RIGHT])
    assert len(build_divider(spec, hosts=[spec.host, _host(300)], key_ends=[End.LEFT, End.RIGHT]).joints) == 2


def test_one_end_of_the_key_goes_into_one_host() -> None:
    spec = sliding_spec()
    with pytest.raises(LayoutError, match="one takes each"):
        build_divider(spec, hosts=[spec.host, _host(300)], key_ends=[End.LEFT, End.LEFT])
    with pytest.raises(LayoutError, match="name one or two"):
        build_divider(spec, hosts=[], key_ends=[])
