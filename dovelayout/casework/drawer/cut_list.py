"""The cut list of a job's drawers: equal parts in one row, and for which drawers they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.joints.board import Board
from dovelayout.words import listed

ROLES = ("front", "side", "back", "bottom", "slip", "muntin", "centre guide")


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """Equal parts of one or several drawers. `board` is one of them, `count` how many there are in all."""

    role: str
    board: Board
    count: int
    drawers: tuple[str, ...]


def cut_list(drawers: Sequence[Drawer]) -> tuple[CutRow, ...]:
    """All parts, role by role, and within a role in the order of the drawers."""
    rows: dict[tuple[object, ...], CutRow] = {}
    for drawer in drawers:
        for part in drawer.parts:
            board = part.board
            key = (
                part.role,
                board.wood.name,
                round(board.length_mm, 3),
                round(board.width_mm, 3),
                round(board.thickness_mm, 3),
                board.rings,
                board.grain,
            )
            had = rows.get(key)
            rows[key] = CutRow(
                role=part.role,
                board=board if had is None else had.board,
                count=board.count + (0 if had is None else had.count),
                drawers=(drawer.name,) if had is None else (*had.drawers, drawer.name),
            )
    return tuple(sorted(rows.values(), key=lambda row: ROLES.index(row.role)))


def all_add_up(drawers: Sequence[Drawer]) -> str:
    """Whether the parts of all drawers add up, in a sentence."""
    sums = sum(len(drawer.sums) for drawer in drawers)
    off = [drawer.name for drawer in drawers if not drawer.adds_up]
    if off:
        return f"The parts of {listed(off)} DON'T add up: see the stops."
    return (
        f"Every part adds up: {sums} sums over {len(drawers)} {'drawer' if len(drawers) == 1 else 'drawers'} come out."
    )
