"""Solids with plane faces, put together from cells that touch but don't overlap; the faces between two cells vanish.

Every cell is a prism, or runs straight from one outline to another. `fused` removes the faces between cells, joins faces
that lie in one plane, and cuts every edge where another one ends on it, so that each edge belongs to exactly two faces.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

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

    def moved(self, by: Vec) -> Solid:
        """The same solid elsewhere."""

        def shifted(ring: Ring) -> Ring:
            return tuple((x + by[0], y + by[1], z + by[2]) for x, y, z in ring)

        return Solid(
            faces=tuple(
                replace(face, ring=shifted(face.ring), holes=tuple(map(shifted, face.holes))) for face in self.faces
            )
        )


Cell = tuple[Ring, ...]
"""The rings of a cell's faces, outward."""


def cell(start: Sequence[Vec], end: Sequence[Vec]) -> Cell:
    """The cell between two outlines of equally many corners; a corner may lie on its neighbour, as in a wedge."""
    edges = [*zip(start, end, strict=True), (start[0], end[0])]  # from each corner of one outline to that of the other
    sides = [(a, c, d, b) for (a, b), (c, d) in itertools.pairwise(edges)]
    faces = [tuple(reversed(start)), tuple(end), *sides]
    rings = tuple(ring for ring in map(_without_repeats, faces) if len(ring) > 2)
    if math.fsum(map(_cone, rings)) < 0:
        rings = tuple(tuple(reversed(ring)) for ring in rings)
    return tuple(ring for ring in rings if np.linalg.norm(_area_vector(ring)) > SNAP_MM)


def prism(outline: Polygon, place: Callable[[float, float, float], Vec], start: float, end: float) -> Cell:
    """A prism: `place` turns (x, y) of the outline and the distance along the prism into a point in space."""
    points = list(outline.exterior.coords)[:-1]
    return cell([place(a, b, start) for a, b in points], [place(a, b, end) for a, b in points])


def fused(cells: Iterable[Cell]) -> Solid:
    """One solid of cells that touch but don't overlap."""
    faces: list[PlaneFace] = []
    for normal, offset, fronts, backs in _by_plane(ring for rings in cells for ring in rings):
        frame = _frame(normal)
        front, back = (_flat(rings, frame) for rings in (fronts, backs))
        for shape, other, sign in ((front, back, 1.0), (back, front, -1.0)):
            if shape is not None:
                left = shape if other is None else _on_grid(shapely.difference, shape, other)
                faces.extend(_faces(left, frame, normal * offset, normal * sign))
    return Solid(faces=_noded(faces))


def noded_rings(rings: Sequence[Ring]) -> tuple[Ring, ...]:
    """The rings with every corner of any of them that lies on an edge put in as a corner there; corners that are nearly
    one made one. A ring that shrinks to less than three corners comes back empty."""
    corner_of, corners = _corners(np.array([point for ring in rings for point in ring]))
    places = [tuple(corner) for corner in corners.tolist()]
    between = _finder(corners)
    numbers = iter(corner_of.tolist())
    noded: list[Ring] = []
    for ring in rings:
        indices = [next(numbers) for _ in ring]
        row: list[int] = []
        for one, other in itertools.pairwise([*indices, indices[0]]):
            if one != other:
                row += [one, *between(one, other)]
        noded.append(tuple(places[index] for index in row) if len(row) > 2 else ())
    return tuple(noded)


def _noded(faces: Sequence[PlaneFace]) -> tuple[PlaneFace, ...]:
    rings = iter(noded_rings([ring for face in faces for ring in face.rings]))
    noded = []
    for face in faces:
        outer, *holes = (next(rings) for _ in face.rings)
        if outer:
            noded.append(replace(face, ring=outer, holes=tuple(filter(None, holes))))
    return tuple(noded)


class _Bins:
    """Numbers in the fields of a grid, to be found by their neighbourhood."""

    def __init__(self) -> None:
        self._at: dict[tuple[int, ...], list[int]] = {}

    def put(self, key: tuple[int, ...], index: int) -> None:
        """Puts a number into a field."""
        self._at.setdefault(key, []).append(index)

    def near(self, key: tuple[int, ...]) -> Iterator[int]:
        """The numbers in a field and in those beside it."""
        for beside in itertools.product(*((value - 1, value, value + 1) for value in key)):
            yield from self._at.get(beside, ())


def _corners(points: Array) -> tuple[NDArray[np.intp], Array]:
    """Which corner each point is, and the corners: points closer than NEAR_MM to one are that corner."""
    bins, corners = _Bins(), list[Array]()
    corner_of = np.zeros(len(points), dtype=np.intp)
    for number, point in enumerate(points):
        key = tuple(int(value) for value in np.floor(point / (4 * NEAR_MM)))
        near = (index for index in bins.near(key) if np.abs(corners[index] - point).max() < NEAR_MM)
        index = next(near, -1)
        if index < 0:
            index = len(corners)
            corners.append(point)
            bins.put(key, index)
        corner_of[number] = index
    return corner_of, np.array(corners)


