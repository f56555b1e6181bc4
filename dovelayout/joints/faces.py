"""The faces of a dovetailed corner's boards: the parts that all kinds of corner share."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

import shapely
from shapely import Polygon

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Face, FaceName, Part, Piece, Segment
from dovelayout.joints.spacing import Span
from dovelayout.joints.spec import EDGE_MM

_CLEAR_OF_ENDS_MM = 5.0  # a template is parted no nearer to the end of a plain stretch
_LEAST_INNER_MM = 0.4  # nor through a canted tail that leaves less than this to go through

_MOST_KEPT = 4096
"""Faces cached for the next corner of the same layout: drawers of a bank, and the four corners of a box, have most
of theirs in common. Ours: those of some 600 drawers of as many heights as there are."""

_Corners = tuple[tuple[float, float], ...]


def polygon(points: Iterable[tuple[float, float]]) -> Polygon:
    """A valid polygon, or an error: invalid geometry must not be passed on."""
    shape = shapely.polygons(tuple(points))
    if not shape.is_valid or shape.area <= 0:
        problem = f"the layout gives an impossible shape near x = {shape.bounds[0]:.1f} mm"
        raise LayoutError(problem, remedy="check the sizes there")
    return shape


def _polygons(outlines: Sequence[_Corners]) -> tuple[Polygon, ...]:
    """Polygons of four corners each, made and validated in one call."""
    if not outlines:
        return ()
    shapes = shapely.polygons(outlines)
    for outline, sound in zip(outlines, shapely.is_valid(shapes) & (shapely.area(shapes) > 0), strict=True):
        if not sound:
            polygon(outline)  # says what is wrong with it
    return tuple(shapes)


def _trapezoid(near: Span, far: Span, near_at_mm: float, far_at_mm: float) -> _Corners:
    return (
        (near.start_mm, near_at_mm),
        (near.end_mm, near_at_mm),
        (far.end_mm, far_at_mm),
        (far.start_mm, far_at_mm),
    )


@lru_cache(maxsize=_MOST_KEPT)
def face(
    name: FaceName,
    *,
    edges: tuple[Span, Span],
    depth_mm: float,
    from_mm: float = 0.0,
    near: tuple[tuple[str, Span], ...],
    far: tuple[Span, ...],
) -> Face:
    """A face from what stays on it: labelled spans at its near side (`from_mm`) and their spans at its far side
    (`depth_mm`); `edges` is the board itself there.

    What lies between is waste; the lines between, unless they are the edge of the board, are cheeks.
    """
    keep = [_trapezoid(span, far_span, from_mm, depth_mm) for (_, span), far_span in zip(near, far, strict=True)]
    board, far_board = edges
    rows = [
        (Span(board.start_mm, board.start_mm), Span(far_board.start_mm, far_board.start_mm)),
        *((span, far_span) for (_, span), far_span in zip(near, far, strict=True)),
        (Span(board.end_mm, board.end_mm), Span(far_board.end_mm, far_board.end_mm)),
    ]
    waste: list[_Corners] = []
    cheeks: list[Segment] = []
    for (left, far_left), (right, far_right) in itertools.pairwise(rows):
        gap = Span(left.end_mm, right.start_mm)
        far_gap = Span(far_left.end_mm, far_right.start_mm)
        if max(gap.width_mm, far_gap.width_mm) <= EDGE_MM:
            continue
        waste.append(_trapezoid(gap, far_gap, from_mm, depth_mm))
        if max(gap.start_mm - board.start_mm, far_gap.start_mm - far_board.start_mm) > EDGE_MM:
            cheeks.append(((gap.start_mm, from_mm), (far_gap.start_mm, depth_mm)))
        if max(board.end_mm - gap.end_mm, far_board.end_mm - far_gap.end_mm) > EDGE_MM:
            cheeks.append(((gap.end_mm, from_mm), (far_gap.end_mm, depth_mm)))
    shapes = _polygons([*keep, *waste])
    return Face(
        name=name,
        keep=tuple(Piece(label=label, polygon=shape) for (label, _), shape in zip(near, shapes, strict=False)),
        waste=shapes[len(keep) :],
        cheeks=tuple(cheeks),
    )


def board_at(width_mm: float, shift_mm: float = 0.0) -> Span:
    """The board itself along x, where its edges have moved by `shift_mm`."""
    return Span(shift_mm, width_mm + shift_mm)


def tail_end(joint: CornerJoint) -> EndFaces:
    """The tail board's end: the same for every corner, since the tails run through its thickness."""
    spec, board = joint.spec, joint.tail_board
    depth_mm, proud_mm = joint.depth_mm, spec.proud_tails_mm
    baseline_mm = depth_mm + proud_mm
    # beyond what the joint covers, the tail board runs through to its end
    plain = (Span(0.0, joint.covers.start_mm), Span(joint.covers.end_mm, joint.end_width_mm))
    rows = [("", span, span) for span in plain if span.width_mm > EDGE_MM]
    rows += [(str(i), tail.at(-proud_mm / depth_mm), tail.neck) for i, tail in enumerate(joint.tails, 1)]
    rows.sort(key=lambda row: row[1].start_mm)
    # a mitre runs from the outer arris to the inner one: whole on the outside, gone on the inside
    inner = [row for row in rows if row[0] or row[1] not in joint.mitres]
    at_end, inner_end = (tuple((label, span) for label, span, _ in kept) for kept in (rows, inner))
    necks, inner_necks = (tuple(neck for *_, neck in kept) for kept in (rows, inner))
    spans = tuple(span for _, span in inner_end)
    cant, width_mm = spec.cant, joint.end_width_mm
    whole = board_at(width_mm)
    edges = (whole, board_at(width_mm, cant.lean * baseline_mm))
    return EndFaces(
        end=spec.tails,
        part=Part.TAILS,
        baseline_mm=baseline_mm,
        proud_mm=proud_mm,
        outside=face(FaceName.OUTSIDE, edges=edges, depth_mm=baseline_mm, near=at_end, far=necks),
        end_grain=face(FaceName.END, edges=(whole, whole), depth_mm=board.thickness_mm, near=inner_end, far=spans),
        inside=face(FaceName.INSIDE, edges=edges, depth_mm=baseline_mm, near=inner_end, far=inner_necks),
        groove=spec.groove,
        cut_places_mm=cut_places(joint, offset_mm=0.0, width_mm=width_mm),
        saw_lines_mm=saw_lines(joint, offset_mm=0.0),
        stretch=cant.stretch,
        face_lean=cant.lean,
    )


