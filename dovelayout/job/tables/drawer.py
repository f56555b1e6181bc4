"""[drawers], [[drawer]] and [[bank]]: what all drawers of a job share, single openings, and rows of them."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from dovelayout.casework.bank import GROWS, HeightRule
from dovelayout.casework.drawer.choices import BottomGlue, BottomKind, Corners, Fit, Front
from dovelayout.casework.drawer.spec import BACK_DROP_MM, RUNNER_MM, SHAVING_MM
from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    AcrossLength,
    Count,
    Flag,
    Leaning,
    Long,
    MoisturePercent,
    Name,
    PlainNumber,
    Position,
    Small,
    Table,
    TailCount,
    Thick,
    length_between,
)
from dovelayout.job.tables.joint import GrooveTable, LipTable
from dovelayout.joints.board import Grain, Rings

SmallGap = Annotated[float, BeforeValidator(length_between(0.0, 60.0))]
Bow = Annotated[float, BeforeValidator(length_between(-20.0, 20.0))]
Rail = Annotated[float, BeforeValidator(length_between(0.0, 200.0))]

MOST_DRAWERS = 500


class DrawerKeys(Table):
    """The keys that say how drawers are made. Each may stand in [drawers] for all of them and in one to differ."""

    front: Front = Front.INSET
    corners: Corners = Corners.DOVETAILED
    fit: Fit = Fit.GOOD
    species: Name | None = None
    front_species: Name | None = None
    side_species: Name | None = None
    back_species: Name | None = None
    bottom_species: Name | None = None
    case_species: Name | None = None
    front_thickness: Thick | None = None
    side_thickness: Thick | None = None
    back_thickness: Thick | None = None
    bottom_thickness: Thick | None = None
    front_rings: Rings = Rings.FLAT
    side_rings: Rings = Rings.FLAT
    back_rings: Rings = Rings.FLAT
    bottom_rings: Rings = Rings.FLAT
    case_rings: Rings = Rings.FLAT
    front_grain: Grain = Grain.STRAIGHT
    bottom: BottomKind = BottomKind.SOLID
    bottom_glue: BottomGlue = BottomGlue.FRONT
    lap: AcrossLength | None = None
    lip: LipTable | None = None
    groove: GrooveTable | None = None
    tail_count: TailCount | None = None
    pin: AcrossLength | None = None
    half_pin: Position | None = None
    slope: Leaning | None = None
    back_tail_count: TailCount | None = None
    back_pin: AcrossLength | None = None
    back_half_pin: Position | None = None
    back_slope: Leaning | None = None
    side_gap: SmallGap | None = None
    top_gap: SmallGap | None = None
    runner: Small = RUNNER_MM
    runner_length: Long | None = None
    back_drop: Small = BACK_DROP_MM
    shaving: Small = SHAVING_MM
    bow: Bow = 0.0
    slips: Flag | None = None
    muntin: Flag = False
    centre_guide: Flag = False
    moisture: MoisturePercent | None = None

    def filled_from(self, common: DrawerKeys) -> Self:
        """This table with what it leaves out taken from the common one."""
        left_out = common.model_fields_set - self.model_fields_set
        return self.model_copy(update={key: getattr(common, key) for key in left_out})


class OpeningTable(DrawerKeys):
    """An opening as measured."""

    name: Name
    width: AcrossLength
    height: AcrossLength
    depth: AcrossLength


class DrawerTable(OpeningTable):
    """[[drawer]]: an opening as measured, twice where there was doubt, and sizes that are decided already."""

    width2: AcrossLength | None = None
    height2: AcrossLength | None = None
    depth2: AcrossLength | None = None
    front_width: AcrossLength | None = None
    front_height: AcrossLength | None = None
    side_length: AcrossLength | None = None
    back_width: AcrossLength | None = None
    back_height: AcrossLength | None = None
    bottom_width: AcrossLength | None = None
    bottom_depth: AcrossLength | None = None

    @model_validator(mode="after")
    def _size_or_gap(self) -> Self:
        for size, gap in (("front_width", "side_gap"), ("front_height", "top_gap")):
            if getattr(self, size) is not None and getattr(self, gap) is not None:
                raise FieldError(f"{size} and {gap} both say how large the drawer is", remedy="leave one of them out")
        return self


class BankTable(OpeningTable):
    """[[bank]]: a stack of openings of one width and depth, their heights shared out by a rule."""

    count: Annotated[Count, Field(ge=1, le=60)]
    rule: HeightRule = HeightRule.EQUAL
    rail: Rail = 20.0
    grows: Annotated[PlainNumber, Field(ge=1, le=6)] = GROWS
    round_to: Annotated[float, BeforeValidator(length_between(0.1, 10.0))] | None = None
