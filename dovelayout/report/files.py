"""The files of a job, as bytes: sheets on paper, free-standing templates and pictures, in every format."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from typing import Any

from dovelayout.casework.divider import Divider
from dovelayout.drawing.book import Book, free_sheet, job_book
from dovelayout.drawing.cards.divider_book import divider_sheet
from dovelayout.drawing.correction import Correction, for_printer, room_for
from dovelayout.drawing.lettering import printable
from dovelayout.drawing.picture.picture_book import MOST_PICTURES, picture_groups, picture_sheet
from dovelayout.drawing.plate import Plate, corner_plate, divider_plate
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.sheets.frame import FREE_MARGIN_MM
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import ends_of
from dovelayout.job.reader import Job
from dovelayout.render.files import safe_name, unique_names
from dovelayout.render.pdf import pdf_bytes
from dovelayout.report.bench import bench_sheet
from dovelayout.report.formats import Format
from dovelayout.report.listing import NO_CORRECTIONS, Corrections, Subject, listed, subject_of
from dovelayout.report.notes import stamp_of
from dovelayout.verdict.verdict import Verdict

MadeFile = tuple[Path, bytes, dict[str, Any]]
"""A file, its bytes, and its entry in the JSON."""

Progress = Callable[[Sequence[Any]], Any]
"""Iterates over rows, showing progress."""


def _no_progress(rows: Sequence[Any]) -> Any:
    return rows


def job_files(
    judgement: Verdict,
    folder: Path,
    formats: Set[Format],
    corrections: Corrections = NO_CORRECTIONS,
    *,
    pictures: bool = True,
    progress: Progress = _no_progress,
) -> tuple[dict[Path, bytes], list[dict[str, Any]]]:
    """All files of a job as bytes, and what each holds; nothing is written yet. `progress` iterates over what takes long.

    Raises PrintError for what doesn't go on the paper.
    """
    making = _Making(judgement=judgement, folder=folder, formats=formats, corrections=corrections, pictures=pictures)
    made = [*making.on_paper(), *making.free_standing(progress), *making.pictured()]
    return {path: data for path, data, _ in made}, [row for *_, row in made]


def style_of(judgement: Verdict) -> Style:
    """How a job wants its sheets, with the stamp of a stop that is overruled."""
    job = judgement.job
    return Style(job=printable(job.title) or "job", unit=job.unit, stamp=stamp_of(judgement), nest=job.nest)


def book_of(judgement: Verdict, correction: Correction | None = None, *, pictures: bool = True) -> Book:
    """The sheets of a job as they are laid out for a printer, not yet corrected. Raises PrintError."""
    job = judgement.job
    bench = bench_sheet(judgement, pictures=pictures)
    on = room_for(correction, job.paper)
    return job_book(job.joints, style_of(judgement), on, job.dividers, bench=bench, pictures=pictures)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Making:
    """The files of a job that are wanted."""

    judgement: Verdict
    folder: Path
    formats: Set[Format]
    corrections: Corrections
    pictures: bool

    @property
    def job(self) -> Job:
        """The job that was judged."""
        return self.judgement.job

    def on_paper(self) -> Iterator[MadeFile]:
        """The sheets of a job: one PDF, and a picture of each of its pages."""
        if not self.formats & {Format.PDF, Format.PNG}:
            return
        correction = self.corrections.on_paper
        book = book_of(self.judgement, correction, pictures=self.pictures)
        sheets = (for_printer(sheet, correction, margin_mm=book.on.margin_mm) for sheet in book)
        data = pdf_bytes(sheets, title=book.job)
        subject, stem = subject_of(self.job.joints, self.job.dividers), safe_name(self.job.title)
        size = (book.on.width_mm, book.on.height_mm)
        if Format.PDF in self.formats:
            path = self.folder / f"{stem}.pdf"
            row = listed(path, subject, holds=book.titles, pages=len(book), sheet_mm=size, correction=correction)
            paper = {
                "paper": book.on.name,
                "media": book.on.media,
                "nested_sheets": book.nested_sheets,
                "least_sheets": None if book.least is None else asdict(book.least),
            }
            yield path, data, {**row, **paper}
        if Format.PNG in self.formats:
            from dovelayout.render.png import png_pages

            digits = len(str(len(book)))
            for number, (title, picture) in enumerate(zip(book.titles, png_pages(data), strict=True), 1):
                path = self.folder / f"{stem}-{number:0{digits}}.png"
                yield path, picture, listed(path, subject, holds=[title], sheet_mm=size, correction=correction)

    def free_standing(self, progress: Progress) -> Iterator[MadeFile]:
        """A drawing of each template and of each sliding dovetail: SVG on a sheet of its own size, DXF without paper."""
        if not self.formats & {Format.SVG, Format.DXF}:
            return
        style = style_of(self.judgement)
        corners = [joint.name for joint in self.job.joints]
        stems = dict(zip(corners, unique_names(corners, fallback="corner"), strict=True))
        for end in progress(tuple(ends_of(self.job.joints, style))):
            joint, faces = end.joint, end.faces
            subject = Subject(corners=end.corner_names, boards=(faces.end.board.name,), part=faces.part.value)
            sheet = partial(free_sheet, joint, faces, style, serves=end.corner_names)
            yield from self._drawn(
                f"{stems[joint.name]}-{faces.part}", subject, sheet, partial(corner_plate, joint, faces, style)
            )
        slides = [(divider.name, joint) for divider in self.job.dividers for joint in divider.joints]
        names = unique_names([f"{name} {joint.spec.key.end}" for name, joint in slides], fallback="divider")
        for (divider_name, slide), name in zip(slides, names, strict=True):
            subject = Subject(dividers=(divider_name,), boards=(slide.host.name, slide.key.name), part="housing")
            yield from self._drawn(
                f"{name}-housing",  # no corner's file ends so
                subject,
                partial(divider_sheet, slide, style),
                partial(divider_plate, slide, style),
            )

    def _drawn(
        self, stem: str, subject: Subject, sheet: Callable[[], Sheet], plate: Callable[[], Plate]
    ) -> Iterator[MadeFile]:
        from dovelayout.render.dxf import dxf_bytes

        if Format.SVG in self.formats:
            yield self._svg(stem, subject, sheet())
        if Format.DXF in self.formats:
            flat, path = plate(), self.folder / f"{stem}.dxf"
            yield path, dxf_bytes(flat), listed(path, subject, holds=[flat.title])

    def _svg(self, stem: str, subject: Subject, sheet: Sheet) -> MadeFile:
        from dovelayout.render.svg import svg_text

        correction, path = self.corrections.free_standing, self.folder / f"{stem}.svg"
        drawing = for_printer(sheet, correction, margin_mm=FREE_MARGIN_MM)
        size = (drawing.width_mm, drawing.height_mm)
        row = listed(path, subject, holds=[drawing.title], sheet_mm=size, correction=correction)
        return path, svg_text(drawing).encode("utf-8"), row

    def pictured(self) -> Iterator[MadeFile]:
        """A picture of each joint, apart and put together; joints that look the same once."""
        if not (self.pictures and Format.SVG in self.formats):
            return
        joints, dividers, style = self.job.joints, self.job.dividers, style_of(self.judgement)
        known = [joint.name for joint in joints] + [divider.name for divider in dividers]
        names = unique_names(known, fallback="joint")
        # by the joint, not by its name: a corner and a divider may bear the same
        name_of = dict(zip(map(id, (*joints, *dividers)), names, strict=True))
        for group in picture_groups(joints, dividers)[:MOST_PICTURES]:
            is_divider = isinstance(group.joint, Divider)
            subject = subject_of(
                () if is_divider else [joint for joint in joints if joint.name in group.names],
                [divider for divider in dividers if divider.name in group.names] if is_divider else (),
            )
            yield self._svg(f"{name_of[id(group.joint)]}-picture", subject, picture_sheet(group, style))
