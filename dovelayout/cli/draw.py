"""`dovelayout draw JOB`."""

from __future__ import annotations

import shlex
from dataclasses import asdict, replace
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
        str | None,
        typer.Option(
            "--paper",
            help="A5 to A0, Letter, Legal, Tabloid, '210 x 400 mm', 'roll 610 mm'.",
            show_default="the job's",
        ),
    ] = None,
    neutral: Annotated[bool, typer.Option("--neutral", help="Sheets that come out whole on A4 and on Letter.")] = False,
    one_per_sheet: Annotated[
        bool, typer.Option("--one-per-sheet", help="A sheet for every template, none nested.")
    ] = False,
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
    from dovelayout.errors import PrintError
    from dovelayout.job.reader import read_job
    from dovelayout.paper import NEUTRAL
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import safe_name, write_files

    understood = _narrowed(read_job(job), only, job)
    if neutral and paper is not None:
        raise PrintError("--neutral and --paper each say what the paper is; give one of them")
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
        files, listed = _drawn(judgement, folder, set(formats or Format))
        write_files(files)
        for entry in listed:
            screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
        for entry in listed:
            if entry["format"] == "pdf":
                for line in _printing(entry):
                    screen.print(line, soft_wrap=True)
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
    return replace(job, joints=joints, dividers=dividers)


def _drawn(judgement: Verdict, folder: Path, formats: set[Format]) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """All files of a job as bytes, and what each holds; nothing is written yet."""
    from dovelayout.drawing.book import Style, free_sheet, job_book
    from dovelayout.drawing.divider_book import divider_sheet
    from dovelayout.drawing.lettering import printable
    from dovelayout.render.files import safe_name, unique_names
    from dovelayout.render.pdf import pdf_bytes

    job = judgement.job
    style = Style(job=printable(job.title) or "job", unit=job.unit, stamp=_stamp(judgement))
    files: dict[Path, bytes] = {}
    listed: list[dict[str, Any]] = []
    if Format.PDF in formats:
        book = job_book(job.joints, style, job.paper, _notes(judgement.told_once), job.dividers, nest=job.nest)
        path = folder / f"{safe_name(job.title)}.pdf"
        files[path] = pdf_bytes(book, title=style.job)
        listed.append(
            {
                "path": str(path),
                "format": "pdf",
                "holds": list(book.titles),
                "pages": len(book),
                "paper": book.on.name,
                "media": book.on.media,
                "nested_sheets": book.nested_sheets,
                "least_sheets": None if book.least is None else asdict(book.least),
            }
        )
    if Format.SVG in formats:
        from dovelayout.render.svg import svg_text

        names = unique_names([joint.name for joint in job.joints], fallback="corner")
        for joint, name in _with_progress(list(zip(job.joints, names, strict=True))):
            for faces in joint.end_faces():
                sheet = free_sheet(joint, faces, style)
                path = folder / f"{name}-{faces.part}.svg"
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


def _with_progress(rows: list[Any]) -> Any:
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
