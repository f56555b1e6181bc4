"""The boards of a corner as solids, with the waste gone, each in its place when the joint is together.

p is the depth behind the pin board's outside face, t the depth behind the tail board's, and the height is
over the tail board's face edge. Pins and tails both run along t, whatever angle the boards meet at: that is the way the
joint goes together. A right end of the tail board lies to the left of the corner as one sees it from outside, a left end
to its right, as `casework.box` has it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import Polygon, box

from dovelayout.drawing.solid import Cell, Solid, Vec, fused, prism
from dovelayout.joints.board import Board, End, Groove
from dovelayout.joints.corner import EDGE_MM, CornerJoint
from dovelayout.joints.faces import own_groove
from dovelayout.joints.spacing import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """One board of a joint as a solid: `along` runs with its length, `wide` from its face edge, `through` from its
    outside face; `corner` is where face edge and outside face meet, at the joint."""

    part: str
    name: str
    board: Board
    solid: Solid
    along: Vec
    wide: Vec
    through: Vec
    corner: Vec

    def moved(self, by: Vec) -> Timber:
        """The same board elsewhere."""
        x, y, z = self.corner
        return Timber(
            part=self.part,
            name=self.name,
            board=self.board,
            solid=self.solid.moved(by),
            along=self.along,
            wide=self.wide,
            through=self.through,
            corner=(x + by[0], y + by[1], z + by[2]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSolids:
    """The two boards of a corner; `out` is the way the tail board is drawn off, `tail_face` and `pin_face` the ways
    their outside faces look, all units."""

    tails: Timber
    pins: Timber
    out: Vec
    tail_face: Vec
    pin_face: Vec


def corner_solids(joint: CornerJoint, *, angle_deg: float = 90.0, stub_mm: float = 40.0) -> CornerSolids:
    """The boards of a corner that meet at an angle (between their inside faces), cut off `stub_mm` behind the joint."""
    hand = -1.0 if joint.spec.tails.end is End.RIGHT else 1.0
    angle = math.radians(angle_deg)
    sin = math.sin(angle)
    along_tail: Vec = (hand, 0.0, 0.0)
    along_pin: Vec = (hand * math.cos(angle), sin, 0.0)
    pin_face: Vec = (-hand * sin, math.cos(angle), 0.0)

    def place(height: float, p: float, t: float) -> Vec:
        return (
            (p * along_tail[0] + t * along_pin[0]) / sin,
            t * along_pin[1] / sin,
            height,
        )

    tail, pin = joint.tail_board, joint.pin_board
    far_p, far_t = pin.thickness_mm + stub_mm, tail.thickness_mm + stub_mm

    # where the boards are cut off in the picture, they are cut square, whatever the angle
    def place_tail(height: float, p: float, t: float) -> Vec:
        return place(height, p - t * math.cos(angle) if p > far_p - EDGE_MM else p, t)

    def place_pin(height: float, p: float, t: float) -> Vec:
        return place(height, p, t - p * math.cos(angle) if t > far_t - EDGE_MM else t)

    tails = Timber(
        part="TAILS",
        name=joint.spec.tails.label,
        board=tail,
        solid=fused(_tail_cells(joint, place_tail, stub_mm)),
        along=along_tail,
        wide=(0.0, 0.0, 1.0),
        through=(0.0, 1.0, 0.0),
        corner=place(0.0, 0.0, 0.0),
    )
    pins = Timber(
        part="PINS",
        name=joint.spec.pins.label,
        board=pin,
        solid=fused(_pin_cells(joint, place_pin, stub_mm)),
        along=along_pin,
        wide=(0.0, 0.0, 1.0),
        through=(-pin_face[0], -pin_face[1], 0.0),
        corner=place(joint.pin_offset_mm, 0.0, 0.0),
    )
    away: Vec = (-along_pin[0], -along_pin[1], 0.0)
    return CornerSolids(tails=tails, pins=pins, out=away, tail_face=(0.0, -1.0, 0.0), pin_face=pin_face)


Place = Callable[[float, float, float], Vec]


def _tail_cells(joint: CornerJoint, place: Place, stub_mm: float) -> Iterator[Cell]:
    spec, board = joint.spec, joint.tail_board
    thick, base = board.thickness_mm, joint.pin_board.thickness_mm
    tip = joint.lap_mm - spec.proud_tails_mm
    outlines = [box(0.0, base, board.width_mm, base + stub_mm)]
    for tail in joint.tails:
        end, neck = tail.at(-spec.proud_tails_mm / joint.depth_mm), tail.neck
        outlines.append(Polygon([(end.start_mm, tip), (end.end_mm, tip), (neck.end_mm, base), (neck.start_mm, base)]))
    for plain in (Span(0.0, joint.covers.start_mm), Span(joint.covers.end_mm, board.width_mm)):
        if plain.width_mm > EDGE_MM and plain not in joint.mitres:
            outlines.append(box(plain.start_mm, tip, plain.end_mm, base))
    groove = spec.groove
    deep = thick if groove is None else thick - groove.depth_mm
    yield from _layers(outlines, groove, (tip, base + stub_mm), place, 0.0, deep, thick)
    for mitre in joint.mitres:
        triangle = Polygon([(0.0, 0.0), (base, 0.0), (base, thick)])
        yield from _mitre(
            mitre,
            triangle,
            Polygon([(0.0, 0.0), (base, 0.0), (base, deep), (base * deep / thick, deep)]),
            groove,
            place,
        )


def _pin_cells(joint: CornerJoint, place: Place, stub_mm: float) -> Iterator[Cell]:
    spec, board = joint.spec, joint.pin_board
    thick, base = board.thickness_mm, joint.tail_board.thickness_mm
    low, high = joint.pin_offset_mm, joint.pin_offset_mm + board.width_mm
    tip, lap = -spec.proud_pins_mm, joint.lap_mm
    mitred = Span(joint.covers.start_mm, joint.covers.end_mm) if joint.mitres else Span(low, high)
    ends = [
        Polygon([(pin.start_mm, lap), (pin.end_mm, lap), (pin.root_end_mm, thick), (pin.root_start_mm, thick)])
        for pin in joint.pins
    ]
    if high - joint.tail_board.width_mm > EDGE_MM:  # beyond the tail board it runs through to its end
        ends.append(box(joint.tail_board.width_mm, lap, high, thick))
    if lap > EDGE_MM:
        ends.append(box(mitred.start_mm, 0.0, mitred.end_mm, lap))
    groove = spec.groove if own_groove(spec.groove, joint.pin_offset_mm, board.width_mm) is not None else None
    deep = thick if groove is None else thick - groove.depth_mm
    for outlines, start, end in (
        (ends, tip, base),
        ([box(low, 0.0, high, thick)], base, base + stub_mm),
    ):
        for outline in outlines:
            for part in _less_groove(outline, groove, (deep, thick)):
                yield prism(part, place, start, end)
    if spec.lip is not None:
        yield prism(box(low, 0.0, high, spec.lip.thickness_mm), place, tip - spec.lip.overhang_mm, tip)
    for mitre in joint.mitres:
        triangle = Polygon([(0.0, 0.0), (0.0, base), (thick, base)])
        yield from _mitre(
            mitre,
            triangle,
            Polygon([(0.0, 0.0), (0.0, base), (deep, base), (deep, base * deep / thick)]),
            groove,
            place,
        )


def _layers(
    outlines: list[Polygon],
    groove: Groove | None,
    reach: tuple[float, float],
    place: Place,
    outside: float,
    deep: float,
    inside: float,
) -> Iterator[Cell]:
    """Prisms through a board's thickness, its inner layer parted by the groove that runs through `reach`."""
    for outline in outlines:
        yield prism(outline, place, outside, deep)
        if groove is not None:
            for part in _less_groove(outline, groove, reach):
                yield prism(part, place, deep, inside)


def _less_groove(outline: Polygon, groove: Groove | None, reach: tuple[float, float]) -> list[Polygon]:
    """What a groove leaves of an outline in (height, p)."""
    if groove is None:
        return [outline]
    left = shapely.difference(outline, box(groove.from_edge_mm, reach[0], groove.far_mm, reach[1]))
    return [part for part in shapely.get_parts(left) if isinstance(part, Polygon) and part.area > EDGE_MM]


def _mitre(mitre: Span, whole: Polygon, grooved: Polygon, groove: Groove | None, place: Place) -> Iterator[Cell]:
    """A mitred stretch: sections in (p, t) along the height, with less of them where the groove runs through."""

    def turned(p: float, t: float, height: float) -> Vec:
        return place(height, p, t)

    cuts = [mitre.start_mm, mitre.end_mm]
    if groove is not None:
        cuts += [at for at in (groove.from_edge_mm, groove.far_mm) if mitre.start_mm < at < mitre.end_mm]
    cuts.sort()
    for start, end in pairwise(cuts):
        middle = (start + end) / 2
        inside = groove is not None and groove.from_edge_mm < middle < groove.far_mm
        section = grooved if inside else whole
        if end - start > EDGE_MM:
            yield prism(section, turned, start, end)
