"""Kept and waste regions as closed rings, for machines, which can't read a hatching."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from dovelayout.drawing.primitives import Outline
from dovelayout.drawing.template.wrap import unfolded
from dovelayout.joints.face import EndFaces

LEAST_AREA_MM2 = 1e-6
"""Slivers of the arithmetic are no regions."""


class RegionKind(StrEnum):
    """Whether a region is kept or cut away."""

    KEEP = "keep"
    WASTE = "waste"


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """One closed ring, mm, in the coordinates of its drawing. A region with a hole in it comes as two rings of one kind,
    the hole inside."""

    kind: RegionKind
    ring: Outline


def regions_of(kind: RegionKind, polygons: Iterable[Polygon]) -> Iterator[Region]:
    """The rings of polygons, each once."""
    for polygon in polygons:
        for ring in (polygon.exterior, *polygon.interiors):
            yield Region(kind=kind, ring=tuple((x, y) for x, y in list(ring.coords)[:-1]))


def end_regions(faces: EndFaces) -> tuple[Region, ...]:
    """Every tail, pin and waste of a board's end, laid out flat as its template is (see `wrap`)."""
    found: list[Region] = []
    for face in faces.faces:
        keep = unfolded(faces, face.name, (piece.polygon for piece in face.keep))
        waste = unfolded(faces, face.name, face.waste)
        found += [*regions_of(RegionKind.KEEP, keep), *regions_of(RegionKind.WASTE, waste)]
    return tuple(found)


def piece_regions(piece: Polygon, waste: Iterable[Polygon]) -> tuple[Region, ...]:
    """The waste of a piece, and what is left of it."""
    gone = [part for polygon in waste for part in _sound(polygon)]
    left = _parts(piece.difference(shapely.union_all(gone)))
    return (*regions_of(RegionKind.KEEP, left), *regions_of(RegionKind.WASTE, gone))


def _sound(polygon: Polygon) -> list[Polygon]:
    """The polygon, without the crossings that the last bit of the arithmetic makes in one with a side of no length."""
    whole = polygon if polygon.is_valid else shapely.make_valid(polygon, method="structure", keep_collapsed=False)
    return _parts(whole)


def _parts(shape: BaseGeometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, Polygon) and part.area > LEAST_AREA_MM2]


def moved_region(region: Region, dx_mm: float, dy_mm: float) -> Region:
    """The same region elsewhere."""
    return replace(region, ring=tuple((x + dx_mm, y + dy_mm) for x, y in region.ring))
