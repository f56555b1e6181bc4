"""From a job file to a Job: boards, corners and joints in mm, or one JobError that names file, place and remedy."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from dovelayout.casework.across import Across
from dovelayout.casework.box import box_corners
from dovelayout.casework.divider import Divider
from dovelayout.casework.drawer import Drawer
from dovelayout.casework.glueup import NO_WISHES, GlueUpWishes
from dovelayout.casework.panel import Panel
from dovelayout.errors import DovelayoutError, JobError, LayoutError
from dovelayout.job.cutout_table import read_cutouts
from dovelayout.job.dividers import read_dividers
from dovelayout.job.drawers import read_drawers
from dovelayout.job.glue_table import read_glue
from dovelayout.job.glueup_tables import read_wishes
from dovelayout.job.letters import letters
from dovelayout.job.limits import check_totals, few_enough
from dovelayout.job.schema import TABLES, BoxTable, CornerTable, JobTable, LayoutTable
from dovelayout.job.season import read_across, read_home, read_panels
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Grain, Groove, Rings
from dovelayout.joints.cant import SQUARE, Cant
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import KERF_MM, Spacing, Span
from dovelayout.paper import Paper, paper, sized
from dovelayout.shop import KNIFE_MM, Shop
from dovelayout.units import Unit
from dovelayout.wood.species import Wood, WoodKind, find_wood, maker_wood

MOST_BYTES = 1_000_000
DEFAULT_SLOPE = Slope(7.0)
"""Where the job gives none: 1:7, the usual one for drawers and show work (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job, read and worked out. Everything is in mm; `unit` is only what the maker thinks in."""

    title: str
    unit: Unit
    shop: Shop
    paper: Paper
    boards: tuple[Board, ...]
    joints: tuple[CornerJoint, ...]
    source: str
    dividers: tuple[Divider, ...] = ()
    drawers: tuple[Drawer, ...] = ()
    across: tuple[Across, ...] = ()
    panels: tuple[Panel, ...] = ()
    glueup: GlueUpWishes = NO_WISHES
    nest: bool = True


def read_job(path: Path) -> Job:
    """Reads a job file. Raises JobError."""
    return load_job(_parsed(path), source=str(path), stem=path.stem)


def _parsed(path: Path) -> dict[str, Any]:
    def refuse(problem: str, remedy: str) -> JobError:
        return JobError(file=str(path), place="", problem=problem, remedy=remedy)

    try:
        if path.is_dir():
            raise refuse("is a directory", "name a job file (.toml) in it")
        if not path.is_file():
            raise refuse("there is no such file", "check the name, or start one with 'dovelayout new -o FILE'")
        if path.stat().st_size > MOST_BYTES:
            raise refuse("is larger than 1 MB", "a job file is a few kB of text; is it the right file?")
        raw = path.read_bytes()
    except OSError as error:
        raise refuse(f"can't be read ({error.strerror})", "check its name and permissions") from None
    except ValueError:
        raise refuse("is not a file name", "check the name") from None
    return parsed(raw, source=str(path))


def parsed(raw: bytes, *, source: str) -> dict[str, Any]:
    """The tables of a job file's bytes. Raises JobError."""

    def refuse(problem: str, remedy: str) -> JobError:
        return JobError(file=source, place="", problem=problem, remedy=remedy)

    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise JobError(
            file=source, place=f"line {line}", problem="is not UTF-8 text", remedy="save the file as UTF-8"
        ) from None
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refuse(f"is not valid TOML: {error}", "texts stand in quotes, keys as key = value") from None
    except ValueError:
        # tomllib lets Python's refusal of numbers of thousands of digits through as it is
        raise refuse("holds a number of thousands of digits", "write the number as measured") from None
    except RecursionError:
        raise refuse("is nested too deeply", "a job has tables and lists, not deeper") from None


def load_job(data: Mapping[str, Any], *, source: str, stem: str = "job") -> Job:
    """A job from its parsed tables. Raises JobError; `source` is the file it names."""
    units = data.get("units")
    unit = Unit(units) if isinstance(units, str) and units in set(Unit) else Unit.MM
    try:
        table = JobTable.model_validate(dict(data), context={"unit": unit})
    except ValidationError as error:
        raise _first(error, data, source) from None
    return _Loader(table, source, stem, unit).job()


def _first(error: ValidationError, data: Mapping[str, Any], source: str) -> JobError:
    """The first fault in the maker's own terms; how many more there are is said as well."""
    faults = error.errors(include_url=False)
    fault = faults[0]
    more = f" (and {len(faults) - 1} more to mend after it)" if len(faults) > 1 else ""
    place = _place(fault["loc"], data)
    problem, remedy = _words(fault)
    return JobError(file=source, place=place, problem=problem, remedy=remedy + more)


def _place(loc: Sequence[int | str], data: Mapping[str, Any]) -> str:
    """('corner', 0, 'tail_count') -> "corner 'A', key tail_count"."""
    if not loc:
        return ""
    head = str(loc[0])
    rest = list(loc[1:])
    said = head
    if rest and isinstance(rest[0], int):
        rows = data.get(head)
        row = rows[rest[0]] if isinstance(rows, list) and rest[0] < len(rows) else None
        name = row.get("name") if isinstance(row, dict) else None
        said = f"{head} {name!r}" if isinstance(name, str) else f"{head} number {rest[0] + 1}"
        rest = rest[1:]
    elif not rest:
        return f"key {head}"
    keys = [str(key) for key in rest if not str(key).startswith(("tuple[", "function-", "constrained-"))]
    keys = [f"number {int(key) + 1}" if key.isdigit() else key for key in keys if key != "str"]
    return f"{said}, key {' '.join(keys)}" if keys else said


def _words(fault: Any) -> tuple[str, str]:
    kind, loc, value = fault["type"], fault["loc"], fault["input"]
    said = str(fault["msg"]).removeprefix("Value error, ")
    context = fault.get("ctx", {})
    match kind:
        case "extra_forbidden":
            known = [field.alias or name for name, field in _model_at(loc).model_fields.items()]
            key = str(loc[-1])
            near = difflib.get_close_matches(key, known, 1, 0.5)
            remedy = f"did you mean {near[0]}?" if near else f"known keys: {', '.join(known)}"
            return "this key is not known", remedy
        case "missing" if isinstance(loc[-1], int):
            return "is missing", f"a list of {loc[-1] + 1} is wanted"
        case "missing":
            return "is missing", f"add {loc[-1]} = ..."
        case "value_error":
            problem, _, remedy = said.partition("; ")
            return problem, remedy
        case "literal_error":
            return f"{_shown(value)} is not known", f"one of {context.get('expected', '')}"
        case "too_long" | "string_too_long":
            return "is too long", f"{context.get('max_length')} is the most"
        case "string_too_short" | "too_short":
            return "is empty", "give it a text"
        case "string_type":
            return f"a text in quotes is wanted, not {_shown(value)}", ""
        case "int_type":
            return f"a whole number is wanted, not {_shown(value)}", ""
        case "tuple_type" | "list_type" if len(loc) == 1:
            return f"a list of tables is wanted, not {_shown(value)}", f"each begins with [[{loc[0]}]]"
        case "tuple_type" | "list_type":
            return f"a list is wanted, not {_shown(value)}", "write [ ... ]"
        case "model_type" | "dict_type" | "model_attributes_type":
            return f"a table is wanted, not {_shown(value)}", "write { key = value } or a [table]"
        case _:
            limits = {"greater_than_equal": "ge", "less_than_equal": "le", "greater_than": "gt", "less_than": "lt"}
            if kind in limits:
                words = {"ge": "at least", "le": "at most", "gt": "more than", "lt": "less than"}[limits[kind]]
                return f"{_shown(value)} is out of range", f"{words} {context[limits[kind]]:g} would be right"
            return f"{_shown(value)} won't do: {said[:1].lower()}{said[1:]}", ""


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _model_at(loc: Sequence[int | str]) -> type[BaseModel]:
    """The model whose keys a place names: the innermost table on the way to it."""
    for key in reversed(loc[:-1]):
        if key in TABLES:
            return TABLES[str(key)]
    return JobTable


class _Loader:
    """Turns validated tables into boards and joints, saying where when something doesn't fit."""

    def __init__(self, table: JobTable, source: str, stem: str, unit: Unit) -> None:
        self._table = table
        self._source = source
        self._stem = stem
        self._unit = unit

    def _error(self, place: str, problem: str, remedy: str = "") -> JobError:
        return JobError(file=self._source, place=place, problem=problem, remedy=remedy)

    def job(self) -> Job:
        check_totals(self._table.board, self._table.across, self._error)
        woods = self._woods()
        boards = self._boards(woods)
        shop = self._shop()
        taken = boards.keys() | {corner.name for corner in self._table.corner}
        drawers = read_drawers(self._table, own=woods, shop=shop, unit=self._unit, error=self._error, taken=taken)
        joints = tuple(few_enough(chain(self._joints(boards), *(drawer.joints for drawer in drawers)), self._error))
        dividers = tuple(
            read_dividers(
                self._table.divider,
                end_of=lambda text, place: self._end(text, boards, place),
                error=self._error,
            )
        )

        def board_of(name: str, place: str) -> Board:
            return self._board(name, boards, place)

        across = tuple(read_across(self._table.across, board_of=board_of, error=self._error))
        panels = tuple(read_panels(self._table.panel, board_of=board_of, error=self._error))
        if not (joints or dividers or across or panels or drawers):
            known = "add a [[corner]], a [[box]], a [[drawer]] or a [[divider]]"
            raise self._error("", "there is nothing to lay out", known)
        return Job(
            title=self._table.title or self._stem,
            unit=self._unit,
            shop=shop,
            paper=self._paper(),
            boards=(
                *_counted(boards.values(), joints),
                *(part.board for drawer in drawers for part in drawer.parts),
            ),
            joints=joints,
            source=self._source,
            dividers=dividers,
            drawers=drawers,
            across=across,
            panels=panels,
            glueup=read_wishes(self._table, joints, dividers, self._error),
            nest=self._table.paper.nest,
        )

    def _shop(self) -> Shop:
        shop = self._table.shop
        return Shop(
            chisels_mm=tuple(sorted(shop.chisels)),
            knife_mm=KNIFE_MM if shop.knife is None else shop.knife,
            kerf_mm=shop.kerf,
            humidity_pct=shop.humidity,
            home=read_home(self._table.home),
            built_at_pct=shop.built_at,
            temperature_c=shop.temperature,
            glue=read_glue(shop.glue.strip(), self._table.glue, error=self._error),
            fit_mm=shop.fit,
            hands=shop.hands,
            hand=self._table.rehearsal.hand(),
        )

    def _paper(self) -> Paper:
        try:
            size, margin_mm = self._table.paper.size, self._table.paper.margin
            return sized(*size, margin_mm) if isinstance(size, tuple) else paper(size, margin_mm, unit=self._unit)
        except DovelayoutError as error:
            problem, _, remedy = str(error).partition("; ")
            raise self._error("paper, key size", problem, remedy) from None

    def _woods(self) -> dict[str, Wood]:
        woods: dict[str, Wood] = {}
        for entry in self._table.wood:
            if entry.name in woods:
                raise self._error(f"wood {entry.name!r}", "is there twice", "give each wood a name of its own")
            known = entry.model_dump(exclude={"name", "kind", "notes", "sg"}, exclude_none=True)
            if entry.sg is not None:
                known["sg_12"] = entry.sg
            try:
                wood = maker_wood(name=entry.name, kind=WoodKind(entry.kind), notes=entry.notes, **known)
            except DovelayoutError as error:
                raise self._error(f"wood {entry.name!r}", str(error), "give it a name with letters in it") from None
            woods[entry.name] = wood
        return woods

    def _boards(self, woods: Mapping[str, Wood]) -> dict[str, Board]:
        boards: dict[str, Board] = {}
        for entry in self._table.board:
            if entry.name in boards:
                raise self._error(f"board {entry.name!r}", "is there twice", "give each board a name of its own")
            try:
                wood = find_wood(entry.species, own=woods)
            except DovelayoutError as error:
                problem, _, remedy = str(error).partition("; ")
                raise self._error(f"board {entry.name!r}, key species", problem, remedy) from None
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
                cutouts=tuple(read_cutouts(entry, self._error)),
            )
        return boards

    def _joints(self, boards: Mapping[str, Board]) -> Iterator[CornerJoint]:
        names: set[str] = set()
        for corner in self._table.corner:
            place = f"corner {corner.name!r}"
            if corner.name in names:
                raise self._error(place, "is there twice", "give each corner a name of its own")
            names.add(corner.name)
            yield self._single(corner, boards, place)
        free = (letter for letter in letters() if letter not in names)
        boxes: set[str] = set()
        for box in self._table.box:
            place = f"box {box.name!r}"
            if box.name in boxes:
                raise self._error(place, "is there twice", "give each box a name of its own")
            boxes.add(box.name)
            yield from self._box(box, boards, place, free)

    def _board(self, name: str, boards: Mapping[str, Board], place: str) -> Board:
        if name in boards:
            return boards[name]
        near = difflib.get_close_matches(name, boards, 1, 0.5)
        if near:
            remedy = f"did you mean {near[0]!r}?"
        else:
            remedy = f"the boards are {', '.join(map(repr, boards))}" if boards else "add a [[board]] of that name"
        raise self._error(place, f"there is no board {name!r}", remedy)

    def _end(self, text: str, boards: Mapping[str, Board], place: str) -> tuple[Board, End | None]:
        """'side.left' -> the board and the end; 'side' leaves the end open."""
        if text in boards:
            return boards[text], None
        name, dot, end = text.rpartition(".")
        if dot and name in boards and end not in set(End):
            raise self._error(place, f"{text!r} names no end", f"{name}.left or {name}.right")
        if dot and end in set(End):
            return self._board(name, boards, place), End(end)
        return self._board(text, boards, place), None

    def _single(self, corner: CornerTable, boards: Mapping[str, Board], place: str) -> CornerJoint:
        tail_board, tail_end = self._end(corner.tails, boards, f"{place}, key tails")
        pin_board, pin_end = self._end(corner.pins, boards, f"{place}, key pins")
        if tail_board.name == pin_board.name and tail_board.count == 1:
            raise self._error(
                place,
                f"board {tail_board.name!r} can't meet itself",
                "name two boards, or say count = 2 where they are a pair",
            )
        tail_end = tail_end or (pin_end.opposite if pin_end else End.LEFT)
        pin_end = pin_end or tail_end.opposite
        if pin_end is tail_end:
            raise self._error(
                place,
                f"two {tail_end} ends can't meet with both outside faces out and both face edges down",
                f"{pin_board.name}.{tail_end.opposite} would meet {tail_board.name}.{tail_end}",
            )
        return self._build(
            corner,
            place,
            name=corner.name,
            tails=BoardEnd(board=tail_board, end=tail_end),
            pins=BoardEnd(board=pin_board, end=pin_end),
            origin=("corner", corner.name),
        )

    def _box(
        self, box: BoxTable, boards: Mapping[str, Board], place: str, letters: Iterator[str]
    ) -> Iterator[CornerJoint]:
        def pair(given: str | tuple[str, str], key: str) -> tuple[Board, Board]:
            one, other = (given, given) if isinstance(given, str) else given
            return (
                self._board(one, boards, f"{place}, key {key}"),
                self._board(other, boards, f"{place}, key {key}"),
            )

        tails, pins = pair(box.tails, "tails"), pair(box.pins, "pins")
        shared = {board.name for board in tails} & {board.name for board in pins}
        if shared:
            raise self._error(
                place, f"board {min(shared)!r} can't carry both tails and pins of one box", "name another board"
            )
        try:
            corners = box_corners(tails=tails, pins=pins)
        except LayoutError as error:
            problem, _, remedy = str(error).partition("; ")
            raise self._error(place, problem, remedy) from None
        for corner in corners:
            yield self._build(
                box,
                place,
                name=next(letters),
                tails=corner.tails,
                pins=corner.pins,
                origin=("box", box.name),
            )

    def _build(
        self,
        layout: LayoutTable,
        place: str,
        *,
        name: str,
        tails: BoardEnd,
        pins: BoardEnd,
        origin: tuple[str, str],
    ) -> CornerJoint:
        spec = CornerSpec(
            name=name,
            tails=tails,
            pins=pins,
            slope=DEFAULT_SLOPE if layout.slope is None else Slope(layout.slope),
            slope_given=layout.slope is not None,
            tail_count=layout.tail_count,
            pin_mm=self._pin_mm(layout),
            half_pin_mm=layout.half_pin,
            tails_at=None if layout.tails_at is None else tuple(Span(*pair) for pair in layout.tails_at),
            spacing=Spacing(layout.spacing),
            covers=None if layout.covers is None else Span(*layout.covers),
            proud_tails_mm=layout.proud.tails,
            proud_pins_mm=layout.proud.pins,
            groove=self._groove(layout, tails.board, place),
            lap_mm=layout.lap,
            lid=None if layout.lid is None else layout.lid.cut(),
            lip=None if layout.lip is None else layout.lip.lip(),
            mitre_face_edge_mm=layout.mitre.face_edge,
            mitre_far_edge_mm=layout.mitre.far_edge,
            cant=Cant(layout.angle) if isinstance(layout, CornerTable) else SQUARE,
            origin=origin,
        )
        try:
            joint = KINDS[layout.joint](spec)
        except LayoutError as error:
            problem, _, remedy = str(error).partition("; ")
            raise self._error(place, problem, remedy) from None
        if spec.groove is not None:  # the faces of hundreds of tails are work that is wanted later, if at all
            groove, thickness_mm = joint.end_faces()[1].groove, pins.board.thickness_mm
            if groove is not None and groove.depth_mm >= thickness_mm:
                raise self._through(groove, pins.board, place)
        return joint

    def _through(self, groove: Groove, board: Board, place: str) -> JobError:
        return self._error(
            f"{place}, key groove",
            f"{groove.depth_mm:g} mm deep goes through {board.name}, {board.thickness_mm:g} mm thick",
            f"{board.thickness_mm / 3:.1f} mm is a third of it",
        )

    def _pin_mm(self, layout: LayoutTable) -> float | None:
        """The pins' narrow width: the saw's kerf where kerf pins are asked for and nothing else is said."""
        if layout.pin is None and layout.tails_at is None and Spacing(layout.spacing) is Spacing.KERF_PINS:
            return self._table.shop.kerf or KERF_MM
        return layout.pin

    def _groove(self, layout: LayoutTable, board: Board, place: str) -> Groove | None:
        table = layout.groove
        if table is None:
            return None
        groove = table.groove()
        if groove.far_mm > board.width_mm:
            raise self._error(
                f"{place}, key groove",
                f"it reaches {groove.far_mm:g} mm from the face edge, and {board.name} is {board.width_mm:g} mm wide",
                "move it nearer to the face edge",
            )
        if groove.depth_mm >= board.thickness_mm:
            raise self._through(groove, board, place)
        return groove


def _counted(boards: Iterable[Board], joints: Sequence[CornerJoint]) -> Iterator[Board]:
    """The boards with at least as many of each as the corners need: a pair of a box is two, whatever count says."""
    for board in boards:
        ends = {end.instance for joint in joints for end in (joint.spec.tails, joint.spec.pins) if end.board == board}
        yield replace(board, count=max(board.count, len(ends)))
