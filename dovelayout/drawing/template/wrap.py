"""The fold-over template: one piece that wraps a board's end, outside face | end grain | inside face.

Template coordinates: v runs up the board's width from the face edge (v = x); u runs across the folds, 0 on the fold
between the outside face and the end grain. Seen printed side up, a right end reads outside, end, inside from left to
right, a left end the other way round: just as the faces lie when the paper is wrapped, so nothing is mirrored.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import XY, Lines, Role, Stroke, closed, strokes
from dovelayout.joints.board import End
from dovelayout.joints.face import EndFaces, FaceName


@dataclass(frozen=True, slots=True, kw_only=True)
class Skirts:
    """Plain paper beyond the baselines, to glue down and to write on: widths over the outside and the inside face."""

    outside_mm: float
    inside_mm: float

    def over_mm(self, face: FaceName) -> float:
        """The width over the inside face or over another one."""
        return self.inside_mm if face is FaceName.INSIDE else self.outside_mm


FULL_SKIRTS = Skirts(outside_mm=50.0, inside_mm=38.0)
LEAST_SKIRTS = Skirts(outside_mm=18.0, inside_mm=12.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """What is written on a template: the corner's letter, and rows for either skirt, most important first."""

    letter: str
    outside: tuple[str, ...]
    inside: tuple[str, ...]

    def columns(self, faces: EndFaces) -> dict[FaceName, tuple[str, ...]]:
        """The rows on each face. A lip has no room for words: the inside face carries those of the outside."""
        if faces.lip is not None:
            return {FaceName.INSIDE: self.outside}
        return {FaceName.OUTSIDE: self.outside, FaceName.INSIDE: self.inside}


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """How far a template reaches: across the folds, and along them from 0 to the board's width, or a little further
    where a canted board's edges lean."""

    u_min_mm: float
    v_min_mm: float
    u_max_mm: float
    v_max_mm: float

    @property
    def across_mm(self) -> float:
        """Across the folds."""
        return self.u_max_mm - self.u_min_mm

    @property
    def height_mm(self) -> float:
        """Along the folds."""
        return self.v_max_mm - self.v_min_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A whole fold-over template, before it is parted into tiles. `strokes` are all its lines but the hatching."""

    faces: EndFaces
    caption: Caption
    skirts: Skirts
    strokes: tuple[Lines, ...]
    extent: Extent

    @property
    def hatching(self) -> Lines:
        """The hatching of its waste, made on demand: parting a template doesn't need it."""
        faces = self.faces
        return strokes(
            Role.HATCH, hatch([one for face in faces.faces for one in unfolded(faces, face.name, face.waste)])
        )


def unfold(faces: EndFaces, face: FaceName, x_mm: float, other_mm: float) -> XY:
    """Template (u, v) of a point (x, y) on a face or (x, z) on the end grain."""
    fold_mm, direction = _fold(faces, face)
    return (fold_mm + direction * other_mm, x_mm)


def _fold(faces: EndFaces, face: FaceName) -> tuple[float, float]:
    """The u of the fold that a face begins at, and the direction (1 or -1) in which the face lies from there."""
    direction = 1.0 if faces.end.end is End.RIGHT else -1.0
    if face is FaceName.INSIDE:
        return (direction * faces.band_mm, direction)
    return (0.0, direction if face is FaceName.END else -direction)


def unfolded(faces: EndFaces, face: FaceName, polygons: Iterable[Polygon]) -> tuple[Polygon, ...]:
    """Polygons on a face in template coordinates, in one go: a call for each takes ten times as long."""
    array = np.array(list(polygons), dtype=object)
    if not array.size:
        return ()
    (u0, _), (u1, _) = (unfold(faces, face, 0.0, other) for other in (0.0, 1.0))
    return tuple(shapely.transform(array, lambda at: np.column_stack((u0 + (u1 - u0) * at[:, 1], at[:, 0]))))


