"""The glue-up of a job for people: its stages, order, spreaders and diagonals as tables."""

from __future__ import annotations

from dovelayout.checks.cutouts import check_cutouts
from dovelayout.checks.finding import Finding, worst_first
from dovelayout.errors import JobError, LayoutError, WoodError
from dovelayout.glueup.plan import GlueUp, plan_glue_up
from dovelayout.glueup.words import told_steps
from dovelayout.job.reader import Job
from dovelayout.place import Place
from dovelayout.report.tables import Table
from dovelayout.units import format_both
from dovelayout.verdict.verdict import with_fixes


def glue_up_of(job: Job) -> GlueUp:
    """The plan of a job's glue-up. Raises JobError for stages that can't be."""
    try:
        return plan_glue_up(joints=job.joints, dividers=job.dividers, wishes=job.glueup, shop=job.shop)
    except (LayoutError, WoodError) as error:
        place = Place(kind="shop", key="glue") if isinstance(error, WoodError) else Place(kind="stage")
        raise JobError(file=job.source, place=place, problem=error.problem, remedy=error.remedy) from None


def glue_up_findings(job: Job, plan: GlueUp) -> tuple[Finding, ...]:
    """What stands against the plan and what the boards say of clamps, worst first."""
    return worst_first((*plan.findings, *with_fixes(job, list(check_cutouts(job.boards, job.joints)))))


def glue_up_tables(job: Job, plan: GlueUp) -> tuple[Table, ...]:
    """Stages and order, and spreaders and diagonals where there are any."""

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=job.unit)

    stages = Table(
        title=f"{job.title}: stages",
        columns=("stage", "joins", "faces", "glue area", "minutes", "open time"),
        rows=tuple(
            (
                row.name,
                ", ".join(row.stage.joins),
                str(row.labour.faces),
                f"{row.labour.area_mm2 / 100:.0f} cm²",
                f"{row.minutes:.1f}",
                "no glue named" if row.open_minutes is None else f"{row.open_minutes[0]:.1f} min",
            )
            for row in plan.stages
        ),
    )
    steps = enumerate(told_steps(plan, job.unit), 1)
    order = Table(
        title="Order",
        columns=("", "step", "stage"),
        rows=tuple((str(number), words, step.stage) for number, (step, words) in steps),
    )
    spreaders = Table(
        title="Spreaders",
        columns=("where", "length"),
        rows=tuple((row.where, both(row.length_mm)) for row in plan.spreaders),
    )
    diagonals = Table(
        title="Diagonals",
        columns=("where", "length", "may differ by"),
        rows=tuple((row.where, both(row.length_mm), f"{row.allowed_mm:g} mm") for row in plan.diagonals),
    )
    return (stages, order, *(table for table in (spreaders, diagonals) if table.rows))


VERDICTS = {
    "ok": "Verdict: it can be glued up so. Rehearse it dry first.",
    "note": "Verdict: good, with notes worth reading. Rehearse it dry first.",
    "warn": "Verdict: it can be done; a careful maker would change it or prepare for what is warned of.",
    "stop": "Verdict: STOP. Not like this.",
}
