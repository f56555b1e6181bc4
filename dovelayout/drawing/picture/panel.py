"""Drawings of solids set on the paper: side by side at one scale, their words below them, never on a line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.drawing.cards.card import Card
from dovelayout.drawing.lettering import ASCENT, DESCENT, rows_down, shortened, width_mm, wrapped
from dovelayout.drawing.picture.axonometric import View, visible
from dovelayout.drawing.picture.grain import grain_marks
from dovelayout.drawing.picture.joint_solid import Timber
from dovelayout.drawing.picture.solid import Vec
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Size, Stroke, Text, placed, strokes

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
class PicturePanel:
    """One drawing of the row: boards, from where they are viewed, paths drawn in dashes, whether the boards are named,
    and the words below it."""

    timbers: tuple[Timber, ...]
    view: View
    words: tuple[str, ...]
    named: bool = False
    paths: tuple[tuple[Vec, Vec], ...] = ()
    saw: tuple[tuple[Vec, Vec], ...] = ()

    def bounds(self, timbers: Sequence[Timber] | None = None) -> tuple[float, float, float, float]:
        """What it covers (x_min, y_min, x_max, y_max), in mm of the work."""
        points = [p for timber in timbers or self.timbers for face in timber.solid.faces for p in face.ring]
        flat = self.view.flat(points)
        (x1, y1), (x2, y2) = flat.min(axis=0).tolist(), flat.max(axis=0).tolist()
        return (x1, y1, x2, y2)

    def wide_mm(self, scale: float) -> float:
        """Its width on the paper, the boards' names included."""
        x1, _, x2, _ = self.bounds()
        low, high = scale * x1, scale * x2
        for timber in self.timbers if self.named else ():
            left, _, right, _ = self.bounds([timber])
            middle, half = scale * (left + right) / 2, _half_wide_mm(_label(timber))
            low, high = min(low, middle - half), max(high, middle + half)
        return max(high - low, LEAST_PANEL_MM)

    def high_mm(self, scale: float) -> float:
        """Its height on the paper, without words."""
        _, y1, _, y2 = self.bounds()
        return scale * (y2 - y1)


_Rows = Sequence[Sequence[PicturePanel]]


def picture(title: str, words: Sequence[str], panels: Sequence[PicturePanel], room_mm: Size) -> Card:
    """The panels in a row, or in two where that makes them larger, on half of the height, or on all of it where they
    would get too small; the title and the words above them."""
    wide_mm, high_mm = room_mm
    head = [(line, TITLE_MM) for line in wrapped(title, TITLE_MM, wide_mm)[:2]]
    head += [(line, WORDS_MM) for entry in words for line in wrapped(entry, WORDS_MM, wide_mm)[:3]]
    head_mm = math.fsum(size * (ASCENT + DESCENT + LEADING) for _, size in head) + UNDER_MM
    arrangements: list[_Rows] = [[panels], [panels[:2], panels[2:]]]
    for part_mm in (high_mm / 2 - GAP_MM / 2, high_mm):
        high_room_mm = part_mm - head_mm
        found = [(_fitting(rows, (wide_mm, high_room_mm)), rows) for rows in arrangements]
        scale, rows = max(found, key=lambda one: one[0])
        if scale >= ALL_HIGH:
            break
    spare_mm = high_room_mm - _high_mm(_all_drawn(rows, scale, grain=False))
    if spare_mm > SPARE * part_mm:  # the words took less than was kept for them
        larger = _narrowed(rows, scale + 0.85 * spare_mm / _high_at_full_size(rows), wide_mm)
        if larger > scale and _high_mm(_all_drawn(rows, larger, grain=False)) <= high_room_mm:
            scale = larger
    drawn = _all_drawn(rows, scale)
    height = _high_mm(drawn) + head_mm
    texts, top = rows_down(head, (0.0, height), LEADING)
    items: list[Item] = [*texts]
    top -= UNDER_MM
    for row in drawn:
        high, left = max(part.height_mm for part in row), 0.0
        for part in row:
            items += placed(part.items, left, top - high)
            left += part.width_mm + GAP_MM
        top -= high + GAP_MM
    width = max(_row_mm([part.width_mm for part in row]) for row in drawn)
    widest = max(width, *(width_mm(text, size) for text, size in head))
    return Card(title=title, width_mm=widest, height_mm=height, items=tuple(items))


def single_panel(panel: PicturePanel, room_mm: Size) -> Card:
    """One panel alone, as large as it goes into a room; without the boards' names where they'd make it much smaller."""
    wide_mm, high_mm = room_mm
    plain = replace(panel, named=False)
    scale, card = _largest(panel, room_mm)
    without = _narrowed([[plain]], (high_mm - ROOM_FOR_WORDS_MM / 2) / panel.high_mm(1.0), wide_mm)
    if panel.named and (card.width_mm > wide_mm or scale < MUCH_SMALLER * without):
        return _largest(plain, room_mm)[1]
    return card


def _largest(panel: PicturePanel, room_mm: Size) -> tuple[float, Card]:
    """The scale at which a panel fits a room, and the panel drawn at it."""
    wide_mm, high_mm = room_mm
    scale = _narrowed([[panel]], high_mm / panel.high_mm(1.0), wide_mm)
    card = _drawn(panel, scale)
    while card.height_mm > high_mm and scale > LEAST:
        words_mm = card.height_mm - panel.high_mm(scale)
        scale = max(LEAST, min(0.97 * scale, (high_mm - words_mm) / panel.high_mm(1.0)))
        card = _drawn(panel, scale)
    return scale, card


