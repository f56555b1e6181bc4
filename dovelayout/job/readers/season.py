"""From [[across]] and [[panel]] tables to parts: boards looked up, what was left open filled in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.across import Across, AcrossKind, Lie, Meets, Tongue
from dovelayout.casework.panel import Panel
from dovelayout.job.places import Here, each_once
from dovelayout.job.readers.boards import Boards
from dovelayout.job.tables.season import AcrossTable, PanelTable
from dovelayout.joints.board import Board
from dovelayout.joints.spacing import Span


def read_across(tables: Sequence[AcrossTable], boards: Boards, here: Here) -> Iterator[Across]:
    """The parts across hosts. Raises JobError."""
    for table, place in each_once(tables, "across", here, called="part"):
        part, host = boards.named(table.part, place.at("part")), boards.named(table.host, place.at("host"))
        if part.name == host.name:
            raise place.error(f"board {part.name!r} can't lie across itself", "name another board")
        with place.reading():
            found = _across(table, part, host)
        yield found


def _across(table: AcrossTable, part: Board, host: Board) -> Across:
    along = table.kind is AcrossKind.NEIGHBOUR if table.grain is None else table.grain is Lie.ALONG
    shared_mm = min(part.width_mm, host.width_mm) if along else part.length_mm
    length_mm = shared_mm if table.length is None else table.length
    meets = table.meets or (Meets.BOTH if table.kind.between_ends else Meets.NOTHING)
    everywhere = table.glue is None or (table.kind is AcrossKind.NEIGHBOUR and not table.glue)
    return Across(
        name=table.name,
        kind=table.kind,
        part=part,
        host=host,
        from_mm=table.start,
        length_mm=length_mm,
        rear_stop_mm=host.width_mm if table.rear_stop is None else table.rear_stop,
        along=along,
        glue=(Span(table.start, table.start + length_mm),) if everywhere else table.glue or (),
        screws_mm=table.screws,
        slots=tuple(slot.value() for slot in table.slots),
        meets_front=meets in (Meets.FRONT, Meets.BOTH),
        meets_rear=meets in (Meets.REAR, Meets.BOTH),
        tongue=table.tongue or Tongue.TENONS,
    )


def read_panels(tables: Sequence[PanelTable], boards: Boards, here: Here) -> Iterator[Panel]:
    """The panels. Raises JobError."""
    for table, place in each_once(tables, "panel", here):
        yield Panel(
            name=table.name,
            board=boards.named(table.board, place.at("board")),
            groove_mm=table.groove,
            play_mm=table.play,
            glued=table.glued,
            clearance_mm=table.clearance,
            pieces=table.pieces,
            frame=None if table.frame is None else boards.named(table.frame, place.at("frame")),
        )
