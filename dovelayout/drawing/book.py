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
from dovelayout.drawing.cards.gauge import gauge_size_mm, slope_gauge
from dovelayout.drawing.picture.picture_book import PICTURE_LINE, picture_pages
from dovelayout.drawing.primitives import Item, Sheet, moved
from dovelayout.drawing.sheets.bounds import area_bound, nesting_bound
from dovelayout.drawing.sheets.frame import CARD_LINE, MIXED_LINE, WASTE_LINE, Heading, framed, made_to_measure, room_mm
from dovelayout.drawing.sheets.nesting import Place, Size, fits, nested, strip
from dovelayout.drawing.sheets.overview import MANY_SHEETS, Patch, overview, overview_pages
from dovelayout.drawing.sheets.pieces import Piece
from dovelayout.drawing.sheets.widening import widened
from dovelayout.drawing.template.captions import Style, heading_of, template_of
from dovelayout.drawing.template.pieces import (
    EndOfCorner,
    ends_of,
    section_of,
    section_pieces,
    skirts_between,
    template_pieces,
)
from dovelayout.drawing.template.section import Section
from dovelayout.drawing.template.tiling import tiles
from dovelayout.drawing.template.wrap import Template, Tile, tile_items, whole
from dovelayout.errors import PrintError
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.joints.slope import Slope
from dovelayout.paper import Paper
from dovelayout.units import format_slope

__all__ = ["Book", "Style", "free_sheet", "gauge_sheet", "job_book", "job_sheets", "restyled", "template_of"]

AIR_MM = 2.0  # between a template and the edge of the sheet's room
SECTION_AIR_MM = 6.0  # between a template and the section above it
BESIDE_BAR_MM = 1.0  # between the pieces and the words of the upright bar
COLUMN_MM = (180.0, 400.0)  # of running text on a roll, at the most
LEAST_LENGTH_MM = 160.0  # of a roll, for its upright bar

SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)
"""How wide the skirts of a sheet are tried, from full to snug: it is nested by the last and given the first that goes."""

CUT_APART = "Cut the pieces apart along the short dashes. Each says above it what it is."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    draw: Callable[[], tuple[Item, ...]]
    heading: Heading
    legend: str = WASTE_LINE


@dataclass(frozen=True, slots=True, kw_only=True)
class LeastSheets:
    """Two lower bounds for the sheets of pieces: by the area of the pieces as drawn and their gaps, and what no nesting
    of the same pieces on their narrowest skirts could go below."""

    by_area: int
    by_any_nesting: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """The sheets of a job on one paper. They are drawn as they are gone through, and again each time.

    `nested_sheets` of them hold pieces; `least` is what these could do with at all (None: one piece a sheet, or a roll).
    """

    job: str
    on: Paper
    pages: tuple[_Page, ...]
    nested_sheets: int = 0
    least: LeastSheets | None = None

    @property
    def titles(self) -> tuple[str, ...]:
        """What each sheet is called."""
        return tuple(f"{self.job}: {page.heading.what}" for page in self.pages)

    def __len__(self) -> int:
        return len(self.pages)

    def __iter__(self) -> Iterator[Sheet]:
        for number, (page, title) in enumerate(zip(self.pages, self.titles, strict=True), 1):
            yield framed(
                page.draw(),
                on=self.on,
                heading=page.heading,
                number=number,
                of=len(self.pages),
                title=title,
                description=page.heading.numbers,
                legend=page.legend,
            )


def job_sheets(
    joints: Sequence[CornerJoint],
    style: Style,
    on: Paper,
    dividers: Sequence[Divider] = (),
    *,
    bench: BenchSheet | None = None,
    pictures: bool = False,
    nest: bool = True,
) -> tuple[Sheet, ...]:
    """All sheets of a job on one paper, drawn. Raises PrintError when a template doesn't fit the paper."""
    return tuple(job_book(joints, style, on, dividers, bench=bench, pictures=pictures, nest=nest))


