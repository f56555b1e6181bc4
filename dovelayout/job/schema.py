"""What may stand in a job file (TOML), and how its words become numbers.

Bare numbers are in the job's `units`; a string may carry its own unit. Unknown keys are errors.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, datetime, time
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from dovelayout.errors import DovelayoutError
from dovelayout.joints import KINDS
from dovelayout.units import Unit, length_mm, parse_slope, parse_temperature

MOST_BOARDS = 500
MOST_CORNERS = 1000
MOST_TAILS_AT = 200

LEAST_LENGTH_MM = 0.01


def _length(low_mm: float, high_mm: float) -> Callable[[Any, ValidationInfo], float]:
    def read(value: Any, info: ValidationInfo) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float | str):
            raise ValueError(f'a length is wanted, such as 19 or "3/4 in", not {_kind(value)}')
        context = info.context or {}
        unit = context.get("unit", Unit.MM)
        try:
            got_mm = float(length_mm(value, unit=unit))
        except DovelayoutError as error:
            raise ValueError(str(error)) from None
        if not low_mm <= got_mm <= high_mm:
            raise ValueError(f"{value!r} is {got_mm:g} mm; {low_mm:g} to {high_mm:g} mm would be right")
        return got_mm

    return read


def _kind(value: Any) -> str:
    names = {
        bool: "true or false",
        list: "a list",
        dict: "a table",
        str: "a text",
        int: "a number",
        float: "a number",
        date: "a date",
        time: "a time",
        datetime: "a date and time",
    }
    return names.get(type(value), type(value).__name__)


def _ratio(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(f'a slope is wanted, such as "1:7" or "8 deg", not {_kind(value)}')
    try:
        return parse_slope(value)
    except DovelayoutError as error:
        raise ValueError(str(error)) from None


def _temperature(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(f'a temperature is wanted, such as 20 or "68 F", not {_kind(value)}')
    try:
        return parse_temperature(value)
    except DovelayoutError as error:
        raise ValueError(str(error)) from None


def _plain_number(value: Any) -> Any:
    if isinstance(value, bool) or (isinstance(value, float) and not math.isfinite(value)):
        raise ValueError(f"a number is wanted, not {_kind(value) if isinstance(value, bool) else value}")
    if isinstance(value, str):
        raise ValueError(f"a plain number is wanted, not the text {value!r}")
    return value


def _pair(value: Any) -> Any:
    two = isinstance(value, list | tuple) and len(value) == 2 and all(isinstance(name, str) for name in value)
    if not two and not isinstance(value, str):
        raise ValueError('two boards are wanted; write ["one", "other"], or one text for a pair of equal boards')
    return value


def _seen(value: str) -> str:
    if not any(ch.isprintable() and not ch.isspace() for ch in value):
        raise ValueError(f"{value!r} prints as nothing; write a letter or a number")
    return value


def _joint(value: Any) -> Any:
    if not isinstance(value, str) or value not in KINDS:
        raise ValueError(f"joint {value!r} is not known; known: {', '.join(sorted(KINDS))}")
    return value


Across = Annotated[float, BeforeValidator(_length(LEAST_LENGTH_MM, 5000.0))]
Place = Annotated[float, BeforeValidator(_length(0.0, 5000.0))]
Long = Annotated[float, BeforeValidator(_length(1.0, 20000.0))]
Thick = Annotated[float, BeforeValidator(_length(0.5, 300.0))]
Proud = Annotated[float, BeforeValidator(_length(-10.0, 10.0))]
Small = Annotated[float, BeforeValidator(_length(0.0, 50.0))]
Ratio = Annotated[float, BeforeValidator(_ratio)]
Celsius = Annotated[float, BeforeValidator(_temperature)]
Number = Annotated[float, BeforeValidator(_plain_number)]
Count = Annotated[int, BeforeValidator(_plain_number), Field(strict=True)]
Name = Annotated[str, Field(strict=True, min_length=1, max_length=60), AfterValidator(_seen)]
EndName = Annotated[str, Field(strict=True, min_length=1, max_length=60 + len(".right"))]


class Table(BaseModel):
    """A table of the job; keys it doesn't know are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class ShopTable(Table):
    """[shop]"""

    humidity: tuple[Number, Number] | None = None
    temperature: Celsius | None = None
    kerf: Small | None = None
    chisels: tuple[Across, ...] = Field(default=(), max_length=100)
    knife: Small | None = None
    glue: Annotated[str, Field(strict=True, max_length=60)] = ""
    fit: Small | None = None
    hands: Annotated[Count, Field(ge=1, le=20)] = 1

    @field_validator("humidity")
    @classmethod
    def _humidity_makes_sense(cls, value: tuple[float, float] | None) -> tuple[float, float] | None:
        if value is not None:
            low, high = value
            if not 0 <= low <= high <= 100:
                raise ValueError(f"[{low:g}, {high:g}] won't do; driest first, then dampest, in percent from 0 to 100")
        return value


