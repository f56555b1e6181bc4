"""From [[wood]] and [[board]] tables to boards, and the board that a name in another table means."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from dovelayout.errors import DovelayoutError
from dovelayout.job.places import ErrorAt, each_once, told
from dovelayout.job.tables.cutout import read_cutouts
from dovelayout.job.tables.schema import BoardTable, WoodTable
from dovelayout.joints.board import Board, End, Grain, Rings
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place
from dovelayout.wood.species import Wood, WoodKind, find_wood, maker_wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Boards:
    """The boards of a job, to be looked up by name."""

    by_name: Mapping[str, Board]
    error: ErrorAt

    def named(self, name: str, place: Place) -> Board:
        """The board of that name. Raises JobError."""
        if name in self.by_name:
            return self.by_name[name]
        near = difflib.get_close_matches(name, self.by_name, 1, 0.5)
        if near:
            remedy = f"did you mean {near[0]!r}?"
        elif self.by_name:
            remedy = f"the boards are {', '.join(map(repr, self.by_name))}"
        else:
            remedy = "add a [[board]] of that name"
        raise self.error(place, f"there is no board {name!r}", remedy)

    def end_of(self, text: str, place: Place) -> tuple[Board, End | None]:
        """'side.left' -> the board and the end; 'side' leaves the end open. Raises JobError."""
        if text in self.by_name:
            return self.by_name[text], None
        name, dot, end = text.rpartition(".")
        if dot and name in self.by_name and end not in set(End):
            raise self.error(place, f"{text!r} names no end", f"{name}.left or {name}.right")
        if dot and end in set(End):
            return self.named(name, place), End(end)
        return self.named(text, place), None


def read_woods(tables: Sequence[WoodTable], *, error: ErrorAt) -> dict[str, Wood]:
    """The woods of the maker's own. Raises JobError."""
    woods: dict[str, Wood] = {}
    for entry, place in each_once(tables, "wood", error):
        known = entry.model_dump(exclude={"name", "kind", "notes", "sg"}, exclude_none=True)
        if entry.sg is not None:
            known["sg_12"] = entry.sg
        try:
            wood = maker_wood(name=entry.name, kind=WoodKind(entry.kind), notes=entry.notes, **known)
        except DovelayoutError as fault:
            raise error(place, str(fault), "give it a name with letters in it") from None
        woods[entry.name] = wood
    return woods


def read_boards(tables: Sequence[BoardTable], *, woods: Mapping[str, Wood], error: ErrorAt) -> Boards:
    """The boards, in the order of the job; `woods` are those that it names itself. Raises JobError."""
    boards: dict[str, Board] = {}
    for entry, place in each_once(tables, "board", error):
        try:
            wood = find_wood(entry.species, own=woods)
        except DovelayoutError as fault:
            raise told(fault, place.at(key="species"), error) from None
        boards[entry.name] = Board(
            name=entry.name,
            wood=wood,
            length_mm=entry.length,
            width_mm=entry.width,
            thickness_mm=entry.thickness,
            rings=Rings(entry.rings),
            grain=Grain(entry.grain),
            runout_ratio=entry.runout,
            out_of_square_mm=entry.out_of_square,
            count=entry.count,
            moisture_pct=entry.moisture,
            cutouts=tuple(read_cutouts(entry, error)),
        )
    return Boards(by_name=boards, error=error)


def counted(boards: Iterable[Board], joints: Sequence[CornerJoint]) -> Iterator[Board]:
    """The boards with at least as many of each as the corners need: a pair of a box is two, whatever count says."""
    for board in boards:
        ends = {end.instance for joint in joints for end in (joint.spec.tails, joint.spec.pins) if end.board == board}
        yield replace(board, count=max(board.count, len(ends)))
