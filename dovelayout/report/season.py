"""The season of a job for people: tables, doubts, and the year as the chart draws it."""

from __future__ import annotations

from dovelayout.checks.finding import Finding
from dovelayout.checks.movement.job import MOVEMENT_CHECKS
from dovelayout.drawing.charts.year import Year, YearColumn, YearRow
from dovelayout.job.reader import Job
from dovelayout.joints.moving import Axis, Movement, assumption
from dovelayout.planning.season import Fixing, SeasonPlan, doubts, season
from dovelayout.report.tables import ReportTable
from dovelayout.units import Unit, with_inches
from dovelayout.verdict.verdict import Verdict

LEAST_INCHES_MM = 0.4
"""Smaller movements are not said in inches: they come out as 0."""


def season_tables(job: Job, plan: SeasonPlan) -> tuple[ReportTable, ...]:
    """The air the piece will see, how far its parts move, and what that does to each fixing."""
    air = ReportTable(
        title=f"{job.title}: the air it will see",
        columns=("", "relative humidity", "moisture in wood"),
        rows=tuple((name, f"{humidity:g} %", f"{mc:.1f} %") for name, humidity, mc in plan.air),
    )
    parts = ReportTable(
        title=f"How far the parts move ({fitted_words(job)})",
        columns=("part", "across", "as fitted", "driest", "dampest", "moves", "coefficient a point, from"),
        rows=tuple(_part_row(part, job.unit) for part in plan.parts),
    )
    fixings = ReportTable(
        title="What that does to each fixing",
        columns=("", "what", "moves at most", "as it is", "what works"),
        rows=tuple(fixing_row(row, job.unit) for row in plan.fixings),
    )
    return (air, parts, *((fixings,) if plan.fixings else ()))


def season_lines(plan: SeasonPlan) -> tuple[str, ...]:
    """What isn't known, and what is to be doubted."""
    return (
        *(f"{name}: not known, because {because}" for name, because in plan.unmoved),
        *(f"To doubt: {doubt}." for doubt in doubts(plan.parts)),
    )


def season_of(job: Job) -> SeasonPlan:
    """The season of a job, whose air must be known."""
    return season(
        job.shop,
        boards=job.boards,
        across=job.across,
        panels=job.panels,
        dividers=job.dividers,
        joints=job.joints,
    )


def movement_findings(judgement: Verdict) -> tuple[Finding, ...]:
    """Those of a verdict that are about the season, for people."""
    return tuple(finding for finding in judgement.for_people if finding.check in MOVEMENT_CHECKS)


def _part_row(part: Movement, unit: Unit) -> tuple[str, ...]:
    sizes = (f"{part.dimension_mm:g} mm", f"{part.driest_mm:.1f} mm", f"{part.dampest_mm:.1f} mm")
    moves = f"{part.change_mm:.2f} mm" if part.change_mm >= LEAST_INCHES_MM else f"{part.change_mm:.2f}"
    coefficient = f"{part.coefficient.per_pct:.5f}, {part.coefficient.provenance}"
    return (part.board.name, part.axis.value, *in_unit(unit, *sizes, moves), coefficient)


def fixing_row(row: Fixing, unit: Unit) -> tuple[str, ...]:
    """A fixing as five cells: name, what it is, how far it moves, how it is held, what works; lengths in mm."""
    moves = "not known" if row.moves_mm is None else f"{row.moves_mm:.1f} mm over {row.over_mm:g} mm"
    return (row.name, row.what, *in_unit(unit, moves, row.now, row.works))


def in_unit(unit: Unit, *texts: str) -> tuple[str, ...]:
    """Texts in which a job in inches finds its inches behind every length."""
    return tuple(with_inches(text) for text in texts) if unit is Unit.IN else texts


def fitted_words(job: Job) -> str:
    """In what air the piece is fitted, or of which each extreme is the worse."""
    low, high = job.shop.fitting_humidity_pct[0], job.shop.fitting_humidity_pct[-1]
    if assumption(job.shop):
        return f"driest as fitted at {high:g} %, dampest as fitted at {low:g} %"
    return f"fitted at {low:g} %"


def drawn_from(job: Job) -> str:
    """What the bars of the chart are drawn from."""
    return f"fitted at {job.shop.fitting_humidity_pct[0]:g} %" + (
        ", the driest it may have been" if assumption(job.shop) else ""
    )


def year_of(plan: SeasonPlan, unit: Unit) -> Year:
    """The widths that move, as the chart draws them."""
    columns = tuple(YearColumn(name=name, humidity_pct=humidity, moisture_pct=mc) for name, humidity, mc in plan.air)
    rows = tuple(
        YearRow(
            name=part.board.name,
            lines=(
                f"{part.board.wood.name}, {part.board.rings.sawn}",
                *in_unit(unit, f"{part.dimension_mm:g} mm wide as fitted", f"moves {part.change_mm:.1f} mm in a year"),
            ),
            larger_mm=plan.through_the_year(part),
        )
        for part in plan.parts
        if part.axis is Axis.WIDTH and part.coefficient.per_pct > 0
    )
    return Year(columns=columns, rows=rows)
