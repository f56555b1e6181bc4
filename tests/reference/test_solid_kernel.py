"""Tails and pins as solids in an independent solid kernel (manifold3d): they fill the corner and nothing overlaps.

The tail board's end is its outside face, what stays of it, driven through the thickness; the pin board's end is its end
grain, what stays of it, driven along the length. In the world x is the depth behind the pin board's outside face, y the
depth behind the tail board's, z the height over the tail board's face edge. Under a lap the tails start behind it.
"""

from __future__ import annotations

import math
from pathlib import Path

import manifold3d
import numpy as np
import pytest
import shapely
from manifold3d import CrossSection, Manifold
from shapely import Polygon

from dovelayout.job.reader import read_job
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Lip
from dovelayout.joints.cant import Cant
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.face import Face
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Spacing, Span
from dovelayout.wood.species import find_wood

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
SHARE = 1e-6  # of the corner block; the kernel itself works to about 1e-12 of the size here


def _driven(polygons: list[Polygon], height_mm: float) -> Manifold:
    """Prisms over polygons in the (x, y) plane, up from z = 0."""
    solids = []
    for polygon in polygons:
        ring = np.array(shapely.geometry.polygon.orient(polygon).exterior.coords)[:-1]
        solids.append(Manifold.extrude(CrossSection([ring]), height_mm))
    return Manifold.batch_boolean(solids, manifold3d.OpType.Add)


def _kept(face: Face) -> list[Polygon]:
    return [piece.polygon for piece in face.keep]


def _placed(solid: Manifold, rows: list[list[float]]) -> Manifold:
    """Moved by a matrix of three rows, which must turn and shift only, or mirror: never stretch."""
    matrix = np.array(rows, dtype=float)
    assert np.allclose(matrix[:, :3] @ matrix[:, :3].T, np.eye(3))
    return solid.transform(matrix)


def _solids(joint: CornerJoint) -> tuple[Manifold, Manifold]:
    tails, pins = joint.end_faces()
    lip_mm = 0.0 if joint.spec.lip is None else joint.spec.lip.thickness_mm
    tail = _driven(_kept(tails.inside), joint.tail_board.thickness_mm)  # (width, from the end, thickness)
    tail = _placed(tail, [[0, 1, 0, joint.lap_mm - tails.proud_mm], [0, 0, 1, 0], [1, 0, 0, 0]])
    pin = _driven(_kept(pins.end_grain), pins.baseline_mm)  # (width, thickness, from the end)
    pin = _placed(pin, [[0, 1, 0, lip_mm], [0, 0, 1, -pins.proud_mm], [1, 0, 0, joint.pin_offset_mm]])
    for mitre in joint.mitres:
        # the hull of the outside face and of the inner baseline, which is what a flat saw cut leaves
        x, y = joint.pin_board.thickness_mm, joint.tail_board.thickness_mm
        for z1, z2 in [(mitre.start_mm, mitre.end_mm)]:
            tail += _hull([(0, 0), (x, 0), (x, y)], z1, z2)
            pin += _hull([(0, 0), (0, y), (x, y)], z1, z2)
    return tail, pin


def _hull(triangle: list[tuple[float, float]], z1: float, z2: float) -> Manifold:
    return Manifold.hull_points(np.array([(x, y, z) for x, y in triangle for z in (z1, z2)], dtype=float))


def _block(joint: CornerJoint) -> Manifold:
    """The corner where both boards are: without what is missing of an end that stands shy, or is cut away behind a lip.

    In a canted corner it leans: by the cotangent of the angle up for every mm of depth."""
    low = joint.mitres[0].start_mm if joint.mitres else joint.covers.start_mm
    high = max([joint.covers.end_mm, *(mitre.end_mm for mitre in joint.mitres)])
    lap, pin_t, tail_t = joint.lap_mm, joint.pin_board.thickness_mm, joint.tail_board.thickness_mm
    shy_x, shy_y = max(0.0, -joint.spec.proud_tails_mm), max(0.0, -joint.spec.proud_pins_mm)
    lip_mm = 0.0 if joint.spec.lip is None else joint.spec.lip.thickness_mm
    angle_deg = joint.spec.cant.angle_deg
    up = 0.0 if angle_deg == 90 else 1 / np.tan(np.radians(angle_deg))

    def prism(x1: float, x2: float) -> Manifold:
        edge = [(low + up * (x - lap), x) for x in (x1, x2)]  # the tails' ends, at the lap, are where z starts
        (a, _), (b, _) = edge
        ring = [(a, x1), (a + high - low, x1), (b + high - low, x2), (b, x2)]
        solid = Manifold.extrude(CrossSection([np.array(ring)]), tail_t - shy_y)
        return solid.transform(np.array([[0, 1, 0, 0], [0, 0, 1, shy_y], [1, 0, 0, 0]], dtype=float))

    behind = prism(lap + shy_x, pin_t)
    return prism(lip_mm, lap) + behind if lap > lip_mm else behind


def _check(joint: CornerJoint) -> None:
    tail, pin = _solids(joint)
    assert tail.volume() > 0
    assert pin.volume() > 0
    block = _block(joint)
    in_block = [solid ^ block for solid in (tail, pin)]
    assert (in_block[0] ^ in_block[1]).volume() < SHARE * block.volume()
    assert (block - (tail + pin)).volume() < SHARE * block.volume()
    assert sum(solid.volume() for solid in in_block) == pytest.approx(block.volume(), rel=SHARE)
    # the proud ends don't meet either, nor the boards above and below the joint
    assert (tail ^ pin).volume() < SHARE * block.volume()


