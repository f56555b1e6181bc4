"""cutout = { ... } on a [[board]]: openings and channels, one or a list of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, Protocol

from dovelayout.job.places import ErrorAt
from dovelayout.job.tables.fields import Across, Position, Table, Thick
from dovelayout.joints.board import Cutout, End
from dovelayout.place import Place

MOST_CUTOUTS = 50


class CutoutTable(Table):
    """cutout = { from_end = ..., from_edge = ..., length = ..., width = ..., depth = ... }; without a depth it goes
    right through. `end` is the end that `from_end` is measured from, `cut` whether it is there at the glue-up."""

    from_end: Position
    from_edge: Position
    length: Across
    width: Across
    depth: Thick | None = None
    end: Literal["left", "right"] = "left"
    cut: Literal["before", "after"] = "before"


def one_or_more(value: Any) -> Any:
    """A single table stands for a list of one."""
    return [value] if isinstance(value, dict) else value


class WithCutouts(Protocol):
    """What is asked of a board's table."""

    @property
    def name(self) -> str: ...
    @property
    def length(self) -> float: ...
    @property
    def width(self) -> float: ...
    @property
    def thickness(self) -> float: ...
    @property
    def cutout(self) -> tuple[CutoutTable, ...]: ...


def read_cutouts(board: WithCutouts, error: ErrorAt) -> Iterator[Cutout]:
    """The cut-outs of a board. Raises JobError for one that leaves it."""
    length_mm, width_mm, thickness_mm = board.length, board.width, board.thickness
    for number, table in enumerate(board.cutout, 1):
        here = Place(kind="board", name=board.name, key=f"cutout.{number}")
        for what, far_mm, most_mm in (
            ("from_end + length", table.from_end + table.length, length_mm),
            ("from_edge + width", table.from_edge + table.width, width_mm),
        ):
            if far_mm > most_mm + 1e-6:
                raise error(
                    here, f"{what} is {far_mm:g} mm and the board has {most_mm:g} mm", f"{most_mm:g} mm is the most"
                )
        depth_mm = thickness_mm if table.depth is None else table.depth
        if depth_mm > thickness_mm + 1e-6:
            raise error(
                here,
                f"{depth_mm:g} mm deep and the board is {thickness_mm:g} mm thick",
                "leave depth out where it goes right through",
            )
        yield Cutout(
            from_end_mm=table.from_end,
            from_edge_mm=table.from_edge,
            length_mm=table.length,
            width_mm=table.width,
            depth_mm=min(depth_mm, thickness_mm),
            end=End(table.end),
            cut_after=table.cut == "after",
        )
