"""The files of a job, as bytes: sheets on paper, free-standing templates and pictures, in every format."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any

from dovelayout.casework.divider import Divider
from dovelayout.drawing.book import Book, Style, free_sheet, job_book
from dovelayout.drawing.cards.divider_book import divider_sheet
from dovelayout.drawing.correction import Correction, for_printer, room_for
from dovelayout.drawing.lettering import printable
from dovelayout.drawing.picture.picture_book import MOST_PICTURES, alike, picture_sheet
from dovelayout.drawing.plate import Plate, corner_plate, divider_plate
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.sheets.frame import FREE_MARGIN_MM
from dovelayout.drawing.template.shared import shared_ends
from dovelayout.job.reader import Job
from dovelayout.render.files import safe_name, unique_names
from dovelayout.render.pdf import pdf_bytes
from dovelayout.report.bench import bench_sheet
from dovelayout.report.formats import Format
from dovelayout.report.listing import NO_CORRECTIONS, Corrections, Subject, listed, subject_of
from dovelayout.report.notes import stamp_of
from dovelayout.verdict.verdict import Verdict

Made = tuple[Path, bytes, dict[str, Any]]
"""A file, its bytes, and what machines are told of it."""

Watched = Callable[[Sequence[Any]], Any]
"""Goes through rows and may show how far it is."""


def _unwatched(rows: Sequence[Any]) -> Any:
    return rows


def job_files(
    judgement: Verdict,
    folder: Path,
    formats: Set[Format],
    corrections: Corrections = NO_CORRECTIONS,
    *,
    pictures: bool = True,
    watched: Watched = _unwatched,
) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """All files of a job as bytes, and what each holds; nothing is written yet. `watched` goes through what takes long.

    Raises PrintError for what doesn't go on the paper.
    """
    job, style = judgement.job, style_of(judgement)
    files: dict[Path, bytes] = {}
    rows: list[dict[str, Any]] = []
    made = [
        *_on_paper(judgement, folder, formats, corrections.on_paper, pictures=pictures),
        *_free_standing(job, folder, formats, style, corrections.free_standing, watched),
        *(_pictured(job, folder, style, corrections.free_standing) if pictures and Format.SVG in formats else ()),
    ]
    for path, data, row in made:
        files[path] = data
        rows.append(row)
    return files, rows


def style_of(judgement: Verdict) -> Style:
    """How a job wants its sheets, with the stamp of a stop that is overruled."""
    job = judgement.job
    return Style(job=printable(job.title) or "job", unit=job.unit, stamp=stamp_of(judgement))


def book_of(judgement: Verdict, correction: Correction | None = None, *, pictures: bool = True) -> Book:
    """The sheets of a job as they are laid out for a printer, not yet corrected. Raises PrintError."""
    job = judgement.job
    return job_book(
        job.joints,
        style_of(judgement),
        room_for(correction, job.paper),
        job.dividers,
        bench=bench_sheet(judgement, pictures=pictures),
        pictures=pictures,
        nest=job.nest,
    )


def _on_paper(
    judgement: Verdict, folder: Path, formats: Set[Format], correction: Correction | None, *, pictures: bool
) -> Iterator[Made]:
    """The sheets of a job: one PDF, and a picture of each of its pages."""
    if not formats & {Format.PDF, Format.PNG}:
        return
    job = judgement.job
    book = book_of(judgement, correction, pictures=pictures)
    margin_mm = book.on.margin_mm
    data = pdf_bytes(
        (for_printer(sheet, correction, margin_mm=margin_mm) for sheet in book), title=style_of(judgement).job
    )
    subject, stem = subject_of(job.joints, job.dividers), safe_name(job.title)
    size = (book.on.width_mm, book.on.height_mm)
    if Format.PDF in formats:
        path = folder / f"{stem}.pdf"
        row = listed(path, subject, holds=book.titles, pages=len(book), sheet_mm=size, correction=correction)
        sheets = {
            "paper": book.on.name,
            "media": book.on.media,
            "nested_sheets": book.nested_sheets,
            "least_sheets": None if book.least is None else asdict(book.least),
        }
        yield path, data, {**row, **sheets}
    if Format.PNG in formats:
        from dovelayout.render.png import png_pages

        digits = len(str(len(book)))
        for number, (title, picture) in enumerate(zip(book.titles, png_pages(data), strict=True), 1):
            path = folder / f"{stem}-{number:0{digits}}.png"
            yield path, picture, listed(path, subject, holds=[title], sheet_mm=size, correction=correction)


def _free_standing(
    job: Job, folder: Path, formats: Set[Format], style: Style, correction: Correction | None, watched: Watched
) -> Iterator[Made]:
    """A drawing of each template and of each sliding dovetail: SVG on a sheet of its own size, DXF without paper."""
    if not formats & {Format.SVG, Format.DXF}:
        return
    from dovelayout.render.dxf import dxf_bytes
    from dovelayout.render.svg import svg_text

    def made(stem: str, subject: Subject, sheet: Callable[[], Sheet], plate: Callable[[], Plate]) -> Iterator[Made]:
        if Format.SVG in formats:
            drawing, path = for_printer(sheet(), correction, margin_mm=FREE_MARGIN_MM), folder / f"{stem}.svg"
            size = (drawing.width_mm, drawing.height_mm)
            row = listed(path, subject, holds=[drawing.title], sheet_mm=size, correction=correction)
            yield path, svg_text(drawing).encode("utf-8"), row
        if Format.DXF in formats:
            flat, path = plate(), folder / f"{stem}.dxf"
            yield path, dxf_bytes(flat), listed(path, subject, holds=[flat.title])

    corners = [joint.name for joint in job.joints]
    stems = dict(zip(corners, unique_names(corners, fallback="corner"), strict=True))
    for end in watched(shared_ends(job.joints)):
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
    from dovelayout.render.svg import svg_text

    known = [joint.name for joint in job.joints] + [divider.name for divider in job.dividers]
    names = unique_names(known, fallback="joint")
    # by the joint, not by its name: a corner and a divider may bear the same
    name_of = dict(zip(map(id, (*job.joints, *job.dividers)), names, strict=True))
    for group in alike(job.joints, job.dividers)[:MOST_PICTURES]:
        sheet = for_printer(
            picture_sheet(group, job=style.job, stamp=style.stamp), correction, margin_mm=FREE_MARGIN_MM
        )
        path = folder / f"{name_of[id(group.joint)]}-picture.svg"
        corners = [joint for joint in job.joints if joint.name in group.names and not isinstance(group.joint, Divider)]
        dividers = [one for one in job.dividers if one.name in group.names and isinstance(group.joint, Divider)]
        subject, size = subject_of(corners, dividers), (sheet.width_mm, sheet.height_mm)
        row = listed(path, subject, holds=[sheet.title], sheet_mm=size, correction=correction)
        yield path, svg_text(sheet).encode("utf-8"), row