def _finder(corners: Array) -> Callable[[int, int], list[int]]:
    """A function that finds the corners on an edge, among those sorted along the longest direction of all corners."""
    axis = int(np.argmax(np.ptp(corners, axis=0)))
    order = np.argsort(corners[:, axis], kind="stable")
    sorted_mm = corners[order, axis]

    def between(one: int, other: int) -> list[int]:
        """Corners that lie on the edge from one corner to another, in order."""
        start, along = corners[one], corners[other] - corners[one]
        length = float(np.linalg.norm(along))
        low, high = sorted((float(start[axis]), float(corners[other][axis])))
        first, last = np.searchsorted(sorted_mm, (low - NEAR_MM, high + NEAR_MM))
        near = order[first:last]
        away = corners[near] - start
        share = away @ along / length**2
        off = np.abs(away - np.outer(share, along)).max(axis=1)
        on = (off < NEAR_MM) & (share * length > NEAR_MM) & ((1 - share) * length > NEAR_MM)
        return [int(index) for _, index in sorted(zip(share[on], near[on], strict=True))]

    return between


_Plane = tuple[Array, float, list[Ring], list[Ring]]
"""A plane's normal and offset, the rings that look along the normal and those that look the other way."""


def _by_plane(rings: Iterable[Ring]) -> list[_Plane]:
    """The rings by the plane that they lie in."""
    bins, planes = _Bins(), list[_Plane]()
    for ring in rings:
        vector = _area_vector(ring)
        normal = vector / np.linalg.norm(vector)
        looks_along = normal[np.abs(normal) > 1e-6][0] > 0
        if not looks_along:
            normal = -normal
        offset = float(np.mean(np.array(ring) @ normal))
        key = tuple(int(value) for value in np.round((*(normal * 1e5), offset * 1e3)))
        near = (
            index
            for index in bins.near(key)
            if np.abs(planes[index][0] - normal).max() < 1e-6 and abs(planes[index][1] - offset) < NEAR_MM
        )
        index = next(near, -1)
        if index < 0:
            index = len(planes)
            planes.append((normal, offset, [], []))
            bins.put(key, index)
        _, _, along, against = planes[index]
        (along if looks_along else against).append(ring)
    return planes


def _frame(normal: Array) -> Array:
    """Two unit vectors in a plane that are right-handed together with its normal."""
    helper = np.eye(3)[int(np.argmin(np.abs(normal)))]
    first = np.cross(helper, normal)
    first /= np.linalg.norm(first)
    return np.array((first, np.cross(normal, first)))


def _flat(rings: Sequence[Ring], frame: Array) -> shapely.Geometry | None:
    """Rings of one plane as one flat shape."""
    shapes = [Polygon(np.array(ring) @ frame.T) for ring in rings]
    if len(shapes) < 2:
        return shapely.set_precision(shapes[0], SNAP_MM) if shapes else None
    return _on_grid(shapely.union_all, shapes)


def _on_grid(operation: Callable[..., shapely.Geometry], *shapes: Any) -> shapely.Geometry:
    """Flat shapes put together on the grid."""
    try:
        return operation(*shapes, grid_size=SNAP_MM)
    except shapely.GEOSException:  # rounding can turn a sliver inside out; without the grid there is none
        return operation(*shapes)


def _faces(shape: shapely.Geometry, frame: Array, origin: Array, normal: Array) -> Iterable[PlaneFace]:
    looks = (float(normal[0]), float(normal[1]), float(normal[2]))
    upright = float(np.dot(np.cross(frame[0], frame[1]), normal)) > 0
    for part in shapely.get_parts(shape):
        if not isinstance(part, Polygon) or part.area <= NEAR_MM * part.length / 2:
            continue  # thinner than corners are told apart
        part = shapely.geometry.polygon.orient(part, 1.0 if upright else -1.0)

        def lifted(coordinates: Array) -> Ring:
            return tuple((float(x), float(y), float(z)) for x, y, z in origin + coordinates[:-1] @ frame)

        outer, *holes = (lifted(shapely.get_coordinates(ring)) for ring in (part.exterior, *part.interiors))
        yield PlaneFace(ring=outer, holes=tuple(holes), normal=looks)


def _without_repeats(ring: Sequence[Vec]) -> Ring:
    """A ring without corners that lie on the one before them."""
    return tuple(
        point
        for before, point in zip((ring[-1], *ring[:-1]), ring, strict=True)
        if max(abs(a - b) for a, b in zip(before, point, strict=True)) > NEAR_MM
    )


def _area_vector(ring: Ring) -> Array:
    """Half the sum of the cross products: the ring's normal, as long as its area (Newell)."""
    points = np.array(ring)
    return np.asarray(np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0) / 2)


def _cone(ring: Ring) -> float:
    """Signed volume of the cone from the origin over a plane ring."""
    return float(np.dot(ring[0], _area_vector(ring)) / 3)
