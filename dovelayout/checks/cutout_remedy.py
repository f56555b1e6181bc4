"""Changes to a cut-out that might pass, nearest first, and how one is written into the job."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from dovelayout.change import change_words, changes_of
from dovelayout.checks.remedy import Remedies, Remedy, mm_text
from dovelayout.joints.board import Board, Cutout, End

LEAST_MM = 1.0
"""No smaller cut-out is proposed; ours."""

STEPS = 400
"""So many half millimetres a cut-out is moved in search of a better place: 200 mm are another place altogether. Ours."""


def by_cutting(
    board: Board,
    number: int,
    candidates: Callable[[], Iterable[Cutout]],
    *,
    words: str,
    passes: Callable[[Cutout], bool] = lambda _: True,
) -> Remedies:
    """Those of the candidates for a cut-out that pass, as changes of the board's list of cut-outs (the list is one key).

    `words`: for people, with {} where what is changed stands.
    """

    def remedies() -> Iterator[Remedy]:
        now = _job_table(board.cutouts[number - 1], board)
        for cutout in filter(passes, candidates()):
            rows = [cutout if index == number else other for index, other in enumerate(board.cutouts, 1)]
            own = _job_table(cutout, board)
            changed = {key: value for key, value in own.items() if now.get(key) != value}
            changes = changes_of("board", board.name, {"cutout": [_job_table(row, board) for row in rows]})
            yield Remedy(changes=changes, words=words.format(change_words(changes_of("", "", changed))))

    return remedies


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


def _by_halves(value_mm: float, step: int) -> float:
    """So many half millimetres further, or back where `step` is below 0: the first is the next half there."""
    halves = value_mm * 2
    return ((math.floor(halves) if step > 0 else math.ceil(halves)) + step) / 2


def moved_along(board: Board, cutout: Cutout) -> Iterator[Cutout]:
    """Further from its end by half millimetres, as far as the board goes; then nearer to it."""
    most_mm = board.length_mm - cutout.length_mm
    for step in range(1, STEPS):
        at_mm = _by_halves(cutout.from_end_mm, step)
        if at_mm > most_mm:
            break
        yield replace(cutout, from_end_mm=at_mm)
    for step in range(1, STEPS):
        at_mm = _by_halves(cutout.from_end_mm, -step)
        if at_mm < 0:
            break
        yield replace(cutout, from_end_mm=at_mm)


def moved_across(board: Board, cutout: Cutout) -> Iterator[Cutout]:
    """Towards the middle of the board's width by half millimetres."""
    middle_mm = (board.width_mm - cutout.width_mm) / 2
    sign = 1 if middle_mm > cutout.from_edge_mm else -1
    for step in range(1, STEPS):
        at_mm = _by_halves(cutout.from_edge_mm, sign * step)
        if (at_mm - middle_mm) * sign > 0:
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
