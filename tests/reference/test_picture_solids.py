"""The solids of the pictures against an independent solid kernel (manifold3d) that builds the boards from their faces.

The kernel drives the joint's own faces (`EndFaces`) through thickness and length, as `test_solid_kernel` does, and puts
the boards where `joints.board` says they stand: looking at a board's outside face with the face edge down, its right end
is on the right. Nothing of the picture's own geometry is used for that.
"""

from __future__ import annotations

import math

import manifold3d
import numpy as np
import pytest
import shapely
from manifold3d import CrossSection, Manifold
from shapely import Polygon

from dovelayout.drawing.picture.joint_solid import corner_solids
from dovelayout.drawing.picture.slide_solid import slide_solids
from dovelayout.joints.board import End
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import Face
from dovelayout.joints.sliding import SlidingJoint
from tests.pictured import CANTED, CORNERS, SLIDES, meshed, volume_mm3

STUB_MM = 40.0
SHARE = 1e-6


def _driven(polygons: list[Polygon], height_mm: float) -> Manifold:
    solids = []
    for polygon in polygons:
        ring = np.array(shapely.geometry.polygon.orient(polygon).exterior.coords)[:-1]
        solids.append(Manifold.extrude(CrossSection([ring]), height_mm))
    return Manifold.batch_boolean(solids, manifold3d.OpType.Add)


def _kept(face: Face) -> list[Polygon]:
    return [piece.polygon for piece in face.keep]


def _turned(solid: Manifold, rows: list[list[float]]) -> Manifold:
    return solid.transform(np.array(rows, dtype=float))


def _from_faces(joint: CornerJoint) -> tuple[Manifold, Manifold]:
    """Tail board and pin board, x to the right of one who looks at the tails' outside face, y away from them, z up."""
    tails, pins = joint.end_faces()
    tail_w, tail_t = joint.tail_board.width_mm, joint.tail_board.thickness_mm
    pin_w, pin_t = joint.pin_board.width_mm, joint.pin_board.thickness_mm
    tail = _driven(_kept(tails.outside), tail_t)  # (width, from the end, thickness)
    tail += Manifold.cube((tail_w, STUB_MM, tail_t)).translate((0, tails.baseline_mm, 0))
    pin = _driven(_kept(pins.end_grain), pins.baseline_mm)  # (width, thickness, from the end)
    if pins.lip is not None:  # its end grain is that of the shoulder, and counts from the lip
        pin = pin.translate((0, pins.lip.thickness_mm, 0))
        long_mm = pins.lip.overhang_mm + pins.baseline_mm
        pin += Manifold.cube((pin_w, pins.lip.thickness_mm, long_mm)).translate((0, 0, -pins.lip.overhang_mm))
    pin += Manifold.cube((pin_w, pin_t, STUB_MM)).translate((0, 0, pins.baseline_mm))
    if tails.groove is not None:
        groove = tails.groove
        cut = Manifold.cube((groove.width_mm, 500, 50)).translate((groove.from_edge_mm, -100, tail_t - groove.depth_mm))
        tail -= cut
    if pins.groove is not None:
        groove = pins.groove
        cut = Manifold.cube((groove.width_mm, 50, 500)).translate((groove.from_edge_mm, pin_t - groove.depth_mm, -100))
        pin -= cut
    # a right end lies on the right, so the board runs from it to the left
    way = -1.0 if joint.spec.tails.end is End.RIGHT else 1.0
    tail = _turned(tail, [[0, way, 0, way * (joint.lap_mm - tails.proud_mm)], [0, 0, 1, 0], [1, 0, 0, 0]])
    pin = _turned(pin, [[0, way, 0, 0], [0, 0, 1, -pins.proud_mm], [1, 0, 0, joint.pin_offset_mm]])
    return tail, pin


@pytest.mark.parametrize("name", [name for name in CORNERS if name != "mitred"])
def test_a_corner_is_what_its_faces_say(name: str) -> None:
    joint = CORNERS[name]
    both = corner_solids(joint, stub_mm=STUB_MM)
    for timber, wanted in zip((both.tails, both.pins), _from_faces(joint), strict=True):
        found = meshed(timber.solid)
        volume = wanted.volume()
        assert volume_mm3(timber.solid) == pytest.approx(volume, rel=SHARE)
        assert found.volume() == pytest.approx(volume, rel=SHARE)
        assert ((found - wanted) + (wanted - found)).volume() < SHARE * volume


def test_the_mirror_image_would_be_noticed() -> None:
    right, left = (corner_solids(CORNERS[f"lopsided, {hand}"], stub_mm=STUB_MM) for hand in ("right", "left"))
    one, other = meshed(right.tails.solid), meshed(left.tails.solid)
    assert (one - other).volume() > 0.3 * one.volume()
    mirrored = other.mirror((1, 0, 0))
    assert ((one - mirrored) + (mirrored - one)).volume() < SHARE * one.volume()