def job_book(
    joints: Sequence[CornerJoint],
    style: Style,
    on: Paper,
    dividers: Sequence[Divider] = (),
    *,
    bench: BenchSheet | None = None,
    pictures: bool = False,
    nest: bool = True,
) -> Book:
    """The sheets of a job: its bench sheet (None: what the joints alone can say), pictures where they are wanted, then each
    corner's tails and pins in the job's order (what serves several drawers once), then the dividers' cards.

    All are of one size and stand upright, as print systems shrink or turn the pages of mixed files; a template that
    would lie better is turned on its sheet instead. `nest=False`: a sheet for every template. Raises PrintError when a
    template doesn't fit the paper.
    """
    ends = tuple(ends_of(joints, style))
    bench = bench_of(joints, dividers, style.unit) if bench is None else bench
    if on.roll:
        return _roll(ends, style, on, bench, dividers)
    head = Heading(job="", what=style.job, numbers="Bench sheet: read this first", stamp=style.stamp)
    words = [_Page(draw=partial(tuple, content), heading=head, legend="") for content, _ in _bench(bench, room_mm(on))]
    if pictures:
        shown = picture_pages(joints, dividers, job=style.job, stamp=style.stamp, on=on)
        words += [_Page(draw=partial(tuple, page.content), heading=page.heading, legend=PICTURE_LINE) for page in shown]
    if not nest:
        pages = [*words, *_one_by_one(ends, style, on, dividers)]
        return Book(job=style.job, on=on, pages=tuple(pages))
    room = _nest_room(on)
    pieces, nest_of_corners, least_of_corners = _corner_sheets(ends, style, room)
    cards = _all_fit(divider_pieces(dividers, style.unit), room)
    sheets = [(pieces, places, WASTE_LINE) for places in nest_of_corners]
    sheets += [(cards, places, CARD_LINE) for places in nested([card.shape for card in cards], room)]
    drawn = [_nested_page(of, places, style, legend) for of, places, legend in sheets]
    patches = [_patches(of, places) for of, places, _ in sheets]
    return Book(
        job=style.job,
        on=on,
        pages=(*words, *_overview_pages(patches, len(words), style, room), *drawn),
        nested_sheets=len(sheets),
        least=LeastSheets(
            by_area=sum(area_bound([piece.shape for piece in of], room) for of in (pieces, cards)),
            by_any_nesting=least_of_corners + nesting_bound([card.shape for card in cards], room),
        ),
    )


def _bench(sheet: BenchSheet, room: Size) -> Sequence[tuple[tuple[Item, ...], float]]:
    from dovelayout.drawing.bench.pages import bench_pages

    return bench_pages(sheet, wide_mm=room[0], room_mm=room[1])


def _nest_room(on: Paper) -> Size:
    wide_mm, high_mm = room_mm(on)
    return (wide_mm - BESIDE_BAR_MM, high_mm)


def _all_fit(pieces: Iterable[Piece], room: Size) -> tuple[Piece, ...]:
    pieces = tuple(pieces)
    for piece in pieces:
        if not fits(piece.shape, room):
            raise PrintError(
                f"'{piece.name}' is {piece.shape.upright[0]:.0f} x {piece.shape.upright[1]:.0f} mm and the sheet "
                f"has {room[0]:.0f} x {room[1]:.0f} mm of room",
                remedy="larger paper would do",
            )
    return pieces


def _corner_sheets(
    ends: Sequence[EndOfCorner], style: Style, room: Size
) -> tuple[tuple[Piece, ...], tuple[tuple[Place, ...], ...], int]:
    """Templates and sections of all corners, where each stands, and what no nesting of them can go below.

    They are nested by their snuggest skirts, so that the sheets are few; then each sheet's skirts grow as they can.
    """
    sections = section_pieces(ends, style, room)
    templates = [template_pieces(end, style, room, SHARES[-1]) for end in ends]
    snug = _all_fit(_with_sections(ends, templates, sections), room)
    place_of = {id(piece): (end, tile) for end, row in enumerate(templates) for tile, piece in enumerate(row)}

    @cache
    def wide(which: int, end: int) -> tuple[Piece, ...]:
        """The template of an end on wider skirts; those that would make more tiles of it stay snug."""
        ours = template_pieces(ends[end], style, room, SHARES[which])
        return ours if len(ours) == len(templates[end]) else templates[end]

    def piece_of(which: int, number: int) -> Piece:
        at = place_of.get(id(snug[number]))  # None: a section, which has no skirts
        return snug[number] if at is None or which == len(SHARES) - 1 else wide(which, at[0])[at[1]]

    shapes = [piece.shape for piece in snug]
    together = [(piece.of, piece.what.partition(" ")[0]) for piece in snug]
    chosen, sheets = widened(
        nested(shapes, room), lambda which, number: piece_of(which, number).shape, len(SHARES), together, room
    )
    pieces = tuple(piece_of(which, number) for number, which in enumerate(chosen))
    return pieces, sheets, nesting_bound(shapes, room)


