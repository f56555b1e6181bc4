"""A corner for the screen: both boards' ends unfolded side by side, in true proportion, and where each part lies on it.

The same faces as on the templates, without the paper's own words; `spots` names every tail, pin, groove and board, so
that whoever shows the drawing can point at them.
"""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.affinity import translate

from dovelayout.drawing.lettering import shortened
from dovelayout.drawing.primitives import Item, Sheet, Text, moved
from dovelayout.drawing.template.wrap import Caption, Skirts, Template, fold_over, tile_items, unfolded, whole
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, FaceName, Part

SKIRTS = Skirts(outside_mm=10.0, inside_mm=10.0)
GAP_MM = 14.0
HEAD_MM = 9.0
SIZE_MM = 4.0

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A part of the corner and where it lies on the drawing, mm, y upwards; several rings where it shows on several faces."""

    name: str
    rings: tuple[Ring, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenDrawing:
    """The drawing and its spots, in the sheet's own coordinates."""

    sheet: Sheet
    spots: tuple[Spot, ...]


def corner_drawing(joint: CornerJoint) -> ScreenDrawing:
    """Both ends of a corner beside each other, tails first."""
    items: list[Item] = []
    rings: dict[str, list[Ring]] = {}
    at_mm, top_mm = 0.0, 0.0
    for faces in joint.end_faces():
        template = fold_over(faces, Caption(letter="", outside=(), inside=()), SKIRTS)
        dx, dy = at_mm - template.u_min_mm, -template.v_min_mm
        plain = [
            item for item in tile_items(template, whole(template)) if not isinstance(item, Text) or item.text.isdigit()
        ]
        items.extend(moved(item, dx, dy) for item in plain)
        _mark(rings, template, dx, dy)
        items.extend(_head(faces, template, at_mm))
        at_mm += template.across_mm + GAP_MM
        top_mm = max(top_mm, template.height_mm)
    sheet = Sheet(
        width_mm=at_mm - GAP_MM,
        height_mm=top_mm + HEAD_MM,
        items=tuple(items),
        title=f"Corner {joint.name}",
        description=f"{joint.spec.tails.label} to {joint.spec.pins.label}, waste hatched",
    )
    return ScreenDrawing(sheet=sheet, spots=tuple(Spot(name=name, rings=tuple(found)) for name, found in rings.items()))


def _head(faces: EndFaces, template: Template, at_mm: float) -> list[Item]:
    words = f"{faces.part.value.upper()}: {faces.end.label}"
    fitted = shortened(words, SIZE_MM, template.across_mm)
    return [Text(x_mm=at_mm, y_mm=template.height_mm + 3.0, text=fitted, size_mm=SIZE_MM)] if fitted else []


def _mark(rings: dict[str, list[Ring]], template: Template, dx: float, dy: float) -> None:
    """Adds every part of one end to the rings by its name."""
    faces = template.faces
    part = "tail" if faces.part is Part.TAILS else "pin"
    for face in faces.faces:
        blank = face.name is FaceName.LIP or (faces.outside_is_blank and face is faces.outside)
        for piece in face.keep:
            if piece.label:
                name = f"{part} {piece.label}"
            elif faces.part is Part.TAILS or blank:
                continue
            else:
                near = piece.polygon.centroid.x < faces.width_mm / 2
                name = f"half pin at the {'face' if near else 'far'} edge"
            rings.setdefault(name, []).append(_ring(unfolded(faces, face.name, piece.polygon), dx, dy))
    if faces.groove is not None:
        rings.setdefault("groove", []).append(_groove_ring(faces, faces.groove, dx, dy))
    board = shapely.box(template.u_min_mm, template.v_min_mm, template.u_max_mm, template.v_max_mm)
    rings.setdefault(f"board {faces.end.board.name}", []).append(_ring(board, dx, dy))


def _groove_ring(faces: EndFaces, groove: Groove, dx: float, dy: float) -> Ring:
    far_mm = faces.baseline_mm + SKIRTS.inside_mm
    near, far = faces.edge_mm(FaceName.INSIDE, 0.0), faces.edge_mm(FaceName.INSIDE, far_mm)
    low, high = groove.from_edge_mm * faces.stretch, groove.far_mm * faces.stretch
    corners = ((near + low, 0.0), (near + high, 0.0), (far + high, far_mm), (far + low, far_mm))
    return _ring(unfolded(faces, FaceName.INSIDE, Polygon(corners)), dx, dy)


def _ring(polygon: Polygon, dx: float, dy: float) -> Ring:
    placed = translate(polygon, dx, dy)
    return tuple((round(x, 3), round(y, 3)) for x, y in list(placed.exterior.coords)[:-1])
