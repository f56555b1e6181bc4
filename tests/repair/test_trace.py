"""The joint's lines at a corner of a board, in the coordinates of a patch."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from dovelayout.joints.board import End
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.repair.patch import Break
from dovelayout.repair.trace import trace_of
from tests.strategies import through_joints


@given(joint=through_joints(whole_width=True), far_edge=st.booleans())
def test_the_nearest_cheek_meets_the_baseline_at_the_tails_neck(joint: ThroughJoint, far_edge: bool) -> None:
    tails, _ = joint.end_faces()
    width = tails.end.board.width_mm
    trace = trace_of(tails, far_edge=far_edge)
    if not trace.outside:
        return
    necks = [width - tail.neck_end_mm if far_edge else tail.neck_start_mm for tail in joint.tails]
    ends = [point for line in trace.lines("outside") for point in line if abs(point[1] - tails.baseline_mm) < 1e-6]
    for neck in necks:
        if neck > 1e-3:
            assert min(abs(x - neck) for x, _ in ends) < 1e-6


@given(joint=through_joints())
def test_at_the_far_edge_it_is_the_mirror_image_and_on_the_other_hand(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        near, far = (trace_of(faces, far_edge=far) for far in (False, True))
        width = faces.end.board.width_mm
        for face in ("outside", "end", "inside"):
            turned = sorted(
                (round(width - x, 6), round(y, 6)) for line in near.lines(face) for x, y in line if x < width - 1
            )
            found = [(x, y) for line in far.lines(face) for x, y in line]
            for x, y in turned:
                assert min((abs(x - a) + abs(y - b) for a, b in found), default=0.0) < 1e-4 or x < 1.0
        assert near.on_the_left is not far.on_the_left
        # a left end turned upwards, seen from outside, brings the face edge to the left
        assert near.on_the_left is (faces.end.end is End.LEFT)


@given(joint=through_joints(whole_width=True))
def test_a_break_within_the_half_pins_socket_is_waste_anyway_and_one_past_it_isnt(joint: ThroughJoint) -> None:
    tails, _ = joint.end_faces()
    first = min(tail.at(-joint.spec.proud_tails_mm / joint.depth_mm).start_mm for tail in joint.tails)
    if first < 1.0:
        return
    trace = trace_of(tails)
    thick = tails.end.board.thickness_mm
    inside = Break(width_mm=first - 0.1, depth_mm=thick, length_mm=tails.baseline_mm - 0.1, chip=False)
    assert trace.cuts_away(inside)
    wider = Break(width_mm=first + 0.1, depth_mm=thick, length_mm=1.0, chip=False)
    assert not trace.cuts_away(wider)
    longer = Break(width_mm=first - 0.1, depth_mm=thick, length_mm=tails.baseline_mm + 0.1, chip=False)
    assert not trace.cuts_away(longer)