def _with_sections(
    ends: Sequence[EndOfCorner], templates: Iterable[tuple[Piece, ...]], sections: dict[str, Piece]
) -> Iterator[Piece]:
    """The pieces of all ends in order, each section after the template that it comes first with."""
    for end, pieces in zip(ends, templates, strict=True):
        yield from pieces
        if end.faces.end_gauge_mm is not None and end.joint.name in sections:
            yield sections[end.joint.name]


def _nested_page(pieces: Sequence[Piece], places: Sequence[Place], style: Style, legend: str) -> _Page:
    def draw() -> tuple[Item, ...]:
        return tuple(
            item for place in places for item in pieces[place.piece].placed(place.x_mm, place.y_mm, turned=place.turned)
        )

    kind = "Divider" if legend == CARD_LINE else "Corner"
    names = list(dict.fromkeys(pieces[place.piece].of for place in places))
    what = f"{kind}{'' if len(names) == 1 else 's'} {', '.join(names)}"
    return _Page(
        draw=draw,
        heading=Heading(job=style.job, what=what, numbers=CUT_APART, stamp=style.stamp),
        legend=legend,
    )


def _patches(pieces: Sequence[Piece], places: Sequence[Place]) -> list[Patch]:
    found: list[Patch] = []
    for place in places:
        piece = pieces[place.piece]
        size = piece.shape.ways[place.turned]
        found.append(
            Patch(of=piece.of, what=piece.what, x_mm=place.x_mm, y_mm=place.y_mm, width_mm=size[0], height_mm=size[1])
        )
    return found


def _overview_pages(patches: Sequence[Sequence[Patch]], before: int, style: Style, room: Size) -> list[_Page]:
    """None for a job of few sheets. Its own pages come before the sheets that it shows."""
    if len(patches) <= MANY_SHEETS:
        return []
    first = before + overview_pages(len(patches), room, room) + 1
    heading = Heading(
        job=style.job,
        what="Which sheet holds what",
        numbers="Drawn small: nothing here is to be cut",
        stamp=style.stamp,
    )
    return [
        _Page(draw=partial(tuple, content), heading=heading, legend="")
        for content in overview(patches, first, room, room)
    ]


def _roll(ends: Sequence[EndOfCorner], style: Style, on: Paper, bench: BenchSheet, dividers: Sequence[Divider]) -> Book:
    """Everything on one length of a roll, or on a few of one length where it would be longer than a page may be."""
    room = _nest_room(on)
    column = (min(COLUMN_MM[0], room[0]), COLUMN_MM[1])
    words = [
        Piece(
            of="", what="", name="Bench sheet: read this first", numbers=(), width_mm=column[0], height_mm=high_mm,
            draw=partial(_lowered, content, column[1] - high_mm), may_turn=False,
        )
        for content, high_mm in _bench(bench, column)
    ]  # fmt: skip
    drawn = [template_pieces(end, style, room, SHARES[0]) for end in ends]
    templates = _with_sections(ends, drawn, section_pieces(ends, style, room))
    pieces = _all_fit([*words, *templates, *divider_pieces(dividers, style.unit)], room)
    lengths = strip([piece.shape for piece in pieces], *room)
    longest_mm = max(
        place.y_mm + pieces[place.piece].shape.ways[place.turned][1] for places in lengths for place in places
    )
    frame_mm = on.height_mm - room[1]
    paper = replace(on, height_mm=float(math.ceil(max(longest_mm, LEAST_LENGTH_MM) + frame_mm)))
    legend = MIXED_LINE if ends and dividers else WASTE_LINE if ends else CARD_LINE
    pages = [_nested_page(pieces, places, style, legend) for places in lengths]
    heading = Heading(job="", what=style.job, numbers=CUT_APART, stamp=style.stamp)
    return Book(
        job=style.job,
        on=paper,
        pages=tuple(replace(page, heading=heading) for page in pages),
        nested_sheets=len(pages),
    )


def _lowered(content: tuple[Item, ...], by_mm: float) -> tuple[Item, ...]:
    return tuple(moved(item, 0.0, -by_mm) for item in content)


