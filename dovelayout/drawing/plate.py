"""Drawings for machines: one template or one sliding dovetail each, without paper round it, what stays and goes as rings.

A corner's drawing has its datum at the board: y = 0 on the face edge, x = 0 on the arris between outside face and end
grain (the rebate's shoulder arris under a lip). A sliding dovetail's cards stand side by side from (0, 0).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dovelayout.drawing.cards.slide import GAP_MM, slide_cards
from dovelayout.drawing.lettering import box, printable
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Text, moved
from dovelayout.drawing.template.captions import Style, gauge_rows, template_of
from dovelayout.drawing.template.regions import Region, end_regions, moved_region
from dovelayout.drawing.template.wrap import tile_items, whole
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.units import format_slope

CHECK_MM = 100.0
"""Length of the line to measure first: some programs take no notice of the units in a file."""

CHECK_WORDS = f"{CHECK_MM:g} mm: measure this line before anything is cut"
HEAD_GAP_MM = 8.0
TITLE_MM = 4.2
WORDS_MM = 2.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """One drawing for a machine, in full-size mm, y upwards: strokes and texts by role, and rings."""

    title: str
    items: tuple[Item, ...]
    regions: tuple[Region, ...]


def corner_plate(joint: CornerJoint, faces: EndFaces, style: Style) -> Plate:
    """One board's end, laid out flat."""
    template = template_of(joint, faces, style)
    title = f"Corner {joint.name}: {faces.part.value} on {faces.end.label}"
    first = "outside face" if faces.lip is None else "lip"
    words = (
        " · ".join(
            (
                style.job,
                *gauge_rows(faces, style),
                joint.slope.words,
                faces.end.board.wood.name,
            )
        ),
        f"mm, full size. y = 0: the face edge; x = 0: the arris between {first} and end grain",
    )
    items = tile_items(template, whole(template))
    return _headed(title, words, style.stamp, items, end_regions(faces))


def divider_plate(joint: SlidingJoint, style: Style) -> Plate:
    """All cards of one sliding dovetail."""
    items: list[Item] = []
    regions: list[Region] = []
    left = 0.0
    for card in slide_cards(joint, style.unit):
        items.extend(moved(item, left, 0.0) for item in card.items)
        regions.extend(moved_region(region, left, 0.0) for region in card.regions)
        left += card.width_mm + GAP_MM
    title = f"Divider {joint.name}: {joint.spec.key.label} into {joint.spec.host.label}"
    words = (
        f"{style.job} · bevel {format_slope(joint.slope.ratio)}",
        "mm, full size; each card is drawn as it lies on the work",
    )
    return _headed(title, words, style.stamp, items, regions)


def _headed(title: str, words: Sequence[str], stamp: str, items: Iterable[Item], regions: Iterable[Region]) -> Plate:
    """The drawing with a line to measure, its title and its words above it."""
    drawn = tuple(items)
    left, top = _upper_left(drawn)
    at = top + HEAD_GAP_MM
    head: list[Item] = [
        Lines(
            role=Role.BAR,
            segments=(
                (left, at, left + CHECK_MM, at),
                (left, at - 2.5, left, at + 2.5),
                (left + CHECK_MM, at - 2.5, left + CHECK_MM, at + 2.5),
            ),
        ),
        Text(
            x_mm=left + CHECK_MM / 2,
            y_mm=at + 1.5,
            text=CHECK_WORDS,
            size_mm=WORDS_MM,
            anchor=Anchor.MIDDLE,
            role=Role.BAR,
        ),
    ]
    at += HEAD_GAP_MM
    rows = [(row, WORDS_MM) for row in reversed([stamp, *words]) if row] + [(title, TITLE_MM)]
    for row, size_mm in rows:
        head.append(Text(x_mm=left, y_mm=at, text=printable(row), size_mm=size_mm))
        at += size_mm * 1.5
    return Plate(title=printable(title), items=(*drawn, *head), regions=tuple(regions))


def _upper_left(items: Sequence[Item]) -> tuple[float, float]:
    xs: list[float] = []
    ys: list[float] = []
    for item in items:
        match item:
            case Lines(segments=segments):
                xs += [x for x1, _, x2, _ in segments for x in (x1, x2)]
                ys += [y for _, y1, _, y2 in segments for y in (y1, y2)]
            case Text():
                x_min, _, _, y_max = box(item)
                xs.append(x_min)
                ys.append(y_max)
    return min(xs), max(ys)
