"""The kinds of value that may stand in a job file, and how each is read: shared by all tables.

Bare lengths are in the job's `units`; a string may carry its own unit. What is refused is a FieldError or a UnitsError,
both ValueErrors, which pydantic hands on.
"""

from __future__ import annotations

import math
import re
from abc import abstractmethod
from collections.abc import Callable, Mapping
from datetime import date, datetime, time
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
)

from dovelayout.errors import FieldError
from dovelayout.joints.cant import LEAST_DEG, MOST_DEG, Cant
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.units import Unit, length_mm, parse_slope, parse_temperature

LEAST_LENGTH_MM = 0.01
LONGEST_MINUTES = 10_080.0
"""A week: longer is a slip of the pen."""
LEAST_MINUTES = 0.1
"""Six seconds: no glue is spread in less; ours."""

_KINDS = {
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


def _kind(value: Any) -> str:
    return _KINDS.get(type(value), type(value).__name__)


def _number_or_text(value: Any, wanted: str) -> int | float | str:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise FieldError(f"{wanted}, not {_kind(value)}")
    return value


def length_between(low_mm: float, high_mm: float) -> Callable[[Any, ValidationInfo], float]:
    """A validator for a length as typed, within limits; what it gives is mm."""

    def read(value: Any, info: ValidationInfo) -> float:
        typed = _number_or_text(value, 'a length is wanted, such as 19 or "3/4 in"')
        value_mm = float(length_mm(typed, unit=(info.context or {}).get("unit", Unit.MM)))
        if not low_mm <= value_mm <= high_mm:
            raise FieldError(f"{value!r} is {value_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
        return value_mm

    return read


def _ratio(value: Any) -> float:
    return parse_slope(_number_or_text(value, 'a slope is wanted, such as "1:7" or "8 deg"'))


def _slope(value: Any) -> Slope:
    return Slope(_ratio(value))


def _temperature(value: Any) -> float:
    return parse_temperature(_number_or_text(value, 'a temperature is wanted, such as 20 or "68 F"'))


_DEGREES = re.compile(r"\s*(\d{1,3}(?:[.,]\d{1,4})?)\s*(?:deg|degrees|°)?\s*")


def _cant(value: Any) -> Cant:
    """An angle between two boards, in degrees: 80, "80 deg", "80°"."""
    typed = _number_or_text(value, 'an angle is wanted, such as 80 or "80 deg"')
    if isinstance(typed, str):
        found = _DEGREES.fullmatch(typed) if len(typed) <= 20 else None
        if found is None:
            raise FieldError(f"{typed[:40]!r} is no angle", remedy='write it in degrees, like 80 or "80 deg"')
        typed = float(found[1].replace(",", "."))
    if not LEAST_DEG <= typed <= MOST_DEG:
        raise FieldError(
            f"{typed:g} degrees is out of range", remedy=f"{LEAST_DEG:g} to {MOST_DEG:g} would be right, 90 is square"
        )
    return Cant(float(typed))


def _plain_number(value: Any) -> Any:
    if isinstance(value, bool) or (isinstance(value, float) and not math.isfinite(value)):
        raise FieldError(f"a number is wanted, not {_kind(value) if isinstance(value, bool) else value}")
    if isinstance(value, str):
        raise FieldError(f"a plain number is wanted, not the text {value!r}")
    return value


def _flag(value: Any) -> Any:
    if not isinstance(value, bool):
        raise FieldError(f"{value!r} is neither true nor false", remedy="write true or false, without quotes")
    return value


def _minutes_range(value: Any) -> tuple[float, float]:
    """One time in minutes, or [cautious, hopeful], as a pair."""
    both = list(value) if isinstance(value, list | tuple) else [value, value]
    plain = all(isinstance(one, int | float) and not isinstance(one, bool) for one in both)
    if len(both) != 2 or not plain:
        raise FieldError(f"minutes are wanted, such as 8 or [5, 10], not {_kind(value)}")
    low, high = both
    if not LEAST_MINUTES <= low <= high <= LONGEST_MINUTES:  # false of nan too
        raise FieldError(
            f"{value} won't do",
            remedy=f"minutes, the cautious figure first, from {LEAST_MINUTES:g} to {LONGEST_MINUTES:g}",
        )
    return float(low), float(high)


def _prints(value: str) -> str:
    if not any(ch.isprintable() and not ch.isspace() for ch in value):
        raise FieldError(f"{value!r} prints as nothing", remedy="write a letter or a number")
    return value


def texts(counts: range, problem: str, remedy: str) -> BeforeValidator:
    """A validator for one text, or a list of so many; what it gives is a list."""

    def read(value: Any) -> Any:
        several = [value] if isinstance(value, str) else value
        if not isinstance(several, list | tuple) or not all(isinstance(one, str) for one in several):
            raise FieldError(problem, remedy=remedy)
        if not isinstance(value, str) and len(several) not in counts:
            raise FieldError(problem, remedy=remedy)
        return several

    return BeforeValidator(read)


def year_of_air(lengths: tuple[int, ...], remedy: str) -> AfterValidator:
    """A validator for relative humidities in percent, so many of them: the driest and the dampest, or the months."""

    def check(value: tuple[float, ...]) -> tuple[float, ...]:
        if len(value) not in lengths:
            raise FieldError(f"{len(value)} figures won't do", remedy=remedy)
        for one in value:
            if not 0 <= one <= 100:
                raise FieldError(f"{one:g} is no relative humidity", remedy="write percent, from 0 to 100")
        if len(value) == 2 and value[0] > value[1]:
            raise FieldError(f"[{value[0]:g}, {value[1]:g}] won't do", remedy="driest first, then dampest")
        return value

    return AfterValidator(check)


AcrossLength = Annotated[float, BeforeValidator(length_between(LEAST_LENGTH_MM, 5000.0))]
Position = Annotated[float, BeforeValidator(length_between(0.0, 5000.0))]
Long = Annotated[float, BeforeValidator(length_between(1.0, 20000.0))]
Thick = Annotated[float, BeforeValidator(length_between(0.5, 300.0))]
Proud = Annotated[float, BeforeValidator(length_between(-10.0, 10.0))]
Small = Annotated[float, BeforeValidator(length_between(0.0, 50.0))]
Fine = Annotated[float, BeforeValidator(length_between(0.0, 2.0))]
Ratio = Annotated[float, BeforeValidator(_ratio)]
Leaning = Annotated[Slope, PlainValidator(_slope)]
Angle = Annotated[Cant, PlainValidator(_cant)]
Celsius = Annotated[float, BeforeValidator(_temperature)]
PlainNumber = Annotated[float, BeforeValidator(_plain_number)]
Count = Annotated[int, BeforeValidator(_plain_number), Field(strict=True)]
TailCount = Annotated[Count, Field(ge=1, le=200)]
MoisturePercent = Annotated[PlainNumber, Field(ge=0, le=30)]
Minutes = Annotated[tuple[float, float], BeforeValidator(_minutes_range)]
Flag = Annotated[bool, BeforeValidator(_flag)]
Name = Annotated[str, Field(strict=True, min_length=1, max_length=60), AfterValidator(_prints)]
EndName = Annotated[str, Field(strict=True, min_length=1, max_length=2 * 60 + 1)]
if TYPE_CHECKING:
    Stretch = Span
else:  # read as a pair of lengths, kept as a Span
    Stretch = Annotated[tuple[Position, Position], AfterValidator(lambda pair: Span(*pair))]


class Table(BaseModel):
    """A table of the job; keys it doesn't know are errors."""

    # built when the first job is read, all tables in one, and not each by itself at import too
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Inline(Table):
    """A table of keys that make one value: groove = { ... }."""

    @abstractmethod
    def value(self) -> Any:
        """The value it says."""


def spec_values(table: Table, keys: Mapping[str, str]) -> dict[str, Any]:
    """What a table says, by the fields of the value that it fills: `keys` maps a field to its key, dotted for one that
    lies in an inline table. Keys that the table doesn't have are left out."""

    def value_of(key: str) -> Any:
        found: Any = table
        for part in key.split("."):
            found = getattr(found, part)
        return found.value() if isinstance(found, Inline) else found

    return {field: value_of(key) for field, key in keys.items() if key.partition(".")[0] in type(table).model_fields}
