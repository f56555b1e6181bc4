"""From [glueup], [[stage]] and [[captured]] to the glue-up as the job wants it, the names in it looked up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from dovelayout.casework.divider import Divider
from dovelayout.casework.glue_up_spec import Captured, GlueUpSpec, Pace, StageSpec
from dovelayout.job.places import Here, each_once, nearest
from dovelayout.job.tables.glueup import CapturedTable, StageTable
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints.corner import CornerJoint
from dovelayout.words import grouped


def read_glue_up(job: JobTable, joints: Sequence[CornerJoint], dividers: Sequence[Divider], here: Here) -> GlueUpSpec:
    """The glue-up as the job wants it. Raises JobError for names that aren't there, or are there twice."""
    joined = [*(joint.name for joint in joints), *(divider.name for divider in dividers)]
    parts = tuple(_captured(job.captured, joints, joined, here))
    pace = job.glueup
    return GlueUpSpec(
        stages=tuple(_stages(job.stage, [*joined, *(part.name for part in parts)], here)),
        captured=parts,
        pace=Pace(
            seconds_a_face=pace.seconds_a_face,
            seconds_a_corner=pace.seconds_a_corner,
            seconds_a_clamp=pace.seconds_a_clamp,
            open_minutes=pace.open_minutes,
            wood_c=pace.wood_temperature,
        ),
    )


def _captured(
    tables: Sequence[CapturedTable], joints: Sequence[CornerJoint], joined: Sequence[str], here: Here
) -> Iterator[Captured]:
    boxes = grouped((joint.spec.origin[1], joint.name) for joint in joints if joint.spec.origin[0] != "corner")
    holders = {**boxes, **{joint.name: [joint.name] for joint in joints}}
    names = set(joined)
    for entry in tables:
        place = here.entry("captured", entry.name)
        if entry.name in names:
            raise place.error("a corner, a divider or a captured part of that name is there already", "rename it")
        names.add(entry.name)
        for name in entry.held_by:
            if name not in holders:
                raise place.at("in").error(f"there is no corner or box {name!r}", _near(name, holders))
        yield Captured(
            name=entry.name,
            held_by=tuple(dict.fromkeys(corner for name in entry.held_by for corner in holders[name])),
            finish_first=entry.finish_first,
            reach=entry.reach,
            left_long=entry.left_long,
            faces=entry.faces,
        )


def _stages(tables: Sequence[StageTable], units: Sequence[str], here: Here) -> Iterator[StageSpec]:
    names = [table.name for table in tables]
    stage_of: dict[str, str] = {}
    for table, place in each_once(tables, "stage", here):
        for name in table.joins:
            if units.count(name) > 1:
                raise place.at("joins").error(f"{name!r} is a corner and a divider", "rename one of them")
            if name not in units:
                problem = f"there is no corner, divider or captured part {name!r}"
                raise place.at("joins").error(problem, _near(name, units))
            if name in stage_of:
                raise place.at("joins").error(f"{name!r} is glued in stage {stage_of[name]!r} already", "name it once")
            stage_of[name] = table.name
        others = [name for name in names if name != table.name]
        for key, wanted in (("before", table.before), ("after", table.after)):
            for other in wanted:
                if other not in others:
                    raise place.at(key).error(f"there is no other stage {other!r}", _near(other, others))
        yield StageSpec(name=table.name, joins=table.joins, before=table.before, after=table.after)


def _near(name: str, known: Iterable[str]) -> str:
    known = list(dict.fromkeys(known))
    return nearest(name, known, f"there are {', '.join(known) or 'none'}")
