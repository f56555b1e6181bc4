"""Joints to be pictured, one of each kind, and looking at solids with nothing of the package: rays through triangles."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import manifold3d
import numpy as np
from numpy.typing import NDArray

from dovelayout.drawing.picture.solid import PlaneFace, Solid
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Groove, Lip, Rings
from dovelayout.joints.cant import Cant
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.lid import LidCut
from dovelayout.joints.sliding import Cheek, SlidingJoint, Sloped, build_sliding
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.wood.species import find_wood
from tests.slides import sliding_spec

Array = NDArray[np.float64]
LOPSIDED = (Span(7, 40), Span(52, 70), Span(80, 112))
GROOVE = Groove(from_edge_mm=10, width_mm=5, depth_mm=5)


def pictured_corner(
    kind: str = "through",
    *,
    tail: tuple[float, float] = (120, 12),
    pin: tuple[float, float] = (120, 20),
    end: End = End.RIGHT,
    woods: tuple[str, str] = ("white oak", "black walnut"),
    name: str = "A",
    **keys: Any,
) -> CornerJoint:
    """A corner of boards given as (width, thickness)."""
    boards = [
        Board(name=part, wood=find_wood(wood), length_mm=400, width_mm=size[0], thickness_mm=size[1], rings=rings)
        for part, size, wood, rings in zip(
            ("side", "front"), (tail, pin), woods, (Rings.FLAT, Rings.QUARTER), strict=True
        )
    ]
    ends = [BoardEnd(board=board, end=which) for board, which in zip(boards, (end, end.opposite), strict=True)]
    return KINDS[kind](CornerSpec(name=name, tails=ends[0], pins=ends[1], **{"slope": Slope(6), **keys}))


def volume_mm3(solid: Solid) -> float:
    """The volume inside a closed surface, by the divergence theorem: a sixth of a sum over triangles of each face."""
    return math.fsum(
        float(np.dot(ring[0], np.cross(one, other)) / 6)
        for face in solid.faces
        for ring in face.rings
        for one, other in pairwise(ring[1:])
    )


CORNERS: dict[str, CornerJoint] = {
    "through": pictured_corner(tail_count=4),
    "lopsided, right": pictured_corner(tails_at=LOPSIDED),
    "lopsided, left": pictured_corner(tails_at=LOPSIDED, end=End.LEFT),
    "proud and grooved": pictured_corner(tail_count=3, proud_tails_mm=1.5, proud_pins_mm=0.7, groove=GROOVE),
    "shy": pictured_corner(tails_at=LOPSIDED, proud_tails_mm=-1.5, proud_pins_mm=-0.7),
    "tail at the edge": pictured_corner(tails_at=(Span(0, 40), *LOPSIDED[1:])),
    "half-blind": pictured_corner("half_blind", tails_at=LOPSIDED, lap_mm=5.0, groove=GROOVE),
    "lipped": pictured_corner(
        "half_blind", tail_count=3, lap_mm=6.0, lip=Lip(overhang_mm=8, thickness_mm=5), end=End.LEFT
    ),
    "mitred": pictured_corner(tail_count=3, mitre_face_edge_mm=18, mitre_far_edge_mm=9, groove=GROOVE),
    "drawer back": pictured_corner(tail=(110, 11), pin=(86, 9), covers=Span(20, 106), tail_count=3, end=End.LEFT),
    "wider pin board": pictured_corner(tail=(110, 11), pin=(140, 12), tail_count=3),
    "wider tail board": pictured_corner(tail=(150, 11), pin=(120, 12), tail_count=3),
    "lid": pictured_corner(tail_count=4, lid=LidCut(at_mm=80, kerf_mm=1.5, clean_up_mm=1.0)),
}

CANTED: dict[str, CornerJoint] = {
    f"{name}, {angle} degrees": pictured_corner(
        keys.pop("kind", "through"),
        tail=(160, 12),
        pin=(160 / math.sin(math.radians(angle)), 22),
        cant=Cant(angle),
        tails_at=LOPSIDED,
        **keys,
    )
    for name, angle, keys in (
        ("leaning back", 80, {"groove": GROOVE}),
        ("leaning over, left", 105, {"end": End.LEFT}),
        ("half-blind", 75, {"kind": "half_blind", "lap_mm": 5.0, "groove": GROOVE}),
    )
}
"""Corners whose pin board leans."""

SLIDES: dict[str, SlidingJoint] = {
    name: build_sliding(sliding_spec(**keys))
    for name, keys in {
        "straight, through": {},
        "stopped": {"stop_mm": 12.0, "set_back_mm": 3.0},
        "tapered below": {"taper_ratio": 320.0, "stop_mm": 10.0},
        "tapered above": {"taper_ratio": 64.0, "taper_on": Cheek.UPPER},
        "barefaced": {"sloped": Sloped.UPPER, "taper_ratio": 320.0, "clearance_mm": 0.05},
        "flush at the back, no slip": {"key_mm": (600, 300, 19), "slip_mm": 0.0},
        "near the end": {"at_mm": 22.0, "taper_ratio": 200.0},
    }.items()
}


def edges_once(solid: Solid) -> bool:
    """Whether each edge is there once in each direction: two faces meet at it, and all look outward."""
    edges = Counter(edge for face in solid.faces for ring in face.rings for edge in pairwise((*ring, ring[0])))
    return all(count == 1 and edges[b, a] == 1 for (a, b), count in edges.items())


def triangles(faces: Sequence[PlaneFace]) -> Array:
    """Faces cut into triangles by the independent kernel: (n, 3 corners, 3)."""
    out = []
    for face in faces:
        normal = np.array(face.normal)
        first = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
        first /= np.linalg.norm(first)
        frame = np.array((first, np.cross(normal, first)))
        corners = np.array([point for ring in face.rings for point in ring])
        flat = [np.array(ring) @ frame.T for ring in face.rings]
        out.extend(corners[manifold3d.triangulate(flat)])
    return np.array(out)


def meshed(solid: Solid) -> manifold3d.Manifold:
    """The solid in the independent kernel, which refuses what isn't closed."""
    parts = triangles(solid.faces)
    corners, index = np.unique(np.round(parts.reshape(-1, 3), 9), axis=0, return_inverse=True)
    mesh = manifold3d.Mesh64(vert_properties=corners, tri_verts=index.reshape(-1, 3).astype(np.uint64))
    found = manifold3d.Manifold(mesh)
    assert found.status() == manifold3d.Error.NoError, found.status()
    return found


def before(point: Array, towards: Array, parts: Array) -> float:
    """How far before a point the furthest triangle stands that a ray from it goes through (Möller and Trumbore, 1997);
    0 where the way is free. A ray through the very edge of a triangle counts as free."""
    a, edge1, edge2 = parts[:, 0], parts[:, 1] - parts[:, 0], parts[:, 2] - parts[:, 0]
    across = np.cross(towards, edge2)
    det = np.einsum("ij,ij->i", edge1, across)
    ok = np.abs(det) > 1e-9
    inv = 1.0 / np.where(ok, det, 1.0)
    away = point - a
    u = np.einsum("ij,ij->i", away, across) * inv
    side = np.cross(away, edge1)
    v = (side @ towards) * inv
    distance = np.einsum("ij,ij->i", edge2, side) * inv
    margin = 1e-5
    hit = ok & (u > margin) & (v > margin) & (u + v < 1 - margin)
    return float(max(0.0, distance[hit].max(initial=0.0)))
