"""Tables set by reportlab's layout engine, and recorded as the strokes and texts that every sheet is made of.

What the engine draws goes to a canvas that only records it, so that a typeset sheet has the font, the correction for the
printer and the back ends of all others. Words are flowables of our own: measured and broken in `lettering` like all
words, and never read as markup. All lengths are mm; the engine doesn't mind. It takes a while to load: import this inside
a function.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, cast

from reportlab.platypus import Flowable, Table, TableStyle

from dovelayout.drawing.bench.sheet import Cell, Number
from dovelayout.drawing.lettering import ascent, descent, fitted, printable, shortened, width_mm
from dovelayout.drawing.primitives import Item, Lines, Role, Text, moved

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

BODY_MM = 3.2
FIGURE_MM = 4.9
"""Figures of the sheet font are 0.73 of their size: 3.57 mm high."""
LEAST_MM = 2.6
"""As small as a word gets before it is cut."""
BETWEEN_MM = 0.5  # lines of one text
PAD_MM = 1.2  # beside what stands in a cell
ROOM_MM = 0.9  # above and below it
APART_MM = 4.0  # between two parts of the sheet
THIN_MM, THICK_MM = 0.1, 0.35
TIGHT_MM = 1e-6

Content = tuple[tuple[Item, ...], float]
"""What stands on one sheet, in the coordinates of its room, and how much of the height it fills."""

Command = tuple[str, tuple[int, int], tuple[int, int], *tuple[Any, ...]]
"""One of the engine's, for the cells from one to another: ('VALIGN', (column, row), (column, row), 'TOP')."""

Rule = tuple[str, tuple[int, int], tuple[int, int], float, str]
"""A rule of a table: where ('LINEABOVE', 'BOX', ...), from which cell to which, its width, its colour."""

Set = tuple[Flowable, ...]
"""What is set in one cell of a table, one below the other."""


class Recorder:
    """As much of a canvas as tables and our own flowables draw on: it keeps what they draw."""

    def __init__(self) -> None:
        self.items: list[Item] = []
        self._x = self._y = self._pen_mm = 0.0
        self._saved: list[tuple[float, float, float]] = []

    # the engine's own names
    def saveState(self) -> None:
        """Remembers where it is."""
        self._saved.append((self._x, self._y, self._pen_mm))

    def restoreState(self) -> None:
        """Goes back there."""
        self._x, self._y, self._pen_mm = self._saved.pop()

    def translate(self, dx: float, dy: float) -> None:
        """All that follows stands elsewhere."""
        self._x, self._y = self._x + dx, self._y + dy

    def setLineWidth(self, width: float) -> None:
        """The pen of the strokes that follow."""
        self._pen_mm = width

    def setStrokeColor(self, _color: object) -> None:
        """All is black."""

    def setFillColor(self, _color: object) -> None:
        """All is black."""

    def setFont(self, _name: str, _size: float, _leading: float) -> None:
        """All words bring their size with them."""

    def setLineCap(self, _cap: object) -> None:
        """Caps are the renderer's choice."""

    def setLineJoin(self, _join: object) -> None:
        """Strokes stand alone."""

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """A stroke, thick or thin."""
        role = Role.MARK if self._pen_mm > (THIN_MM + THICK_MM) / 2 else Role.NOTE
        self.put((Lines(role=role, segments=((x1, y1, x2, y2),)),))

    def put(self, items: Iterable[Item]) -> None:
        """Anything that is drawn already."""
        self.items.extend(moved(item, self._x, self._y) for item in items)


def _recorder(canvas: object) -> Recorder:
    """What our flowables draw on."""
    assert isinstance(canvas, Recorder)
    return canvas


def high_mm(one: Flowable, wide_mm: float, room_mm: float) -> float:
    """How high something gets at a width."""
    return one.wrap(wide_mm, room_mm)[1]