class PaperTable(Table):
    """[paper]"""

    size: Annotated[str, Field(strict=True, max_length=20)] = "A4"
    margin: Annotated[float, BeforeValidator(_length(0.0, 40.0))] = 8.0


class BoardTable(Table):
    """[[board]]"""

    name: Name
    species: Name
    length: Long
    width: Across
    thickness: Thick
    rings: Literal["flat", "quarter", "rift"] = "flat"
    grain: Literal["straight", "figured", "interlocked"] = "straight"
    runout: Ratio | None = None
    out_of_square: Small = 0.0
    count: Annotated[Count, Field(ge=1, le=1000)] = 1


class WoodTable(Table):
    """[[wood]]: a wood that the table doesn't hold, with what is known of it."""

    name: Name
    kind: Literal["hardwood", "softwood", "unknown"] = "unknown"
    sg: Annotated[Number, Field(gt=0.05, le=1.5)] | None = None
    mor_mpa: Annotated[Number, Field(gt=0, le=400)] | None = None
    moe_gpa: Annotated[Number, Field(gt=0, le=40)] | None = None
    comp_perp_mpa: Annotated[Number, Field(gt=0, le=60)] | None = None
    shrink_radial_pct: Annotated[Number, Field(gt=0, le=20)] | None = None
    shrink_tangential_pct: Annotated[Number, Field(gt=0, le=30)] | None = None
    notes: Annotated[str, Field(strict=True, max_length=400)] = ""


class GrooveTable(Table):
    """groove = { ... }"""

    from_edge: Place
    width: Across
    depth: Thick
    ploughed: Literal["before", "after"] = "before"


class ProudTable(Table):
    """proud = { tails = ..., pins = ... }"""

    tails: Proud = 0.0
    pins: Proud = 0.0


def _proud(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, dict):
        return value
    both = _length(-10.0, 10.0)(value, info)
    # already mm: handed on whole, so that it is not read as inches a second time
    return ProudTable.model_construct(tails=both, pins=both)


class LayoutTable(Table):
    """The keys that lay out a corner, the same for a single corner and for a box."""

    joint: Annotated[str, BeforeValidator(_joint)] = "through"
    tail_count: Annotated[Count, Field(ge=1, le=200)] | None = None
    tails_at: tuple[tuple[Place, Place], ...] | None = Field(default=None, max_length=MOST_TAILS_AT)
    pin: Across | None = None
    lap: Across | None = None
    half_pin: Place | None = None
    slope: Ratio | None = None
    spacing: Literal["even", "closer at edges", "graduated", "kerf pins"] = "even"
    covers: tuple[Place, Place] | None = None
    proud: Annotated[ProudTable, BeforeValidator(_proud)] = ProudTable()
    groove: GrooveTable | None = None

    @model_validator(mode="after")
    def _one_way_to_lay_out(self) -> LayoutTable:
        if self.tails_at is not None:
            given = {"tail_count": self.tail_count, "pin": self.pin, "half_pin": self.half_pin}
            double = [key for key, value in given.items() if value is not None]
            if double:
                raise ValueError(f"tails_at already says where the tails stand; leave out {' and '.join(double)}")
        return self


class CornerTable(LayoutTable):
    """[[corner]]"""

    name: Name
    tails: EndName
    pins: EndName


class BoxTable(LayoutTable):
    """[[box]]"""

    name: Name
    tails: Annotated[Name | tuple[Name, Name], BeforeValidator(_pair)]
    pins: Annotated[Name | tuple[Name, Name], BeforeValidator(_pair)]


class JobTable(Table):
    """The whole file."""

    title: Annotated[str, Field(strict=True, max_length=200)] = ""
    units: Literal["mm", "cm", "in"] = "mm"
    shop: ShopTable = ShopTable()
    paper: PaperTable = PaperTable()
    wood: tuple[WoodTable, ...] = Field(default=(), max_length=100)
    board: tuple[BoardTable, ...] = Field(default=(), max_length=MOST_BOARDS)
    corner: tuple[CornerTable, ...] = Field(default=(), max_length=MOST_CORNERS)
    box: tuple[BoxTable, ...] = Field(default=(), max_length=MOST_CORNERS // 4)


TABLES: dict[str, type[Table]] = {
    "shop": ShopTable,
    "paper": PaperTable,
    "wood": WoodTable,
    "board": BoardTable,
    "corner": CornerTable,
    "box": BoxTable,
    "groove": GrooveTable,
    "proud": ProudTable,
}
