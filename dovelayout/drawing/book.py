"""The sheets of a job: how to use them and the numbers first, then the pieces, nested or one to a sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial

from dovelayout.casework.divider import Divider
from dovelayout.drawing.bench.content import bench_of
from dovelayout.drawing.bench.sheet import BenchSheet
from dovelayout.drawing.cards.divider_book import divider_pages, divider_pieces
from dovelayout.drawing.picture.picture_book import picture_pages
from dovelayout.drawing.primitives import Drawing, Items, Sheet, Size, placed
from dovelayout.drawing.sheets.bounds import area_bound, nesting_bound
from dovelayout.drawing.sheets.frame import AIR_MM, Legend, Page, framed, inset_room_mm, paper_around, room_mm
from dovelayout.drawing.sheets.nesting import Nest, fits, nested, strip, too_large
from dovelayout.drawing.sheets.overview import MANY_SHEETS, overview, overview_pages
from dovelayout.drawing.sheets.pieces import PlacedPiece, SheetPiece, placed_pieces
from dovelayout.drawing.sheets.widening import Widths, widened
from dovelayout.drawing.style import Heading, Style
from dovelayout.drawing.template.ends import CornerEnd, ends_of
from dovelayout.drawing.template.pieces import section_pieces, template_pieces
from dovelayout.drawing.template.section import section_of
from dovelayout.drawing.template.skirts import skirts_between
from dovelayout.drawing.template.tile import Tile, tile_items, tiles, whole
from dovelayout.drawing.template.wrap import Template
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.paper import Paper
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "sheets")

SECTION_AIR_MM = 6.0  # between a template and the section above it
BESIDE_BAR_MM = 1.0  # between the pieces and the words of the upright bar
COLUMN_MM = (180.0, 400.0)  # of running text on a roll, at the most
LEAST_LENGTH_MM = 160.0  # of a roll, for its upright bar

SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)
"""How wide the skirts of a sheet are tried, from full to narrowest: it is nested by the last and given the first that
fits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeastSheets:
    """Two lower bounds for the sheets of pieces: by the area of the pieces as drawn and their gaps, and what no nesting
    of the same pieces on their narrowest skirts could go below."""

    by_area: int
    by_any_nesting: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """The sheets of a job on one paper. They are drawn while they are iterated, and again each time.

    `nested_sheets` of them hold pieces; `least` bounds their number from below (None: one piece a sheet, or a roll).
    """

    job: str
    on: Paper
    pages: tuple[Page, ...]
    nested_sheets: int = 0
    least: LeastSheets | None = None

    @property
    def titles(self) -> tuple[str, ...]:
        """What each sheet is called."""
        return tuple(page.name for page in self.pages)

    def __len__(self) -> int:
        return len(self.pages)

    def __iter__(self) -> Iterator[Sheet]:
        return (framed(page, self.on, number=number, of=len(self)) for number, page in enumerate(self.pages, 1))


def job_sheets(
    joints: Sequence[CornerJoint],
    style: Style,
    on: Paper,
    dividers: Sequence[Divider] = (),
    *,
    bench: BenchSheet | None = None,
    pictures: bool = False,
) -> tuple[Sheet, ...]:
    """All sheets of `job_book`, drawn. Raises PrintError when a template doesn't fit the paper."""
    return tuple(job_book(joints, style, on, dividers, bench=bench, pictures=pictures))


