"""Cards: full-size drawings with their words below them, so that no word can run into a line, set in rows on sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely import box as rectangle

from dovelayout.drawing.lettering import ASCENT, DESCENT, rows_down, wrapped
from dovelayout.drawing.primitives import Drawing, Item, Items, Sheet, Size, placed
from dovelayout.drawing.sheets.frame import Legend, Page, all_framed, framed, inset, inset_room_mm, paper_around
from dovelayout.drawing.sheets.nesting import too_large
from dovelayout.drawing.style import Heading
from dovelayout.drawing.template.regions import Region, moved_region, piece_regions
from dovelayout.paper import Paper

TITLE_MM = 3.4
WORDS_MM = 2.7
WORDS_WIDE_MM = 58.0
LEADING = 0.25
GAP_MM = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Card(Drawing):
    """A drawing with its title and words below it, and its kept and waste regions as rings."""

    title: str
    regions: tuple[Region, ...] = ()


def captioned(
    title: str,
    drawing: Sequence[Item],
    size_mm: Size,
    words: Sequence[str],
    *,
    waste: Sequence[Polygon] = (),
) -> Card:
    """The drawing (its own lower left at (0, 0)) with its title and words below it; `waste` as it lies in the drawing."""
    wide_mm = max(size_mm[0], WORDS_WIDE_MM)
    rows = [(line, TITLE_MM) for line in wrapped(title, TITLE_MM, wide_mm)]
    rows += [(line, WORDS_MM) for entry in words for line in wrapped(entry, WORDS_MM, wide_mm)]
    texts_mm = math.fsum(size * (ASCENT + DESCENT + LEADING) for _, size in rows) + 1.5
    left = (wide_mm - size_mm[0]) / 2
    regions = piece_regions(rectangle(0.0, 0.0, *size_mm), waste)
    texts, _ = rows_down(rows, (0.0, texts_mm - 1.5), LEADING)
    return Card(
        title=title,
        width_mm=wide_mm,
        height_mm=texts_mm + size_mm[1],
        items=(*placed(drawing, left, texts_mm), *texts),
        regions=tuple(moved_region(region, left, texts_mm) for region in regions),
    )


def arranged(cards: Sequence[Card], room_mm: Size) -> tuple[Items, ...]:
    """Cards in rows from the top, left to right, in as many rooms of that size as they need.

    Raises PrintError when a single card is larger than the room.
    """
    wide_mm, high_mm = room_mm
    pages: list[list[Item]] = [[]]
    left, top, row_mm = 0.0, high_mm, 0.0
    for card in cards:
        if card.width_mm > wide_mm + 1e-6 or card.height_mm > high_mm + 1e-6:
            raise too_large(f"the card '{card.title}'", (card.width_mm, card.height_mm), room_mm)
        if left and left + card.width_mm > wide_mm + 1e-6:
            left, top, row_mm = 0.0, top - row_mm - GAP_MM, 0.0
        if top - card.height_mm < -1e-6:
            pages.append([])
            left, top, row_mm = 0.0, high_mm, 0.0
        pages[-1].extend(placed(card.items, left, top - card.height_mm))
        left, row_mm = left + card.width_mm + GAP_MM, max(row_mm, card.height_mm)
    return tuple(map(tuple, pages))


def card_pages(cards: Sequence[Card], on: Paper) -> tuple[Items, ...]:
    """Cards on as few sheets of a paper as they need, each sheet's in the coordinates of its room.

    Raises PrintError when a card doesn't fit the paper.
    """
    return tuple(inset(page) for page in arranged(cards, inset_room_mm(on)) if page)


def card_sheets(cards: Sequence[Card], heading: Heading, legend: Legend, on: Paper | None) -> tuple[Sheet, ...]:
    """The cards on as many sheets of a paper as they need; without a paper all in a row on one sheet.

    Raises PrintError when a card doesn't fit the paper.
    """
    if on is None:
        return (card_sheet(cards, heading, legend),)
    return all_framed([Page.of(content, heading, legend) for content in card_pages(cards, on)], on)


def card_sheet(cards: Sequence[Card], heading: Heading, legend: Legend) -> Sheet:
    """All cards in a row, on a sheet just large enough."""
    wide_mm = math.fsum(card.width_mm for card in cards) + GAP_MM * (len(cards) - 1)
    size_mm = (wide_mm, max(card.height_mm for card in cards))
    (content,) = arranged(cards, size_mm)
    return framed(Page.of(inset(content), heading, legend), paper_around(size_mm))
