"""[home], [[across]] and [[panel]]: the air a piece goes to, and the parts that wood's movement matters to."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, field_validator, model_validator

from dovelayout.casework.across import AcrossKind
from dovelayout.casework.panel import Glued
from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import Across, Celsius, Count, Name, Number, Position, Small, Table, Thick
from dovelayout.shop import MONTHS

MOST_FIXINGS = 50
MOST_PARTS = 500


def _one_of(words: type[AcrossKind] | type[Glued]) -> BeforeValidator:
    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in set(words):
            raise FieldError(f"{value!r} is not known", remedy=f"known: {', '.join(words)}")
        return words(value)

    return BeforeValidator(read)


class HomeTable(Table):
    """[home]"""

    humidity: tuple[Number, ...] = Field(max_length=100)
    temperature: Celsius | None = None

    @field_validator("humidity")
    @classmethod
    def _a_year(cls, value: tuple[float, ...]) -> tuple[float, ...]:
        if len(value) not in (2, MONTHS):
            raise FieldError(
                f"{len(value)} figures won't do",
                remedy="write the driest and the dampest, or twelve months from January on",
            )
        for one in value:
            if not 0 <= one <= 100:
                raise FieldError(f"{one:g} is no relative humidity", remedy="write percent, from 0 to 100")
        if len(value) == 2 and value[0] > value[1]:
            raise FieldError(f"[{value[0]:g}, {value[1]:g}] won't do", remedy="driest first, then dampest")
        return value


class SlotTable(Table):
    """slots = [{ at = ..., play = ... }]"""

    at: Position
    play: Small


def _glue(value: Any) -> Any:
    """'all' -> None, which is what it is kept as."""
    if isinstance(value, str):
        if value != "all":
            raise FieldError(f"{value!r} is not known", remedy='write "all", or stretches such as [[0, 76]]')
        return None
    return value


class AcrossTable(Table):
    """[[across]]: a part fastened across the width of a host. Places run along that width from the host's face edge."""

    name: Name
    kind: Annotated[AcrossKind, _one_of(AcrossKind)]
    part: Name
    host: Name
    start: Position = Field(default=0.0, alias="from")
    length: Across | None = None
    grain: Literal["across", "along"] | None = None
    glue: Annotated[
        Annotated[tuple[tuple[Position, Position], ...], Field(max_length=MOST_FIXINGS)] | None, BeforeValidator(_glue)
    ] = ()
    screws: tuple[Position, ...] = Field(default=(), max_length=MOST_FIXINGS)
    slots: tuple[SlotTable, ...] = Field(default=(), max_length=MOST_FIXINGS)
    meets: Literal["front", "rear", "both", "nothing"] | None = None
    rear_stop: Across | None = None
    tongue: Literal["continuous", "tenons"] | None = None

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
    glued: Annotated[Glued, _one_of(Glued)] = Glued.NOT
    clearance: Small | None = None
    pieces: Annotated[Count, Field(ge=1, le=100)] = 1
    frame: Name | None = None

    @model_validator(mode="after")
    def _play_of_a_groove(self) -> PanelTable:
        if self.groove is None:
            for key in ("play", "clearance"):
                if getattr(self, key) is not None:
                    raise FieldError(
                        f"{key} is given and no groove", remedy=f"add groove = its depth, or leave {key} out"
                    )
        return self
