"""Solids with plane faces, put together from cells that touch but don't overlap: where two cells meet, nothing is left.

Every cell is a prism, or runs straight from one outline to another. `fused` takes away what touches, joins faces that lie
in one plane, and cuts every edge where another one ends on it, so that each edge belongs to exactly two faces.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

Vec = tuple[float, float, float]
Ring = tuple[Vec, ...]
Array = NDArray[np.float64]

SNAP_MM = 1e-6
"""Grid on which outlines in one plane are compared; far below what a knife can mark."""

NEAR_MM = 1e-4
"""Corners nearer to each other than this are one corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaneFace:
    """A plane face: its outer ring, counter-clockwise seen from outside the solid, its holes, and the outward normal."""

    ring: Ring
    holes: tuple[Ring, ...]
    normal: Vec

    @property
    def rings(self) -> tuple[Ring, ...]:
        """All its rings; holes run clockwise."""
        return (self.ring, *self.holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A closed solid."""

    faces: tuple[PlaneFace, ...]

    @property
    def volume_mm3(self) -> float:
        """Its volume, from its surface (divergence theorem)."""
        return math.fsum(_cone(ring) for face in self.faces for ring in face.rings)

    def moved(self, by: Vec) -> Solid:
        """The same solid elsewhere."""

        def shifted(ring: Ring) -> Ring:
            return tuple((x + by[0], y + by[1], z + by[2]) for x, y, z in ring)

        return Solid(
            faces=tuple(
                PlaneFace(ring=shifted(face.ring), holes=tuple(map(shifted, face.holes)), normal=face.normal)
                for face in self.faces
            )
        )


Cell = tuple[Ring, ...]
"""The rings of a cell's faces, outward."""


def cell(start: Sequence[Vec], end: Sequence[Vec]) -> Cell:
    """The cell between two outlines of equally many corners; a corner may lie on its neighbour, as in a wedge."""
    count = len(start)
    faces = [tuple(reversed(start)), tuple(end)]
    for one in range(count):
        other = (one + 1) % count
        faces.append((start[one], start[other], end[other], end[one]))
    rings = tuple(ring for ring in map(_without_repeats, faces) if len(ring) > 2)
    if math.fsum(map(_cone, rings)) < 0:
        rings = tuple(tuple(reversed(ring)) for ring in rings)
    return tuple(ring for ring in rings if np.linalg.norm(_area_vector(ring)) > SNAP_MM)


def prism(outline: Polygon, place: Callable[[float, float, float], Vec], start: float, end: float) -> Cell:
    """A prism: `place` puts a point of the outline, and how far along, into the room."""
    points = list(outline.exterior.coords)[:-1]
    return cell([place(a, b, start) for a, b in points], [place(a, b, end) for a, b in points])


def fused(cells: Iterable[Cell]) -> Solid:
    """One solid of cells that touch but don't overlap."""
    faces: list[PlaneFace] = []
    for normal, offset, fronts, backs in _by_plane([ring for rings in cells for ring in rings]):
        frame = _frame(normal)
        origin = normal * offset
        front, back = (_flat(rings, frame) for rings in (fronts, backs))
        for shape, sign in ((front, 1.0), (back, -1.0)):
            if shape is None:
                continue
            other = back if sign > 0 else front
            left = shape if other is None else shapely.difference(shape, other, grid_size=SNAP_MM)
            faces.extend(_faces(left, frame, origin, normal * sign))
    return Solid(faces=_noded(faces))


def noded_rings(rings: Sequence[Ring]) -> tuple[tuple[Ring, ...], Array]:
    """The rings with every corner of any of them that lies on an edge put in as a corner there; corners that are nearly
    one made one. And all corners."""
    points = np.array([point for ring in rings for point in ring])
    corner_of, corners = _corners(points)
    out: list[Ring] = []
    places = [tuple(corner) for corner in corners.tolist()]
    between = _Between.of(corners)
    at = 0
    for ring in rings:
        indices = [int(corner_of[at + step]) for step in range(len(ring))]
        at += len(ring)
        row: list[int] = []
        for one, other in itertools.pairwise([*indices, indices[0]]):
            if one != other:
                row += [one, *between(one, other)]
        if len(row) > 2:
            out.append(tuple(places[index] for index in row))
        else:
            out.append(())
    return tuple(out), corners


def _noded(faces: Sequence[PlaneFace]) -> tuple[PlaneFace, ...]:
    rings, _ = noded_rings([ring for face in faces for ring in face.rings])
    left = iter(rings)
    out = []
    for face in faces:
        outer, *holes = (next(left) for _ in face.rings)
        if outer:
            out.append(PlaneFace(ring=outer, holes=tuple(hole for hole in holes if hole), normal=face.normal))
    return tuple(out)


def _corners(points: Array) -> tuple[NDArray[np.intp], Array]:
    """Which corner each point is, and the corners: points in one small cube of space, or in neighbouring ones, are one."""
    cubes: dict[tuple[int, int, int], list[int]] = {}
    corners: list[Array] = []
    corner_of = np.zeros(len(points), dtype=np.intp)
    for number, point in enumerate(points):
        x, y, z = (int(value) for value in np.floor(point / (4 * NEAR_MM)))
        near = (
            index
            for cube in itertools.product((x - 1, x, x + 1), (y - 1, y, y + 1), (z - 1, z, z + 1))
            for index in cubes.get(cube, ())
            if np.abs(corners[index] - point).max() < NEAR_MM
        )
        index = next(near, -1)
        if index < 0:
            index = len(corners)
            corners.append(point)
            cubes.setdefault((x, y, z), []).append(index)
        corner_of[number] = index
    return corner_of, np.array(corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Between:
    """Finds the corners on an edge: among those sorted along the direction in which the whole is longest."""

    corners: Array
    axis: int
    order: NDArray[np.intp]
    sorted_mm: Array

    @classmethod
    def of(cls, corners: Array) -> _Between:
        axis = int(np.argmax(np.ptp(corners, axis=0)))
        order = np.argsort(corners[:, axis], kind="stable")
        return cls(corners=corners, axis=axis, order=order, sorted_mm=corners[order, axis])

    def __call__(self, one: int, other: int) -> list[int]:
        """Corners that lie on the edge from one corner to another, in order."""
        start, along = self.corners[one], self.corners[other] - self.corners[one]
        length = float(np.linalg.norm(along))
        low, high = sorted((float(start[self.axis]), float(self.corners[other][self.axis])))
        first, last = np.searchsorted(self.sorted_mm, (low - NEAR_MM, high + NEAR_MM))
        near = self.order[first:last]
        away = self.corners[near] - start
        share = away @ along / length**2
        off = np.abs(away - np.outer(share, along)).max(axis=1)
        on = (off < NEAR_MM) & (share * length > NEAR_MM) & ((1 - share) * length > NEAR_MM)
        return [int(index) for _, index in sorted(zip(share[on], near[on], strict=True))]


def _by_plane(rings: Sequence[Ring]) -> Iterable[tuple[Array, float, list[Ring], list[Ring]]]:
    """The rings that lie in one plane, those that look along its normal and those that look the other way."""
    planes: dict[tuple[int, ...], list[int]] = {}
    found: list[tuple[Array, float, list[Ring], list[Ring]]] = []
    for ring in rings:
        vector = _area_vector(ring)
        normal = vector / np.linalg.norm(vector)
        first = normal[np.abs(normal) > 1e-6][0]
        towards = first > 0
        if not towards:
            normal = -normal
        offset = float(np.mean(np.array(ring) @ normal))
        key = tuple(int(value) for value in np.round((*(normal * 1e5), offset * 1e3)))
        near = (
            index
            for shift in itertools.product((-1, 0, 1), repeat=4)
            for index in planes.get(tuple(a + b for a, b in zip(key, shift, strict=True)), ())
            if np.abs(found[index][0] - normal).max() < 1e-6 and abs(found[index][1] - offset) < NEAR_MM
        )
        index = next(near, -1)
        if index < 0:
            index = len(found)
            found.append((normal, offset, [], []))
            planes.setdefault(key, []).append(index)
        _, _, fronts, backs = found[index]
        (fronts if towards else backs).append(ring)
    return found


def _frame(normal: Array) -> Array:
    """Two directions in a plane, so that they and its normal turn the right way round."""
    helper = np.eye(3)[int(np.argmin(np.abs(normal)))]
    first = np.cross(helper, normal)
    first /= np.linalg.norm(first)
    return np.array((first, np.cross(normal, first)))


def _flat(rings: Sequence[Ring], frame: Array) -> shapely.Geometry | None:
    """Rings of one plane as one flat shape."""
    shapes = [Polygon(np.array(ring) @ frame.T) for ring in rings]
    if not shapes:
        return None
    return (
        shapely.set_precision(shapes[0], SNAP_MM) if len(shapes) == 1 else shapely.union_all(shapes, grid_size=SNAP_MM)
    )


def _faces(shape: shapely.Geometry, frame: Array, origin: Array, normal: Array) -> Iterable[PlaneFace]:
    looks = (float(normal[0]), float(normal[1]), float(normal[2]))
    upright = float(np.dot(np.cross(frame[0], frame[1]), normal)) > 0
    for part in shapely.get_parts(shape):
        if not isinstance(part, Polygon) or part.area < NEAR_MM:
            continue
        part = shapely.geometry.polygon.orient(part, 1.0 if upright else -1.0)

        def lifted(coordinates: Array) -> Ring:
            return tuple((float(x), float(y), float(z)) for x, y, z in origin + coordinates[:-1] @ frame)

        outer, *holes = (lifted(shapely.get_coordinates(ring)) for ring in (part.exterior, *part.interiors))
        yield PlaneFace(ring=outer, holes=tuple(holes), normal=looks)


def _without_repeats(ring: Sequence[Vec]) -> Ring:
    """A ring without corners that lie on the one before them."""
    kept = [
        point
        for before, point in zip((ring[-1], *ring[:-1]), ring, strict=True)
        if max(abs(a - b) for a, b in zip(before, point, strict=True)) > NEAR_MM
    ]
    return tuple(kept)


def _area_vector(ring: Ring) -> Array:
    """Half the sum of the cross products: the ring's normal, as long as its area (Newell)."""
    points = np.array(ring)
    return np.asarray(np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0) / 2)


def _cone(ring: Ring) -> float:
    """Signed volume of the cone from the origin over a plane ring."""
    return float(np.dot(ring[0], _area_vector(ring)) / 3)
