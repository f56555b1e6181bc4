"""`dovelayout glueup JOB`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from dovelayout.cli.command import Force, JobFile, exit_on_stop, one_line_errors, option
from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written
from dovelayout.report.numbers import lengths, mm, rounded

if TYPE_CHECKING:
    from dovelayout.checks.finding import Finding
    from dovelayout.glueup.plan import GlueUp
    from dovelayout.glueup.squareness import Lean
    from dovelayout.glueup.timing import TimedStage
    from dovelayout.job.reader import Job
    from dovelayout.render.files import MayReplace
    from dovelayout.units import Unit


@one_line_errors
def glueup(
    *,
    job: JobFile,
    out: Annotated[
        Path | None, option("-o, --out", "Folder for the bench page and the cauls.", default="nothing is written")
    ] = None,
    measured: Annotated[
        tuple[str, str] | None, option("--measured-diagonals", "Both diagonals as measured in the clamps.")
    ] = None,
    anyway: Annotated[bool, option("--anyway", "Write in spite of a stop; every sheet is stamped.")] = False,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "The plan as JSON on standard output.")] = False,
) -> None:
    """Plan the glue-up: stages against the open time, the order, cauls, spreaders, diagonals. Exit 1 on a stop."""
    from dovelayout.checks.finding import Level, in_unit, worst_first, worst_level
    from dovelayout.glueup.squareness import lean_findings
    from dovelayout.glueup.words import grouped_findings, lean_words
    from dovelayout.job.reader import read_job
    from dovelayout.render.files import MayReplace
    from dovelayout.report.glueup import glue_up_findings, glue_up_of, glue_up_tables, verdict

    understood = read_job(job)
    plan = glue_up_of(understood)
    lean = None if measured is None else _lean(plan, measured, understood.unit)
    findings = worst_first((*glue_up_findings(understood, plan), *(() if lean is None else lean_findings(lean))))
    shown = tuple(in_unit(finding, understood.unit) for finding in grouped_findings(findings))
    worst = worst_level(findings)
    screen = console(to_stderr=as_json)
    for table in glue_up_tables(understood, plan):
        put_table(screen, table.title, table.columns, table.rows)
    if lean is not None:
        screen.print(clean(lean_words(lean)))
    put_findings(screen, shown)
    screen.print(verdict(findings))
    files: list[dict[str, Any]] = []
    if out is not None and worst is Level.STOP and not anyway:
        screen.print("Nothing was written. --anyway writes it all the same and stamps every sheet.")
    elif out is not None:
        stamp = "WRITTEN AGAINST A STOP: see the verdict" if worst is Level.STOP else ""
        files = _written(understood, plan, shown, out, stamp=stamp, may_replace=MayReplace.if_forced(force=force))
    put_written(screen, (entry["path"] for entry in files))
    if as_json:
        put_json({"worst": worst, **_plan_json(plan, lean, findings), "files": files})
    exit_on_stop(worst)


def _lean(plan: GlueUp, measured: tuple[str, str], unit: Unit) -> Lean:
    from dovelayout.errors import UnitsError
    from dovelayout.glueup.squareness import nearest
    from dovelayout.units import parse_length

    one, other = (float(parse_length(text, unit=unit)) for text in measured)
    for text, got_mm in zip(measured, (one, other), strict=True):
        if not 1.0 <= got_mm <= 30000.0:
            raise UnitsError(f"diagonal {text!r} is {got_mm:g} mm", remedy="1 to 30000 mm would be right")
    lean = nearest(plan.diagonals, (one, other))
    if lean is None:
        problem = "--measured-diagonals: the job has no box of four corners"
        raise UnitsError(problem, remedy="diagonals say nothing of it")
    return lean


def _plan_json(plan: GlueUp, lean: Lean | None, findings: Sequence[Finding]) -> dict[str, Any]:
    from dovelayout.report.findings import findings_json

    work = plan.work
    return {
        "glue": None if work.glue is None else work.glue.name,
        "hands": work.shop.hands,
        "wood_celsius": work.temperature_c,
        "stages": [_stage_json(plan, row) for row in plan.stages],
        "order": [
            {"kind": step.kind.value, "names": step.names, "stage": step.stage, "step": step.words}
            for step in plan.steps
        ],
        "spreaders": [{"where": row.where, **lengths(row, ("length_mm",))} for row in plan.spreaders],
        "diagonals": [
            {
                "where": row.where,
                **lengths(row, ("length_mm",)),
                "sides_mm": [mm(side) for side in row.sides_mm],
                "allowed_difference_mm": row.allowed_mm,
            }
            for row in plan.diagonals
        ],
        "cauls": [
            {
                "corner": caul.corner,
                **lengths(caul, ("length_mm",)),
                "notch_depth_mm": mm(caul.deep_mm),
                "notches": [lengths(span, ("start_mm", "end_mm")) for span in caul.notches],
            }
            for caul in plan.cauls
        ],
        "lean": None if lean is None else _lean_json(lean),
        "findings": findings_json(findings),
    }


def _stage_json(plan: GlueUp, row: TimedStage) -> dict[str, Any]:
    cautious, hopeful = (None, None) if row.open_minutes is None else (round(time, 4) for time in row.open_minutes)
    glue = plan.work.glue
    return {
        "name": row.name,
        "joins": row.stage.joins,
        "faces": row.labour.faces,
        **rounded(row.labour, {"area_mm2": 1}),
        "glue_g": None if glue is None else round(row.labour.glue_g(glue), 2),
        "clamps": row.labour.clamps,
        **rounded(row, {"spread_minutes": 4, "minutes": 4}),
        "open_minutes": cautious,
        "open_minutes_hopeful": hopeful,
    }


def _lean_json(lean: Lean) -> dict[str, Any]:
    sides = zip(lean.diagonal.sides_mm, lean.off_mm, strict=True)
    return {
        "where": lean.diagonal.where,
        **rounded(lean, {"difference_mm": 5, "degrees": 5}),
        "off_mm": [{"side_mm": mm(side), "off_mm": mm(off)} for side, off in sides],
    }


def _written(
    job: Job, plan: GlueUp, findings: tuple[Finding, ...], folder: Path, *, stamp: str, may_replace: MayReplace
) -> list[dict[str, Any]]:
    """The bench page with the cauls behind it as a PDF, and each caul as an SVG."""
    from dovelayout.cli.drawn import write_drawn
    from dovelayout.drawing.cards.caul import caul_sheet
    from dovelayout.drawing.cards.glue_up_page import glue_up_sheets
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.style import Style
    from dovelayout.glueup.words import cauls_by_shape
    from dovelayout.render.files import safe_name, unique_names

    style = Style(job=printable(job.title) or "job", unit=job.unit, stamp=stamp)
    sheets = glue_up_sheets(plan, findings, style, job.paper)
    cauls = cauls_by_shape(plan.cauls)
    names = unique_names([corners[0] for _, corners in cauls], fallback="corner")
    alone = {
        f"{name}-caul": caul_sheet(caul, corners, style) for (caul, corners), name in zip(cauls, names, strict=True)
    }
    pdf = folder / f"{safe_name(job.title)}-glue-up.pdf"
    return write_drawn(pdf, sheets, title=f"{style.job}: glue-up", alone=alone, may_replace=may_replace)