def job_book(
    joints: Sequence[CornerJoint],
    style: Style,
    on: Paper,
    dividers: Sequence[Divider] = (),
    *,
    bench: BenchSheet | None = None,
    pictures: bool = False,
) -> Book:
    """The sheets of a job: its bench sheet (None: what the joints alone can say), pictures where they are wanted, then each
    corner's tails and pins in the job's order (what serves several drawers once), then the dividers' cards.

    All are of one size and stand upright, as print systems shrink or turn the pages of mixed files; a template that
    would lie better is rotated on its sheet instead. Raises PrintError when a template doesn't fit the paper.
    """
    sheet = bench_of(joints, dividers, style.unit) if bench is None else bench
    job = _Contents(ends=tuple(ends_of(joints, style)), dividers=dividers, style=style, on=on, bench=sheet)
    if on.roll:
        return _on_roll(job)
    read_first = TEXTS("first")
    columns = job.bench_columns(room_mm(on))
    pages = [job.page_of_all(partial(tuple, content), read_first, Legend.NONE) for content, _ in columns]
    if pictures:
        pages += picture_pages(joints, dividers, style, on)
    if style.nest:
        return _nested(job, pages)
    pages += [page for end in job.ends for page in _template_pages(end, on)]
    pages += [page for divider in dividers for page in divider_pages(divider, style, on)]
    return Book(job=style.job, on=on, pages=tuple(pages))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Contents:
    """What the sheets of a job hold, and on what paper."""

    ends: tuple[CornerEnd, ...]
    dividers: Sequence[Divider]
    style: Style
    on: Paper
    bench: BenchSheet

    @property
    def room_mm(self) -> Size:
        """The room for pieces on a sheet."""
        wide_mm, high_mm = room_mm(self.on)
        return (wide_mm - BESIDE_BAR_MM, high_mm)

    def bench_columns(self, room_mm: Size) -> Sequence[tuple[Items, float]]:
        """The bench sheet in columns of a size, each with the height that it fills, mm."""
        from dovelayout.drawing.bench.pages import bench_pages

        return bench_pages(self.bench, room_mm)

    def page_of_all(self, draw: Callable[[], Items], numbers: str, legend: Legend) -> Page:
        """A page under the job's own name, for what belongs to no corner or divider alone."""
        job = self.style.job
        heading = Heading(job="", what=job, numbers=numbers, stamp=self.style.stamp)
        return Page(draw=draw, heading=heading, legend=legend, title=f"{job}: {job}")

    def page_of_pieces(self, pieces: Sequence[PlacedPiece], legend: Legend) -> Page:
        """A page of nested pieces, named by the corners or dividers that they belong to."""
        kind = "Divider" if legend is Legend.CARD else "Corner"
        names = list(dict.fromkeys(one.piece.of for one in pieces))
        what = f"{kind}{'' if len(names) == 1 else 's'} {', '.join(names)}"
        heading = self.style.heading(what, TEXTS("cut_apart"))
        return Page(draw=partial(_all_items, pieces), heading=heading, legend=legend)


def _all_items(pieces: Sequence[PlacedPiece]) -> Items:
    return tuple(item for one in pieces for item in one.items())


def _nested(job: _Contents, words: Sequence[Page]) -> Book:
    """Pieces nested on sheets of one paper, corners before dividers; where they are many, pages that show which holds what
    come before them."""
    room = job.room_mm
    pieces, nest_of_corners, least_of_corners = _corner_nest(job.ends, room)
    cards = _all_fit(divider_pieces(job.dividers, job.style), room)
    shapes = [card.shape for card in cards]
    sheets = [(placed_pieces(pieces, places), Legend.TEMPLATE) for places in nest_of_corners]
    sheets += [(placed_pieces(cards, places), Legend.CARD) for places in nested(shapes, room)]
    shown: tuple[Page, ...] = ()
    if len(sheets) > MANY_SHEETS:
        first = len(words) + overview_pages(len(sheets), room) + 1
        heading = job.style.heading("Which sheet holds what", TEXTS("overview"))
        small = overview([on_sheet for on_sheet, _ in sheets], first, room)
        shown = tuple(Page.of(content, heading, Legend.NONE) for content in small)
    return Book(
        job=job.style.job,
        on=job.on,
        pages=(*words, *shown, *(job.page_of_pieces(on_sheet, legend) for on_sheet, legend in sheets)),
        nested_sheets=len(sheets),
        least=LeastSheets(
            by_area=area_bound([piece.shape for piece in pieces], room) + area_bound(shapes, room),
            by_any_nesting=least_of_corners + nesting_bound(shapes, room),
        ),
    )


def _all_fit(pieces: Iterable[SheetPiece], room_mm: Size) -> tuple[SheetPiece, ...]:
    """The pieces. Raises PrintError for one that is larger than the room."""
    pieces = tuple(pieces)
    for piece in pieces:
        if not fits(piece.shape, room_mm):
            raise too_large(f"'{piece.name}'", piece.shape.upright, room_mm)
    return pieces


def _corner_nest(ends: Sequence[CornerEnd], room_mm: Size) -> tuple[tuple[SheetPiece, ...], Nest, int]:
    """Templates and sections of all corners, where each stands, and what no nesting of them can go below.

    They are nested on their narrowest skirts, so that the sheets are few; then each sheet's skirts grow as they can.
    """
    rows = [template_pieces(end, room_mm, SHARES[-1]) for end in ends]
    narrow = _all_fit(_with_sections(ends, rows, room_mm), room_mm)
    place_of = {id(piece): (end, tile) for end, row in enumerate(rows) for tile, piece in enumerate(row)}

    @cache
    def wide(which: int, end: int) -> tuple[SheetPiece, ...]:
        """The template of an end on wider skirts; those that would make more tiles of it stay narrow."""
        wider = template_pieces(ends[end], room_mm, SHARES[which])
        return wider if len(wider) == len(rows[end]) else rows[end]

    def piece_of(which: int, number: int) -> SheetPiece:
        at = place_of.get(id(narrow[number]))  # None: a section, which has no skirts
        return narrow[number] if at is None or which == len(SHARES) - 1 else wide(which, at[0])[at[1]]

    widths = Widths(
        count=len(SHARES),
        shape_of=lambda which, number: piece_of(which, number).shape,
        groups=[(piece.of, piece.what.partition(" ")[0]) for piece in narrow],
    )
    shapes = [piece.shape for piece in narrow]
    chosen, nest = widened(nested(shapes, room_mm), widths, room_mm)
    pieces = tuple(piece_of(which, number) for number, which in enumerate(chosen))
    return pieces, nest, nesting_bound(shapes, room_mm)


