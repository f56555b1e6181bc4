"""From [[wood]] and [[board]] tables to boards, and the board that a name in another table means."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from dovelayout.errors import DovelayoutError
from dovelayout.job.places import Here, each_once, nearest
from dovelayout.job.tables.board import BoardTable, WoodTable
from dovelayout.joints.board import Board, Cutout, End, When
from dovelayout.joints.corner import CornerJoint
from dovelayout.wood.species import Wood, WoodKind, find_wood, maker_wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Boards:
    """The boards of a job, to be looked up by name."""

    by_name: Mapping[str, Board]

    def named(self, name: str, here: Here) -> Board:
        """The board of that name. Raises JobError."""
        if name in self.by_name:
            return self.by_name[name]
        known = ", ".join(map(repr, self.by_name))
        otherwise = f"the boards are {known}" if known else "add a [[board]] of that name"
        raise here.error(f"there is no board {name!r}", nearest(name, self.by_name, otherwise))

    def end_of(self, text: str, here: Here) -> tuple[Board, End | None]:
        """'side.left' -> the board and the end; 'side' leaves the end open. Raises JobError.

        A board whose ends have names of their own is read by these and by left and right alike.
        """
        name, dot, end = text.rpartition(".")
        if text in self.by_name or not dot:
            return self.named(text, here), None
        if name in self.by_name:
            board = self.by_name[name]
            if found := board.end_named(end):
                return board, found
            raise here.error(f"{text!r} names no end", " or ".join(f"{name}.{known}" for known in board.end_names))
        return self.named(name if end in set(End) else text, here), None


def read_woods(tables: Sequence[WoodTable], here: Here) -> dict[str, Wood]:
    """The woods of the maker's own. Raises JobError."""
    woods: dict[str, Wood] = {}
    for entry, place in each_once(tables, "wood", here):
        known = entry.model_dump(exclude={"name", "kind", "notes", "sg"}, exclude_none=True)
        if entry.sg is not None:
            known["sg_12"] = entry.sg
        try:
            woods[entry.name] = maker_wood(name=entry.name, kind=WoodKind(entry.kind), notes=entry.notes, **known)
        except DovelayoutError as fault:
            raise place.error(str(fault), "give it a name with letters in it") from None
    return woods


def read_boards(tables: Sequence[BoardTable], woods: Mapping[str, Wood], here: Here) -> Boards:
    """The boards, in the order of the job; `woods` are those that it names itself. Raises JobError."""
    boards: dict[str, Board] = {}
    for entry, place in each_once(tables, "board", here):
        with place.at("species").reading():
            wood = find_wood(entry.species, own=woods)
        board = Board(
            name=entry.name,
            wood=wood,
            length_mm=entry.length,
            width_mm=entry.width,
            thickness_mm=entry.thickness,
            rings=entry.rings,
            grain=entry.grain,
            runout_ratio=entry.runout,
            out_of_square_mm=entry.out_of_square,
            count=entry.count,
            moisture_pct=entry.moisture,
            end_names=entry.ends,
        )
        boards[entry.name] = replace(board, cutouts=tuple(_cutouts(entry, board, place)))
    return Boards(by_name=boards)


def _cutouts(table: BoardTable, board: Board, here: Here) -> Iterator[Cutout]:
    """The cut-outs of a board. Raises JobError for one that leaves it."""
    for number, entry in enumerate(table.cutout, 1):
        place = here.at(f"cutout.{number}")
        depth_mm = board.thickness_mm if entry.depth is None else entry.depth
        for what, far_mm, most_mm in (
            ("from_end + length", entry.from_end + entry.length, board.length_mm),
            ("from_edge + width", entry.from_edge + entry.width, board.width_mm),
        ):
            if far_mm > most_mm + 1e-6:
                raise place.error(
                    f"{what} is {far_mm:g} mm and the board has {most_mm:g} mm", f"{most_mm:g} mm is the most"
                )
        if depth_mm > board.thickness_mm + 1e-6:
            raise place.error(
                f"{depth_mm:g} mm deep and the board is {board.thickness_mm:g} mm thick",
                "leave depth out where it goes right through",
            )
        end = board.end_named(entry.end)
        if end is None:
            raise place.at("end").error(f"{entry.end!r} names no end", " or ".join(board.end_names))
        yield Cutout(
            from_end_mm=entry.from_end,
            from_edge_mm=entry.from_edge,
            length_mm=entry.length,
            width_mm=entry.width,
            depth_mm=min(depth_mm, board.thickness_mm),
            end=end,
            cut_after=entry.cut is When.AFTER,
        )


def counted(boards: Iterable[Board], joints: Sequence[CornerJoint]) -> Iterator[Board]:
    """The boards with at least as many of each as the corners need: a pair of a box is two, whatever count says."""
    for board in boards:
        ends = {end.instance for joint in joints for end in (joint.spec.tails, joint.spec.pins) if end.board == board}
        yield replace(board, count=max(board.count, len(ends)))