def pin_rows(joint: CornerJoint) -> tuple[tuple[tuple[str, Span], ...], tuple[Span, ...]]:
    """What stays of the pin board's end, in its own x: labelled spans where the ends of the tails lie, and their roots
    on the inside face. Half pins have no number."""

    def own(span: Span) -> Span:
        return Span(span.start_mm - joint.pin_offset_mm, span.end_mm - joint.pin_offset_mm)

    numbers = iter(range(1, len(joint.pins) + 1))
    narrow = tuple(("" if pin.half else str(next(numbers)), own(pin.at(0.0))) for pin in joint.pins)
    roots = tuple(own(pin.at(1.0)) for pin in joint.pins)
    # where the tail board doesn't reach, the pin board runs through to its end
    beyond = Span(joint.tail_board.width_mm - joint.pin_offset_mm, joint.pin_board.width_mm)
    if joint.spec.cant.is_square and beyond.width_mm > EDGE_MM:
        narrow, roots = (*narrow, ("", beyond)), (*roots, beyond)
    return narrow, roots


def pin_width_mm(joint: CornerJoint) -> float:
    """The pin board's width; in a canted corner as long as the mate's end, to which it is planed."""
    return joint.pin_board.width_mm if joint.spec.cant.is_square else joint.end_width_mm


