"""From [[corner]] and [[box]] tables to joints: boards and ends looked up, the joint worked out."""

from __future__ import annotations

import itertools
import string
from collections.abc import Iterator
from typing import Any

from dovelayout.casework.box import box_corners
from dovelayout.errors import JobError
from dovelayout.job.places import Here, each_once
from dovelayout.job.readers.boards import Boards
from dovelayout.job.tables.fields import spec_values
from dovelayout.job.tables.joint import BoxTable, CornerTable, LayoutTable
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.keys import CORNER_KEYS
from dovelayout.joints.spacing import KERF_MM, Spacing
from dovelayout.joints.spec import CornerSpec


def read_corners(table: JobTable, boards: Boards, here: Here) -> Iterator[CornerJoint]:
    """The joints of a job, those of boxes after the single ones. Raises JobError."""
    kerf_mm = table.shop.kerf or KERF_MM
    for corner, place in each_once(table.corner, "corner", here):
        yield _single(corner, boards, kerf_mm, place)
    named = {corner.name for corner in table.corner}
    free = (letter for letter in _letters() if letter not in named)
    for box, place in each_once(table.box, "box", here):
        yield from _of_box(box, boards, kerf_mm, place, free=free)


def _letters() -> Iterator[str]:
    """Names for corners that the job gives none: A, B ... Z, AA, AB ... ZZ, Z1, Z2 ..."""
    alphabet = string.ascii_uppercase
    yield from alphabet
    yield from map("".join, itertools.product(alphabet, alphabet))
    yield from (f"Z{number}" for number in itertools.count(1))


def _single(corner: CornerTable, boards: Boards, kerf_mm: float, here: Here) -> CornerJoint:
    tail_board, tail_end = boards.end_of(corner.tails, here.at("tails"))
    pin_board, pin_end = boards.end_of(corner.pins, here.at("pins"))
    if tail_board.name == pin_board.name and tail_board.count == 1:
        raise here.error(
            f"board {tail_board.name!r} can't meet itself", "name two boards, or say count = 2 where they are a pair"
        )
    tail_end = tail_end or (pin_end.opposite if pin_end else End.LEFT)
    pin_end = pin_end or tail_end.opposite
    ends = BoardEnd(board=tail_board, end=tail_end), BoardEnd(board=pin_board, end=pin_end)
    if pin_end is tail_end:
        both = " and ".join(end.of_board for end in ends)
        raise here.error(
            f"{both} can't meet with both outside faces out and both face edges down",
            f"{pin_board.name}.{pin_board.end_name(tail_end.opposite)} would meet the first",
        )
    return _joint(corner, ends, kerf_mm, here, name=corner.name, origin=("corner", corner.name))


def _of_box(box: BoxTable, boards: Boards, kerf_mm: float, here: Here, *, free: Iterator[str]) -> Iterator[CornerJoint]:
    def pair(key: str) -> tuple[Board, Board]:
        names = getattr(box, key)
        return boards.named(names[0], here.at(key)), boards.named(names[-1], here.at(key))

    tails, pins = pair("tails"), pair("pins")
    both = {board.name for board in tails} & {board.name for board in pins}
    if both:
        raise here.error(f"board {min(both)!r} can't carry both tails and pins of one box", "name another board")
    with here.reading():
        corners = box_corners(tails=tails, pins=pins)
    for corner in corners:
        yield _joint(box, (corner.tails, corner.pins), kerf_mm, here, name=next(free), origin=("box", box.name))


def _joint(
    layout: LayoutTable, ends: tuple[BoardEnd, BoardEnd], kerf_mm: float, here: Here, **named: Any
) -> CornerJoint:
    tails, pins = ends
    values = {**spec_values(layout, CORNER_KEYS), **named, "tails": tails, "pins": pins}
    if values["pin_mm"] is None and layout.tails_at is None and layout.spacing is Spacing.KERF_PINS:
        values["pin_mm"] = kerf_mm
    _check_groove(values["groove"], tails.board, here)
    with here.reading():
        joint = KINDS[layout.joint].worked_out(CornerSpec(**values))
    if layout.groove is not None:  # the faces of hundreds of tails are work that is wanted later, if at all
        groove = joint.end_faces()[1].groove
        if groove is not None and groove.depth_mm >= pins.board.thickness_mm:
            raise _through(groove, pins.board, here)
    return joint


def _check_groove(groove: Groove | None, board: Board, here: Here) -> None:
    if groove is None:
        return
    if groove.far_mm > board.width_mm:
        raise here.at("groove").error(
            f"it reaches {groove.far_mm:g} mm from the face edge, and {board.name} is {board.width_mm:g} mm wide",
            "move it nearer to the face edge",
        )
    if groove.depth_mm >= board.thickness_mm:
        raise _through(groove, board, here)


def _through(groove: Groove, board: Board, here: Here) -> JobError:
    return here.at("groove").error(
        f"{groove.depth_mm:g} mm deep goes through {board.name}, {board.thickness_mm:g} mm thick",
        f"{board.thickness_mm / 3:.1f} mm is a third of it",
    )