def _with_sections(
    ends: Sequence[CornerEnd], rows: Sequence[tuple[SheetPiece, ...]], room_mm: Size
) -> Iterator[SheetPiece]:
    """The pieces of all ends in order, each section after the template that it comes first with."""
    sections = section_pieces(ends, room_mm)
    for end, pieces in zip(ends, rows, strict=True):
        yield from pieces
        if end.faces.end_gauge_mm is not None and end.joint.name in sections:
            yield sections[end.joint.name]


def _on_roll(job: _Contents) -> Book:
    """Everything on one length of a roll, or on a few of one length where it would be longer than a page may be."""
    room = job.room_mm
    column = (min(COLUMN_MM[0], room[0]), COLUMN_MM[1])
    words = []
    for content, high_mm in job.bench_columns(column):
        lowered = placed(content, 0.0, high_mm - column[1])
        drawing = Drawing(items=lowered, width_mm=column[0], height_mm=high_mm)
        words.append(SheetPiece.of_drawing(drawing, of="", what="", name=TEXTS("first"), may_turn=False))
    templates = _with_sections(job.ends, [template_pieces(end, room, SHARES[0]) for end in job.ends], room)
    pieces = _all_fit([*words, *templates, *divider_pieces(job.dividers, job.style)], room)
    nest = strip([piece.shape for piece in pieces], room)
    lengths = [placed_pieces(pieces, places) for places in nest]
    longest_mm = max(one.place.y_mm + one.size_mm[1] for length in lengths for one in length)
    frame_mm = job.on.height_mm - room[1]
    paper = replace(job.on, height_mm=float(math.ceil(max(longest_mm, LEAST_LENGTH_MM) + frame_mm)))
    legend = Legend.MIXED if job.ends and job.dividers else Legend.TEMPLATE if job.ends else Legend.CARD
    cut_apart = TEXTS("cut_apart")
    pages = [job.page_of_all(partial(_all_items, length), cut_apart, legend) for length in lengths]
    return Book(job=job.style.job, on=paper, pages=tuple(pages), nested_sheets=len(pages))


def _template_pages(end: CornerEnd, on: Paper) -> list[Page]:
    """A sheet for every tile of a template, its numbers in the sheet's head, and its section where there is room."""
    wide_mm, high_mm = inset_room_mm(on)
    template = end.template(skirts_between(end, 1.0, wide_mm))
    parts = tiles(template, room_mm=high_mm)
    pages = [Page(draw=partial(_inset_tile, template, tile), heading=end.heading(tile)) for tile in parts]
    section = section_of(end)
    if section is None or section.width_mm > room_mm(on)[0]:
        return pages
    height_mm = parts[-1].window.width_mm + 2 * AIR_MM
    if height_mm + SECTION_AIR_MM + section.height_mm <= room_mm(on)[1]:
        last = pages.pop()
        pages.append(replace(last, draw=lambda: (*last.draw(), *_above(section, height_mm))))
    else:
        pages.append(Page(draw=partial(_above, section, 0.0), heading=end.heading()))
    return pages


def _inset_tile(template: Template, tile: Tile) -> Items:
    return placed(tile_items(template, tile), AIR_MM - template.extent.u_min_mm, AIR_MM - tile.window.start_mm)


def _above(section: Drawing, height_mm: float) -> Items:
    """A section set above a drawing of that height."""
    return placed(section.items, AIR_MM, height_mm + SECTION_AIR_MM)


def free_sheet(joint: CornerJoint, faces: EndFaces, style: Style, serves: Sequence[str] = ()) -> Sheet:
    """One template whole, on a sheet just large enough. `serves`: the corners that it is for, its own first."""
    end = CornerEnd(joint=joint, faces=faces, style=style, corner_names=tuple(serves))
    template = end.template()
    content = _inset_tile(template, whole(template))
    width_mm, height_mm = template.extent.across_mm, template.extent.height_mm
    section = section_of(end)
    if section is not None:
        content = (*content, *_above(section, height_mm + 2 * AIR_MM))
        width_mm = max(width_mm, section.width_mm)
        height_mm += SECTION_AIR_MM + section.height_mm
    return framed(Page.of(content, end.heading(), Legend.TEMPLATE), paper_around((width_mm, height_mm)))