def _one_by_one(ends: Sequence[EndOfCorner], style: Style, on: Paper, dividers: Sequence[Divider]) -> Iterator[_Page]:
    """A sheet for every template or tile, its numbers in the sheet's head."""
    for end in ends:
        yield from _template_pages(end, style, on)
    for divider in dividers:
        for row in divider_pages(divider, job=style.job, unit=style.unit, stamp=style.stamp, on=on):
            yield _Page(draw=partial(tuple, row.content), heading=row.heading, legend=CARD_LINE)


def _template_pages(end: EndOfCorner, style: Style, on: Paper) -> list[_Page]:
    joint, faces = end.joint, end.faces
    skirts = skirts_between(end, 1.0, room_mm(on)[0] - 2 * AIR_MM)
    template = template_of(joint, faces, style, skirts, end.serves)
    parts = tiles(template, room_mm=room_mm(on)[1] - 2 * AIR_MM)
    pages = [
        _Page(draw=partial(_placed, template, tile), heading=heading_of(joint, faces, style, tile, end.serves))
        for tile in parts
    ]
    section = section_of(faces, style)
    if section is None or section.width_mm > room_mm(on)[0]:
        return pages
    height_mm = parts[-1].window.width_mm + 2 * AIR_MM
    if height_mm + SECTION_AIR_MM + section.height_mm <= room_mm(on)[1]:
        last = pages.pop()
        pages.append(replace(last, draw=lambda: (*last.draw(), *_above(section, height_mm))))
    else:
        pages.append(
            _Page(draw=partial(_above, section, 0.0), heading=heading_of(joint, faces, style, serves=end.serves))
        )
    return pages


def _placed(template: Template, tile: Tile) -> tuple[Item, ...]:
    items = tile_items(template, tile)
    return tuple(moved(item, AIR_MM - template.u_min_mm, AIR_MM - tile.window.start_mm) for item in items)


def _above(section: Section, height_mm: float) -> tuple[Item, ...]:
    """A section set above a drawing of that height."""
    return tuple(moved(entry, AIR_MM, height_mm + SECTION_AIR_MM) for entry in section.items)


def free_sheet(joint: CornerJoint, faces: EndFaces, style: Style, serves: Sequence[str] = ()) -> Sheet:
    """One template whole, on a sheet just large enough."""
    template = template_of(joint, faces, style, serves=serves)
    head = heading_of(joint, faces, style, serves=serves)
    content = _placed(template, whole(template))
    width_mm, height_mm = template.across_mm + 2 * AIR_MM, template.height_mm + 2 * AIR_MM
    section = section_of(faces, style)
    if section is not None:
        content = (*content, *_above(section, height_mm))
        width_mm = max(width_mm, section.width_mm + 2 * AIR_MM)
        height_mm += SECTION_AIR_MM + section.height_mm
    return framed(
        content,
        on=made_to_measure(width_mm, height_mm),
        heading=head,
        number=1,
        of=1,
        title=f"{style.job}: {head.what}",
        description=head.numbers,
    )


def gauge_sheet(
    slope: Slope, thickness_mm: float, style: Style, *, over_mm: float | None = None, on: Paper | None = None
) -> Sheet:
    """The slope gauges on a sheet of their own: just large enough, or on a paper.

    `thickness_mm` is the pin board's, for the flare; `over_mm` the thickness of the board that the saddle folds over
    (None: the same). Raises PrintError when the paper is too small.
    """
    saddle_mm = thickness_mm if over_mm is None else over_mm
    width, height = (side + 2 * AIR_MM for side in gauge_size_mm(saddle_mm))
    if on is not None and (width > room_mm(on)[0] or height > room_mm(on)[1]):
        raise PrintError(
            f"the gauge is {width:.0f} × {height:.0f} mm and {on.name} has no room for it",
            remedy="larger paper would do",
        )
    return framed(
        [moved(entry, AIR_MM, AIR_MM) for entry in slope_gauge(slope, saddle_mm)],
        on=on or made_to_measure(width, height),
        heading=Heading(
            job=style.job,
            what=f"Gauge for {format_slope(slope.ratio)}",
            numbers=f"flare {slope.flare_mm(thickness_mm):.2f} mm a side in {thickness_mm:g} mm stock",
            stamp=style.stamp,
        ),
        number=1,
        of=1,
        title=f"Gauge for a slope of {format_slope(slope.ratio)}",
        legend="Dash and dot: fold. Short dashes: cut the paper. The saddle folds over the end of the board.",
    )


def restyled(style: Style, stamp: str) -> Style:
    """The same style with a stamp."""
    return replace(style, stamp=stamp)