def pin_end(joint: CornerJoint, *, outside: Face, end_grain: Face, **more: Any) -> EndFaces:
    """The pin board's end: its inside face shows the pins at their roots in every corner; each kind brings its outside
    face, its end grain, and what else `EndFaces` says of it."""
    narrow, roots = pin_rows(joint)
    baseline_mm, width_mm = joint.pin_baseline_mm, pin_width_mm(joint)
    board = board_at(width_mm, joint.spec.cant.lean * joint.pin_board.thickness_mm)
    rooted = tuple((label, root) for (label, _), root in zip(narrow, roots, strict=True))
    return EndFaces(
        end=joint.spec.pins,
        part=Part.PINS,
        baseline_mm=baseline_mm,
        proud_mm=joint.spec.proud_pins_mm,
        outside=outside,
        end_grain=end_grain,
        inside=face(FaceName.INSIDE, edges=(board, board), depth_mm=baseline_mm, near=rooted, far=roots),
        groove=own_groove(joint),
        cut_places_mm=cut_places(joint, offset_mm=joint.pin_offset_mm, width_mm=width_mm),
        saw_lines_mm=saw_lines(joint, offset_mm=joint.pin_offset_mm),
        stretch=width_mm / joint.pin_board.width_mm,
        end_lean=joint.spec.cant.lean,
        **more,
    )


def own_groove(joint: CornerJoint) -> Groove | None:
    """The groove in the pin board's own x; a pin board that starts above it, or ends below it, has none.

    In a canted corner it is measured on the pin board's leaning face, from its bevelled edge.
    """
    groove, offset_mm, width_mm = joint.spec.groove, joint.pin_offset_mm, joint.pin_board.width_mm
    if groove is not None and not joint.spec.cant.is_square:
        stretch = joint.spec.cant.stretch
        return replace(groove, from_edge_mm=groove.from_edge_mm * stretch, width_mm=groove.width_mm * stretch)
    if groove is None or groove.from_edge_mm < offset_mm or groove.far_mm - offset_mm > width_mm + EDGE_MM:
        return None
    return replace(groove, from_edge_mm=groove.from_edge_mm - offset_mm)


def cut_places(joint: CornerJoint, *, offset_mm: float, width_mm: float) -> tuple[float, ...]:
    """Middles of tails, and places in the plain stretches well clear of their ends, where cheeks may stand."""
    inner = [
        Span(max(tail.start_mm, tail.neck_start_mm), min(tail.end_mm, tail.neck_end_mm)) for tail in joint.tails
    ]  # what is tail at every depth, so that a line straight across the paper meets no cheek
    places = [span.middle_mm - offset_mm for span in inner if span.width_mm >= _LEAST_INNER_MM]
    if not joint.spec.cant.is_square:
        return tuple(sorted(places))
    mate_ends_mm = joint.tail_board.width_mm - offset_mm  # beyond it a wider pin board runs through, after a cheek
    plain = (
        Span(0.0, joint.covers.start_mm - offset_mm),
        Span(joint.covers.end_mm - offset_mm, min(mate_ends_mm, width_mm)),
        Span(mate_ends_mm, width_mm),
    )
    for stretch in plain:
        steps = int((stretch.width_mm - _CLEAR_OF_ENDS_MM) // 20)
        places.extend(stretch.start_mm + 20 * step for step in range(1, steps + 1))
    return tuple(sorted(place for place in places if 0 < place < width_mm))


def saw_lines(joint: CornerJoint, *, offset_mm: float) -> tuple[float, ...]:
    """Both sides of what is lost where a lid is sawn off, in a board's own x; empty without a lid."""
    if joint.saw_line_mm is None or joint.spec.lid is None:
        return ()
    half_mm, at_mm = joint.spec.lid.lost_mm / 2, joint.saw_line_mm - offset_mm
    return (at_mm - half_mm, at_mm + half_mm)