@pytest.mark.parametrize("name", [*CORNERS, *CANTED])
def test_together_they_fill_the_corner_and_dont_overlap(name: str) -> None:
    joint = {**CORNERS, **CANTED}[name]
    both = corner_solids(joint, stub_mm=STUB_MM)
    tail, pin = meshed(both.tails.solid), meshed(both.pins.solid)
    assert (tail ^ pin).volume() < SHARE * tail.volume()
    # the corner where both boards are: a block, which leans with the pin board
    low, high = joint.covers.start_mm, joint.covers.end_mm
    for mitre in joint.mitres:
        low, high = min(low, mitre.start_mm), max(high, mitre.end_mm)
    shy_p, shy_t = max(0.0, -joint.spec.proud_tails_mm), max(0.0, -joint.spec.proud_pins_mm)
    angle = math.radians(joint.spec.cant.angle_deg)
    sin, cos = math.sin(angle), math.cos(angle)
    way = -1.0 if joint.spec.tails.end is End.RIGHT else 1.0

    def block(p1: float, p2: float) -> Manifold:
        d1, d2 = p1 - joint.lap_mm, p2 - joint.lap_mm
        ring = [(at + d * cos / sin, d) for at, d in ((low, d1), (high, d1), (high, d2), (low, d2))]
        flat = Manifold.extrude(CrossSection([np.array(ring)]), joint.tail_board.thickness_mm - shy_t)
        return _turned(flat, [[way * cos, way * sin, 0, way * joint.lap_mm], [0, 0, 1, shy_t], [sin, -cos, 0, 0]])

    corner = block(joint.lap_mm + shy_p, joint.pin_board.thickness_mm)
    if joint.lap_mm:
        corner += block(0.0, joint.lap_mm)
    void = (corner - (tail + pin)).volume()
    groove = joint.spec.groove
    if groove is None:
        assert void < SHARE * corner.volume()
        return
    # a groove through a mitre or through tails leaves a void no larger than it is itself
    most = groove.width_mm * groove.depth_mm * (joint.tail_board.thickness_mm + joint.pin_board.thickness_mm)
    assert 0 < void < most


@pytest.mark.parametrize("name", CANTED)
def test_the_edges_of_both_boards_of_a_canted_corner_are_level_and_its_ends_square(name: str) -> None:
    joint = CANTED[name]
    both = corner_solids(joint, stub_mm=STUB_MM)
    for timber in (both.tails, both.pins):
        points = np.array([point for face in timber.solid.faces for point in face.ring])
        assert points[:, 2].min() == pytest.approx(0.0, abs=1e-6)
        assert points[:, 2].max() == pytest.approx(joint.tail_board.width_mm, abs=1e-6)
        along = points @ np.array(timber.along)
        far = points[np.isclose(along, along.max(), atol=1e-6)]
        assert far[:, 2].min() == pytest.approx(0.0, abs=1e-6)
        assert far[:, 2].max() == pytest.approx(joint.tail_board.width_mm, abs=1e-6)


def _hull(sections: list[tuple[float, Polygon]]) -> Manifold:
    return Manifold.hull_points(
        np.array([(u, s, z) for s, flat in sections for u, z in list(flat.exterior.coords)[:-1]])
    )


@pytest.mark.parametrize("name", SLIDES)
def test_host_and_key_are_what_their_sections_say(name: str) -> None:
    joint: SlidingJoint = SLIDES[name]
    both = slide_solids(joint, stub_mm=STUB_MM)
    lowest = max(0.0, min(joint.key_lower_mm, joint.neck_at(joint.rear_mm).start_mm) - STUB_MM)
    highest = max(joint.key_lower_mm + joint.key.thickness_mm, joint.neck_at(joint.rear_mm).end_mm) + STUB_MM
    host = Manifold.cube((highest - lowest, joint.host.width_mm, joint.host.thickness_mm)).translate((lowest, 0, 0))
    host -= _hull([(s, joint.housing_profile(s)) for s in (joint.front_mm, joint.host.width_mm + 50)])
    key = _hull([(s, joint.tongue_profile(s)) for s in (joint.front_mm, joint.rear_mm)])
    key += Manifold.cube((joint.key.thickness_mm, joint.key.width_mm, STUB_MM)).translate(
        (joint.key_lower_mm, joint.spec.set_back_mm, -STUB_MM)
    )
    # standing with the end that is measured from below, its front edge away: the housing looks left where that end is on
    # the left of one who looks at it with the front edge down
    way = 1.0 if joint.end_on_the_left else -1.0
    rows: list[list[float]] = [[0, 0, way, 0], [0, 1, 0, 0], [1, 0, 0, 0]]
    for timber, wanted in ((both.host, _turned(host, rows)), (both.key, _turned(key, rows))):
        found = meshed(timber.solid)
        assert ((found - wanted) + (wanted - found)).volume() < SHARE * wanted.volume()
        assert volume_mm3(timber.solid) == pytest.approx(wanted.volume(), rel=SHARE)
    assert (meshed(both.host.solid) ^ meshed(both.key.solid)).volume() < SHARE * key.volume()
