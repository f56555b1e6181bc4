"""A corner for the screen: both boards' ends unfolded side by side, in true proportion, and where each part lies on it.

The same faces as on the templates, without the paper's own words; `spots` names every tail, pin, groove and board, so
that a program that shows the drawing can point at them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.affinity import translate

from dovelayout.drawing.lettering import shortened
from dovelayout.drawing.primitives import XY, Item, Outline, Sheet, Text, placed, text_at
from dovelayout.drawing.template.tile import tile_items, whole
from dovelayout.drawing.template.wrap import Caption, Skirts, Template, fold_over, unfolded
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, FaceName, Part
from dovelayout.words import grouped

SKIRTS = Skirts(outside_mm=10.0, inside_mm=10.0)
NO_CAPTION = Caption(letter="", outside=(), inside=())
GAP_MM = 14.0
HEAD_MM = 9.0
SIZE_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A part of the corner and where it lies on the drawing, mm, y upwards; several rings where it shows on several faces."""

    name: str
    rings: tuple[Outline, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenDrawing:
    """The drawing and its spots, in the sheet's own coordinates."""

    sheet: Sheet
    spots: tuple[Spot, ...]


def corner_drawing(joint: CornerJoint) -> ScreenDrawing:
    """Both ends of a corner beside each other, tails first."""
    items: list[Item] = []
    parts: list[tuple[str, Outline]] = []
    left_mm, top_mm = 0.0, 0.0
    for faces in joint.end_faces():
        template = fold_over(faces, NO_CAPTION, SKIRTS)
        extent = template.extent
        shift = (left_mm - extent.u_min_mm, -extent.v_min_mm)
        drawn = tile_items(template, whole(template))
        items += placed((item for item in drawn if not isinstance(item, Text) or item.text.isdigit()), *shift)
        parts += ((name, _ring(polygon, shift)) for name, polygon in _parts(template))
        words = shortened(f"{faces.part.value.upper()}: {faces.end.label}", SIZE_MM, extent.across_mm)
        if words:
            items.append(text_at((left_mm, extent.height_mm + 3.0), words, SIZE_MM))
        left_mm += extent.across_mm + GAP_MM
        top_mm = max(top_mm, extent.height_mm)
    sheet = Sheet(
        width_mm=left_mm - GAP_MM,
        height_mm=top_mm + HEAD_MM,
        items=tuple(items),
        title=f"Corner {joint.name}",
        description=f"{joint.spec.tails.label} to {joint.spec.pins.label}, waste hatched",
    )
    spots = tuple(Spot(name=name, rings=tuple(rings)) for name, rings in grouped(parts).items())
    return ScreenDrawing(sheet=sheet, spots=spots)


def _parts(template: Template) -> Iterator[tuple[str, Polygon]]:
    """Every part of one end by its name, in template coordinates."""
    faces, extent = template.faces, template.extent
    part = "tail" if faces.part is Part.TAILS else "pin"
    for face in faces.faces:
        blank = face.name is FaceName.LIP or (faces.outside_is_blank and face is faces.outside)
        polygons = unfolded(faces, face.name, (piece.polygon for piece in face.keep))
        for piece, polygon in zip(face.keep, polygons, strict=True):
            if piece.label:
                yield f"{part} {piece.label}", polygon
            elif faces.part is Part.PINS and not blank:
                near = piece.polygon.centroid.x < faces.width_mm / 2
                yield f"half pin at the {'face' if near else 'far'} edge", polygon
    if faces.groove is not None:
        yield "groove", _groove(faces, faces.groove)
    yield (
        f"board {faces.end.board.name}",
        shapely.box(extent.u_min_mm, extent.v_min_mm, extent.u_max_mm, extent.v_max_mm),
    )


def _groove(faces: EndFaces, groove: Groove) -> Polygon:
    far_mm = faces.baseline_mm + SKIRTS.inside_mm
    near, far = faces.edge_mm(FaceName.INSIDE, 0.0), faces.edge_mm(FaceName.INSIDE, far_mm)
    low, high = groove.from_edge_mm * faces.stretch, groove.far_mm * faces.stretch
    corners = ((near + low, 0.0), (near + high, 0.0), (far + high, far_mm), (far + low, far_mm))
    return unfolded(faces, FaceName.INSIDE, [Polygon(corners)])[0]


def _ring(polygon: Polygon, shift_mm: XY) -> Outline:
    moved = translate(polygon, *shift_mm)
    return tuple((round(x, 3), round(y, 3)) for x, y in list(moved.exterior.coords)[:-1])
