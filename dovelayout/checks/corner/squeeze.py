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

from dovelayout.checks.corner.pins import pin_load_n, trapezoid_moment_mm4
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint, Pin
from dovelayout.wood.glue import Glue
from dovelayout.wood.stiffness import MPA_PER_GPA, cross_stiffness
from dovelayout.wood.swelling import swelling_line_mm

FRICTION = 0.4
"""Dry smooth wood on wood: 0.3 to 0.5 (Wood Handbook FPL-GTR-190, chapter 4)."""

CRUSH_SHARE = 1.2
"""Crushing is reckoned at 1.2 x compression perpendicular, which is the stress at the proportional limit (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SqueezedCheek:
    """One cheek of a corner: which tail it is on, how far it gives (mm for each MPa), and the half pin it leans on with
    the load at the tip that breaks that; None where it is a full pin, or its strength isn't known."""

    tail: int
    give_mm_per_mpa: float
    half_pin: Pin | None = None
    breaks_n: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Springs:
    """A corner as its fit sees it: cheeks that give, and what crushes them. `doubts`: what to doubt about it."""

    cheeks: tuple[SqueezedCheek, ...]
    cheek_area_mm2: float
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


def springs_of(joint: CornerJoint) -> Springs | None:
    """The cheeks of a corner; None where the stiffness of its woods isn't known."""
    sides = [(board, cross_stiffness(board.wood, board.rings.across_width)) for board in _boards(joint)]
    (_, tail), (pin_board, pin) = sides
    if tail is None or pin is None or pin_board.wood.moe_gpa is None:
        return None
    crush = [board.wood.comp_perp_mpa for board, _ in sides]
    known = [value for value in crush if value is not None]
    doubts = [side.doubt for side in (tail, pin) if side.doubt]
    doubts += [f"what crushes {board.wood.name} is not known" for board, _ in sides if board.wood.comp_perp_mpa is None]
    return Springs(
        cheeks=tuple(_cheeks(joint, tail.mpa, pin.mpa, pin_board.wood.moe_gpa * MPA_PER_GPA)),
        cheek_area_mm2=cheek_area_mm2(joint),
        crush_mpa=CRUSH_SHARE * min(known) if known else None,
        doubts=tuple(dict.fromkeys(doubts)),
    )


def _cheeks(joint: CornerJoint, tail_mpa: float, pin_mpa: float, along_mpa: float) -> Iterator[SqueezedCheek]:
    """Every cheek from the face edge on; tail and pin at their mean widths over the depth."""
    ends = {pin.end_mm: pin for pin in joint.pins}
    starts = {pin.start_mm: pin for pin in joint.pins}
    for number, tail in enumerate(joint.tails):
        for pin in (ends.get(tail.start_mm), starts.get(tail.end_mm)):
            if pin is None:
                continue  # a tail at the edge: nothing presses there
            half_tail_mm, half_pin_mm = (tail.width_mm + tail.neck_mm) / 4, (pin.width_mm + pin.root_mm) / 4
            give = half_tail_mm / tail_mpa + half_pin_mm / pin_mpa
            if not pin.half:
                yield SqueezedCheek(tail=number, give_mm_per_mpa=give)
                continue
            give += cheek_area_mm2(joint) / _bending_n_per_mm(joint, pin, along_mpa)
            yield SqueezedCheek(
                tail=number, give_mm_per_mpa=give, half_pin=pin, breaks_n=pin_load_n(joint, pin) or None
            )


def cheek_area_mm2(joint: CornerJoint) -> float:
    """Area of one cheek: its length down the slope by the tail board's thickness."""
    return math.hypot(joint.depth_mm, joint.flare_mm) * joint.tail_board.thickness_mm


def line_swelling_mm(joint: CornerJoint, glue: Glue) -> float | None:
    """Swelling of one glued cheek of a corner, both its faces; None where it isn't known."""
    tails, pins = _boards(joint)
    return swelling_line_mm(tails.wood, glue, tails.rings.across_width, other=(pins.wood, pins.rings.across_width))


def squeeze(springs: Springs, *, interference_mm: float) -> Squeeze:
    """The corner with every cheek fuller than its socket by that much, dry fit and swelling together; below 0: none."""
    d_mm = max(0.0, interference_mm)
    area_mm2 = springs.cheek_area_mm2
    crush = math.inf if springs.crush_mpa is None else springs.crush_mpa
    elastic = 0.0
    by_tail: dict[int, float] = {}
    worst_half: tuple[float, Pin] | None = None
    for cheek in springs.cheeks:
        pressure = d_mm / cheek.give_mm_per_mpa
        elastic = max(elastic, pressure)
        load_n = min(pressure, crush) * area_mm2
        by_tail[cheek.tail] = by_tail.get(cheek.tail, 0.0) + FRICTION * load_n
        if cheek.half_pin is not None and cheek.breaks_n is not None:
            share = load_n / 2 / cheek.breaks_n
            if worst_half is None or share > worst_half[0] + 1e-9:
                worst_half = (share, cheek.half_pin)
    return Squeeze(
        interference_mm=interference_mm,
        pressure_mpa=min(elastic, crush),
        elastic_mpa=elastic,
        crush_mpa=springs.crush_mpa,
        drive_n=math.fsum(by_tail.values()),
        tail_drive_n=max(by_tail.values(), default=0.0),
        cheek_area_mm2=area_mm2,
        half_pin=worst_half[1] if worst_half else None,
        half_pin_share=worst_half[0] if worst_half else None,
        doubts=springs.doubts,
    )


def _boards(joint: CornerJoint) -> tuple[Board, Board]:
    return (joint.tail_board, joint.pin_board)


def _bending_n_per_mm(joint: CornerJoint, pin: Pin, along_mpa: float) -> float:
    """Load on a half pin, spread evenly along it, that bends its tip outward by 1 mm: 8 E I / L^3."""
    second_moment = trapezoid_moment_mm4(narrow_mm=pin.width_mm, wide_mm=pin.root_mm, height_mm=joint.depth_mm)
    return 8 * along_mpa * second_moment / joint.tail_board.thickness_mm**3
