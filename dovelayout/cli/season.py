"""`dovelayout season JOB`."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import Force, clean, console, put_findings, put_json, put_table, told, verdict
from dovelayout.place import Place

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.checks.finding import Finding
    from dovelayout.drawing.sheets.flow import Paragraph
    from dovelayout.job.reader import Job
    from dovelayout.joints.moving import Movement
    from dovelayout.planning.season import SeasonPlan
    from dovelayout.units import Unit


class ChartFormat(StrEnum):
    """Kinds of file that the year's chart can be drawn as."""

    PDF = "pdf"
    SVG = "svg"


@told
def season(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    formats: Annotated[
        list[ChartFormat] | None,
        typer.Option("--as", help="Draw the year's chart: pdf or svg; may be given twice.", show_default="none"),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("-o", "--out", help="Folder to write to.", show_default="templates_out/<job>")
    ] = None,
    paper: Annotated[
        str | None, typer.Option("--paper", help="A5 to A0, Letter, Legal, Tabloid.", show_default="the job's")
    ] = None,
    step: Annotated[
        list[str] | None,
        typer.Option("--step", help='A step seen at a corner, "side = 0.8 mm": could the season be why?'),
    ] = None,
    stuck: Annotated[bool, typer.Option("--stuck", help="Something sticks: could swelling be why?")] = False,
    force: Force = False,
    as_json: Annotated[bool, typer.Option("--json", help="The season as JSON on standard output.")] = False,
) -> None:
    """Say how far every part moves through the year, and what that does to each fixing. Exit 1 when something stops."""
    from dovelayout.checks.finding import Level, worst_level
    from dovelayout.checks.movement.job import MOVEMENT_CHECKS
    from dovelayout.errors import JobError
    from dovelayout.job.reader import read_job
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import MayReplace, safe_name, write_files
    from dovelayout.report.season import movement_findings, season_of
    from dovelayout.verdict.verdict import judged

    understood = read_job(job)
    if paper is not None:
        understood = replace(understood, paper=paper_named(paper, understood.paper.margin_mm))
    if understood.shop.home_humidity_pct is None:
        raise JobError(
            file=str(job),
            place=Place(kind="home"),
            problem="the job doesn't say how dry and how damp the room gets",
            remedy="add [home] humidity = [35, 65], driest and dampest in percent, or twelve months",
        )
    answers = _asked(understood, job, step or [], stuck)
    judgement = judged(understood)
    findings = movement_findings(judgement)
    plan = season_of(understood)
    screen = console(to_stderr=as_json)
    worst = worst_level(findings)
    _show(screen, understood, plan, (*answers, *findings))
    screen.print(verdict(worst))
    folder = out if out is not None else Path("templates_out") / safe_name(understood.title)
    files, listed = _drawn(understood, plan, findings, folder, set(formats or ()))
    write_files(files, may_replace=MayReplace.if_forced(force=force))
    for entry in listed:
        screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
    if as_json:
        plain = tuple(f for f in judgement.all_findings if f.check in MOVEMENT_CHECKS)
        put_json(_json(understood, plan, plain, answers, worst, listed))
    if worst is Level.STOP:
        raise typer.Exit(1)


def _asked(job: Job, path: Path, steps: list[str], stuck: bool) -> tuple[Finding, ...]:
    """Answers to what the maker sees on the piece."""
    from dovelayout.checks.finding import in_unit
    from dovelayout.errors import JobError
    from dovelayout.planning.season import explain_step, explain_sticking
    from dovelayout.units import length_mm

    boards = {board.name: board for board in job.boards}
    answers = []
    for text in steps:
        name, equals, size = (part.strip() for part in text.rpartition("="))
        if not equals or name not in boards:
            raise JobError(
                file=str(path),
                place=Place(kind="--step"),
                problem=f"{text!r} names no board and a step" if not equals else f"there is no board {name!r}",
                remedy=f'write "BOARD = 0.8 mm"; the boards are {", ".join(boards)}',
            )
        seen_mm = float(length_mm(size, unit=job.unit))
        answers.append(explain_step(boards[name], job.shop, seen_mm))
    if stuck:
        answers.append(explain_sticking(job.shop))
    return tuple(in_unit(answer, job.unit) for answer in answers)


def _show(out: Console, job: Job, plan: SeasonPlan, findings: tuple[Finding, ...]) -> None:
    from dovelayout.report.season import season_lines, season_tables

    air, parts, *fixings = season_tables(job, plan)
    for table in (air, parts):
        put_table(out, table.title, table.columns, table.rows)
    for line in season_lines(plan):
        out.print(clean(line))
    for table in fixings:
        put_table(out, table.title, table.columns, table.rows)
    put_findings(out, findings)


