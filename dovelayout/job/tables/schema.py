"""The whole job file, and its tables by name. Unknown keys are errors."""

from __future__ import annotations

import typing
from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from dovelayout.job.tables.board import BoardTable, WoodTable
from dovelayout.job.tables.drawer import MOST_DRAWERS, BankTable, DrawerKeys, DrawerTable
from dovelayout.job.tables.fields import Table
from dovelayout.job.tables.glueup import MOST_STAGES, CapturedTable, GlueUpTable, StageTable
from dovelayout.job.tables.joint import BoxTable, CornerTable, DividerTable
from dovelayout.job.tables.season import MOST_PARTS, AcrossTable, HomeTable, PanelTable
from dovelayout.job.tables.shop import GlueTable, PaperTable, RehearsalTable, ShopTable
from dovelayout.units import Unit

MOST_BOARDS = 500
MOST_CORNERS = 1000


class JobTable(Table):
    """The whole file."""

    title: Annotated[str, Field(strict=True, max_length=200)] = ""
    units: Unit = Unit.MM
    shop: ShopTable = ShopTable()
    home: HomeTable | None = None
    paper: PaperTable = PaperTable()
    glue: GlueTable | None = None
    rehearsal: RehearsalTable = RehearsalTable()
    wood: tuple[WoodTable, ...] = Field(default=(), max_length=100)
    board: tuple[BoardTable, ...] = Field(default=(), max_length=MOST_BOARDS)
    corner: tuple[CornerTable, ...] = Field(default=(), max_length=MOST_CORNERS)
    box: tuple[BoxTable, ...] = Field(default=(), max_length=MOST_CORNERS // 4)
    divider: tuple[DividerTable, ...] = Field(default=(), max_length=MOST_CORNERS)
    drawers: DrawerKeys = DrawerKeys()
    drawer: tuple[DrawerTable, ...] = Field(default=(), max_length=MOST_DRAWERS)
    bank: tuple[BankTable, ...] = Field(default=(), max_length=MOST_DRAWERS)
    across: tuple[AcrossTable, ...] = Field(default=(), max_length=MOST_PARTS)
    panel: tuple[PanelTable, ...] = Field(default=(), max_length=MOST_PARTS)
    glueup: GlueUpTable = GlueUpTable()
    stage: tuple[StageTable, ...] = Field(default=(), max_length=MOST_STAGES)
    captured: tuple[CapturedTable, ...] = Field(default=(), max_length=MOST_STAGES)


def within(annotation: object) -> Iterator[type]:
    """The classes that a key's annotation names, through unions, tuples and Annotated."""
    if isinstance(annotation, type):
        yield annotation
    for inner in typing.get_args(annotation):
        yield from within(inner)


def _tables(model: type[Table]) -> Iterator[tuple[str, type[Table]]]:
    for key, field in model.model_fields.items():
        for inner in within(field.annotation):
            if issubclass(inner, Table):
                yield key, inner
                yield from _tables(inner)


TABLES: dict[str, type[Table]] = dict(_tables(JobTable))
"""Every table by its key in the job, inline ones as well."""
