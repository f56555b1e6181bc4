"""A box of four boards: which end meets which.

Going round a box seen from above, every board stands with its face edge down and its outside face outwards. Seen from
its own outside, each board's right end meets the left end of the next one round to the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, BoardEnd, End

LENGTH_TOLERANCE_MM = 0.5
"""Opposite boards of a box that differ by more than this can't close square; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxCorner:
    """One corner: the end that carries tails and the end that carries pins, and where it is."""

    where: str
    tails: BoardEnd
    pins: BoardEnd


def box_corners(*, tails: Sequence[Board], pins: Sequence[Board]) -> tuple[BoxCorner, ...]:
    """The four corners of a box: front left, front right, back right, back left.

    `tails` are the left and the right board (the sides, usually), `pins` the front and the back; the same board given
    twice stands for a pair of equal ones. Raises LayoutError when opposite boards differ in length.
    """
    (left, right), (front, back) = tails, pins
    for one, other in ((left, right), (front, back)):
        if abs(one.length_mm - other.length_mm) > LENGTH_TOLERANCE_MM:
            raise LayoutError(
                f"{one.name} is {one.length_mm:g} mm long and {other.name} opposite it {other.length_mm:g} mm",
                remedy="a box needs equal lengths opposite each other",
            )
    sides = ("left", "right") if left == right else ("", "")
    ends = ("front", "back") if front == back else ("", "")
    rows = (
        ("front left", (left, sides[0], End.RIGHT), (front, ends[0], End.LEFT)),
        ("front right", (right, sides[1], End.LEFT), (front, ends[0], End.RIGHT)),
        ("back right", (right, sides[1], End.RIGHT), (back, ends[1], End.LEFT)),
        ("back left", (left, sides[0], End.LEFT), (back, ends[1], End.RIGHT)),
    )

    def board_end(board: Board, instance: str, end: End) -> BoardEnd:
        return BoardEnd(board=board, end=end, instance=instance)

    return tuple(BoxCorner(where=where, tails=board_end(*tails), pins=board_end(*pins)) for where, tails, pins in rows)
