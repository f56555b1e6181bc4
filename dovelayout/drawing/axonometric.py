"""Solids seen from one side, without perspective: edges and marks as strokes, with what is hidden left out.

No picture points: every edge is held against every face before it, by the face's plane (which of the two is nearer) and
by its outline (where the face covers the edge). What is left is exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from dovelayout.drawing.primitives import Segment
from dovelayout.drawing.solid import Array, PlaneFace, Ring, Vec, noded_rings

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
    """From where a thing is seen: `right` and `up` on the paper, and `towards` the one who looks. Units, square to each
    other, and never turned inside out: right x up = towards."""

    right: Vec
    up: Vec
    towards: Vec

    def flat(self, points: Iterable[Vec]) -> Array:
        """Points on the paper."""
        return np.asarray(np.array(tuple(points)) @ np.array((self.right, self.up)).T)


def seen_from(direction: tuple[float, float], elevation_deg: float) -> View:
    """The view of one who stands in that direction (in the level plane) and looks down at that angle."""
    away = math.hypot(*direction)
    x, y = direction[0] / away, direction[1] / away
    sin, cos = math.sin(math.radians(elevation_deg)), math.cos(math.radians(elevation_deg))
    return View(right=(-y, x, 0.0), up=(-x * sin, -y * sin, cos), towards=(x * cos, y * cos, sin))


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is seen: strong outlines, the edges between faces, and the visible stretches of each list of marks."""

    outline: tuple[Segment, ...]
    edges: tuple[Segment, ...]
    marks: tuple[tuple[Segment, ...], ...]


def seen(faces: Sequence[PlaneFace], view: View, marks: Sequence[Sequence[tuple[Vec, Vec]]] = ()) -> Seen:
    """Strokes of the faces of closed solids, and of marks on them or between them."""
    scene = _Scene.of(faces, view)
    edges = scene.edges()
    outline: list[Segment] = []
    inner: list[Segment] = []
    for piece, middle in scene.visible(edges):
        (outline if scene.stands_free(piece, middle) else inner).append(piece)
    thick = _joined(outline)
    shown = tuple(tuple(piece for piece, _ in scene.visible(list(rows))) for rows in marks)
    return Seen(outline=thick, edges=_joined(inner), marks=shown)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scene:
    view: View
    rings: tuple[tuple[Ring, ...], ...]  # of each face
    normals: Array
    offsets: Array
    fronts: Array  # indices of the faces that look at the one who looks
    tree: shapely.STRtree  # their outlines, a little shrunk

    @classmethod
    def of(cls, faces: Sequence[PlaneFace], view: View) -> _Scene:
        flat, _ = noded_rings([ring for face in faces for ring in face.rings])
        left = iter(flat)
        rings = tuple(tuple(ring for ring in [next(left) for _ in face.rings] if ring) for face in faces)
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

    def visible(self, edges: Sequence[tuple[Vec, Vec]]) -> list[tuple[Segment, Vec]]:
        """The visible stretches of edges, on the paper, each with its middle in the room."""
        if not edges:
            return []
        starts, ends = np.array([a for a, _ in edges]), np.array([b for _, b in edges])
        flat_a, flat_b = self.view.flat(map(tuple, starts)), self.view.flat(map(tuple, ends))
        hidden = self._hidden(starts, ends, flat_a, flat_b)
        out: list[tuple[Segment, Vec]] = []
        for number in range(len(edges)):
            a, b = flat_a[number], flat_b[number]
            length = float(np.hypot(*(b - a)))
            for low, high in _left(hidden.get(number, [])):
                if (high - low) * length < LEAST_MM:
                    continue
                (x1, y1), (x2, y2) = a + low * (b - a), a + high * (b - a)
                middle = starts[number] + (low + high) / 2 * (ends[number] - starts[number])
                out.append(((float(x1), float(y1), float(x2), float(y2)), tuple(middle.tolist())))
        return out

    def _hidden(self, starts: Array, ends: Array, flat_a: Array, flat_b: Array) -> dict[int, list[Interval]]:
        """Stretches of each edge, as shares of its length, that a face stands before."""
        lines = np.asarray(shapely.linestrings(np.stack((flat_a, flat_b), axis=1)), dtype=object)
        edge, place = self.tree.query(lines, predicate="intersects")
        face = self.fronts[place]
        towards = np.array(self.view.towards)
        slant = self.normals[face] @ towards
        # how far the face lies before the edge, at either end of the edge
        before_a = (self.offsets[face] - np.einsum("ij,ij->i", self.normals[face], starts[edge])) / slant
        before_b = (self.offsets[face] - np.einsum("ij,ij->i", self.normals[face], ends[edge])) / slant
        some = np.maximum(before_a, before_b) > NEARER_MM
        edge, place, before_a, before_b = edge[some], place[some], before_a[some], before_b[some]
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = (NEARER_MM - before_a) / (before_b - before_a)
        low = np.where(before_a > NEARER_MM, 0.0, crossing)
        high = np.where(before_b > NEARER_MM, 1.0, crossing)
        covered = shapely.intersection(lines[edge], self.tree.geometries[place])
        hidden: dict[int, list[Interval]] = {}
        parts, pair = shapely.get_parts(covered, return_index=True)
        for part, number in zip(parts, pair, strict=True):
            points = shapely.get_coordinates(part)
            which = int(edge[number])
            along = flat_b[which] - flat_a[which]
            square = float(along @ along)
            if square < SHRUNK_MM**2 or len(points) < 2:
                continue
            shares = (points - flat_a[which]) @ along / square
            start, end = max(float(shares.min()), float(low[number])), min(float(shares.max()), float(high[number]))
            if end > start:
                hidden.setdefault(which, []).append((start, end))
        return hidden

    def stands_free(self, piece: Segment, middle: Vec) -> bool:
        """Whether one side of an edge is open, or lies well behind the edge."""
        x1, y1, x2, y2 = piece
        length = math.hypot(x2 - x1, y2 - y1)
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        dx, dy = -(y2 - y1) / length * _BESIDE_MM, (x2 - x1) / length * _BESIDE_MM
        depth = float(np.dot(middle, self.view.towards))
        return any(depth - self._nearest(x + sign * dx, y + sign * dy) > STEP_MM for sign in (1, -1))

    def _nearest(self, x: float, y: float) -> float:
        """How near the nearest face is at a place of the paper."""
        base = np.array(self.view.right) * x + np.array(self.view.up) * y
        face = self.fronts[self.tree.query(shapely.Point(x, y), predicate="intersects")]
        if len(face) == 0:
            return -math.inf
        return float(
            ((self.offsets[face] - self.normals[face] @ base) / (self.normals[face] @ self.view.towards)).max()
        )


def _left(hidden: Sequence[Interval]) -> list[Interval]:
    """What is left of 0 to 1."""
    out: list[Interval] = []
    at = 0.0
    for low, high in sorted(hidden):
        if low > at:
            out.append((at, low))
        at = max(at, high)
    if at < 1.0:
        out.append((at, 1.0))
    return out


def _joined(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """Strokes that lie in one line and touch, as one stroke; a stroke upon a stroke is drawn once."""
    lines: dict[tuple[int, int], list[tuple[float, float, Segment]]] = {}
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


def _merged(row: Sequence[tuple[float, float, Segment]]) -> Iterable[Segment]:
    """Strokes of one line, in order along it, each end where one of them ends."""
    (_, reach, now), *rest = row
    for low, high, segment in rest:
        if low > reach + LEAST_MM:
            yield now
            reach, now = high, segment
        elif high > reach:
            reach, now = high, (now[0], now[1], segment[2], segment[3])
    yield now
