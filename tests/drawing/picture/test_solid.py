"""Solids are closed, look outward, and hold the volume they should."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from shapely import box

from dovelayout.drawing.picture.joint_solid import corner_solids
from dovelayout.drawing.picture.slide_solid import slide_solids
from dovelayout.drawing.picture.solid import Solid, Vec, cell, fused, prism
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from tests.conftest import examples
from tests.pictured import edges_once, volume_mm3
from tests.slides import sliding_joints
from tests.strategies import corner_joints


def _place(x: float, y: float, z: float) -> Vec:
    return (x, y, z)


def _blocks(*sizes: tuple[float, float, float, float, float, float]) -> Solid:
    return fused([prism(box(x1, y1, x2, y2), _place, z1, z2) for x1, y1, z1, x2, y2, z2 in sizes])


def test_a_block() -> None:
    block = _blocks((0, 0, 0, 3, 4, 5))
    assert len(block.faces) == 6
    assert volume_mm3(block) == pytest.approx(60)
    assert edges_once(block)


def test_two_blocks_that_touch_become_one_with_six_faces() -> None:
    block = _blocks((0, 0, 0, 3, 4, 5), (3, 0, 0, 10, 4, 5))
    assert len(block.faces) == 6
    assert volume_mm3(block) == pytest.approx(200)
    assert edges_once(block)


def test_a_step_keeps_what_isnt_covered() -> None:
    step = _blocks((0, 0, 0, 10, 4, 5), (4, 1, 5, 6, 3, 9))
    assert len(step.faces) == 6 + 5  # the small one's foot is gone, the large one's top has a hole
    assert sum(len(face.holes) for face in step.faces) == 1
    assert volume_mm3(step) == pytest.approx(200 + 16)
    assert edges_once(step)


def test_a_frame_of_four_is_a_ring() -> None:
    frame = _blocks((0, 0, 0, 10, 1, 2), (0, 9, 0, 10, 10, 2), (0, 1, 0, 1, 9, 2), (9, 1, 0, 10, 9, 2))
    assert len(frame.faces) == 10
    assert volume_mm3(frame) == pytest.approx((100 - 64) * 2)
    assert edges_once(frame)


def test_a_wedge_and_a_frustum() -> None:
    base: list[Vec] = [(0, 0, 0), (6, 0, 0), (6, 6, 0), (0, 6, 0)]
    wedge = fused([cell(base, [(0, 0, 3), (6, 0, 3), (6, 0, 3), (0, 0, 3)])])
    assert len(wedge.faces) == 5
    assert volume_mm3(wedge) == pytest.approx(6 * 6 * 3 / 2)
    frustum = fused([cell(base, [(1, 1, 3), (5, 1, 3), (5, 5, 3), (1, 5, 3)])])
    assert volume_mm3(frustum) == pytest.approx(3 / 3 * (36 + 16 + 24))  # h/3 (A + B + sqrt(AB))
    assert edges_once(wedge)
    assert edges_once(frustum)


def test_moving_changes_nothing_but_the_place() -> None:
    block = _blocks((0, 0, 0, 3, 4, 5)).moved((100, -50, 7))
    assert volume_mm3(block) == pytest.approx(60)
    assert min(point for face in block.faces for point in face.ring) == (100, -50, 7)


@settings(max_examples=examples(60))
@given(joint=corner_joints())
def test_any_corner_is_two_closed_solids(joint: CornerJoint) -> None:
    both = corner_solids(joint)
    for timber in (both.tails, both.pins):
        assert edges_once(timber.solid)
        assert volume_mm3(timber.solid) > 0


@settings(max_examples=examples(60))
@given(joint=sliding_joints())
def test_any_sliding_dovetail_is_two_closed_solids(joint: SlidingJoint) -> None:
    both = slide_solids(joint)
    assert edges_once(both.host.solid)
    assert edges_once(both.key.solid)
