"""Drawings of solids set on the paper: side by side at one scale, their words below them, never on a line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.drawing.cards.slide import Card
from dovelayout.drawing.lettering import ASCENT, DESCENT, shortened, width_mm, wrapped
from dovelayout.drawing.picture.axonometric import View, seen
from dovelayout.drawing.picture.grain import grain_marks
from dovelayout.drawing.picture.joint_solid import Timber
from dovelayout.drawing.picture.solid import Vec
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Text, moved

TITLE_MM = 5.0
WORDS_MM = 2.8
PART_MM = 3.4
SMALL_MM = 2.5
LEADING = 0.3
GAP_MM = 7.0  # between two drawings
UNDER_MM = 2.2  # between a drawing and its words
LEAST_PANEL_MM = 27.0
LABEL_MM = 40.0  # room for a board's name
LARGEST = 1.0  # never larger than the work
LEAST = 0.01
SPARE = 0.06  # of the height: so much left over is used by drawing all larger
ROOM_FOR_WORDS_MM = 30.0  # of a picture's height, beside its drawings
MUCH_SMALLER = 0.6  # of its size: names that cost a small picture more are left out
ALL_HIGH = 0.25  # a picture that would be smaller than this gets the whole sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One drawing of the row: boards, from where they are seen, paths drawn in dashes, whether the boards are named, and
    the words below it."""

    timbers: tuple[Timber, ...]
    view: View
    words: tuple[str, ...]
    named: bool = False
    paths: tuple[tuple[Vec, Vec], ...] = ()
    saw: tuple[tuple[Vec, Vec], ...] = ()

    def bounds(self, timbers: Sequence[Timber] | None = None) -> tuple[float, float, float, float]:
        """What it covers, in mm of the work."""
        points = [p for timber in timbers or self.timbers for face in timber.solid.faces for p in face.ring]
        flat = self.view.flat(points)
        (x1, y1), (x2, y2) = flat.min(axis=0).tolist(), flat.max(axis=0).tolist()
        return (x1, y1, x2, y2)

    def wide_mm(self, scale: float) -> float:
        """Its width on the paper, the boards' names with it."""
        x1, _, x2, _ = self.bounds()
        low, high = scale * x1, scale * x2
        if self.named:
            for timber in self.timbers:
                left, _, right, _ = self.bounds([timber])
                half = max(width_mm(text, size) for text, size in _label(timber)) / 2
                low, high = min(low, scale * (left + right) / 2 - half), max(high, scale * (left + right) / 2 + half)
        return max(high - low, LEAST_PANEL_MM)

    def high_mm(self, scale: float) -> float:
        """Its height on the paper, without words."""
        _, y1, _, y2 = self.bounds()
        return scale * (y2 - y1)


def picture(title: str, words: Sequence[str], panels: Sequence[Panel], *, wide_mm: float, high_mm: float) -> Card:
    """The panels in a row, or in two where that makes them larger, on half of the height, or on all of it where they
    would get too small; the title and the words above them."""
    head = [(line, TITLE_MM) for line in wrapped(title, TITLE_MM, wide_mm)[:2]]
    head += [(line, WORDS_MM) for entry in words for line in wrapped(entry, WORDS_MM, wide_mm)[:3]]
    head_mm = math.fsum(size * (ASCENT + DESCENT + LEADING) for _, size in head) + UNDER_MM
    ways = [[panels], [panels[:2], panels[2:]]]
    scale, rows = 0.0, ways[0]
    for room_mm in (high_mm / 2 - GAP_MM / 2, high_mm):
        scale, rows = max(
            ((_fitting(way, wide_mm, room_mm - head_mm), way) for way in ways), key=lambda found: found[0]
        )
        if scale >= ALL_HIGH:
            break
    drawn = [[_drawn(panel, scale, grain=False) for panel in row] for row in rows]
    spare_mm = room_mm - head_mm - _high_mm(drawn)
    if spare_mm > SPARE * room_mm:  # the words took less than was kept for them
        larger = _narrowed(rows, scale + 0.85 * spare_mm / _high_at_full_size(rows), wide_mm)
        again = [[_drawn(panel, larger, grain=False) for panel in row] for row in rows]
        if larger > scale and _high_mm(again) <= room_mm - head_mm:
            scale = larger
    drawn = [[_drawn(panel, scale) for panel in row] for row in rows]
    width = max(math.fsum(part.width_mm for part in row) + GAP_MM * (len(row) - 1) for row in drawn)
    widest = max(width, *(width_mm(text, size) for text, size in head))
    return _set(title, head, drawn, widest, _high_mm(drawn) + head_mm)


