"""[drawers], [[drawer]] and [[bank]]: what all drawers of a job share, single openings, and rows of them."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from dovelayout.errors import FieldError
from dovelayout.job.tables.edges import GrooveTable, LipTable
from dovelayout.job.tables.fields import (
    Across,
    Count,
    Long,
    Name,
    Number,
    Position,
    Ratio,
    Small,
    Table,
    Thick,
    length_between,
)

RINGS = Literal["flat", "quarter", "rift"]
GRAIN = Literal["straight", "figured", "interlocked"]
Tight = Annotated[float, BeforeValidator(length_between(0.0, 60.0))]
Bow = Annotated[float, BeforeValidator(length_between(-20.0, 20.0))]
Rail = Annotated[float, BeforeValidator(length_between(0.0, 200.0))]

MOST_DRAWERS = 500


def _flag(value: Any) -> Any:
    if not isinstance(value, bool):
        raise FieldError(f"{value!r} is neither true nor false", remedy="write true or false, without quotes")
    return value


Flag = Annotated[bool, BeforeValidator(_flag)]


class DrawerKeys(Table):
    """The keys that say how drawers are made. Each may stand in [drawers] for all of them and in one to differ."""

    front: Literal["inset", "lipped"] = "inset"
    corners: Literal["dovetailed", "butted"] = "dovetailed"
    fit: Literal["piston", "good", "workaday"] = "good"
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
    front_rings: RINGS = "flat"
    side_rings: RINGS = "flat"
    back_rings: RINGS = "flat"
    bottom_rings: RINGS = "flat"
    case_rings: RINGS = "flat"
    front_grain: GRAIN = "straight"
    bottom: Literal["solid", "plywood"] = "solid"
    bottom_glue: Literal["front", "dry", "all round"] = "front"
    lap: Across | None = None
    lip: LipTable | None = None
    groove: GrooveTable | None = None
    tail_count: Annotated[Count, Field(ge=1, le=200)] | None = None
    pin: Across | None = None
    half_pin: Position | None = None
    slope: Ratio | None = None
    back_tail_count: Annotated[Count, Field(ge=1, le=200)] | None = None
    back_pin: Across | None = None
    back_half_pin: Position | None = None
    back_slope: Ratio | None = None
    side_gap: Tight | None = None
    top_gap: Tight | None = None
    runner: Small | None = None
    runner_length: Long | None = None
    back_drop: Small | None = None
    shaving: Small | None = None
    bow: Bow = 0.0
    slips: Flag | None = None
    muntin: Flag = False
    centre_guide: Flag = False
    moisture: Annotated[Number, Field(ge=0, le=30)] | None = None

    def over(self, common: DrawerKeys) -> Self:
        """This table with what it leaves out taken from the common one."""
        left_out = common.model_fields_set - self.model_fields_set
        said = {key: getattr(common, key) for key in left_out}
        return self.model_copy(update=said)


SIZES = (
    "front_width",
    "front_height",
    "side_length",
    "back_width",
    "back_height",
    "bottom_width",
    "bottom_depth",
)
"""Keys of sizes that are decided already."""


class DrawerTable(DrawerKeys):
    """[[drawer]]: an opening as measured, twice where there was doubt, and sizes that are decided already."""

    name: Name
    width: Across
    height: Across
    depth: Across
    width2: Across | None = None
    height2: Across | None = None
    depth2: Across | None = None
    front_width: Across | None = None
    front_height: Across | None = None
    side_length: Across | None = None
    back_width: Across | None = None
    back_height: Across | None = None
    bottom_width: Across | None = None
    bottom_depth: Across | None = None

    @model_validator(mode="after")
    def _one_way_to_size(self) -> Self:
        for size, gap in (("front_width", "side_gap"), ("front_height", "top_gap")):
            if getattr(self, size) is not None and getattr(self, gap) is not None:
                raise FieldError(f"{size} and {gap} both say how large the drawer is", remedy="leave one of them out")
        return self


class BankTable(DrawerKeys):
    """[[bank]]: a stack of openings of one width and depth, their heights shared out by a rule."""

    name: Name
    width: Across
    height: Across
    depth: Across
    count: Annotated[Count, Field(ge=1, le=60)]
    rule: Literal["equal", "arithmetic", "geometric"] = "equal"
    rail: Rail = 20.0
    grows: Annotated[Number, Field(ge=1, le=6)] = 2.0
    round_to: Annotated[float, BeforeValidator(length_between(0.1, 10.0))] | None = None