def _drawn(
    job: Job, plan: SeasonPlan, findings: tuple[Finding, ...], folder: Path, formats: set[ChartFormat]
) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """The chart's files as bytes, and what each holds; nothing is written yet."""
    from dovelayout.drawing.charts.year import year_sheet, year_sheets
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.style import Style
    from dovelayout.errors import JobError
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text
    from dovelayout.report.season import drawn_from, year_of

    files: dict[Path, bytes] = {}
    listed: list[dict[str, Any]] = []
    if not formats:
        return files, listed
    year = year_of(plan, job.unit)
    if not year.rows:
        raise JobError(
            file=job.source,
            place=Place(kind="--as"),
            problem="nothing in this job moves",
            remedy="there is nothing to draw",
        )
    style, fitted = Style(job=printable(job.title) or "job", unit=job.unit), drawn_from(job)
    if ChartFormat.PDF in formats:
        sheets = year_sheets(year, _notes(plan, findings, job.unit), style, fitted=fitted, on=job.paper)
        path = folder / "season.pdf"
        files[path] = pdf_bytes(sheets, title=f"{style.job}: season")
        listed.append(
            {"path": str(path), "format": "pdf", "holds": [sheet.title for sheet in sheets], "pages": len(sheets)}
        )
    if ChartFormat.SVG in formats:
        sheet = year_sheet(year, style, fitted=fitted)
        path = folder / "season.svg"
        files[path] = svg_text(sheet).encode("utf-8")
        listed.append({"path": str(path), "format": "svg", "holds": [sheet.title], "pages": 1})
    return files, listed


def _notes(plan: SeasonPlan, findings: tuple[Finding, ...], unit: Unit) -> tuple[Paragraph, ...]:
    from dovelayout.drawing.sheets.flow import heading, item
    from dovelayout.planning.season import doubts
    from dovelayout.report.notes import findings_notes
    from dovelayout.report.season import fixing_row

    rows = []
    if plan.fixings:
        rows.append(heading("Each fixing"))
    for fixing in plan.fixings:
        name, what, moves, now, works = fixing_row(fixing, unit)
        rows.append(item(f"{name}, {what}: moves {moves}. As it is: {now}. What works: {works}."))
    rows.extend(findings_notes(findings))
    said = doubts(plan.parts)
    if said:
        rows.append(heading("To doubt"))
        rows.extend(item(f"{doubt}.") for doubt in said)
    return tuple(rows)


def _json(
    job: Job,
    plan: SeasonPlan,
    findings: tuple[Finding, ...],
    answers: tuple[Finding, ...],
    worst: Any,
    listed: list[dict[str, Any]],
) -> dict[str, Any]:
    from dovelayout.report.findings import findings_json

    return {
        "title": job.title,
        "worst": worst.value,
        "built_at": list(job.shop.fitting_humidity_pct),
        "air": [
            {"name": name, "humidity_pct": humidity, "moisture_pct": round(mc, 3)} for name, humidity, mc in plan.air
        ],
        "parts": [_part_json(plan, part) for part in plan.parts],
        "not_known": [{"name": name, "because": because} for name, because in plan.unmoved],
        "fixings": [
            {
                "name": row.name,
                "what": row.what,
                "over_mm": round(row.over_mm, 5),
                "moves_mm": None if row.moves_mm is None else round(row.moves_mm, 5),
                "now": row.now,
                "works": row.works,
            }
            for row in plan.fixings
        ],
        "answers": findings_json(answers),
        "files": listed,
        "findings": findings_json(findings),
    }


def _part_json(plan: SeasonPlan, part: Movement) -> dict[str, Any]:
    return {
        "name": part.board.name,
        "across": part.axis.value,
        "dimension_mm": round(part.dimension_mm, 5),
        "driest_mm": round(part.driest_mm, 5),
        "dampest_mm": round(part.dampest_mm, 5),
        "change_mm": round(part.change_mm, 5),
        "shrinks_mm": round(part.shrinks_mm, 5),
        "grows_mm": round(part.grows_mm, 5),
        "larger_mm": [round(value, 5) for value in plan.through_the_year(part)],
        "coefficient": part.coefficient.per_pct,
        "provenance": part.coefficient.provenance,
        "doubt": part.coefficient.doubt,
    }
