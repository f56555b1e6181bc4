"""[[stage]], [[captured]] and [glueup]: what the job says of the glue-up."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from dovelayout.casework.glue_up_spec import SECONDS_A_CLAMP, SECONDS_A_CORNER, SECONDS_A_FACE, Reach
from dovelayout.job.tables.fields import LEAST_MINUTES, Celsius, Count, Flag, Name, PlainNumber, Table, texts

MOST_STAGES = 200
_MOST_NAMES = 200

Seconds = Annotated[PlainNumber, Field(ge=0, le=600)]
Names = Annotated[
    tuple[Name, ...],
    texts(range(1, 10_000), "a name is wanted, or a list of names", remedy='write ["A", "B"]'),
    Field(max_length=_MOST_NAMES),
]


class StageTable(Table):
    """[[stage]]: corners, dividers and captured parts that are glued in one go."""

    name: Name
    joins: Names
    before: Names = ()
    after: Names = ()


class CapturedTable(Table):
    """[[captured]]: a part that the corners `in` (or all corners of a box) hold in."""

    name: Name
    held_by: Names = Field(alias="in")
    finish_first: Flag = False
    reach: Reach = Reach.OPEN
    left_long: Flag = False
    faces: Annotated[Count, Field(ge=0, le=200)] = 0


class GlueUpTable(Table):
    """[glueup]: how long the hands take, in seconds; open time by the bottle's label, in minutes at 21 degrees C."""

    seconds_a_face: Seconds = SECONDS_A_FACE
    seconds_a_corner: Seconds = SECONDS_A_CORNER
    seconds_a_clamp: Seconds = SECONDS_A_CLAMP
    open_minutes: Annotated[PlainNumber, Field(ge=LEAST_MINUTES, le=600)] | None = None
    wood_temperature: Celsius | None = None
