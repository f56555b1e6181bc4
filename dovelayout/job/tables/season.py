"""[home], [[across]] and [[panel]]: the air a piece goes to, and the parts that wood's movement matters to."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from dovelayout.casework.across import AcrossKind, Lie, Meets, Slot, Tongue
from dovelayout.casework.panel import Glued
from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    AcrossLength,
    Celsius,
    Count,
    Inline,
    Name,
    PlainNumber,
    Position,
    Small,
    Stretch,
    Table,
    Thick,
    year_of_air,
)
from dovelayout.shop import MONTHS

MOST_FIXINGS = 50
MOST_PARTS = 500


_YEAR = year_of_air((2, MONTHS), "write the driest and the dampest, or twelve months from January on")


class HomeTable(Table):
    """[home]"""

    humidity: Annotated[tuple[PlainNumber, ...], Field(max_length=100), _YEAR]
    temperature: Celsius | None = None


class SlotTable(Inline):
    """slots = [{ at = ..., play = ... }]"""

    at: Position
    play: Small

    def value(self) -> Slot:
        """The slot."""
        return Slot(at_mm=self.at, play_mm=self.play)


EVERYWHERE = "all"
"""Glue over the whole part."""


def _glue(value: Any) -> Any:
    """'all' -> None, which is what it is kept as."""
    if isinstance(value, str):
        if value != EVERYWHERE:
            raise FieldError(f"{value!r} is not known", remedy='write "all", or stretches such as [[0, 76]]')
        return None
    return value


class AcrossTable(Table):
    """[[across]]: a part fastened across the width of a host. Places run along that width from the host's face edge."""

    name: Name
    kind: AcrossKind
    part: Name
    host: Name
    start: Position = Field(default=0.0, alias="from")
    length: AcrossLength | None = None
    grain: Lie | None = None
    glue: Annotated[Annotated[tuple[Stretch, ...], Field(max_length=MOST_FIXINGS)] | None, BeforeValidator(_glue)] = ()
    screws: tuple[Position, ...] = Field(default=(), max_length=MOST_FIXINGS)
    slots: tuple[SlotTable, ...] = Field(default=(), max_length=MOST_FIXINGS)
    meets: Meets | None = None
    rear_stop: AcrossLength | None = None
    tongue: Tongue | None = None

    @model_validator(mode="after")
    def _a_tongue_on_an_end(self) -> AcrossTable:
        if self.tongue is not None and self.kind is not AcrossKind.BREADBOARD:
            raise FieldError(f'tongue is for kind = "breadboard", and this is a {self.kind}', remedy="leave it out")
        return self


class PanelTable(Table):
    """[[panel]]: a board between two grooves, or one that lies free. Its width moves, its length hardly does."""

    name: Name
    board: Name
    groove: Thick | None = None
    play: Small | None = None
    glued: Glued = Glued.NOT
    clearance: Small | None = None
    pieces: Annotated[Count, Field(ge=1, le=100)] = 1
    frame: Name | None = None

    @model_validator(mode="after")
    def _play_of_a_groove(self) -> PanelTable:
        for key in ("play", "clearance"):
            if self.groove is None and getattr(self, key) is not None:
                raise FieldError(f"{key} is given and no groove", remedy=f"add groove = its depth, or leave {key} out")
        return self