def _first_of_each_sample() -> list[CornerJoint]:
    return [read_job(path).joints[0] for path in SAMPLES]


@pytest.mark.parametrize("joint", _first_of_each_sample(), ids=[path.stem for path in SAMPLES])
def test_samples(joint: CornerJoint) -> None:
    _check(joint)


def _joint(
    *, tail: tuple[float, float], pin: tuple[float, float], end: End = End.RIGHT, kind: str = "through", **keys: object
) -> CornerJoint:
    """A corner of boards given as (width, thickness)."""
    wood = find_wood("white oak")
    boards = [
        Board(name=name, wood=wood, length_mm=400, width_mm=width, thickness_mm=thickness)
        for name, (width, thickness) in (("side", tail), ("back", pin))
    ]
    return KINDS[kind].worked_out(
        CornerSpec(
            name="A",
            tails=BoardEnd(board=boards[0], end=end),
            pins=BoardEnd(board=boards[1], end=end.opposite),
            **{"slope": Slope(6), **keys},  # type: ignore[arg-type]
        )
    )


def _leaning(width_mm: float, angle_deg: float) -> float:
    """The width of a board that leans against an end canted to that angle."""
    return width_mm / math.sin(math.radians(angle_deg))


LOPSIDED = (Span(7, 40), Span(52, 70), Span(80, 151))

ASYMMETRIC = {
    "lopsided": _joint(tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED),
    "tail at the face edge": _joint(tail=(160, 12), pin=(160, 9), tails_at=(Span(0, 33), *LOPSIDED[1:])),
    "tail at the far edge": _joint(tail=(151, 30), pin=(151, 9), tails_at=LOPSIDED, slope=Slope(3)),
    "proud": _joint(tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED, proud_tails_mm=1.5, proud_pins_mm=0.7),
    "shy": _joint(tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED, proud_tails_mm=-1.5, proud_pins_mm=-0.7),
    "one proud, one shy": _joint(tail=(160, 12), pin=(160, 22), end=End.LEFT, tails_at=LOPSIDED, proud_tails_mm=-1),
    "drawer back": _joint(tail=(110, 11), pin=(86, 9), covers=Span(20, 106), tail_count=3),
    "shared face edge": _joint(tail=(110, 11), pin=(130, 9), covers=Span(20, 106), tail_count=3),
    "wider pin board": _joint(tail=(110, 45), pin=(130, 4), tail_count=4, spacing=Spacing.CLOSER_AT_EDGES),
    "wider tail board": _joint(tail=(300, 4), pin=(200, 45), tail_count=7, pin_mm=3.0, half_pin_mm=12.0),
    "half-blind": _joint(kind="half_blind", tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED, lap_mm=5.0),
    "half-blind, shy": _joint(
        kind="half_blind", tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED, lap_mm=4.0, proud_tails_mm=-0.5
    ),
    "lipped": _joint(
        kind="half_blind",
        tail=(160, 12),
        pin=(160, 22),
        tails_at=LOPSIDED,
        lap_mm=6.0,
        lip=Lip(overhang_mm=8, thickness_mm=4.0),
    ),
    "lip as thick as the lap": _joint(
        kind="half_blind",
        tail=(160, 12),
        pin=(160, 22),
        tails_at=LOPSIDED,
        lap_mm=6.0,
        lip=Lip(overhang_mm=8, thickness_mm=6.0),
    ),
    "mitred at both edges": _joint(
        tail=(190, 12), pin=(190, 22), tails_at=LOPSIDED, mitre_face_edge_mm=5.0, mitre_far_edge_mm=30.0
    ),
    "leaning back": _joint(tail=(160, 12), pin=(_leaning(160, 80), 22), cant=Cant(80), tails_at=LOPSIDED),
    "leaning over": _joint(
        tail=(160, 12), pin=(_leaning(160, 105), 22), cant=Cant(105), tails_at=LOPSIDED, end=End.LEFT
    ),
    "leaning, tail at the face edge": _joint(
        tail=(160, 30), pin=(_leaning(160, 75), 9), cant=Cant(75), tails_at=(Span(0, 33), *LOPSIDED[1:])
    ),
    "comb": _joint(kind="comb", slope=None, tail=(160, 12), pin=(160, 22), tail_count=5),
    "comb, laid out by hand, proud": _joint(
        kind="comb", slope=None, tail=(160, 12), pin=(160, 22), tails_at=LOPSIDED, proud_tails_mm=1.5
    ),
    "comb, leaning": _joint(
        kind="comb", slope=None, tail=(160, 12), pin=(_leaning(160, 80), 22), cant=Cant(80), tail_count=5
    ),
    "leaning, half-blind": _joint(
        kind="half_blind", tail=(160, 12), pin=(_leaning(160, 100), 22), cant=Cant(100), tails_at=LOPSIDED, lap_mm=5.0
    ),
}


@pytest.mark.parametrize("name", ASYMMETRIC)
def test_asymmetric_corners(name: str) -> None:
    _check(ASYMMETRIC[name])


def test_the_kernel_would_notice_a_tenth() -> None:
    """A tail board moved a tenth of a millimetre up runs into the pins and leaves gaps."""
    joint = ASYMMETRIC["lopsided"]
    tail, pin = _solids(joint)
    wrong = tail.translate((0, 0, 0.1))
    assert (wrong ^ pin).volume() > 100 * SHARE * _block(joint).volume()
    assert (_block(joint) - (wrong + pin)).volume() > 100 * SHARE * _block(joint).volume()