def within(panel: Panel, *, wide_mm: float, high_mm: float) -> Card:
    """One panel alone, as large as it goes into a room; without the boards' names where they'd make it much smaller."""
    plain = replace(panel, named=False)
    scale, card = _largest(panel, wide_mm, high_mm)
    without = _narrowed([[plain]], (high_mm - ROOM_FOR_WORDS_MM / 2) / panel.high_mm(1.0), wide_mm)
    if panel.named and (card.width_mm > wide_mm or scale < MUCH_SMALLER * without):
        return _largest(plain, wide_mm, high_mm)[1]
    return card


def _largest(panel: Panel, wide_mm: float, high_mm: float) -> tuple[float, Card]:
    scale = _narrowed([[panel]], high_mm / panel.high_mm(1.0), wide_mm)
    card = _drawn(panel, scale)
    while card.height_mm > high_mm and scale > LEAST:
        words_mm = card.height_mm - panel.high_mm(scale)
        scale = max(LEAST, min(0.97 * scale, (high_mm - words_mm) / panel.high_mm(1.0)))
        card = _drawn(panel, scale)
    return scale, card


def _high_mm(drawn: Sequence[Sequence[Card]]) -> float:
    return math.fsum(max(part.height_mm for part in row) for row in drawn) + GAP_MM * (len(drawn) - 1)


def _set(
    title: str, head: Sequence[tuple[str, float]], drawn: Sequence[Sequence[Card]], width: float, height: float
) -> Card:
    items: list[Item] = []
    top = height
    for text, size in head:
        top -= size * (ASCENT + LEADING)
        items.append(Text(x_mm=0.0, y_mm=top, text=text, size_mm=size))
        top -= size * DESCENT
    top -= UNDER_MM
    for row in drawn:
        high = max(part.height_mm for part in row)
        left = 0.0
        for part in row:
            items.extend(moved(item, left, top - high) for item in part.items)
            left += part.width_mm + GAP_MM
        top -= high + GAP_MM
    return Card(title=title, width_mm=width, height_mm=height, items=tuple(items))


def _fitting(rows: Sequence[Sequence[Panel]], wide_mm: float, high_mm: float) -> float:
    """The largest scale at which rows of panels fit the room."""
    words_mm = (ROOM_FOR_WORDS_MM + GAP_MM) * len(rows)
    return _narrowed(rows, (high_mm - words_mm) / _high_at_full_size(rows), wide_mm)


def _high_at_full_size(rows: Sequence[Sequence[Panel]]) -> float:
    return math.fsum(max(panel.high_mm(1.0) for panel in row) for row in rows)


def _narrowed(rows: Sequence[Sequence[Panel]], scale: float, wide_mm: float) -> float:
    """That scale, or the largest below it at which all rows are narrow enough."""
    scale = min(LARGEST, max(LEAST, scale))
    while scale > LEAST and any(
        math.fsum(panel.wide_mm(scale) for panel in row) + GAP_MM * (len(row) - 1) > wide_mm for row in rows
    ):
        scale *= 0.97
    return scale