def _row_mm(widths_mm: Sequence[float]) -> float:
    return math.fsum(widths_mm) + GAP_MM * (len(widths_mm) - 1)


def _high_mm(drawn: Sequence[Sequence[Card]]) -> float:
    return math.fsum(max(part.height_mm for part in row) for row in drawn) + GAP_MM * (len(drawn) - 1)


def _fitting(rows: _Rows, room_mm: Size) -> float:
    """The largest scale at which rows of panels fit the room."""
    words_mm = (ROOM_FOR_WORDS_MM + GAP_MM) * len(rows)
    return _narrowed(rows, (room_mm[1] - words_mm) / _high_at_full_size(rows), room_mm[0])


def _high_at_full_size(rows: _Rows) -> float:
    return math.fsum(max(panel.high_mm(1.0) for panel in row) for row in rows)


def _narrowed(rows: _Rows, scale: float, wide_mm: float) -> float:
    """That scale, or the largest below it at which all rows are narrow enough."""
    scale = min(LARGEST, max(LEAST, scale))
    while scale > LEAST and any(_row_mm([panel.wide_mm(scale) for panel in row]) > wide_mm for row in rows):
        scale *= 0.97
    return scale


def _all_drawn(rows: _Rows, scale: float, *, grain: bool = True) -> list[list[Card]]:
    return [[_drawn(panel, scale, grain=grain) for panel in row] for row in rows]


def _drawn(panel: PicturePanel, scale: float, *, grain: bool = True) -> Card:
    """One panel at a scale, its lower left at (0, 0): the drawing, the names of its boards, and its words. Grain doesn't
    change its size, so it can be left out where only the size is wanted."""
    faces = [face for timber in panel.timbers for face in timber.solid.faces]
    timbers = panel.timbers if grain else ()
    marks = [mark for timber in timbers for mark in grain_marks(timber, scale=scale, towards=panel.view.towards)]
    shown = visible(faces, panel.view, (marks, panel.paths, panel.saw))
    roles = (Role.PICTURE, Role.PICTURE_EDGE, Role.GRAIN, Role.PATH, Role.SAW)
    lines: list[Lines] = []
    for role, segments in zip(roles, (shown.outline, shown.edges, *shown.marks), strict=True):
        if segments:
            lines.append(strokes(role, ((a * scale, b * scale, c * scale, d * scale) for a, b, c, d in segments)))
    texts = _names(panel, scale, [segment for item in lines for segment in item.segments]) if panel.named else []
    x1, low, x2, high = (value * scale for value in panel.bounds())
    for text in texts:  # strokes and names may reach a little further than the boards
        half = width_mm(text.text, text.size_mm) / 2
        x1, x2, low = min(x1, text.x_mm - half), max(x2, text.x_mm + half), min(low, text.y_mm - DESCENT * text.size_mm)
    middle, wide = (x1 + x2) / 2, panel.wide_mm(scale)
    sizes = [WORDS_MM, *(SMALL_MM for _ in panel.words[1:])]
    rows = [(line, size) for entry, size in zip(panel.words, sizes, strict=True) for line in wrapped(entry, size, wide)]
    words, bottom = rows_down(rows, (middle, low - UNDER_MM), LEADING, Anchor.MIDDLE)
    items = placed((*lines, *texts, *words), wide / 2 - middle, -bottom)
    return Card(title="", width_mm=wide, height_mm=high - bottom, items=items)


def _label(timber: Timber) -> list[tuple[str, float]]:
    """A board's part, name and wood, each with its size, mm."""
    rows = ((timber.part, PART_MM), (timber.end.label, WORDS_MM), (timber.end.board.wood.name, SMALL_MM))
    fitted = ((shortened(text, size, LABEL_MM), size) for text, size in rows)
    return [(text, size) for text, size in fitted if text]


def _half_wide_mm(rows: Sequence[tuple[str, float]]) -> float:
    return max(width_mm(text, size) for text, size in rows) / 2


def _names(panel: PicturePanel, scale: float, lines: Sequence[Stroke]) -> list[Text]:
    """Each board's label, below the board: as high as the strokes there leave room."""
    occupied = list(lines)
    texts: list[Text] = []
    for timber in panel.timbers:
        x1, _, x2, y2 = panel.bounds([timber])
        x = scale * (x1 + x2) / 2
        rows = _label(timber)
        half = _half_wide_mm(rows)
        lowest = min(_heights(occupied, x - half - 1, x + half + 1), default=math.inf)
        label, bottom = rows_down(rows, (x, min(lowest, scale * y2) - UNDER_MM), LEADING, Anchor.MIDDLE)
        texts += label
        occupied.append((x - half, bottom, x + half, bottom))
    return texts


def _heights(lines: Sequence[Stroke], left: float, right: float) -> Iterator[float]:
    """The heights of strokes at both ends of their stretch between two places across; the lowest is among them."""
    for x1, y1, x2, y2 in lines:
        if max(x1, x2) < left or min(x1, x2) > right:
            continue
        if abs(x2 - x1) < 1e-9:
            yield min(y1, y2)
            continue
        for x in (max(left, min(x1, x2)), min(right, max(x1, x2))):
            yield y1 + (x - x1) / (x2 - x1) * (y2 - y1)
