"""`dovelayout draw JOB`."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import clean, console, put_json, told

if TYPE_CHECKING:
    from dovelayout.checks.finding import Finding
    from dovelayout.cli.report import Verdict
    from dovelayout.drawing.flow import Line
    from dovelayout.job.reader import Job

MANY_TEMPLATES = 20


class Format(StrEnum):
    """Kinds of file that can be drawn."""

    PDF = "pdf"
    SVG = "svg"


@told
def draw(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    out: Annotated[
        Path | None, typer.Option("-o", "--out", help="Folder to write to.", show_default="templates_out/<job>")
    ] = None,
    formats: Annotated[
        list[Format] | None, typer.Option("--as", help="pdf or svg; may be given twice.", show_default="both")
    ] = None,
    paper: Annotated[
        str | None, typer.Option("--paper", help="A5 to A0, Letter, Legal, Tabloid.", show_default="the job's")
    ] = None,
    only: Annotated[str | None, typer.Option("--only", help="Draw this corner alone.", show_default="all")] = None,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Draw in spite of a stop; every sheet is stamped with it.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="The files written, as JSON on standard output.")] = False,
) -> None:
    """Write full-size templates: a PDF on your paper, and an SVG for each template."""
    from dovelayout.checks.finding import Level
    from dovelayout.cli.check import show
    from dovelayout.cli.report import findings_json, judged
    from dovelayout.job.reader import read_job
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import safe_name, write_files

    understood = _narrowed(read_job(job), only, job)
    if paper is not None:
        understood = replace(understood, paper=paper_named(paper, understood.paper.margin_mm))
    judgement = judged(understood)
    folder = out if out is not None else Path("templates_out") / safe_name(understood.title)
    screen = console(to_stderr=as_json)
    show(screen, judgement)

    stopped = judgement.worst is Level.STOP
    listed: list[dict[str, Any]] = []
    if stopped and not anyway:
        screen.print("Nothing was drawn. --anyway draws it all the same and stamps every sheet.")
    else:
        files, listed = _drawn(judgement, folder, set(formats or Format))
        write_files(files)
        for entry in listed:
            screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
        pdfs = [entry["path"] for entry in listed if entry["format"] == "pdf"]
        for path in pdfs:
            screen.print(
                f"print it at 100 %, actual size: lp -o media={understood.paper.name} -o print-scaling=none "
                f"{shlex.quote(clean(path))}",
                soft_wrap=True,
            )
    if as_json:
        put_json(
            {
                "files": listed,
                "worst": judgement.worst.value,
                "findings": findings_json(judgement.all_findings),
            }
        )
    if stopped:
        raise typer.Exit(1)


def _narrowed(job: Job, only: str | None, path: Path) -> Job:
    from dovelayout.errors import JobError

    if only is None:
        return job
    joints = tuple(joint for joint in job.joints if joint.name == only)
    dividers = tuple(divider for divider in job.dividers if divider.name == only)
    if not joints and not dividers:
        names = ", ".join([joint.name for joint in job.joints] + [divider.name for divider in job.dividers])
        raise JobError(
            file=str(path), place="--only", problem=f"there is no corner {only!r}", remedy=f"the corners are {names}"
        )
    drawers = tuple(drawer for drawer in job.drawers if any(joint in joints for joint in drawer.joints))
    return replace(job, joints=joints, dividers=dividers, drawers=drawers)


def _drawn(judgement: Verdict, folder: Path, formats: set[Format]) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """All files of a job as bytes, and what each holds; nothing is written yet."""
    from dovelayout.drawing.book import Style, free_sheet, job_sheets
    from dovelayout.drawing.divider_book import divider_sheet
    from dovelayout.drawing.drawer_lines import drawer_lines
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.shared import shared_ends
    from dovelayout.render.files import safe_name, unique_names
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    job = judgement.job
    style = Style(job=printable(job.title) or "job", unit=job.unit, stamp=_stamp(judgement))
    files: dict[Path, bytes] = {}
    listed: list[dict[str, Any]] = []
    if Format.PDF in formats:
        first = drawer_lines(job.drawers, job.unit)
        sheets = job_sheets(job.joints, style, job.paper, _notes(judgement.told_once), job.dividers, first=first)
        path = folder / f"{safe_name(job.title)}.pdf"
        files[path] = pdf_bytes(sheets, title=style.job)
        holds = [sheet.title for sheet in sheets]
        listed.append({"path": str(path), "format": "pdf", "holds": holds, "pages": len(sheets)})
    if Format.SVG in formats:
        corners = [joint.name for joint in job.joints]
        file_of = dict(zip(corners, unique_names(corners, fallback="corner"), strict=True))
        for end in _with_progress(shared_ends(job.joints)):
            sheet = free_sheet(end.joint, end.faces, style, end.serves)
            path = folder / f"{file_of[end.joint.name]}-{end.faces.part}.svg"
            files[path] = svg_text(sheet).encode("utf-8")
            listed.append({"path": str(path), "format": "svg", "holds": [sheet.title], "pages": 1})
        ends = [(divider.name, joint) for divider in job.dividers for joint in divider.joints]
        names = unique_names([f"{name} {joint.spec.key.end}" for name, joint in ends], fallback="divider")
        for (_, joint), name in zip(ends, names, strict=True):
            sheet = divider_sheet(joint, job=style.job, unit=style.unit, stamp=style.stamp)
            path = folder / f"{name}-housing.svg"  # no corner's file ends so
            files[path] = svg_text(sheet).encode("utf-8")
            listed.append({"path": str(path), "format": "svg", "holds": [sheet.title], "pages": 1})
    return files, listed


def _with_progress(rows: Sequence[Any]) -> Any:
    """The rows, with a bar on stderr where there are many and a person watches."""
    if len(rows) < MANY_TEMPLATES:
        return rows
    from rich.progress import track

    screen = console(to_stderr=True)
    return track(rows, description="drawing", console=screen, disable=not screen.is_terminal)


def _stamp(judgement: Verdict) -> str:
    from dovelayout.checks.finding import Level

    stops = [finding for finding in judgement.all_findings if finding.level is Level.STOP]
    if not stops:
        return ""
    more = f" and {len(stops) - 1} more" if len(stops) > 1 else ""
    return f"DRAWN AGAINST A STOP: {stops[0].check} at {stops[0].where}{more}"


def _notes(findings: tuple[Finding, ...]) -> tuple[Line, ...]:
    """The findings as they stand on the first sheets."""
    from dovelayout.cli.console import MARKS
    from dovelayout.drawing.flow import heading, item

    if not findings:
        return (heading("What the checks say"), item("Nothing stands against sawing."))
    rows = [heading("What the checks say")]
    for finding in findings:
        fix = f" What would do: {finding.fix}." if finding.fix else ""
        rows.append(item(f"{MARKS[finding.level.value]}, {finding.where}: {finding.message}.{fix}"))
    return tuple(rows)
