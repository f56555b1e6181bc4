"""From [[divider]] tables to dividers: hosts and keys looked up, what was left open filled in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider, build_divider
from dovelayout.job.places import Here, each_once
from dovelayout.job.readers.boards import Boards
from dovelayout.job.tables.fields import spec_values
from dovelayout.job.tables.joint import DividerTable
from dovelayout.joints.board import BoardEnd, End
from dovelayout.joints.keys import SLIDING_KEYS
from dovelayout.joints.sliding import DEFAULT_SLOPE, SlidingSpec


def read_dividers(tables: Sequence[DividerTable], boards: Boards, here: Here) -> Iterator[Divider]:
    """The dividers of a job. Raises JobError."""
    for table, place in each_once(tables, "divider", here):
        yield _divider(table, boards, place)


def _divider(table: DividerTable, boards: Boards, here: Here) -> Divider:
    hosts = []
    for text in table.host:
        board, end = boards.end_of(text, here.at("host"))
        if end is None:
            raise here.at("host").error(
                f"{text!r} doesn't say from which end 'at' is measured",
                " or ".join(f"{board.name}.{name}" for name in board.end_names),
            )
        hosts.append(BoardEnd(board=board, end=end))
    key, key_end = boards.end_of(table.key, here.at("key"))
    if key.name in {host.board.name for host in hosts}:
        raise here.error(f"board {key.name!r} can't slide into itself", "name another board")
    first = key_end or End.LEFT
    ends = [first, first.opposite][: len(hosts)]
    with here.reading():
        spec = _spec(table, hosts[0], BoardEnd(board=key, end=first))
        return build_divider(spec, hosts=hosts, key_ends=ends)


def _spec(table: DividerTable, host: BoardEnd, key: BoardEnd) -> SlidingSpec:
    values = {**spec_values(table, SLIDING_KEYS), "host": host, "key": key}
    proposed = {
        # a third of the host where the job says nothing (common practice, no source), as a rule can be set to
        "depth_mm": round(host.board.thickness_mm / 3, 1),
        "slope": DEFAULT_SLOPE if values["bit"] is None else values["bit"].slope,
        # a key that stands back takes its housing with it: a through one would show in front of the key
        "stop_mm": table.set_back,
    }
    proposed = {field: value for field, value in proposed.items() if values[field] is None}
    return SlidingSpec(name=table.name, origin=("divider", table.name), **{**values, **proposed})
