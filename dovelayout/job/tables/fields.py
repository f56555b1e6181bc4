"""The kinds of value that may stand in a job file, and how each is read: shared by all tables.

Bare lengths are in the job's `units`; a string may carry its own unit. Errors are in the maker's
terms: FieldError and UnitsError are ValueErrors, which pydantic hands on.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from datetime import date, datetime, time
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from dovelayout.errors import FieldError
from dovelayout.joints.cant import LEAST_DEG, MOST_DEG
from dovelayout.units import Unit, length_mm, parse_slope, parse_temperature

LEAST_LENGTH_MM = 0.01


def length_between(low_mm: float, high_mm: float) -> Callable[[Any, ValidationInfo], float]:
    """A validator for a length as typed, within limits; what it gives is mm."""

    def read(value: Any, info: ValidationInfo) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float | str):
            raise FieldError(f'a length is wanted, such as 19 or "3/4 in", not {_kind(value)}')
        context = info.context or {}
        unit = context.get("unit", Unit.MM)
        got_mm = float(length_mm(value, unit=unit))
        if not low_mm <= got_mm <= high_mm:
            raise FieldError(f"{value!r} is {got_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
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
        raise FieldError(f'a slope is wanted, such as "1:7" or "8 deg", not {_kind(value)}')
    return parse_slope(value)


def _temperature(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise FieldError(f'a temperature is wanted, such as 20 or "68 F", not {_kind(value)}')
    return parse_temperature(value)


_DEGREES = re.compile(r"\s*(\d{1,3}(?:[.,]\d{1,4})?)\s*(?:deg|degrees|°)?\s*")


def _angle(value: Any) -> float:
    """An angle between two boards, in degrees: 80, "80 deg", "80°"."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise FieldError(f'an angle is wanted, such as 80 or "80 deg", not {_kind(value)}')
    if isinstance(value, str):
        found = _DEGREES.fullmatch(value) if len(value) <= 20 else None
        if found is None:
            raise FieldError(f"{value[:40]!r} is no angle", remedy='write it in degrees, like 80 or "80 deg"')
        value = float(found[1].replace(",", "."))
    if not LEAST_DEG <= value <= MOST_DEG:
        raise FieldError(
            f"{value:g} degrees is out of range", remedy=f"{LEAST_DEG:g} to {MOST_DEG:g} would be right, 90 is square"
        )
    return float(value)


def _plain_number(value: Any) -> Any:
    if isinstance(value, bool) or (isinstance(value, float) and not math.isfinite(value)):
        raise FieldError(f"a number is wanted, not {_kind(value) if isinstance(value, bool) else value}")
    if isinstance(value, str):
        raise FieldError(f"a plain number is wanted, not the text {value!r}")
    return value


LONGEST_MINUTES = 10_080.0
"""A week: longer is a slip of the pen."""
LEAST_MINUTES = 0.1
"""Six seconds: no glue is spread in less; ours."""


def minutes_range(value: Any) -> tuple[float, float]:
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


def _seen(value: str) -> str:
    if not any(ch.isprintable() and not ch.isspace() for ch in value):
        raise FieldError(f"{value!r} prints as nothing", remedy="write a letter or a number")
    return value


Across = Annotated[float, BeforeValidator(length_between(LEAST_LENGTH_MM, 5000.0))]
Position = Annotated[float, BeforeValidator(length_between(0.0, 5000.0))]
Long = Annotated[float, BeforeValidator(length_between(1.0, 20000.0))]
Thick = Annotated[float, BeforeValidator(length_between(0.5, 300.0))]
Proud = Annotated[float, BeforeValidator(length_between(-10.0, 10.0))]
Small = Annotated[float, BeforeValidator(length_between(0.0, 50.0))]
Ratio = Annotated[float, BeforeValidator(_ratio)]
Degrees = Annotated[float, BeforeValidator(_angle)]
Celsius = Annotated[float, BeforeValidator(_temperature)]
Number = Annotated[float, BeforeValidator(_plain_number)]
Count = Annotated[int, BeforeValidator(_plain_number), Field(strict=True)]
Name = Annotated[str, Field(strict=True, min_length=1, max_length=60), AfterValidator(_seen)]
EndName = Annotated[str, Field(strict=True, min_length=1, max_length=60 + len(".right"))]


class Table(BaseModel):
    """A table of the job; keys it doesn't know are errors."""

    # built when the first job is read, all tables in one, and not each by itself at import too
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
