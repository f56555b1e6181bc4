"""From [[across]] and [[panel]] tables to parts: boards looked up, what was left open filled in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from dovelayout.casework.across import Across, AcrossKind, Slot, Tongue
from dovelayout.casework.panel import Panel
from dovelayout.errors import LayoutError
from dovelayout.job.places import ErrorAt, each_once, told
from dovelayout.job.tables.season import AcrossTable, HomeTable, PanelTable
from dovelayout.joints.board import Board
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.shop import Home

BoardOf = Callable[[str, Place], Board]
"""(name, place) -> the board of that name."""


def read_home(table: HomeTable | None) -> Home | None:
    """The air of the room a piece goes to."""
    return None if table is None else Home(humidity_pct=table.humidity, temperature_c=table.temperature)


def read_across(tables: Sequence[AcrossTable], *, board_of: BoardOf, error: ErrorAt) -> Iterator[Across]:
    """The parts across hosts. Raises JobError."""
    for table, place in each_once(tables, "across", error, called="part"):
        part, host = board_of(table.part, place.at(key="part")), board_of(table.host, place.at(key="host"))
        if part.name == host.name:
            raise error(place, f"board {part.name!r} can't lie across itself", "name another board")
        try:
            yield _across(table, part, host)
        except LayoutError as fault:
            raise told(fault, place, error) from None


def _across(table: AcrossTable, part: Board, host: Board) -> Across:
    along = table.kind is AcrossKind.NEIGHBOUR if table.grain is None else table.grain == "along"
    over_mm = min(part.width_mm, host.width_mm) if along else part.length_mm
    length_mm = over_mm if table.length is None else table.length
    rear_stop_mm = host.width_mm if table.rear_stop is None else table.rear_stop
    meets = table.meets or ("both" if table.kind.between_ends else "nothing")
    end_mm = table.start + length_mm
    everywhere = table.glue is None or (table.kind is AcrossKind.NEIGHBOUR and not table.glue)
    pairs = ((table.start, end_mm),) if everywhere else table.glue or ()
    return Across(
        name=table.name,
        kind=table.kind,
        part=part,
        host=host,
        from_mm=table.start,
        length_mm=length_mm,
        rear_stop_mm=rear_stop_mm,
        along=along,
        glue=tuple(Span(*pair) for pair in pairs),
        screws_mm=table.screws,
        slots=tuple(Slot(at_mm=slot.at, play_mm=slot.play) for slot in table.slots),
        meets_front=meets in ("front", "both"),
        meets_rear=meets in ("rear", "both"),
        tongue=Tongue(table.tongue or "tenons"),
    )


def read_panels(tables: Sequence[PanelTable], *, board_of: BoardOf, error: ErrorAt) -> Iterator[Panel]:
    """The panels. Raises JobError."""
    for table, place in each_once(tables, "panel", error):
        board = board_of(table.board, place.at(key="board"))
        yield Panel(
            name=table.name,
            board=board,
            groove_mm=table.groove,
            play_mm=table.play,
            glued=table.glued,
            clearance_mm=table.clearance,
            pieces=table.pieces,
            frame=None if table.frame is None else board_of(table.frame, place.at(key="frame")),
        )
