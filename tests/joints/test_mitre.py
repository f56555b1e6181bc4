"""Mitred shoulders: whole on the outside, gone on the inside, and the two boards meet in one plane."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import Manifold
from shapely import box, unary_union

from dovelayout.checks.finding import Level
from dovelayout.errors import DovelayoutError
from tests.jobs import corner_job, findings, level, loaded

BOX = {
    "width": 140,
    "thickness": 12,
    "pin_thickness": 15,
    "slope": "1:6",
    "tail_count": 4,
    "pin": 5,
    "half_pin": 5,
    "mitre": {"face_edge": 14},
}


def test_the_dovetails_begin_beyond_the_mitre_with_their_half_pin() -> None:
    joint = loaded(corner_job(**BOX)).joints[0]
    assert (joint.covers.start_mm, joint.covers.end_mm) == (14, 140)
    assert joint.tails[0].start_mm == pytest.approx(19)
    assert joint.pins[0].half
    assert joint.pins[0].start_mm == 14


def test_the_mitred_stretch_stays_outside_and_goes_inside_on_both_boards() -> None:
    joint = loaded(corner_job(**BOX)).joints[0]
    for faces in joint.end_faces():
        for face, stays in ((faces.outside, True), (faces.end_grain, False), (faces.inside, False)):
            kept = unary_union([piece.polygon for piece in face.keep])
            waste = unary_union(face.waste)
            strip = kept if stays else waste
            height = max(polygon.bounds[3] for polygon in face.waste)
            assert strip.intersection(box(0, 0, 14, height)).area == pytest.approx(14 * height)


def test_the_two_mitres_fill_the_corner_in_an_independent_solid_kernel() -> None:
    # per board: the hull of its outside face (whole) and of its inner baseline, which is what a flat saw cut leaves
    joint = loaded(corner_job(**BOX)).joints[0]
    tails, pins = joint.end_faces()
    x1, x2 = joint.mitres[0].start_mm, joint.mitres[0].end_mm
    tail_t, pin_t = joint.tail_board.thickness_mm, joint.pin_board.thickness_mm
    # world: u depth behind the pin board's outside face, w depth behind the tail board's outside face
    tail = [(x, u, 0.0) for x in (x1, x2) for u in (0.0, tails.baseline_mm)]
    tail += [(x, tails.baseline_mm, tail_t) for x in (x1, x2)]
    pin = [(x, 0.0, w) for x in (x1, x2) for w in (0.0, pins.baseline_mm)]
    pin += [(x, pin_t, pins.baseline_mm) for x in (x1, x2)]
    solids = [Manifold.hull_points(np.array(points)) for points in (tail, pin)]
    block = Manifold.cube((x2 - x1, pin_t, tail_t)).translate((x1, 0, 0))
    assert (solids[0] ^ solids[1]).volume() < 1e-6 * block.volume()
    assert (solids[0] + solids[1]).volume() == pytest.approx(block.volume(), rel=1e-6)


def test_a_groove_inside_the_mitre_is_hidden_and_one_across_its_edge_is_not() -> None:
    hidden = corner_job(**BOX, groove={"from_edge": 5, "width": 5, "depth": 4})
    assert level(hidden, "groove-shows") is Level.OK
    across = corner_job(**BOX, groove={"from_edge": 11, "width": 6, "depth": 4})
    (finding,) = findings(across, "groove-shows")
    assert finding.level is Level.STOP


def test_groove_ploughed_first_and_mitre_marked_on_its_wrong_side_stops() -> None:
    # the mitre was to hide the groove at 4 to 8 mm, and was marked at 4 mm instead of beyond 8
    wrong = corner_job(
        **{**BOX, "mitre": {"face_edge": 4}, "half_pin": 3}, groove={"from_edge": 4, "width": 4, "depth": 4}
    )
    assert level(wrong, "groove-shows") is Level.STOP
    right = corner_job(**{**BOX, "mitre": {"face_edge": 9}}, groove={"from_edge": 4, "width": 4, "depth": 4})
    assert level(right, "groove-shows") is Level.OK


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"proud": 0.4}, "can't stand proud"),
        ({"covers": [0, 100]}, "one width"),
        ({"pin_width": 138}, "side is 140 mm and top 138 mm wide"),
        ({"mitre": {"face_edge": 80, "far_edge": 70}}, "leave nothing"),
        ({"mitre": {"face_edge": 70, "far_edge": 70}}, "mitres of 70 and 70 mm leave nothing of 140 mm"),
        ({"joint": "half_blind", "lap": 4}, 'goes with joint = "through"'),
    ],
)
def test_what_a_mitre_can_not_do_is_said(keys: dict[str, object], said: str) -> None:
    with pytest.raises(DovelayoutError, match=said):
        loaded(corner_job(**{**BOX, **keys}))
