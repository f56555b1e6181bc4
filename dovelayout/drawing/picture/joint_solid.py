"""The boards of a corner as solids, with the waste gone, each in its place when the joint is together.

p is the depth behind the pin board's outside face, t the depth behind the tail board's, and s the distance along the tail
board's end from its face edge, which is the height in a square corner and leans in a canted one. Pins and tails both
run along t, whatever angle the boards meet at: the joint goes together in that direction. A right end of the tail board
lies to the left of the corner as one sees it from outside, a left end to its right, as in `casework.box`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely
from shapely import Polygon, box

from dovelayout.drawing.picture.solid import Cell, Solid, Vec, fused, prism
from dovelayout.drawing.primitives import trapezoid
from dovelayout.joints.board import BoardEnd, End, Groove
from dovelayout.joints.corner import EDGE_MM, CornerJoint
from dovelayout.joints.faces import own_groove, pin_width_mm
from dovelayout.joints.spacing import Span

Placing = Callable[[float, float, float], Vec]
"""Puts a point (s, p, t) into space."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """One board of a joint as a solid: `along` runs with its length, `wide` from its face edge, `through` from its
    outside face; `corner` is where face edge and outside face meet, at the joint."""

    part: str
    end: BoardEnd
    solid: Solid
    along: Vec
    wide: Vec
    through: Vec
    corner: Vec

    def moved(self, by: Vec) -> Timber:
        """The same board elsewhere."""
        x, y, z = self.corner
        return replace(self, solid=self.solid.moved(by), corner=(x + by[0], y + by[1], z + by[2]))


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSolids:
    """The two boards of a corner; `out` is the direction in which the tail board is drawn off, `tail_face` and `pin_face`
    those in which their outside faces look, all unit vectors."""

    tails: Timber
    pins: Timber
    out: Vec
    tail_face: Vec
    pin_face: Vec


def corner_solids(joint: CornerJoint, *, stub_mm: float = 40.0) -> CornerSolids:
    """The boards of a corner, cut off `stub_mm` behind the joint."""
    hand = -1.0 if joint.spec.tails.end is End.RIGHT else 1.0
    cant = joint.spec.cant
    sin, cos = 1 / cant.stretch, cant.lean / cant.stretch
    up: Vec = (hand * cos, 0.0, sin)  # along the tail board's end
    deep: Vec = (hand * sin, 0.0, -cos)  # square to it, into the tail board

    def place(s: float, p: float, t: float) -> Vec:
        d = p - joint.lap_mm  # the tails' ends lie behind the lap
        return (s * up[0] + d * deep[0] + hand * joint.lap_mm, t, s * up[2] + d * deep[2])

    tails = Timber(
        part="TAILS",
        end=joint.spec.tails,
        solid=fused(_tail_cells(joint, place, stub_mm)),
        along=(hand, 0.0, 0.0),
        wide=(0.0, 0.0, 1.0),
        through=(0.0, 1.0, 0.0),
        corner=place(0.0, joint.lap_mm, 0.0),
    )
    pins = Timber(
        part="PINS",
        end=joint.spec.pins,
        solid=fused(_pin_cells(joint, place, stub_mm)),
        along=(0.0, 1.0, 0.0),
        wide=up,
        through=deep,
        corner=place(joint.pin_offset_mm, 0.0, 0.0),
    )
    return CornerSolids(
        tails=tails, pins=pins, out=(0.0, -1.0, 0.0), tail_face=(0.0, -1.0, 0.0), pin_face=(-deep[0], 0.0, -deep[2])
    )


def _strip(joint: CornerJoint, span: Span, from_p: float, to_p: float) -> Polygon:
    """What keeps to the tail board's long edge between two depths: a rectangle in (s, p), leaning in a canted corner.
    The span is in s at the ends of the tails."""
    lean = joint.spec.cant.lean
    return Polygon([(s + lean * (p - joint.lap_mm), p) for s, p in trapezoid((span, from_p), (span, to_p))])


def _groove_strip(joint: CornerJoint, groove: Groove | None, from_p: float, to_p: float) -> Polygon | None:
    """A groove along the tail board's edge, which runs level into the pin board, in (s, p)."""
    if groove is None:
        return None
    stretch = joint.spec.cant.stretch
    return _strip(joint, Span(groove.from_edge_mm * stretch, groove.far_mm * stretch), from_p, to_p)


def _tail_stub(joint: CornerJoint, base: float, stub_mm: float) -> Polygon:
    """The tail board behind its baseline, cut off square to its length wherever its own end leans."""
    width_mm, cant = joint.end_width_mm, joint.spec.cant
    slip_mm = width_mm * cant.lean / cant.stretch**2  # how much less deep a square cut lies at the far edge
    near, far = base + stub_mm + max(0.0, slip_mm), base + stub_mm - min(0.0, slip_mm)
    at_base, at_near, at_far = (cant.lean * (p - joint.lap_mm) for p in (base, near, far))
    return Polygon([(at_base, base), (width_mm + at_base, base), (width_mm + at_far, far), (at_near, near)])


