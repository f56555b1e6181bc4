"""[[stage]], [[captured]] and [glueup]: what the job says of the glue-up, and the names in it looked up."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, Any, Literal, Protocol

from pydantic import BeforeValidator, Field

from dovelayout.casework.divider import Divider
from dovelayout.casework.wishes import (
    SECONDS_A_CLAMP,
    SECONDS_A_CORNER,
    SECONDS_A_FACE,
    Captured,
    GlueUpWishes,
    Pace,
    Reach,
    StageWish,
)
from dovelayout.errors import FieldError
from dovelayout.job.places import ErrorAt
from dovelayout.job.tables.fields import LEAST_MINUTES, Celsius, Count, Name, Number, Table
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place

MOST_STAGES = 200

Seconds = Annotated[Number, Field(ge=0, le=600)]


def _names(value: Any) -> Any:
    several = isinstance(value, list | tuple) and value and all(isinstance(name, str) for name in value)
    if not several and not isinstance(value, str):
        raise FieldError("a name is wanted, or a list of names", remedy='write ["A", "B"]')
    return [value] if isinstance(value, str) else value


Names = Annotated[tuple[Name, ...], BeforeValidator(_names), Field(max_length=200)]


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
    finish_first: bool = Field(default=False, strict=True)
    reach: Literal["open", "inside"] = "open"
    left_long: bool = Field(default=False, strict=True)
    faces: Annotated[Count, Field(ge=0, le=200)] = 0


class GlueUpTable(Table):
    """[glueup]: how long the hands take, in seconds; open time by the bottle's label, in minutes at 21 degrees C."""

    seconds_a_face: Seconds = SECONDS_A_FACE
    seconds_a_corner: Seconds = SECONDS_A_CORNER
    seconds_a_clamp: Seconds = SECONDS_A_CLAMP
    open_minutes: Annotated[Number, Field(ge=LEAST_MINUTES, le=600)] | None = None
    wood_temperature: Celsius | None = None


class WithGlueUp(Protocol):
    """What is asked of a job's table."""

    @property
    def stage(self) -> tuple[StageTable, ...]: ...
    @property
    def captured(self) -> tuple[CapturedTable, ...]: ...
    @property
    def glueup(self) -> GlueUpTable: ...


def read_wishes(
    job: WithGlueUp, joints: Sequence[CornerJoint], dividers: Sequence[Divider], error: ErrorAt
) -> GlueUpWishes:
    """The glue-up as the job wants it. Raises JobError for names that aren't there, or are there twice."""
    parts = tuple(_captured(job.captured, joints, dividers, error))
    pace = job.glueup
    return GlueUpWishes(
        stages=tuple(_stages(job.stage, [*_units(joints, dividers), *(part.name for part in parts)], error)),
        captured=parts,
        pace=Pace(
            seconds_a_face=pace.seconds_a_face,
            seconds_a_corner=pace.seconds_a_corner,
            seconds_a_clamp=pace.seconds_a_clamp,
            open_minutes=pace.open_minutes,
            wood_c=pace.wood_temperature,
        ),
    )


def _units(joints: Sequence[CornerJoint], dividers: Sequence[Divider]) -> list[str]:
    return [*(joint.name for joint in joints), *(divider.name for divider in dividers)]


def _captured(
    tables: Sequence[CapturedTable], joints: Sequence[CornerJoint], dividers: Sequence[Divider], error: ErrorAt
) -> Iterator[Captured]:
    boxes: dict[str, list[str]] = {}
    for joint in joints:
        table, name = joint.spec.origin
        if table != "corner":
            boxes.setdefault(name, []).append(joint.name)
    corners = [joint.name for joint in joints]
    taken = set(_units(joints, dividers))
    for entry in tables:
        place = Place(kind="captured", name=entry.name)
        if entry.name in taken:
            raise error(place, "a corner, a divider or a captured part of that name is there already", "rename it")
        taken.add(entry.name)
        held: list[str] = []
        for name in entry.held_by:
            if name not in corners and name not in boxes:
                raise error(place.at(key="in"), f"there is no corner or box {name!r}", _near(name, [*corners, *boxes]))
            held += [name] if name in corners else boxes[name]
        yield Captured(
            name=entry.name,
            held_by=tuple(dict.fromkeys(held)),
            finish_first=entry.finish_first,
            reach=Reach(entry.reach),
            left_long=entry.left_long,
            faces=entry.faces,
        )


def _stages(tables: Sequence[StageTable], units: Sequence[str], error: ErrorAt) -> Iterator[StageWish]:
    names = [table.name for table in tables]
    glued: dict[str, str] = {}
    for table in tables:
        place = Place(kind="stage", name=table.name)
        if names.count(table.name) > 1:
            raise error(place, "is there twice", "give each stage a name of its own")
        for name in table.joins:
            if units.count(name) > 1:
                raise error(place.at(key="joins"), f"{name!r} is a corner and a divider", "rename one of them")
            if name not in units:
                problem = f"there is no corner, divider or captured part {name!r}"
                raise error(place.at(key="joins"), problem, _near(name, units))
            if name in glued:
                raise error(
                    place.at(key="joins"), f"{name!r} is glued in stage {glued[name]!r} already", "name it once"
                )
            glued[name] = table.name
        for key, others in (("before", table.before), ("after", table.after)):
            for other in others:
                if other not in names or other == table.name:
                    known = [name for name in names if name != table.name]
                    raise error(place.at(key=key), f"there is no other stage {other!r}", _near(other, known))
        yield StageWish(name=table.name, joins=table.joins, before=table.before, after=table.after)


def _near(name: str, known: Iterable[str]) -> str:
    known = list(dict.fromkeys(known))
    near = difflib.get_close_matches(name, known, 1, 0.5)
    return f"did you mean {near[0]!r}?" if near else f"there are {', '.join(known) or 'none'}"
