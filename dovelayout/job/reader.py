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
from dovelayout.casework.glue_up_spec import DEFAULT_GLUE_UP, GlueUpSpec
from dovelayout.casework.panel import Panel
from dovelayout.job.files import MOST_BYTES, decoded, file_bytes
from dovelayout.job.places import Here
from dovelayout.job.readers.boards import counted, read_boards, read_woods
from dovelayout.job.readers.corners import read_corners
from dovelayout.job.readers.dividers import read_dividers
from dovelayout.job.readers.drawers import read_drawers
from dovelayout.job.readers.faults import first_fault
from dovelayout.job.readers.glueup import read_glue_up
from dovelayout.job.readers.limits import check_totals, few_enough
from dovelayout.job.readers.season import read_across, read_panels
from dovelayout.job.readers.shop import read_paper, read_shop
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.paper import Paper
from dovelayout.shop import Shop
from dovelayout.units import Unit

__all__ = ["MOST_BYTES", "Job", "load_job", "parsed", "read_job"]


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
    glueup: GlueUpSpec = DEFAULT_GLUE_UP
    nest: bool = True
    tables: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)
    """As it was written, for changes to be tried on it."""


def read_job(path: Path) -> Job:
    """Reads a job file. Raises JobError."""
    missing = "check the name, or start one with 'dovelayout new -o FILE'"
    raw = file_bytes(path, what="a job file", suffix=".toml", missing=missing)
    return load_job(parsed(raw, source=str(path)), source=str(path), stem=path.stem)


def parsed(raw: bytes, *, source: str) -> dict[str, Any]:
    """The tables of a job file's bytes. Raises JobError."""
    here = Here(file=source)
    text = decoded(raw, here, kind="line", save="save the file as UTF-8")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise here.error(f"is not valid TOML: {error}", "texts stand in quotes, keys as key = value") from None
    except ValueError:
        # tomllib lets Python's refusal of numbers of thousands of digits through as it is
        raise here.error("holds a number of thousands of digits", "write the number as measured") from None
    except RecursionError:
        raise here.error("is nested too deeply", "a job has tables and lists, not deeper") from None


def load_job(data: Mapping[str, Any], *, source: str, stem: str = "job") -> Job:
    """A job from its parsed tables. Raises JobError; `source` is the file it names."""
    units = data.get("units")
    unit = Unit(units) if isinstance(units, str) and units in set(Unit) else Unit.MM
    try:
        table = JobTable.model_validate(dict(data), context={"unit": unit})
    except ValidationError as error:
        raise first_fault(error, data, source) from None
    return replace(_worked_out(table, Here(file=source), stem=stem), tables=data)


def _worked_out(table: JobTable, here: Here, *, stem: str) -> Job:
    """The job of validated tables, read in the order in which a maker mends them. Raises JobError."""
    check_totals(table.board, table.across, here)
    woods = read_woods(table.wood, here)
    boards = read_boards(table.board, woods, here)
    shop = read_shop(table, here)
    names = boards.by_name.keys() | {corner.name for corner in table.corner}
    drawers = read_drawers(table, here, woods=woods, shop=shop, names=names)
    corners = read_corners(table, boards, here)
    joints = tuple(few_enough(chain(corners, *(drawer.joints for drawer in drawers)), here))
    dividers = tuple(read_dividers(table.divider, boards, here))
    across = tuple(read_across(table.across, boards, here))
    panels = tuple(read_panels(table.panel, boards, here))
    if not (joints or dividers or across or panels or drawers):
        raise here.error("there is nothing to lay out", "add a [[corner]], a [[box]], a [[drawer]] or a [[divider]]")
    return Job(
        title=table.title or stem,
        unit=table.units,
        shop=shop,
        paper=read_paper(table, here),
        boards=(
            *counted(boards.by_name.values(), joints),
            *(part.board for drawer in drawers for part in drawer.parts),
        ),
        joints=joints,
        source=here.file,
        dividers=dividers,
        drawers=drawers,
        across=across,
        panels=panels,
        glueup=read_glue_up(table, joints, dividers, here),
        nest=table.paper.nest,
    )