def _tail_cells(joint: CornerJoint, place: Placing, stub_mm: float) -> Iterator[Cell]:
    spec, thick, base = joint.spec, joint.tail_board.thickness_mm, joint.pin_board.thickness_mm
    tip = joint.lap_mm - spec.proud_tails_mm
    outlines = [_tail_stub(joint, base, stub_mm)]
    for tail in joint.tails:
        end = tail.at(-spec.proud_tails_mm / joint.depth_mm)
        outlines.append(Polygon(trapezoid((end, tip), (tail.neck, base))))
    for plain in (Span(0.0, joint.covers.start_mm), Span(joint.covers.end_mm, joint.end_width_mm)):
        if plain.width_mm > EDGE_MM and plain not in joint.mitres:
            outlines.append(box(plain.start_mm, tip, plain.end_mm, base))
    deep = thick if spec.groove is None else thick - spec.groove.depth_mm
    reach = max(point for outline in outlines for _, point in outline.exterior.coords)
    strip = _groove_strip(joint, spec.groove, tip, reach)
    for outline in outlines:
        yield prism(outline, place, 0.0, deep)
        if strip is not None:
            for part in _less_groove(outline, strip):
                yield prism(part, place, deep, thick)
    whole = Polygon([(0.0, 0.0), (base, 0.0), (base, thick)])
    grooved = Polygon([(0.0, 0.0), (base, 0.0), (base, deep), (base * deep / thick, deep)])
    yield from _mitres(joint, (whole, grooved), spec.groove, place)


def _pin_cells(joint: CornerJoint, place: Placing, stub_mm: float) -> Iterator[Cell]:
    spec, thick, base = joint.spec, joint.pin_board.thickness_mm, joint.tail_board.thickness_mm
    low = joint.pin_offset_mm + spec.cant.lean * joint.lap_mm  # in s at the ends of the tails
    width = Span(low, low + pin_width_mm(joint))
    tip, lap = -spec.proud_pins_mm, joint.lap_mm
    pins = [(Span(pin.start_mm, pin.end_mm), Span(pin.root_start_mm, pin.root_end_mm)) for pin in joint.pins]
    ends = [Polygon(trapezoid((narrow, lap), (root, thick))) for narrow, root in pins]
    if spec.cant.is_square and width.end_mm - joint.tail_board.width_mm > EDGE_MM:
        ends.append(
            box(joint.tail_board.width_mm, lap, width.end_mm, thick)
        )  # beyond the tail board: through to its end
    if lap > EDGE_MM:
        ends.append(_strip(joint, joint.covers if joint.mitres else width, 0.0, lap))
    groove = spec.groove if own_groove(joint) is not None else None
    deep = thick if groove is None else thick - groove.depth_mm
    strip = _groove_strip(joint, groove, deep, thick)
    stub = _strip(joint, width, 0.0, thick)
    for outlines, start, end in ((ends, tip, base), ([stub], base, base + stub_mm)):
        for outline in outlines:
            for part in _less_groove(outline, strip):
                yield prism(part, place, start, end)
    if spec.lip is not None:
        lip = box(width.start_mm, 0.0, width.end_mm, spec.lip.thickness_mm)
        yield prism(lip, place, tip - spec.lip.overhang_mm, tip)
    whole = Polygon([(0.0, 0.0), (0.0, base), (thick, base)])
    grooved = Polygon([(0.0, 0.0), (0.0, base), (deep, base), (deep, base * deep / thick)])
    yield from _mitres(joint, (whole, grooved), groove, place)


def _less_groove(outline: Polygon, groove: Polygon | None) -> list[Polygon]:
    """What a groove leaves of an outline in (s, p)."""
    if groove is None:
        return [outline]
    left = shapely.difference(outline, groove)
    return [part for part in shapely.get_parts(left) if isinstance(part, Polygon) and part.area > EDGE_MM]


def _mitres(
    joint: CornerJoint, sections: tuple[Polygon, Polygon], groove: Groove | None, place: Placing
) -> Iterator[Cell]:
    """Mitred stretches: sections in (p, t) along the height, the second of them where the groove runs through."""

    def upright(p: float, t: float, height: float) -> Vec:
        return place(height, p, t)

    for mitre in joint.mitres:
        grooves = [] if groove is None else [groove.from_edge_mm, groove.far_mm]
        cuts = sorted([mitre.start_mm, mitre.end_mm, *(at for at in grooves if mitre.start_mm < at < mitre.end_mm)])
        for start, end in pairwise(cuts):
            grooved = groove is not None and groove.from_edge_mm < (start + end) / 2 < groove.far_mm
            if end - start > EDGE_MM:
                yield prism(sections[grooved], upright, start, end)
