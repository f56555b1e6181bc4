"""A full-size section through a socket of a half-blind corner: lap, depth, and which way its floor may fall."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import box

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import Item, Lines, Role, Segment, Text
from dovelayout.joints.board import Lip

BEYOND_MM = 14.0  # of the board, shown behind the socket
WORDS_MM = 78.0  # room for the words beside it
ROW_MM = 3.9
SIZE_MM = 2.8
FALL_MM = 0.5
"""How far a floor may fall inward, as drawn; ours: enough to see, less than weakens the lap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The drawing, lower left at (0, 0), and its size in mm."""

    items: tuple[Item, ...]
    width_mm: float
    height_mm: float


def socket_section(
    *,
    thickness_mm: float,
    lap: str,
    lap_mm: float,
    socket_mm: float,
    inside_gauge: str,
    end_gauge: str,
    lip: Lip | None = None,
) -> Section:
    """Section along the pin board: its outside (show) face below, its end to the right, the socket hatched as waste.

    `socket_mm` is the socket's length on the inside face (the tail board's thickness); lap and gauge settings come
    as text too.
    """
    end_x = BEYOND_MM + socket_mm
    base_x = BEYOND_MM
    tip_x = end_x + (0.0 if lip is None else lip.overhang_mm)
    outline: tuple[Segment, ...] = (
        (0.0, 0.0, tip_x, 0.0),
        *_end(end_x, lap_mm, lip),
        (end_x, lap_mm, base_x, lap_mm),
        (base_x, lap_mm, base_x, thickness_mm),
        (base_x, thickness_mm, 0.0, thickness_mm),
    )
    rows = (
        "SECTION THROUGH A SOCKET, full size",
        f"inside face (above): gauge {inside_gauge}",
        f"end, from the inside face: gauge {end_gauge}",
        f"lap left over the tails: {lap}",
        "floor: level, or falling inward as the dashes",
        "show; a floor that rises keeps the tail out",
    )
    height_mm = max(thickness_mm, len(rows) * ROW_MM) + 2.0
    words = tuple(
        Text(
            x_mm=tip_x + 5.0,
            y_mm=height_mm - 1.5 - SIZE_MM * 0.8 - row * ROW_MM,
            text=text,
            size_mm=SIZE_MM,
        )
        for row, text in enumerate(rows)
    )
    falling: list[Segment] = []
    if lap_mm > 2 * FALL_MM:
        falling.append((end_x, lap_mm, base_x, lap_mm - FALL_MM))
    return Section(
        items=(
            Lines(role=Role.KNIFE, segments=outline),
            Lines(role=Role.HATCH, segments=hatch([box(base_x, lap_mm, end_x, thickness_mm)])),
            *((Lines(role=Role.GROOVE, segments=tuple(falling)),) if falling else ()),
            *words,
        ),
        width_mm=tip_x + 5.0 + WORDS_MM,
        height_mm=height_mm,
    )


def _end(end_x: float, lap_mm: float, lip: Lip | None) -> tuple[Segment, ...]:
    """The board's end up to the socket's floor: straight, or with a lip that reaches beyond it."""
    if lip is None:
        return ((end_x, 0.0, end_x, lap_mm),)
    tip_x = end_x + lip.overhang_mm
    return (
        (tip_x, 0.0, tip_x, lip.thickness_mm),
        (tip_x, lip.thickness_mm, end_x, lip.thickness_mm),
        (end_x, lip.thickness_mm, end_x, lap_mm),
    )