def put(one: Flowable, canvas: Recorder, x_mm: float, y_mm: float) -> None:
    """Draws what knows its size already, its lower left there."""
    one.drawOn(cast("Canvas", canvas), x_mm, y_mm)


class Words(Flowable):
    """A text broken to the width it gets, from the top of `least_mm` of height; over `most` lines it is cut."""

    def __init__(self, text: str, size_mm: float = BODY_MM, *, most: int | None = None, least_mm: float = 0.0) -> None:
        super().__init__()
        self._least_mm = least_mm
        self._text, self._size_mm, self._most = printable(text), size_mm, most
        self.spaceAfter = BETWEEN_MM
        self._lines: tuple[tuple[str, float], ...] = ()

    def wrap(self, wide_mm: float, _high_mm: float) -> tuple[float, float]:
        """Width and height at that width."""
        lines = fitted(self._text, self._size_mm, min(LEAST_MM, self._size_mm), wide_mm)
        if self._most is not None and len(lines) > self._most:
            *kept, (_, size_mm) = lines[: self._most]
            rest = " ".join(text for text, _ in lines[len(kept) :])
            lines = (*kept, (shortened(rest, size_mm, wide_mm), size_mm))
        self._lines = tuple(line for line in lines if line[0])
        high_mm = math.fsum(_line_mm(text, size_mm) for text, size_mm in self._lines)
        high_mm = max(self._least_mm, high_mm + BETWEEN_MM * max(0, len(self._lines) - 1))
        self.width, self.height = wide_mm, high_mm
        return self.width, self.height

    def draw(self) -> None:
        """Its lines, from the top."""
        top_mm = self.height
        for text, size_mm in self._lines:
            base_mm = top_mm - ascent(text) * size_mm
            _recorder(self.canv).put((Text(x_mm=0.0, y_mm=base_mm, text=text, size_mm=size_mm),))
            top_mm -= _line_mm(text, size_mm) + BETWEEN_MM


class Figure(Flowable):
    """A number in large figures with its unit after it and the other unit below; smaller where it must be."""

    def __init__(self, number: Number, size_mm: float = FIGURE_MM) -> None:
        super().__init__()
        self._number, self._size_mm = number, size_mm

    @property
    def _rows(self) -> tuple[tuple[tuple[str, float, float], ...], ...]:
        """(text, size, from the left) of both rows, at full size."""
        number = self._number
        after_mm = width_mm(number.text, self._size_mm) + 0.25 * self._size_mm
        first = ((number.text, self._size_mm, 0.0), (number.unit, BODY_MM, after_mm))
        return (first, ((number.other, BODY_MM, 0.0),))

    @property
    def natural_mm(self) -> float:
        """The width that it would like."""
        return max(left + width_mm(text, size) for row in self._rows for text, size, left in row if text)

    def wrap(self, wide_mm: float, _high_mm: float) -> tuple[float, float]:
        """Width and height at that width."""
        self._share = min(1.0, wide_mm / (self.natural_mm + TIGHT_MM))
        heights = [_row_mm(row) for row in self._rows]
        self.width = min(wide_mm, self.natural_mm)
        self.height = self._share * (heights[0] + (heights[1] + BETWEEN_MM if heights[1] else 0.0))
        return self.width, self.height

    def draw(self) -> None:
        """Both rows, from the top."""
        top_mm = self.height
        for row in self._rows:
            up_mm = max((ascent(text) * size for text, size, _ in row if text), default=0.0)
            for text, size, left in row:
                if text:
                    at = (self._share * left, top_mm - self._share * up_mm)
                    _recorder(self.canv).put((Text(x_mm=at[0], y_mm=at[1], text=text, size_mm=self._share * size),))
            top_mm -= self._share * (_row_mm(row) + BETWEEN_MM)


