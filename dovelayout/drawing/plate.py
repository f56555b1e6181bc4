"""Drawings for machines: one template or one sliding dovetail each, without paper, with kept and waste regions as rings.

A corner's drawing has its datum at the board: y = 0 on the face edge, x = 0 on the arris between outside face and end
grain (the rebate's shoulder arris under a lip). A sliding dovetail's cards stand side by side from (0, 0).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dovelayout.drawing.cards.card import GAP_MM
from dovelayout.drawing.cards.divider_book import divider_name
from dovelayout.drawing.cards.slide import slide_cards
from dovelayout.drawing.lettering import corners, printable
from dovelayout.drawing.primitives import Anchor, Item, Items, Role, placed, strokes, text_at
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.regions import Region, end_regions, moved_region
from dovelayout.drawing.template.tile import tile_items, whole
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.texts import Texts
from dovelayout.units import format_slope

TEXTS = Texts("drawing", "sheets")

CHECK_MM = 100.0
"""Length of the line to measure first: some programs take no notice of the units in a file."""

HEAD_GAP_MM = 8.0
TICK_MM = 2.5
TITLE_MM = 4.2
WORDS_MM = 2.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """One drawing for a machine, in full-size mm, y upwards: strokes and texts by role, rings of what is kept or cut off."""

    title: str
    items: Items
    regions: tuple[Region, ...]


def corner_plate(joint: CornerJoint, faces: EndFaces, style: Style) -> Plate:
    """One board's end, laid out flat."""
    end = CornerEnd(joint=joint, faces=faces, style=style)
    template = end.template()
    first = "outside face" if faces.lip is None else "lip"
    numbers = (style.job, *end.gauges, joint.slope.words, faces.end.board.wood.name)
    words = (" · ".join(numbers), TEXTS("machine_corner", first=first))
    drawing = Plate(title=end.name, items=tile_items(template, whole(template)), regions=end_regions(faces))
    return _headed(drawing, words, style.stamp)


def divider_plate(joint: SlidingJoint, style: Style) -> Plate:
    """All cards of one sliding dovetail."""
    items: list[Item] = []
    regions: list[Region] = []
    left = 0.0
    for card in slide_cards(joint, style):
        items += placed(card.items, left, 0.0)
        regions += (moved_region(region, left, 0.0) for region in card.regions)
        left += card.width_mm + GAP_MM
    words = (f"{style.job} · bevel {format_slope(joint.slope.ratio)}", TEXTS("machine_divider"))
    return _headed(Plate(title=divider_name(joint), items=tuple(items), regions=tuple(regions)), words, style.stamp)


def _headed(drawing: Plate, words: Sequence[str], stamp: str) -> Plate:
    """The drawing with a line to measure, its title and its words above it."""
    xs, ys = zip(*corners(drawing.items), strict=True)
    left, y = min(xs), max(ys) + HEAD_GAP_MM
    right = left + CHECK_MM
    ticks = [(x, y - TICK_MM, x, y + TICK_MM) for x in (left, right)]
    check = text_at((left + CHECK_MM / 2, y + 1.5), TEXTS("machine_scale", long=CHECK_MM), WORDS_MM, Anchor.MIDDLE)
    head: list[Item] = [strokes(Role.BAR, [(left, y, right, y), *ticks]), replace(check, role=Role.BAR)]
    y += HEAD_GAP_MM
    rows = [(row, WORDS_MM) for row in reversed([stamp, *words]) if row] + [(drawing.title, TITLE_MM)]
    for row, size_mm in rows:
        head.append(text_at((left, y), printable(row), size_mm))
        y += size_mm * 1.5
    return replace(drawing, title=printable(drawing.title), items=(*drawing.items, *head))