def _drawn(panel: Panel, scale: float, *, grain: bool = True) -> Card:
    """One panel at a scale, its lower left at (0, 0): the drawing, the names of its boards, and its words. Without its
    grain it is as large: enough to see whether it goes in."""
    faces = [face for timber in panel.timbers for face in timber.solid.faces]
    timbers, towards = panel.timbers if grain else (), panel.view.towards
    marks = [mark for timber in timbers for mark in grain_marks(timber, scale=scale, towards=towards)]
    shown = seen(faces, panel.view, (marks, panel.paths, panel.saw))
    roles = (Role.GRAIN, Role.PATH, Role.SAW)
    rows = [(Role.PICTURE, shown.outline), (Role.PICTURE_EDGE, shown.edges), *zip(roles, shown.marks, strict=True)]
    lines = [
        Lines(role=role, segments=tuple((a * scale, b * scale, c * scale, d * scale) for a, b, c, d in segments))
        for role, segments in rows
        if segments
    ]
    texts: list[Text] = []
    if panel.named:
        texts = _names(panel, scale, [segment for item in lines for segment in item.segments])
    x1, y1, x2, _ = (value * scale for value in panel.bounds())
    wide = panel.wide_mm(scale)
    middle = (x1 + x2) / 2
    for text in texts:
        half = width_mm(text.text, text.size_mm) / 2
        x1, x2, y1 = min(x1, text.x_mm - half), max(x2, text.x_mm + half), min(y1, text.y_mm - DESCENT * text.size_mm)
    middle = (x1 + x2) / 2 if texts else middle
    top = y1 - UNDER_MM
    for number, entry in enumerate(panel.words):
        size = WORDS_MM if number == 0 else SMALL_MM
        for line in wrapped(entry, size, wide):
            top -= size * (ASCENT + LEADING)
            texts.append(Text(x_mm=middle, y_mm=top, text=line, size_mm=size, anchor=Anchor.MIDDLE))
            top -= size * DESCENT
    _, _, _, y2 = (value * scale for value in panel.bounds())
    # strokes and names may reach a little further than the boards
    left = middle - wide / 2
    items: tuple[Item, ...] = (*lines, *texts)
    return Card(
        title="",
        width_mm=wide,
        height_mm=y2 - top,
        items=tuple(moved(item, -left, -top) for item in items),
    )


def _label(timber: Timber) -> list[tuple[str, float]]:
    rows = ((timber.part, PART_MM), (timber.name, WORDS_MM), (timber.board.wood.name, SMALL_MM))
    return [(shortened(text, size, LABEL_MM), size) for text, size in rows if shortened(text, size, LABEL_MM)]


def _names(panel: Panel, scale: float, strokes: Sequence[Segment]) -> list[Text]:
    """Each board's part, name and wood, below the board: as high as the strokes there leave room."""
    taken = list(strokes)
    texts: list[Text] = []
    for timber in panel.timbers:
        x1, _, x2, _ = panel.bounds([timber])
        x = scale * (x1 + x2) / 2
        rows = _label(timber)
        half = max(width_mm(text, size) for text, size in rows) / 2
        top = min(_low(taken, x - half - 1, x + half + 1), scale * panel.bounds([timber])[3]) - UNDER_MM
        for text, size in rows:
            top -= size * (ASCENT + LEADING)
            texts.append(Text(x_mm=x, y_mm=top, text=text, size_mm=size, anchor=Anchor.MIDDLE))
            top -= size * DESCENT
        taken.append((x - half, top, x + half, top))
    return texts


def _low(strokes: Sequence[Segment], left: float, right: float) -> float:
    """The lowest place that strokes reach between two places across."""
    return min(_lowest(strokes, left, right), default=math.inf)


def _lowest(strokes: Sequence[Segment], left: float, right: float) -> Iterator[float]:
    for x1, y1, x2, y2 in strokes:
        if max(x1, x2) < left or min(x1, x2) > right:
            continue
        if abs(x2 - x1) < 1e-9:
            yield min(y1, y2)
            continue
        for x in (max(left, min(x1, x2)), min(right, max(x1, x2))):
            yield y1 + (x - x1) / (x2 - x1) * (y2 - y1)
