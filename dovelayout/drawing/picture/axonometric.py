"""Solids viewed from one side, without perspective: edges and marks as strokes, with what is hidden left out.

Exact, without pixels: every edge is compared with every face before it, by the face's plane (which of the two is nearer)
and by its outline (where the face covers the edge).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely

from dovelayout.drawing.picture.solid import Array, PlaneFace, Ring, Vec, noded_rings
from dovelayout.drawing.primitives import Stroke
from dovelayout.words import grouped

NEARER_MM = 1e-3
"""A face hides what lies this far behind it; nearer is on it."""

SHRUNK_MM = 1e-4
"""A face covers nothing within this of its own outline: its own edges lie there."""

LEAST_MM = 1e-2
"""Strokes shorter than this are left out."""

STEP_MM = 1.5
"""An edge with this much air behind it on one side is an outline, drawn strong; less is a seam, or planed off."""

_BESIDE_MM = 0.02  # where it is looked at beside an edge

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """From where a thing is viewed: `right` and `up` on the paper, and `towards` the viewer. Unit vectors, square to each
    other, right-handed: right x up = towards."""

    right: Vec
    up: Vec
    towards: Vec

    def flat(self, points: Iterable[Vec]) -> Array:
        """Points on the paper."""
        return np.asarray(np.array(tuple(points)) @ np.array((self.right, self.up)).T)


def view_from(direction: tuple[float, float], elevation_deg: float) -> View:
    """The view of someone who stands in that direction (in the level plane) and looks down at that angle."""
    away = math.hypot(*direction)
    x, y = direction[0] / away, direction[1] / away
    sin, cos = math.sin(math.radians(elevation_deg)), math.cos(math.radians(elevation_deg))
    return View(right=(-y, x, 0.0), up=(-x * sin, -y * sin, cos), towards=(x * cos, y * cos, sin))


@dataclass(frozen=True, slots=True, kw_only=True)
class Visible:
    """What is visible, on the paper: strong outlines, the edges between faces, and the stretches of each list of marks."""

    outline: tuple[Stroke, ...]
    edges: tuple[Stroke, ...]
    marks: tuple[tuple[Stroke, ...], ...]


def visible(faces: Sequence[PlaneFace], view: View, marks: Sequence[Sequence[tuple[Vec, Vec]]] = ()) -> Visible:
    """Strokes of the faces of closed solids, and of marks on them or between them."""
    scene, outline, edges = _scene_of(tuple(faces), view)
    shown = tuple(tuple(piece for piece, _ in scene.visible(list(rows))) for rows in marks)
    return Visible(outline=outline, edges=edges, marks=shown)


@lru_cache(maxsize=8)
def _scene_of(faces: tuple[PlaneFace, ...], view: View) -> tuple[_Scene, tuple[Stroke, ...], tuple[Stroke, ...]]:
    """The scene with its outlines and inner edges, cached: a panel drawn again at another scale needs the same."""
    scene = _Scene.of(faces, view)
    pieces = scene.visible(scene.edges())
    sides: tuple[list[Stroke], list[Stroke]] = ([], [])
    for (piece, _), free in zip(pieces, scene.are_outlines(pieces), strict=True):
        sides[free].append(piece)
    return scene, _joined(sides[True]), _joined(sides[False])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scene:
    view: View
    rings: tuple[tuple[Ring, ...], ...]  # of each face
    normals: Array
    offsets: Array
    fronts: Array  # indices of the faces that look towards the viewer
    tree: shapely.STRtree  # their outlines, a little shrunk

    @classmethod
    def of(cls, faces: Sequence[PlaneFace], view: View) -> _Scene:
        noded = iter(_noded(tuple(ring for face in faces for ring in face.rings)))
        rings = tuple(tuple(filter(None, [next(noded) for _ in face.rings])) for face in faces)
        normals = np.array([face.normal for face in faces])
        offsets = np.array([np.dot(face.normal, face.ring[0]) for face in faces])
        fronts = np.array([i for i in range(len(faces)) if rings[i] and normals[i] @ view.towards > 1e-6], dtype=int)
        outlines = [shapely.Polygon(view.flat(rings[i][0]), [view.flat(hole) for hole in rings[i][1:]]) for i in fronts]
        shrunk = shapely.buffer(outlines, -SHRUNK_MM, join_style="mitre")
        return cls(
            view=view, rings=rings, normals=normals, offsets=offsets, fronts=fronts, tree=shapely.STRtree(shrunk)
        )

    def edges(self) -> list[tuple[Vec, Vec]]:
        """Edges of the faces that look this way, each once."""
        found: dict[tuple[Vec, Vec], None] = {}
        for index in self.fronts:
            for ring in self.rings[index]:
                for a, b in pairwise((*ring, ring[0])):
                    found.setdefault((a, b) if a < b else (b, a))
        return list(found)

    def visible(self, edges: Sequence[tuple[Vec, Vec]]) -> list[tuple[Stroke, Vec]]:
        """The visible stretches of edges, on the paper, each with its middle in the room."""
        if not edges:
            return []
        starts, ends = np.array([a for a, _ in edges]), np.array([b for _, b in edges])
        flat_a, flat_b = self.view.flat(map(tuple, starts)), self.view.flat(map(tuple, ends))
        hidden = self._hidden(starts, ends, flat_a, flat_b)
        out: list[tuple[Stroke, Vec]] = []
        # in plain numbers from here: arrays of two are slower
        rows = zip(edges, flat_a.tolist(), (flat_b - flat_a).tolist(), strict=True)
        for number, (((x1, y1, z1), (x2, y2, z2)), (x, y), (dx, dy)) in enumerate(rows):
            length = math.hypot(dx, dy)
            for low, high in _rest(hidden.get(number, [])):
                if (high - low) * length >= LEAST_MM:
                    half = (low + high) / 2
                    middle = (x1 + half * (x2 - x1), y1 + half * (y2 - y1), z1 + half * (z2 - z1))
                    out.append(((x + low * dx, y + low * dy, x + high * dx, y + high * dy), middle))
        return out

    def _hidden(self, starts: Array, ends: Array, flat_a: Array, flat_b: Array) -> dict[int, list[Interval]]:
        """Stretches of each edge, as shares of its length, that a face stands before."""
        lines = np.asarray(shapely.linestrings(np.stack((flat_a, flat_b), axis=1)), dtype=object)
        edge, place = self.tree.query(lines, predicate="intersects")
        face = self.fronts[place]
        slant = self.normals[face] @ np.array(self.view.towards)
        # how far the face lies before the edge, at either end of the edge
        before_a, before_b = (
            (self.offsets[face] - np.einsum("ij,ij->i", self.normals[face], at[edge])) / slant for at in (starts, ends)
        )
        some = np.maximum(before_a, before_b) > NEARER_MM
        edge, place, before_a, before_b = edge[some], place[some], before_a[some], before_b[some]
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = (NEARER_MM - before_a) / (before_b - before_a)
        low = np.where(before_a > NEARER_MM, 0.0, crossing)
        high = np.where(before_b > NEARER_MM, 1.0, crossing)
        covered = shapely.intersection(lines[edge], self.tree.geometries[place])
        parts, pair = shapely.get_parts(covered, return_index=True)
        points, part = shapely.get_coordinates(parts, return_index=True)
        which = edge[pair[part]]
        along = flat_b[which] - flat_a[which]
        square = (along * along).sum(axis=1)
        with np.errstate(divide="ignore", invalid="ignore"):
            shares = ((points - flat_a[which]) * along).sum(axis=1) / square
        first = np.flatnonzero(np.diff(part, prepend=-1))  # the points of a part follow each other
        if not len(first):
            return {}
        start = np.maximum(np.minimum.reduceat(shares, first), low[pair[part[first]]])
        end = np.minimum(np.maximum.reduceat(shares, first), high[pair[part[first]]])
        some = (square[first] >= SHRUNK_MM**2) & (end > start)
        intervals = zip(start[some].tolist(), end[some].tolist(), strict=True)
        return grouped(zip(which[first[some]].tolist(), intervals, strict=True))

    def are_outlines(self, pieces: Sequence[tuple[Stroke, Vec]]) -> list[bool]:
        """Whether each visible edge is an outline: nothing lies on one side of it, or only what is well behind it."""
        if not pieces:
            return []
        x1, y1, x2, y2 = np.array([piece for piece, _ in pieces]).T
        length = np.hypot(x2 - x1, y2 - y1)
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        dx, dy = -(y2 - y1) / length * _BESIDE_MM, (x2 - x1) / length * _BESIDE_MM
        depth = np.array([middle for _, middle in pieces]) @ np.array(self.view.towards)
        one, other = (depth - self._nearest(x + sign * dx, y + sign * dy) > STEP_MM for sign in (1, -1))
        return [bool(free) for free in one | other]

    def _nearest(self, x: Array, y: Array) -> Array:
        """The depth towards the viewer of the nearest face at places (x, y) on the paper; -inf where there is none."""
        right, up, towards = map(np.array, (self.view.right, self.view.up, self.view.towards))
        place, index = self.tree.query(shapely.points(x, y), predicate="intersects")
        face = self.fronts[index]
        base = np.outer(x, right) + np.outer(y, up)
        near = (self.offsets[face] - (self.normals[face] * base[place]).sum(axis=1)) / (self.normals[face] @ towards)
        nearest = np.full(len(x), -np.inf)
        np.maximum.at(nearest, place, near)
        return nearest


@lru_cache(maxsize=2)
def _noded(rings: tuple[Ring, ...]) -> tuple[Ring, ...]:
    """The noded rings, cached: the same boards are viewed from several sides, one after the other."""
    return noded_rings(rings)


def _rest(hidden: Sequence[Interval]) -> list[Interval]:
    """What is not hidden of 0 to 1."""
    out: list[Interval] = []
    at = 0.0
    for low, high in sorted(hidden):
        if low > at:
            out.append((at, low))
        at = max(at, high)
    if at < 1.0:
        out.append((at, 1.0))
    return out


def _joined(segments: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """The strokes, with those joined that lie in one line and touch or overlap."""
    lines: dict[tuple[int, int], list[tuple[float, float, Stroke]]] = {}
    for x1, y1, x2, y2 in segments:
        angle = math.atan2(y2 - y1, x2 - x1) % math.pi
        if angle > math.pi - 5e-5:
            angle -= math.pi
        cos, sin = math.cos(angle), math.sin(angle)
        away = (y1 + y2) / 2 * cos - (x1 + x2) / 2 * sin
        low, high = x1 * cos + y1 * sin, x2 * cos + y2 * sin
        row = (low, high, (x1, y1, x2, y2)) if low <= high else (high, low, (x2, y2, x1, y1))
        lines.setdefault((round(angle * 1e4), round(away * 1e3)), []).append(row)
    return tuple(segment for row in lines.values() for segment in _merged(sorted(row)))


def _merged(row: Sequence[tuple[float, float, Stroke]]) -> Iterable[Stroke]:
    """The strokes of one line, sorted along it, joined where they touch or overlap."""
    (_, reach, now), *rest = row
    for low, high, segment in rest:
        if low > reach + LEAST_MM:
            yield now
            reach, now = high, segment
        elif high > reach:
            reach, now = high, (now[0], now[1], segment[2], segment[3])
    yield now