class Drawn(Flowable):
    """What is drawn already, of a fixed size."""

    def __init__(self, items: Sequence[Item], wide_mm: float, high_mm: float) -> None:
        super().__init__()
        self._items, self.width, self.height = tuple(items), wide_mm, high_mm

    def draw(self) -> None:
        """It."""
        _recorder(self.canv).put(self._items)


def _line_mm(text: str, size_mm: float) -> float:
    return (ascent(text) + descent(text)) * size_mm


def _row_mm(row: Sequence[tuple[str, float, float]]) -> float:
    said = [(text, size) for text, size, _ in row if text]
    return max((ascent(text) * s for text, s in said), default=0.0) + max(
        (descent(text) * s for text, s in said), default=0.0
    )


def set_cell(cell: Cell) -> Set:
    """What is set in a cell."""
    if isinstance(cell, Number):
        return (Figure(cell),) if cell.text else ()
    return tuple(Words(text) for text in ((cell,) if isinstance(cell, str) else cell) if printable(text))


def ruled(
    rows: Sequence[Sequence[Set]],
    widths_mm: Sequence[float],
    rules: Sequence[Rule] = (),
    *,
    commands: Sequence[Command] = (),
    repeat: int = 0,
    apart_mm: float = 0.0,
    heights_mm: Sequence[float] | None = None,
) -> Table:
    """A table; `repeat` of its rows are said again where it goes on on another sheet."""
    padded: list[Command] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), PAD_MM),
        ("RIGHTPADDING", (0, 0), (-1, -1), PAD_MM),
        ("TOPPADDING", (0, 0), (-1, -1), ROOM_MM),
        ("BOTTOMPADDING", (0, 0), (-1, -1), ROOM_MM),
    ]
    return Table(
        [list(row) for row in rows],
        colWidths=list(widths_mm),
        rowHeights=heights_mm,
        repeatRows=repeat,
        style=TableStyle([*padded, *commands, *rules]),
        hAlign="LEFT",
        spaceBefore=apart_mm,
    )


def rule(where: str, first: tuple[int, int], last: tuple[int, int], *, thick: bool = False) -> Rule:
    """A rule of the table: LINEABOVE, LINEBELOW, BOX, INNERGRID."""
    return (where, first, last, THICK_MM if thick else THIN_MM, "black")


def flowed(groups: Iterable[Sequence[Flowable]], *, wide_mm: float, sheet_mm: float) -> tuple[Content, ...]:
    """Groups of flowables one below the other on sheets of a height. Several in a group stay together where one sheet
    holds them; a table alone goes on on the next sheet.

    The engine's own frames keep things together only inside its document templates, which write files of their own.
    """
    canvas, top_mm = Recorder(), sheet_mm
    pages: list[Content] = []

    def turn() -> None:
        nonlocal canvas, top_mm
        if canvas.items:
            pages.append((tuple(canvas.items), sheet_mm - top_mm))
        canvas, top_mm = Recorder(), sheet_mm

    for group in groups:
        left = list(group)
        needs_mm = math.fsum(high_mm(one, wide_mm, sheet_mm) + one.getSpaceBefore() for one in left)
        if len(left) > 1 and top_mm < needs_mm and needs_mm - left[0].getSpaceBefore() <= sheet_mm:
            turn()
        while left:
            one = left.pop(0)
            room_mm = top_mm - (one.getSpaceBefore() if top_mm < sheet_mm else 0.0)
            needs_mm = high_mm(one, wide_mm, room_mm)
            if needs_mm <= room_mm + TIGHT_MM:
                top_mm = room_mm - needs_mm
                put(one, canvas, 0.0, top_mm)
                continue
            parts = one.split(wide_mm, room_mm) if room_mm > 0 else []
            if len(parts) < 2 and not canvas.items:
                raise ValueError(f"{needs_mm:.0f} mm can't be parted for a sheet of {sheet_mm:.0f} mm")
            if len(parts) < 2:
                turn()
            left[:0] = parts if len(parts) > 1 else [one]
    turn()
    return tuple(pages)