def extent(faces: EndFaces, skirts: Skirts) -> Extent:
    """The extent of a template, known before it is drawn."""
    us, vs = zip(*_face_edge(faces, skirts), strict=True)
    return Extent(u_min_mm=min(us), v_min_mm=min(vs), u_max_mm=max(us), v_max_mm=max(vs) + faces.width_mm)


def fold_over(faces: EndFaces, caption: Caption, skirts: Skirts = FULL_SKIRTS) -> Template:
    """The template of one board end: knife lines, folds, baselines, outline, groove, hatched waste."""
    width_mm = faces.width_mm

    def square_line(face: FaceName, other_mm: float) -> Stroke:
        """Across the whole board, that far from the fold."""
        edge_mm = faces.edge_mm(face, other_mm)
        return (*unfold(faces, face, edge_mm, other_mm), *unfold(faces, face, edge_mm + width_mm, other_mm))

    knife: list[Stroke] = []
    for shown in faces.faces:
        fold_mm, direction = _fold(faces, shown.name)
        knife += [(fold_mm + direction * a, x1, fold_mm + direction * b, x2) for (x1, a), (x2, b) in shown.cheeks]
    edge = _face_edge(faces, skirts)
    gauged = (FaceName.INSIDE,) if faces.outside_is_blank else (FaceName.OUTSIDE, FaceName.INSIDE)
    reach = extent(faces, skirts)
    drawn = [
        strokes(Role.OUTLINE, closed((*edge, *((u, v + width_mm) for u, v in reversed(edge))))),
        strokes(Role.FOLD, (square_line(FaceName.END, z) for z in (0.0, faces.band_mm))),
        strokes(Role.BASELINE, (square_line(face, faces.baseline_mm) for face in gauged)),
        strokes(Role.KNIFE, knife),
    ]
    if faces.groove is not None:
        drawn.append(strokes(Role.GROOVE, _groove_lines(faces, faces.baseline_mm + skirts.inside_mm)))
    if faces.saw_lines_mm:
        drawn.append(strokes(Role.SAW, ((reach.u_min_mm, x, reach.u_max_mm, x) for x in faces.saw_lines_mm)))
    return Template(faces=faces, caption=caption, skirts=skirts, strokes=tuple(drawn), extent=reach)


def _face_edge(faces: EndFaces, skirts: Skirts) -> tuple[XY, ...]:
    """The board's face edge across the whole paper, from left to right: straight, or bent at the folds where the board
    is canted."""
    stops = (
        (FaceName.OUTSIDE, faces.first_mm + (skirts.outside_mm if faces.lip is None else 0.0)),
        (FaceName.END, 0.0),
        (FaceName.END, faces.band_mm),
        (FaceName.INSIDE, faces.baseline_mm + skirts.inside_mm),
    )
    points = sorted(unfold(faces, face, faces.edge_mm(face, mm), mm) for face, mm in stops)
    if faces.face_lean == 0 == faces.end_lean:
        return (points[0], points[-1])
    return tuple(points)


def _groove_lines(faces: EndFaces, far_mm: float) -> Iterator[Stroke]:
    """The groove's two sides down the inside face, as far as the paper reaches, and its section in the end grain."""
    groove, thickness_mm = faces.groove, faces.band_mm
    if groove is None:
        return
    floor_mm = thickness_mm - groove.depth_mm

    def at(face: FaceName, from_edge_mm: float, other_mm: float) -> XY:
        return unfold(faces, face, faces.edge_mm(face, other_mm) + from_edge_mm * faces.stretch, other_mm)

    for side_mm in (groove.from_edge_mm, groove.far_mm):
        yield (*at(FaceName.INSIDE, side_mm, 0.0), *at(FaceName.INSIDE, side_mm, far_mm))
        yield (*at(FaceName.END, side_mm, floor_mm), *at(FaceName.END, side_mm, thickness_mm))
    yield (*at(FaceName.END, groove.from_edge_mm, floor_mm), *at(FaceName.END, groove.far_mm, floor_mm))
