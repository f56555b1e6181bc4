"""Changes to a cut-out that might pass, nearest first, and how one is written into the job."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from dovelayout.checks.finding import Change
from dovelayout.checks.remedy import mm_text
from dovelayout.joints.board import Board, Cutout, End

LEAST_MM = 1.0
"""No smaller cut-out is proposed; ours."""


def words_of(change: Change) -> str:
    """The changed list of cut-outs in words."""
    rows = change.values["cutout"]
    several = len(rows) > 1
    said = []
    for number, row in enumerate(rows, 1):
        keys = ", ".join(f"{key} {value}" for key, value in row.items())
        said.append(f"cut-out {number}: {keys}" if several else keys)
    return "; ".join(said)


def change_of(board: Board, number: int, mended: Cutout | None) -> Change | None:
    """The whole list of the board's cut-outs with one of them changed: a list is one key."""
    if mended is None:
        return None
    rows = [mended if index == number else cutout for index, cutout in enumerate(board.cutouts, 1)]
    return Change(table="board", name=board.name, values={"cutout": [_job_table(row, board) for row in rows]})


def _job_table(cutout: Cutout, board: Board) -> dict[str, str]:
    row = {
        "from_end": mm_text(cutout.from_end_mm),
        "from_edge": mm_text(cutout.from_edge_mm),
        "length": mm_text(cutout.length_mm),
        "width": mm_text(cutout.width_mm),
    }
    if cutout.depth_mm < board.thickness_mm:
        row["depth"] = mm_text(cutout.depth_mm)
    if cutout.end is not End.LEFT:
        row["end"] = cutout.end.value
    if cutout.cut_after:
        row["cut"] = "after"
    return row


def first_of(candidates: Iterable[Cutout], passes: Callable[[Cutout], bool]) -> Cutout | None:
    """The first that passes; None when none does."""
    return next((cutout for cutout in candidates if passes(cutout)), None)


def _by_halves(value_mm: float, step: int) -> float:
    """So many half millimetres further, or back where `step` is below 0: the first is the next half there."""
    halves = value_mm * 2
    return ((math.floor(halves) if step > 0 else math.ceil(halves)) + step) / 2


def moved_along(board: Board, cutout: Cutout) -> Iterator[Cutout]:
    """Further from its end by half millimetres, as far as the board goes; then nearer to it."""
    most_mm = board.length_mm - cutout.length_mm
    for step in range(1, 400):
        at_mm = _by_halves(cutout.from_end_mm, step)
        if at_mm > most_mm:
            break
        yield replace(cutout, from_end_mm=at_mm)
    for step in range(1, 400):
        at_mm = _by_halves(cutout.from_end_mm, -step)
        if at_mm < 0:
            break
        yield replace(cutout, from_end_mm=at_mm)


def moved_across(board: Board, cutout: Cutout) -> Iterator[Cutout]:
    """Towards the middle of the board's width by half millimetres."""
    middle_mm = (board.width_mm - cutout.width_mm) / 2
    way = 1 if middle_mm > cutout.from_edge_mm else -1
    for step in range(1, 400):
        at_mm = _by_halves(cutout.from_edge_mm, way * step)
        if (at_mm - middle_mm) * way > 0:
            break
        yield replace(cutout, from_edge_mm=at_mm)


def shallower(board: Board, cutout: Cutout) -> Iterator[Cutout]:
    """Shallower by half millimetres."""
    for step in range(1, int(2 * board.thickness_mm)):
        depth_mm = _by_halves(cutout.depth_mm, -step)
        if depth_mm >= 0.5:
            yield replace(cutout, depth_mm=depth_mm)


def narrower(cutout: Cutout) -> Iterator[Cutout]:
    """Narrower by half millimetres."""
    for step in range(1, int(2 * cutout.width_mm)):
        width_mm = _by_halves(cutout.width_mm, -step)
        if width_mm >= LEAST_MM:
            yield replace(cutout, width_mm=width_mm)


def smaller(cutout: Cutout) -> Iterator[Cutout]:
    """Shorter and narrower together, about its own middle, down to half of each."""
    for percent in range(95, 45, -5):
        length_mm, width_mm = (round(size * percent / 100, 1) for size in (cutout.length_mm, cutout.width_mm))
        if min(length_mm, width_mm) < LEAST_MM:
            return
        yield replace(
            cutout,
            from_end_mm=round(cutout.from_end_mm + (cutout.length_mm - length_mm) / 2, 2),
            from_edge_mm=round(cutout.from_edge_mm + (cutout.width_mm - width_mm) / 2, 2),
            length_mm=length_mm,
            width_mm=width_mm,
        )
