"""What a tight fit does: how hard the cheeks press, what it takes to drive a corner home, how far half pins are bent.

A repeating cell of a corner is one tail, one pin and two cheeks. Cut fuller than its socket by `d` at each cheek, tail
and pin are squeezed elastically across the grain, p = d / (half the tail / E_tail + half the pin / E_pin), until the
softer of the two crushes. A half pin has nothing behind it: it bends outward as a cantilever as long as the tail board
is thick, loaded evenly, and what its cheek presses with is what bending and squeezing share between them. Elementary
mechanics; the stiffness across the grain is Table 5-1's, the crushing strength Table 5-3's (compression perpendicular).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from dovelayout.checks.pins import pin_load_n, trapezoid_moment_mm4
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint, Pin, Tail
from dovelayout.wood.glue import Glue
from dovelayout.wood.stiffness import MPA_PER_GPA, cross_stiffness
from dovelayout.wood.swelling import swelling_line_mm

FRICTION = 0.4
"""Dry smooth wood on wood: 0.3 to 0.5 (Wood Handbook FPL-GTR-190, chapter 4)."""

CRUSH_SHARE = 1.2
"""Crushing is reckoned at 1.2 x compression perpendicular, which is the stress at the proportional limit (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cheek:
    """One cheek of a corner: the tail and the pin it parts, and half of each as it is squeezed, mm."""

    tail: Tail
    pin: Pin
    half_tail_mm: float
    half_pin_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What the two boards of a corner are made of, as far as a fit asks: MPa, and what to doubt about it."""

    tail_mpa: float
    pin_mpa: float
    pin_along_mpa: float
    crush_mpa: float | None
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Squeeze:
    """A corner squeezed by `interference_mm` at each of its cheeks: the worst of each, never the mean.

    `elastic_mpa` is what the pressure would be if nothing crushed. `drive_n` is for the whole corner, `tail_drive_n` for
    its worst tail. `half_pin_share` is half a half pin's load as a share of the load at its tip that breaks it: the
    same bending moment at its root. None: there is no half pin, or its strength isn't known.
    """

    interference_mm: float
    pressure_mpa: float
    elastic_mpa: float
    crush_mpa: float | None
    drive_n: float
    tail_drive_n: float
    cheek_area_mm2: float
    half_pin: Pin | None = None
    half_pin_share: float | None = None
    doubts: tuple[str, ...] = field(default=())

    @property
    def crushed(self) -> bool:
        """Whether the softer side has crushed somewhere."""
        return self.crush_mpa is not None and self.elastic_mpa > self.crush_mpa * (1 + 1e-9)


def cheeks(joint: CornerJoint) -> Iterator[Cheek]:
    """Every cheek of a corner, from the face edge on; tail and pin at their mean widths over the depth."""
    ends = {pin.end_mm: pin for pin in joint.pins}
    starts = {pin.start_mm: pin for pin in joint.pins}
    for tail in joint.tails:
        for pin in (ends.get(tail.start_mm), starts.get(tail.end_mm)):
            if pin is not None:
                yield Cheek(
                    tail=tail,
                    pin=pin,
                    half_tail_mm=(tail.width_mm + tail.neck_mm) / 4,
                    half_pin_mm=(pin.width_mm + pin.root_mm) / 4,
                )


def cheek_area_mm2(joint: CornerJoint) -> float:
    """Area of one cheek: its length down the slope by the tail board's thickness."""
    return math.hypot(joint.depth_mm, joint.flare_mm) * joint.tail_board.thickness_mm


def stock_of(joint: CornerJoint) -> Stock | None:
    """The stiffness of both boards across their widths, where it is known."""
    sides = [(board, cross_stiffness(board.wood, board.rings.across_width)) for board in _boards(joint)]
    (_, tail), (pin_board, pin) = sides
    if tail is None or pin is None or pin_board.wood.moe_gpa is None:
        return None
    crush = [board.wood.comp_perp_mpa for board, _ in sides]
    known = [value for value in crush if value is not None]
    doubts = [side.doubt for side in (tail, pin) if side.doubt]
    doubts += [f"what crushes {board.wood.name} is not known" for board, _ in sides if board.wood.comp_perp_mpa is None]
    return Stock(
        tail_mpa=tail.mpa,
        pin_mpa=pin.mpa,
        pin_along_mpa=pin_board.wood.moe_gpa * MPA_PER_GPA,
        crush_mpa=CRUSH_SHARE * min(known) if known else None,
        doubts=tuple(dict.fromkeys(doubts)),
    )


def line_swelling_mm(joint: CornerJoint, glue: Glue) -> float | None:
    """Swelling of one glued cheek of a corner, both its faces; None where it isn't known."""
    tails, pins = _boards(joint)
    return swelling_line_mm(tails.wood, glue, tails.rings.across_width, other=(pins.wood, pins.rings.across_width))


def squeeze(joint: CornerJoint, stock: Stock, *, interference_mm: float) -> Squeeze:
    """The corner with every cheek fuller than its socket by that much, dry fit and swelling together; below 0: none."""
    d_mm = max(0.0, interference_mm)
    area_mm2 = cheek_area_mm2(joint)
    crush = math.inf if stock.crush_mpa is None else stock.crush_mpa
    elastic = 0.0
    by_tail: dict[Tail, float] = {}
    worst_half: tuple[float, Pin] | None = None
    for cheek in cheeks(joint):
        give = cheek.half_tail_mm / stock.tail_mpa + cheek.half_pin_mm / stock.pin_mpa  # mm per MPa
        if cheek.pin.half:
            give += area_mm2 / _bending_n_per_mm(joint, cheek.pin, stock)
        pressure = d_mm / give
        elastic = max(elastic, pressure)
        by_tail[cheek.tail] = by_tail.get(cheek.tail, 0.0) + FRICTION * min(pressure, crush) * area_mm2
        if cheek.pin.half:
            load_n = pin_load_n(joint, cheek.pin)
            if load_n:
                share = min(pressure, crush) * area_mm2 / 2 / load_n
                if worst_half is None or share > worst_half[0] + 1e-9:
                    worst_half = (share, cheek.pin)
    return Squeeze(
        interference_mm=interference_mm,
        pressure_mpa=min(elastic, crush),
        elastic_mpa=elastic,
        crush_mpa=stock.crush_mpa,
        drive_n=sum(by_tail.values()),
        tail_drive_n=max(by_tail.values(), default=0.0),
        cheek_area_mm2=area_mm2,
        half_pin=worst_half[1] if worst_half else None,
        half_pin_share=worst_half[0] if worst_half else None,
        doubts=stock.doubts,
    )


def _boards(joint: CornerJoint) -> tuple[Board, Board]:
    return (joint.tail_board, joint.pin_board)


def _bending_n_per_mm(joint: CornerJoint, pin: Pin, stock: Stock) -> float:
    """Load on a half pin, spread evenly along it, that bends its tip outward by 1 mm: 8 E I / L^3."""
    second_moment = trapezoid_moment_mm4(narrow_mm=pin.width_mm, wide_mm=pin.root_mm, height_mm=joint.depth_mm)
    return 8 * stock.pin_along_mpa * second_moment / joint.tail_board.thickness_mm**3
