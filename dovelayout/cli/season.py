"""`dovelayout season JOB`."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from dovelayout.cli.command import Force, JobFile, exit_on_stop, one_line_errors, option
from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written, verdict
from dovelayout.place import Place
from dovelayout.report.numbers import lengths, mm

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.checks.finding import Finding
    from dovelayout.drawing.sheets.flow import Paragraph
    from dovelayout.job.reader import Job
    from dovelayout.joints.moving import Movement
    from dovelayout.planning.season import SeasonPlan
    from dovelayout.render.files import MayReplace
    from dovelayout.units import Unit


class ChartFormat(StrEnum):
    """Kinds of file that the year's chart can be drawn as."""

    PDF = "pdf"
    SVG = "svg"


@one_line_errors
def season(
    job: JobFile,
    formats: Annotated[
        list[ChartFormat] | None,
        option("--as", "Draw the year's chart: pdf or svg; may be given twice.", default="none"),
    ] = None,
    out: Annotated[Path | None, option("-o, --out", "Folder to write to.", default="templates_out/<job>")] = None,
    paper: Annotated[str | None, option("--paper", "A5 to A0, Letter, Legal, Tabloid.", default="the job's")] = None,
    step: Annotated[
        list[str] | None, option("--step", 'A step seen at a corner, "side = 0.8 mm": could the season be why?')
    ] = None,
    stuck: Annotated[bool, option("--stuck", "Something sticks: could swelling be why?")] = False,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "The season as JSON on standard output.")] = False,
) -> None:
    """Say how far every part moves through the year, and what that does to each fixing. Exit 1 when something stops."""
    from dovelayout.checks.finding import worst_level
    from dovelayout.checks.movement.job import MOVEMENT_CHECKS
    from dovelayout.errors import JobError
    from dovelayout.job.reader import read_job
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import MayReplace, safe_name
    from dovelayout.report.findings import findings_json
    from dovelayout.report.season import movement_findings, season_of
    from dovelayout.verdict.verdict import judged

    understood = read_job(job)
    if paper is not None:
        understood = replace(understood, paper=paper_named(paper, understood.paper.margin_mm))
    if understood.shop.home_humidity_pct is None:
        problem = "the job doesn't say how dry and how damp the room gets"
        remedy = "add [home] humidity = [35, 65], driest and dampest in percent, or twelve months"
        raise JobError(file=str(job), place=Place(kind="home"), problem=problem, remedy=remedy)
    answers = _explanations(understood, step or [], stuck=stuck)
    judgement = judged(understood)
    findings = movement_findings(judgement)
    plan = season_of(understood)
    screen = console(to_stderr=as_json)
    worst = worst_level(findings)
    _show(screen, understood, plan, (*answers, *findings))
    screen.print(verdict(worst))
    folder = out if out is not None else Path("templates_out") / safe_name(understood.title)
    may_replace = MayReplace.if_forced(force=force)
    listed = _charts(understood, plan, findings, folder / "season.pdf", formats=formats or (), may_replace=may_replace)
    put_written(screen, (entry["path"] for entry in listed))
    if as_json:
        plain = tuple(f for f in judgement.all_findings if f.check in MOVEMENT_CHECKS)
        known = {"title": understood.title, "worst": worst.value, **_plan_json(understood, plan)}
        put_json({**known, "answers": findings_json(answers), "files": listed, "findings": findings_json(plain)})
    exit_on_stop(worst)


def _explanations(job: Job, steps: Sequence[str], *, stuck: bool) -> tuple[Finding, ...]:
    """Whether the season explains the steps, and a part that sticks."""
    from dovelayout.checks.finding import in_unit
    from dovelayout.errors import JobError
    from dovelayout.planning.season import explain_step, explain_sticking
    from dovelayout.units import length_mm

    boards = {board.name: board for board in job.boards}
    answers = []
    for text in steps:
        name, equals, size = (part.strip() for part in text.rpartition("="))
        if not equals or name not in boards:
            problem = f"{text!r} names no board and a step" if not equals else f"there is no board {name!r}"
            remedy = f'write "BOARD = 0.8 mm"; the boards are {", ".join(boards)}'
            raise JobError(file=job.source, place=Place(kind="--step"), problem=problem, remedy=remedy)
        answers.append(explain_step(boards[name], job.shop, float(length_mm(size, unit=job.unit))))
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


def _charts(
    job: Job,
    plan: SeasonPlan,
    findings: tuple[Finding, ...],
    pdf: Path,
    *,
    formats: Collection[ChartFormat],
    may_replace: MayReplace,
) -> list[dict[str, Any]]:
    """Writes the chart in these formats; what each file holds."""
    from dovelayout.cli.drawn import write_drawn
    from dovelayout.drawing.charts.year import year_sheet, year_sheets
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.style import Style
    from dovelayout.errors import JobError
    from dovelayout.report.season import drawn_from, year_of

    if not formats:
        return []
    year = year_of(plan, job.unit)
    if not year.rows:
        problem, remedy = "nothing in this job moves", "there is nothing to draw"
        raise JobError(file=job.source, place=Place(kind="--as"), problem=problem, remedy=remedy)
    style, fitted = Style(job=printable(job.title) or "job", unit=job.unit), drawn_from(job)
    sheets = (
        year_sheets(year, _notes(plan, findings, job.unit), style, fitted=fitted, on=job.paper)
        if ChartFormat.PDF in formats
        else ()
    )
    alone = {pdf.stem: year_sheet(year, style, fitted=fitted)} if ChartFormat.SVG in formats else {}
    return write_drawn(pdf, sheets, title=f"{style.job}: season", alone=alone, may_replace=may_replace)


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
    if known_doubts := doubts(plan.parts):
        rows.append(heading("To doubt"))
        rows.extend(item(f"{doubt}.") for doubt in known_doubts)
    return tuple(rows)


def _plan_json(job: Job, plan: SeasonPlan) -> dict[str, Any]:
    return {
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
                **lengths(row, ("over_mm",)),
                "moves_mm": None if row.moves_mm is None else mm(row.moves_mm),
                "now": row.now,
                "works": row.works,
            }
            for row in plan.fixings
        ],
    }


def _part_json(plan: SeasonPlan, part: Movement) -> dict[str, Any]:
    return {
        "name": part.board.name,
        "across": part.axis.value,
        **lengths(part, ("dimension_mm", "driest_mm", "dampest_mm", "change_mm", "shrinks_mm", "grows_mm")),
        "larger_mm": [mm(value) for value in plan.through_the_year(part)],
        "coefficient": part.coefficient.per_pct,
        "provenance": part.coefficient.provenance,
        "doubt": part.coefficient.doubt,
    }
