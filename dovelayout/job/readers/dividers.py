"""From [[divider]] tables to dividers: hosts and keys looked up, what was left open filled in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from dovelayout.casework.divider import Divider, build_divider
from dovelayout.errors import LayoutError
from dovelayout.job.places import ErrorAt, each_once, told
from dovelayout.job.tables.divider import DividerTable
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.face import FaceName
from dovelayout.joints.sliding import DEFAULT_SLOPE, SLIP_MM, Bit, Cheek, Datum, SlidingSpec, Sloped
from dovelayout.joints.slope import Slope
from dovelayout.place import Place

EndOf = Callable[[str, Place], tuple[Board, End | None]]
"""(text, place) -> the board and the end that a text such as 'side.left' names."""


def read_dividers(tables: Sequence[DividerTable], *, end_of: EndOf, error: ErrorAt) -> Iterator[Divider]:
    """The dividers of a job. Raises JobError."""
    for table, place in each_once(tables, "divider", error):
        yield _divider(table, place, end_of, error)


def _divider(table: DividerTable, place: Place, end_of: EndOf, error: ErrorAt) -> Divider:
    texts = (table.host,) if isinstance(table.host, str) else tuple(table.host)
    hosts = []
    for text in texts:
        board, end = end_of(text, place.at(key="host"))
        if end is None:
            raise error(
                place.at(key="host"),
                f"{text!r} doesn't say from which end 'at' is measured",
                f"{board.name}.left or {board.name}.right",
            )
        hosts.append(BoardEnd(board=board, end=end))
    key, key_end = end_of(table.key, place.at(key="key"))
    if key.name in {host.board.name for host in hosts}:
        raise error(place, f"board {key.name!r} can't slide into itself", "name another board")
    ends = [key_end or End.LEFT]
    if len(hosts) == 2:
        ends.append(ends[0].opposite)
    spec = _spec(table, hosts[0], BoardEnd(board=key, end=ends[0]))
    try:
        return build_divider(spec, hosts=hosts, key_ends=ends)
    except LayoutError as fault:
        raise told(fault, place, error) from None


def _spec(table: DividerTable, host: BoardEnd, key: BoardEnd) -> SlidingSpec:
    bit = None
    if table.bit is not None:
        bit = Bit(diameter_mm=table.bit.diameter, slope=Slope(table.bit.angle), ploughed_first=table.bit.plough_first)
    slope = DEFAULT_SLOPE if bit is None else bit.slope
    return SlidingSpec(
        name=table.name,
        host=host,
        key=key,
        at_mm=table.at,
        # a third of the host where the job says nothing (common practice, no source), as a rule can be set to
        depth_mm=round(host.board.thickness_mm / 3, 1) if table.depth is None else table.depth,
        measured_to=Datum(table.measured_to),
        face=FaceName.INSIDE if table.face == "inside" else FaceName.OUTSIDE,
        wide_mm=table.wide,
        sloped=Sloped(table.cheeks),
        slope=slope if table.slope is None else Slope(table.slope),
        taper_ratio=table.taper,
        taper_on=None if table.taper_on is None else Cheek(table.taper_on),
        # a key that stands back takes its housing with it: a through one would show in front of the key
        stop_mm=table.set_back if table.stop is None else table.stop,
        set_back_mm=table.set_back,
        slip_mm=SLIP_MM if table.slip is None else table.slip,
        clearance_mm=table.clearance,
        glue_zone_mm=table.glue_zone,
        cup_mm=table.cup,
        bit=bit,
        origin=("divider", table.name),
    )
