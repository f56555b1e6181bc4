"""The cut list of a job's drawers: equal parts in one row, with the drawers they belong to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.joints.board import Board
from dovelayout.words import capital, listed

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
            sizes = (round(size_mm, 3) for size_mm in (board.length_mm, board.width_mm, board.thickness_mm))
            key = (part.role, board.wood.name, *sizes, board.rings, board.grain)
            row = rows.get(key) or CutRow(role=part.role, board=board, count=0, drawers=())
            rows[key] = replace(row, count=row.count + board.count, drawers=(*row.drawers, drawer.name))
    return tuple(sorted(rows.values(), key=lambda row: ROLES.index(row.role)))


def all_add_up(drawers: Sequence[Drawer]) -> str:
    """Whether the parts of all drawers add up, in a sentence."""
    sums = sum(len(drawer.sums) for drawer in drawers)
    off = [drawer.name for drawer in drawers if not drawer.adds_up]
    if off:
        return f"The parts of {listed(off)} DON'T add up: see the stops."
    counted = f"{len(drawers)} {'drawer' if len(drawers) == 1 else 'drawers'}"
    return f"Every part adds up: {sums} sums over {counted} come out."


def assumed_cases(drawers: Sequence[Drawer]) -> tuple[str, ...]:
    """What is assumed of the wood of their cases, each assumption once, as sentences."""
    words = dict.fromkeys(drawer.assumed_case for drawer in drawers if drawer.assumed_case)
    return tuple(f"{capital(text)}: the air behind the drawers hangs on it." for text in words)
