"""`dovelayout draw JOB`."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.command import Force, JobFile, Printer, no_corner, one_line_errors, option
from dovelayout.cli.console import clean, console, put_json, put_written
from dovelayout.report.formats import Format

if TYPE_CHECKING:
    from dovelayout.job.reader import Job

MANY_TEMPLATES = 20


USUAL_FORMATS = (Format.PDF, Format.SVG)


@one_line_errors
def draw(
    job: JobFile,
    out: Annotated[Path | None, option("-o, --out", "Folder to write to.", default="templates_out/<job>")] = None,
    formats: Annotated[
        list[Format] | None, option("--as", "May be given more than once.", default="pdf and svg")
    ] = None,
    paper: Annotated[
        str | None,
        option("--paper", "A5 to A0, Letter, Legal, Tabloid, '210 x 400 mm', 'roll 610 mm'.", default="the job's"),
    ] = None,
    printer: Printer = None,
    neutral: Annotated[bool, option("--neutral", "Sheets that come out whole on A4 and on Letter.")] = False,
    one_per_sheet: Annotated[bool, option("--one-per-sheet", "A sheet for every template, none nested.")] = False,
    only: Annotated[str | None, option("--only", "Draw this corner alone.", default="all")] = None,
    anyway: Annotated[bool, option("--anyway", "Draw in spite of a stop; every sheet is stamped with it.")] = False,
    no_pictures: Annotated[bool, option("--no-pictures", "Leave out the pictures of the joints.")] = False,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "The files written, as JSON on standard output.")] = False,
) -> None:
    """Write full-size templates: a PDF on your paper, and an SVG for each template.

    A DXF for each template on request; PNG pictures of the PDF's pages to look at. A printer's correction applies to
    PDF and PNG, to SVG only where --printer asks for it, and never to DXF.
    """
    from dovelayout.checks.finding import Level
    from dovelayout.cli.check import show
    from dovelayout.errors import PrintError
    from dovelayout.job.reader import read_job
    from dovelayout.paper import NEUTRAL
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import MayReplace, safe_name, write_files
    from dovelayout.report.files import job_files
    from dovelayout.report.findings import findings_json
    from dovelayout.report.listing import correction_json, corrections_for
    from dovelayout.verdict.verdict import judged

    corrections = corrections_for(printer)
    understood = _narrowed(read_job(job), only, job)
    if neutral and paper is not None:
        raise PrintError("--neutral and --paper each say what the paper is", remedy="give one of them")
    if neutral or paper is not None:
        chosen = paper_named(NEUTRAL if paper is None else paper, understood.paper.margin_mm, unit=understood.unit)
        understood = replace(understood, paper=chosen)
    if one_per_sheet:
        understood = replace(understood, nest=False)
    judgement = judged(understood)
    folder = out if out is not None else Path("templates_out") / safe_name(understood.title)
    screen = console(to_stderr=as_json)
    show(screen, judgement)

    stopped = judgement.worst is Level.STOP
    listed: list[dict[str, Any]] = []
    if stopped and not anyway:
        screen.print("Nothing was drawn. --anyway draws it all the same and stamps every sheet.")
    else:
        files, listed = job_files(
            judgement,
            folder,
            set(formats or USUAL_FORMATS),
            corrections,
            pictures=not no_pictures,
            progress=_with_progress,
        )
        write_files(files, may_replace=MayReplace.if_forced(force=force))
        if corrections.on_paper is not None:
            screen.print(f"{clean(corrections.on_paper.note)}; DXF files carry true sizes")
        if doubt := corrections.doubt(understood.paper.name):
            screen.print(doubt)
        put_written(screen, (entry["path"] for entry in listed))
        for entry in listed:
            if entry["format"] == "pdf":
                for line in _printing(entry):
                    screen.print(line, soft_wrap=True)
    if as_json:
        put_json(
            {
                "title": understood.title,
                "only": only,
                "paper": understood.paper.name,
                "printer": correction_json(corrections.on_paper),
                "files": listed,
                "worst": judgement.worst.value,
                "findings": findings_json(judgement.all_findings),
            }
        )
    if stopped:
        raise typer.Exit(1)


def _printing(entry: dict[str, Any]) -> list[str]:
    """What is said of a PDF: how many sheets it took, against how few could do, and how to print it."""
    lines = []
    least = entry["least_sheets"]
    if least is not None and entry["nested_sheets"]:
        taken, area, any_way = entry["nested_sheets"], least["by_area"], least["by_any_nesting"]
        lines.append(
            f"{taken} {'sheet' if taken == 1 else 'sheets'} of pieces; by their area and gaps alone {area} would do "
            f"({taken / area:.2f} times), and no nesting of them, on the narrowest skirts, goes below {any_way} "
            f"({taken / any_way:.2f} times)"
        )
    lines.append(
        f"print it at 100 %, actual size: lp -o media={entry['media']} -o print-scaling=none "
        f"{shlex.quote(clean(entry['path']))}"
    )
    if entry["paper"] == "A4 or Letter":
        lines.append("on Letter paper: the same with media=Letter")
    return lines


def _narrowed(job: Job, only: str | None, path: Path) -> Job:
    if only is None:
        return job
    joints = tuple(joint for joint in job.joints if joint.name == only)
    dividers = tuple(divider for divider in job.dividers if divider.name == only)
    if not joints and not dividers:
        names = [joint.name for joint in job.joints] + [divider.name for divider in job.dividers]
        raise no_corner(path, only, names)
    drawers = tuple(drawer for drawer in job.drawers if any(joint in joints for joint in drawer.joints))
    return replace(job, joints=joints, dividers=dividers, drawers=drawers)


def _with_progress(rows: Sequence[Any]) -> Any:
    """The rows, with a bar on stderr where there are many and a person watches."""
    if len(rows) < MANY_TEMPLATES:
        return rows
    from rich.progress import track

    screen = console(to_stderr=True)
    return track(rows, description="drawing", console=screen, disable=not screen.is_terminal)
