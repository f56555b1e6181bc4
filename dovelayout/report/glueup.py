"""The glue-up of a job for people: its stages, order, spreaders and diagonals as tables."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from dovelayout.checks.cutouts import check_cutouts
from dovelayout.checks.finding import Finding, worst_first, worst_level
from dovelayout.errors import JobError, LayoutError, WoodError
from dovelayout.glueup.plan import GlueUp, plan_glue_up
from dovelayout.glueup.timing import TimedStage
from dovelayout.glueup.words import step_lines
from dovelayout.job.reader import Job
from dovelayout.place import Place
from dovelayout.report.tables import ReportTable
from dovelayout.texts import Texts
from dovelayout.units import format_both
from dovelayout.verdict.verdict import with_fixes

TEXTS = Texts("report", "glueup")


def glue_up_of(job: Job) -> GlueUp:
    """The plan of a job's glue-up. Raises JobError for stages that can't be."""
    try:
        return plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop)
    except (LayoutError, WoodError) as error:
        place = Place(kind="shop", key="glue") if isinstance(error, WoodError) else Place(kind="stage")
        raise JobError(file=job.source, place=place, problem=error.problem, remedy=error.remedy) from None


def glue_up_findings(job: Job, plan: GlueUp) -> tuple[Finding, ...]:
    """What stands against the plan and what the boards say of clamps, worst first."""
    return worst_first((*plan.findings, *with_fixes(job, list(check_cutouts(job.boards, job.joints)))))


def glue_up_tables(job: Job, plan: GlueUp) -> tuple[ReportTable, ...]:
    """Stages and order, and spreaders and diagonals where there are any."""
    both = partial(format_both, unit=job.unit)

    def cells(row: TimedStage) -> tuple[str, ...]:
        opened = "no glue named" if row.open_minutes is None else f"{row.open_minutes[0]:.1f} min"
        faces, area = str(row.labour.faces), f"{row.labour.area_mm2 / 100:.0f} cm²"
        return row.name, ", ".join(row.stage.joins), faces, area, f"{row.minutes:.1f}", opened

    heads = ("stage", "joins", "faces", "glue area", "minutes", "open time")
    stages = ReportTable(title=f"{job.title}: stages", columns=heads, rows=tuple(cells(row) for row in plan.stages))
    steps = tuple((str(n), words, step.stage) for n, (step, words) in enumerate(step_lines(plan, job.unit), 1))
    sticks = tuple((row.where, both(row.length_mm)) for row in plan.spreaders)
    squares = tuple((row.where, both(row.length_mm), f"{row.allowed_mm:g} mm") for row in plan.diagonals)
    more = (
        ReportTable(title="Spreaders", columns=("where", "length"), rows=sticks),
        ReportTable(title="Diagonals", columns=("where", "length", "may differ by"), rows=squares),
    )
    order = ReportTable(title="Order", columns=("", "step", "stage"), rows=steps)
    return stages, order, *(table for table in more if table.rows)


def verdict(findings: Iterable[Finding]) -> str:
    """The last line, by the worst of the findings."""
    return TEXTS(f"verdict.{worst_level(findings)}")
