"""`dovelayout draw JOB`."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from enum import StrEnum
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import clean, console, put_json, told

if TYPE_CHECKING:
    from dovelayout.checks.finding import Finding
    from dovelayout.cli.outputs import Corrections
    from dovelayout.cli.report import Verdict
    from dovelayout.drawing.book import Style
    from dovelayout.drawing.correction import Correction
    from dovelayout.drawing.flow import Line
    from dovelayout.drawing.primitives import Sheet
    from dovelayout.job.reader import Job

Made = tuple[Path, bytes, dict[str, Any]]
"""A file: its place, its bytes, and what `draw --json` says of it."""

MANY_TEMPLATES = 20


class Format(StrEnum):
    """Kinds of file that can be drawn."""

    PDF = "pdf"
    SVG = "svg"
    DXF = "dxf"
    PNG = "png"


USUAL_FORMATS = (Format.PDF, Format.SVG)


@told
def draw(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    out: Annotated[
        Path | None, typer.Option("-o", "--out", help="Folder to write to.", show_default="templates_out/<job>")
    ] = None,
    formats: Annotated[
        list[Format] | None, typer.Option("--as", help="May be given more than once.", show_default="pdf and svg")
    ] = None,
    paper: Annotated[
        str | None, typer.Option("--paper", help="A5 to A0, Letter, Legal, Tabloid.", show_default="the job's")
    ] = None,
    printer: Annotated[
        str | None,
        typer.Option(
            "--printer",
            help="Correct for this printer (see calibrate); 'none': for no printer.",
            show_default="the one that calibrate --use set",
        ),
    ] = None,
    only: Annotated[str | None, typer.Option("--only", help="Draw this corner alone.", show_default="all")] = None,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Draw in spite of a stop; every sheet is stamped with it.")
    ] = False,
    no_pictures: Annotated[bool, typer.Option("--no-pictures", help="Leave out the pictures of the joints.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="The files written, as JSON on standard output.")] = False,
) -> None:
    """Write full-size templates: a PDF on your paper, and an SVG for each template.

    A DXF for each template on request; PNG pictures of the PDF's pages to look at. A printer's correction applies to
    PDF and PNG, to SVG only where --printer asks for it, and never to DXF.
    """
    from dovelayout.checks.finding import Level
    from dovelayout.cli.check import show
    from dovelayout.cli.outputs import correction_json, corrections_for
    from dovelayout.cli.report import findings_json, judged
    from dovelayout.job.reader import read_job
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import safe_name, write_files

    corrections = corrections_for(printer)
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
        files, listed = _drawn(judgement, folder, set(formats or USUAL_FORMATS), corrections, pictures=not no_pictures)
        write_files(files)
        if corrections.on_paper is not None:
            screen.print(f"{clean(corrections.on_paper.note)}; DXF files carry true sizes")
        if doubt := corrections.doubt(understood.paper.name):
            screen.print(doubt)
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


def _drawn(
    judgement: Verdict, folder: Path, formats: set[Format], corrections: Corrections, *, pictures: bool
) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """All files of a job as bytes, and what each holds; nothing is written yet."""
    from dovelayout.drawing.book import Style
    from dovelayout.drawing.lettering import printable

    job = judgement.job
    style = Style(job=printable(job.title) or "job", unit=job.unit, stamp=_stamp(judgement))
    files: dict[Path, bytes] = {}
    rows: list[dict[str, Any]] = []
    made = [
        *_on_paper(judgement, folder, formats, style, corrections.on_paper, pictures=pictures),
        *_free_standing(job, folder, formats, style, corrections.free_standing),
        *(_pictured(job, folder, style, corrections.free_standing) if pictures and Format.SVG in formats else ()),
    ]
    for path, data, row in made:
        files[path] = data
        rows.append(row)
    return files, rows


def _on_paper(
    judgement: Verdict,
    folder: Path,
    formats: set[Format],
    style: Style,
    correction: Correction | None,
    *,
    pictures: bool,
) -> Iterator[Made]:
    """The sheets of a job: one PDF, and a picture of each of its pages."""
    if not formats & {Format.PDF, Format.PNG}:
        return
    from dovelayout.cli.outputs import listed, subject_of
    from dovelayout.drawing.book import job_sheets
    from dovelayout.drawing.correction import for_printer, room_for
    from dovelayout.drawing.drawer_lines import drawer_lines
    from dovelayout.render.files import safe_name
    from dovelayout.render.pdf import pdf_bytes

    job = judgement.job
    on = room_for(correction, job.paper)
    drawn = job_sheets(
        job.joints,
        style,
        on,
        findings_notes(judgement.told_once),
        job.dividers,
        first=drawer_lines(job.drawers, job.unit),
        pictures=pictures,
    )
    sheets = tuple(for_printer(sheet, correction, margin_mm=on.margin_mm) for sheet in drawn)
    data = pdf_bytes(sheets, title=style.job)
    subject, stem = subject_of(job.joints, job.dividers), safe_name(job.title)
    if Format.PDF in formats:
        path = folder / f"{stem}.pdf"
        holds = [sheet.title for sheet in sheets]
        yield path, data, listed(path, subject, holds=holds, pages=len(sheets), sheet=sheets[0], correction=correction)
    if Format.PNG in formats:
        from dovelayout.render.png import png_pages

        digits = len(str(len(sheets)))
        for number, (sheet, picture) in enumerate(zip(sheets, png_pages(data), strict=True), 1):
            path = folder / f"{stem}-{number:0{digits}}.png"
            yield path, picture, listed(path, subject, holds=[sheet.title], sheet=sheet, correction=correction)


def _free_standing(
    job: Job, folder: Path, formats: set[Format], style: Style, correction: Correction | None
) -> Iterator[Made]:
    """A drawing of each template and of each sliding dovetail: SVG on a sheet of its own size, DXF without paper."""
    if not formats & {Format.SVG, Format.DXF}:
        return
    from dovelayout.cli.outputs import Subject, listed
    from dovelayout.drawing.book import free_sheet
    from dovelayout.drawing.correction import for_printer
    from dovelayout.drawing.divider_book import divider_sheet
    from dovelayout.drawing.plate import Plate, corner_plate, divider_plate
    from dovelayout.drawing.shared import shared_ends
    from dovelayout.drawing.sheet import FREE_MARGIN_MM
    from dovelayout.render.dxf import dxf_bytes
    from dovelayout.render.files import unique_names
    from dovelayout.render.svg import svg_text

    def made(stem: str, subject: Subject, sheet: Callable[[], Sheet], plate: Callable[[], Plate]) -> Iterator[Made]:
        if Format.SVG in formats:
            drawing, path = for_printer(sheet(), correction, margin_mm=FREE_MARGIN_MM), folder / f"{stem}.svg"
            row = listed(path, subject, holds=[drawing.title], sheet=drawing, correction=correction)
            yield path, svg_text(drawing).encode("utf-8"), row
        if Format.DXF in formats:
            flat, path = plate(), folder / f"{stem}.dxf"
            yield path, dxf_bytes(flat), listed(path, subject, holds=[flat.title])

    corners = [joint.name for joint in job.joints]
    stems = dict(zip(corners, unique_names(corners, fallback="corner"), strict=True))
    for end in _with_progress(shared_ends(job.joints)):
        joint, faces = end.joint, end.faces
        yield from made(
            f"{stems[joint.name]}-{faces.part}",
            Subject(corners=end.serves, boards=(faces.end.board.name,), part=faces.part.value),
            partial(free_sheet, joint, faces, style, end.serves),
            partial(corner_plate, joint, faces, style),
        )
    ends = [(divider.name, joint) for divider in job.dividers for joint in divider.joints]
    names = unique_names([f"{name} {joint.spec.key.end}" for name, joint in ends], fallback="divider")
    for (divider_name, joint), name in zip(ends, names, strict=True):
        yield from made(
            f"{name}-housing",  # no corner's file ends so
            Subject(dividers=(divider_name,), boards=(joint.host.name, joint.key.name), part="housing"),
            partial(divider_sheet, joint, job=style.job, unit=style.unit, stamp=style.stamp),
            partial(divider_plate, joint, style),
        )


def _pictured(job: Job, folder: Path, style: Style, correction: Correction | None) -> Iterator[Made]:
    """A picture of each joint, apart and put together; joints that are alike once."""
    from dovelayout.casework.divider import Divider
    from dovelayout.cli.outputs import listed, subject_of
    from dovelayout.drawing.correction import for_printer
    from dovelayout.drawing.picture_book import MOST_PICTURES, alike, picture_sheet
    from dovelayout.drawing.sheet import FREE_MARGIN_MM
    from dovelayout.render.files import unique_names
    from dovelayout.render.svg import svg_text

    known = [joint.name for joint in job.joints] + [divider.name for divider in job.dividers]
    names = unique_names(known, fallback="joint")
    # by the joint, not by its name: a corner and a divider may bear the same
    name_of = dict(zip(map(id, (*job.joints, *job.dividers)), names, strict=True))
    for group in alike(job.joints, job.dividers)[:MOST_PICTURES]:
        sheet = for_printer(picture_sheet(group, job=style.job, stamp=style.stamp), correction, margin_mm=FREE_MARGIN_MM)
        path = folder / f"{name_of[id(group.joint)]}-picture.svg"
        corners = [joint for joint in job.joints if joint.name in group.names and not isinstance(group.joint, Divider)]
        dividers = [one for one in job.dividers if one.name in group.names and isinstance(group.joint, Divider)]
        row = listed(path, subject_of(corners, dividers), holds=[sheet.title], sheet=sheet, correction=correction)
        yield path, svg_text(sheet).encode("utf-8"), row


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


def findings_notes(findings: tuple[Finding, ...]) -> tuple[Line, ...]:
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
