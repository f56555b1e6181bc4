"""`dovelayout glueup JOB`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import Force, clean, console, put_findings, put_json, put_table, told

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.checks.finding import Finding
    from dovelayout.glueup.plan import GlueUp
    from dovelayout.glueup.squareness import Lean
    from dovelayout.job.reader import Job
    from dovelayout.render.files import MayReplace
    from dovelayout.units import Unit


@told
def glueup(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    out: Annotated[
        Path | None,
        typer.Option("-o", "--out", help="Folder for the bench page and the cauls.", show_default="nothing is written"),
    ] = None,
    measured: Annotated[
        tuple[str, str] | None,
        typer.Option("--measured-diagonals", help="Both diagonals as measured in the clamps.", show_default=False),
    ] = None,
    anyway: Annotated[bool, typer.Option("--anyway", help="Write in spite of a stop; every sheet is stamped.")] = False,
    force: Force = False,
    as_json: Annotated[bool, typer.Option("--json", help="The plan as JSON on standard output.")] = False,
) -> None:
    """Plan the glue-up: stages against the open time, the order, cauls, spreaders, diagonals. Exit 1 on a stop."""
    from dovelayout.checks.finding import Level, in_unit, worst_first, worst_level
    from dovelayout.glueup.squareness import lean_findings
    from dovelayout.glueup.words import told_once
    from dovelayout.job.reader import read_job
    from dovelayout.render.files import MayReplace
    from dovelayout.report.glueup import glue_up_findings, glue_up_of

    understood = read_job(job)
    plan = glue_up_of(understood)
    lean = None if measured is None else _lean(plan, measured, understood.unit)
    leaning = () if lean is None else tuple(lean_findings(lean))
    findings = worst_first((*glue_up_findings(understood, plan), *leaning))
    said = tuple(in_unit(finding, understood.unit) for finding in told_once(findings))
    stopped = worst_level(findings) is Level.STOP
    screen = console(to_stderr=as_json)
    _show(screen, understood, plan, lean, said)
    listed: list[dict[str, Any]] = []
    if out is not None and stopped and not anyway:
        screen.print("Nothing was written. --anyway writes it all the same and stamps every sheet.")
    elif out is not None:
        listed = _written(understood, plan, said, out, stopped, MayReplace.if_forced(force=force))
        for entry in listed:
            screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
    if as_json:
        put_json({**_plan_json(plan, lean, findings), "files": listed})
    if stopped:
        raise typer.Exit(1)


def _show(out: Console, job: Job, plan: GlueUp, lean: Lean | None, findings: tuple[Finding, ...]) -> None:
    from dovelayout.checks.finding import worst_level
    from dovelayout.glueup.words import lean_words
    from dovelayout.report.glueup import VERDICTS, glue_up_tables

    for table in glue_up_tables(job, plan):
        put_table(out, table.title, table.columns, table.rows)
    if lean is not None:
        out.print(clean(lean_words(lean)))
    put_findings(out, findings)
    out.print(VERDICTS[worst_level(findings).value])


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
        raise UnitsError(
            "--measured-diagonals: the job has no box of four corners", remedy="diagonals say nothing of it"
        )
    return lean


def _mm(value: float) -> float:
    return round(value, 5)


def _plan_json(plan: GlueUp, lean: Lean | None, findings: tuple[Finding, ...]) -> dict[str, Any]:
    from dovelayout.checks.finding import worst_level
    from dovelayout.report.findings import findings_json

    work = plan.work
    return {
        "worst": worst_level(findings).value,
        "glue": None if work.glue is None else work.glue.name,
        "hands": work.shop.hands,
        "wood_celsius": work.temperature_c,
        "stages": [
            {
                "name": row.name,
                "joins": list(row.stage.joins),
                "faces": row.labour.faces,
                "area_mm2": round(row.labour.area_mm2, 1),
                "glue_g": None if work.glue is None else round(row.labour.glue_g(work.glue), 2),
                "clamps": row.labour.clamps,
                "spread_minutes": round(row.spread_minutes, 4),
                "minutes": round(row.minutes, 4),
                "open_minutes": None if row.open_minutes is None else round(row.open_minutes[0], 4),
                "open_minutes_hopeful": None if row.open_minutes is None else round(row.open_minutes[1], 4),
            }
            for row in plan.stages
        ],
        "order": [
            {"kind": step.kind.value, "names": list(step.names), "stage": step.stage, "step": step.words}
            for step in plan.steps
        ],
        "spreaders": [{"where": row.where, "length_mm": _mm(row.length_mm)} for row in plan.spreaders],
        "diagonals": [
            {
                "where": row.where,
                "length_mm": _mm(row.length_mm),
                "sides_mm": [_mm(side) for side in row.sides_mm],
                "allowed_difference_mm": row.allowed_mm,
            }
            for row in plan.diagonals
        ],
        "cauls": [
            {
                "corner": caul.corner,
                "length_mm": _mm(caul.length_mm),
                "notch_depth_mm": _mm(caul.deep_mm),
                "notches": [{"start_mm": _mm(span.start_mm), "end_mm": _mm(span.end_mm)} for span in caul.notches],
            }
            for caul in plan.cauls
        ],
        "lean": None
        if lean is None
        else {
            "where": lean.diagonal.where,
            "difference_mm": _mm(lean.difference_mm),
            "degrees": round(lean.degrees, 5),
            "off_mm": [
                {"side_mm": _mm(side), "off_mm": _mm(off)}
                for side, off in zip(lean.diagonal.sides_mm, lean.off_mm, strict=True)
            ],
        },
        "findings": findings_json(findings),
    }


def _written(
    job: Job, plan: GlueUp, findings: tuple[Finding, ...], folder: Path, stopped: bool, may_replace: MayReplace
) -> list[dict[str, Any]]:
    """The bench page with the cauls behind it as a PDF, and each caul as an SVG."""
    from dovelayout.drawing.cards.caul import caul_sheet
    from dovelayout.drawing.cards.glue_up_page import glue_up_sheets
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.style import Style
    from dovelayout.glueup.words import alike
    from dovelayout.render.files import safe_name, unique_names, write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    title = printable(job.title) or "job"
    stamp = "WRITTEN AGAINST A STOP: see the verdict" if stopped else ""
    style = Style(job=title, unit=job.unit, stamp=stamp)
    sheets = glue_up_sheets(plan, findings, style, job.paper)
    path = folder / f"{safe_name(job.title)}-glue-up.pdf"
    files = {path: pdf_bytes(sheets, title=f"{title}: glue-up")}
    holds = [sheet.title for sheet in sheets]
    listed: list[dict[str, Any]] = [{"path": str(path), "format": "pdf", "holds": holds, "pages": len(sheets)}]
    cauls = alike(plan.cauls)
    for (caul, corners), name in zip(cauls, unique_names([c[1][0] for c in cauls], fallback="corner"), strict=True):
        sheet = caul_sheet(caul, corners, style)
        path = folder / f"{name}-caul.svg"
        files[path] = svg_text(sheet).encode("utf-8")
        listed.append({"path": str(path), "format": "svg", "holds": [sheet.title], "pages": 1})
    write_files(files, may_replace=may_replace)
    return listed
