"""What a job is worked with: [shop], [paper], [glue] and [rehearsal]."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, PlainValidator, ValidationInfo

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    AcrossLength,
    Celsius,
    Count,
    Fine,
    Flag,
    Minutes,
    Name,
    PlainNumber,
    Small,
    Table,
    length_between,
    year_of_air,
)
from dovelayout.paper import LEAST_SIDE_MM, MOST_SIDE_MM
from dovelayout.shop import KNIFE_MM

_TWO = year_of_air((2,), "driest first, then dampest, in percent from 0 to 100")


class ShopTable(Table):
    """[shop]"""

    humidity: Annotated[tuple[PlainNumber, PlainNumber], _TWO] | None = None
    built_at: Annotated[PlainNumber, Field(ge=0, le=100)] | None = None
    temperature: Celsius | None = None
    kerf: Small | None = None
    chisels: tuple[AcrossLength, ...] = Field(default=(), max_length=100)
    knife: Small = KNIFE_MM
    glue: Annotated[str, Field(strict=True, max_length=60)] = ""
    fit: Fine | None = None
    hands: Annotated[Count, Field(ge=1, le=20)] = 1


MOST_LETTERS = 40
"""Of a paper's name."""


def _size(value: Any, info: ValidationInfo) -> str | tuple[float, float]:
    """A name as typed, or two lengths in mm. No union of two types, whose names pydantic would put into the place."""
    if isinstance(value, str) and len(value) <= MOST_LETTERS:
        return value
    if isinstance(value, str):
        raise FieldError("is too long", remedy=f"{MOST_LETTERS} is the most")
    if not isinstance(value, list | tuple):
        raise FieldError(f"a text in quotes is wanted, not {value!r:.60}", remedy='such as "A4"')
    if len(value) != 2:
        raise FieldError("a size is two lengths", remedy="write [width, height], such as [210, 400]")
    read = length_between(LEAST_SIDE_MM, MOST_SIDE_MM)
    return read(value[0], info), read(value[1], info)


class PaperTable(Table):
    """[paper]: a name, a size of the maker's own, or a roll."""

    size: Annotated[str | tuple[float, float], PlainValidator(_size)] = "A4"
    margin: Annotated[float, BeforeValidator(length_between(0.0, 40.0))] = 8.0
    nest: Flag = True


class GlueTable(Table):
    """[glue]: what the label of the maker's own bottle says. Times in minutes at 21 degrees C, one or
    [cautious, hopeful]; spread in g/m2 on one side."""

    name: Name | None = None
    open: Minutes | None = None
    closed: Minutes | None = None
    clamp: Minutes | None = None
    floor: Celsius | None = None
    gap: Small | None = None
    water: Annotated[PlainNumber, Field(ge=0, lt=1)] | None = None
    spread: Annotated[PlainNumber, Field(gt=0, le=1000)] | None = None
    swell: Annotated[PlainNumber, Field(ge=0, le=2)] | None = None
    slippery: Flag | None = None
    reversible: Flag | None = None


class RehearsalTable(Table):
    """[rehearsal]: how far the maker's own lines and cuts miss. Standard deviations: two of three miss by less."""

    marking: Fine | None = None
    sawing: Fine | None = None
    transfer: Fine | None = None
    placing: Fine | None = None
    held_flush: Flag = False
