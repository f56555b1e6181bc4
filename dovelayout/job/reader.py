"""From a job file to a Job: boards, corners and joints in mm, or one JobError that names file, place and remedy."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from dovelayout.casework.across import Across
from dovelayout.casework.divider import Divider
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.casework.panel import Panel
from dovelayout.casework.wishes import NO_WISHES, GlueUpWishes
from dovelayout.errors import DovelayoutError, JobError
from dovelayout.job.places import ErrorAt, told
from dovelayout.job.readers.boards import counted, read_boards, read_woods
from dovelayout.job.readers.corners import read_corners
from dovelayout.job.readers.dividers import read_dividers
from dovelayout.job.readers.drawers import read_drawers
from dovelayout.job.readers.faults import first_fault
from dovelayout.job.readers.limits import check_totals, few_enough
from dovelayout.job.readers.season import read_across, read_home, read_panels
from dovelayout.job.tables.glue import read_glue
from dovelayout.job.tables.glueup import read_wishes
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.paper import Paper, paper, sized
from dovelayout.place import Place
from dovelayout.shop import KNIFE_MM, Shop
from dovelayout.units import Unit

MOST_BYTES = 1_000_000


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
    tables: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)
    """As it was written, for changes to be tried on it."""


def read_job(path: Path) -> Job:
    """Reads a job file. Raises JobError."""
    return load_job(_parsed(path), source=str(path), stem=path.stem)


def _parsed(path: Path) -> dict[str, Any]:
    def refuse(problem: str, remedy: str) -> JobError:
        return JobError(file=str(path), place=None, problem=problem, remedy=remedy)

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
        return JobError(file=source, place=None, problem=problem, remedy=remedy)

    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise JobError(
            file=source,
            place=Place(kind="line", number=line),
            problem="is not UTF-8 text",
            remedy="save the file as UTF-8",
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
        raise first_fault(error, data, source) from None
    return replace(_worked_out(table, source=source, stem=stem, unit=unit), tables=data)


def _worked_out(table: JobTable, *, source: str, stem: str, unit: Unit) -> Job:
    """The job of validated tables, read in the order in which a maker mends them. Raises JobError."""

    def error(place: Place | None, problem: str, remedy: str) -> JobError:
        return JobError(file=source, place=place, problem=problem, remedy=remedy)

    check_totals(table.board, table.across, error)
    woods = read_woods(table.wood, error=error)
    boards = read_boards(table.board, woods=woods, error=error)
    shop = _shop(table, error)
    taken = boards.by_name.keys() | {corner.name for corner in table.corner}
    drawers = read_drawers(table, own=woods, shop=shop, unit=unit, error=error, taken=taken)
    corners = read_corners(table, boards=boards, error=error)
    joints = tuple(few_enough(chain(corners, *(drawer.joints for drawer in drawers)), error))
    dividers = tuple(read_dividers(table.divider, end_of=boards.end_of, error=error))
    across = tuple(read_across(table.across, board_of=boards.named, error=error))
    panels = tuple(read_panels(table.panel, board_of=boards.named, error=error))
    if not (joints or dividers or across or panels or drawers):
        raise error(None, "there is nothing to lay out", "add a [[corner]], a [[box]], a [[drawer]] or a [[divider]]")
    return Job(
        title=table.title or stem,
        unit=unit,
        shop=shop,
        paper=_paper(table, unit, error),
        boards=(
            *counted(boards.by_name.values(), joints),
            *(part.board for drawer in drawers for part in drawer.parts),
        ),
        joints=joints,
        source=source,
        dividers=dividers,
        drawers=drawers,
        across=across,
        panels=panels,
        glueup=read_wishes(table, joints, dividers, error),
        nest=table.paper.nest,
    )


def _shop(table: JobTable, error: ErrorAt) -> Shop:
    shop = table.shop
    return Shop(
        chisels_mm=tuple(sorted(shop.chisels)),
        knife_mm=KNIFE_MM if shop.knife is None else shop.knife,
        kerf_mm=shop.kerf,
        humidity_pct=shop.humidity,
        home=read_home(table.home),
        built_at_pct=shop.built_at,
        temperature_c=shop.temperature,
        glue=read_glue(shop.glue.strip(), table.glue, error=error),
        fit_mm=shop.fit,
        hands=shop.hands,
        hand=table.rehearsal.hand(),
    )


def _paper(table: JobTable, unit: Unit, error: ErrorAt) -> Paper:
    try:
        size, margin_mm = table.paper.size, table.paper.margin
        return sized(*size, margin_mm) if isinstance(size, tuple) else paper(size, margin_mm, unit=unit)
    except DovelayoutError as fault:
        raise told(fault, Place(kind="paper", key="size"), error) from None
