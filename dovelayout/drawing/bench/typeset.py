"""Tables set by reportlab's layout engine, and recorded as the strokes and texts that every sheet is made of.

What the engine draws goes to a canvas that only records it, so that a typeset sheet has the font, the correction for the
printer and the back ends of all others. Words are flowables of our own: measured and broken in `lettering` like all
words, and never read as markup. All lengths are mm; the engine works in any unit. It takes a while to load: import this
inside a function.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, cast

from reportlab.platypus import Flowable, Table, TableStyle

from dovelayout.drawing.bench.sheet import Number, TableCell
from dovelayout.drawing.lettering import ascent, descent, fitted, printable, shortened, width_mm
from dovelayout.drawing.primitives import Item, Items, Role, Size, placed, strokes, text_at

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
THIN_MM, THICK_MM = 0.1, 0.35
TIGHT_MM = 1e-6

Content = tuple[Items, float]
"""What stands on one sheet, in the coordinates of its room, and how much of the height it fills."""

CellAt = tuple[int, int]
"""Column and row of a cell."""

CellContent = tuple[Flowable, ...]
"""What is set in one cell of a table, one below the other."""

_Placed = tuple[str, float, float]
"""A text, its size and how far from the left it stands, mm."""


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
        """Moves the origin of all that follows."""
        self._x, self._y = self._x + dx, self._y + dy

    def setLineWidth(self, width: float) -> None:
        """The pen of the strokes that follow."""
        self._pen_mm = width

    def _ignore(self, *_: object) -> None:
        """All is black, all words bring their size with them, caps and joins of strokes are the renderer's choice."""

    setStrokeColor = setFillColor = setFont = setLineCap = setLineJoin = _ignore

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """A stroke, thick or thin."""
        role = Role.MARK if self._pen_mm > (THIN_MM + THICK_MM) / 2 else Role.NOTE
        self.put((strokes(role, ((x1, y1, x2, y2),)),))

    def put(self, items: Iterable[Item]) -> None:
        """Anything that is drawn already."""
        self.items += placed(items, self._x, self._y)


def high_mm(one: Flowable, wide_mm: float, room_mm: float) -> float:
    """How high something gets at a width."""
    return one.wrap(wide_mm, room_mm)[1]


def put(one: Flowable, canvas: Recorder, x_mm: float, y_mm: float) -> None:
    """Draws what knows its size already, its lower left there."""
    one.drawOn(cast("Canvas", canvas), x_mm, y_mm)


class _Recorded(Flowable):
    """What draws itself on a recorder."""

    def _put(self, items: Iterable[Item]) -> None:
        assert isinstance(self.canv, Recorder)
        self.canv.put(items)


class Words(_Recorded):
    """A text broken to the width it gets, at least `least_mm` high, cut after `most` lines."""

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
            self._put((text_at((0.0, top_mm - ascent(text) * size_mm), text, size_mm),))
            top_mm -= _line_mm(text, size_mm) + BETWEEN_MM


class LargeNumber(_Recorded):
    """A number in large figures with its unit after it and the other unit below; smaller where it must be."""

    def __init__(self, number: Number, size_mm: float = FIGURE_MM) -> None:
        super().__init__()
        self._number, self._size_mm = number, size_mm

    @property
    def _rows(self) -> tuple[list[_Placed], list[_Placed]]:
        """What stands in both rows, at full size."""
        number = self._number
        after_mm = width_mm(number.text, self._size_mm) + 0.25 * self._size_mm
        first = [(number.text, self._size_mm, 0.0), (number.unit, BODY_MM, after_mm)]
        return [one for one in first if one[0]], [(number.other, BODY_MM, 0.0)] if number.other else []

    @property
    def natural_mm(self) -> float:
        """The width that it would like."""
        return max(left + width_mm(text, size) for row in self._rows for text, size, left in row)

    def wrap(self, wide_mm: float, _high_mm: float) -> tuple[float, float]:
        """Width and height at that width."""
        self._share = min(1.0, wide_mm / (self.natural_mm + TIGHT_MM))
        first_mm, second_mm = map(_row_mm, self._rows)
        self.width = min(wide_mm, self.natural_mm)
        self.height = self._share * (first_mm + (second_mm + BETWEEN_MM if second_mm else 0.0))
        return self.width, self.height

    def draw(self) -> None:
        """Both rows, from the top."""
        top_mm, share = self.height, self._share
        for row in self._rows:
            base_mm = top_mm - share * max((ascent(text) * size for text, size, _ in row), default=0.0)
            self._put(text_at((share * left, base_mm), text, share * size) for text, size, left in row)
            top_mm -= share * (_row_mm(row) + BETWEEN_MM)


class Drawn(_Recorded):
    """A drawing of a fixed size."""

    def __init__(self, items: Sequence[Item], wide_mm: float, high_mm: float) -> None:
        super().__init__()
        self._items, self.width, self.height = tuple(items), wide_mm, high_mm

    def draw(self) -> None:
        """The drawing."""
        self._put(self._items)


def _line_mm(text: str, size_mm: float) -> float:
    return (ascent(text) + descent(text)) * size_mm


def _row_mm(row: Sequence[_Placed]) -> float:
    return math.fsum(max((reach(text) * size for text, size, _ in row), default=0.0) for reach in (ascent, descent))


def set_cell(cell: TableCell) -> CellContent:
    """What is set in a cell."""
    if isinstance(cell, Number):
        return (LargeNumber(cell),) if cell.text else ()
    return tuple(Words(text) for text in ((cell,) if isinstance(cell, str) else cell) if printable(text))


class RuledTable:
    """A table that is put together row by row, with rules; columns and rows are counted from 0, -1 is the last."""

    def __init__(self, widths_mm: Sequence[float]) -> None:
        self._widths_mm = list(widths_mm)
        self._rows: list[list[CellContent]] = []
        self._heights_mm: list[float | None] = []
        self._commands: list[Any] = []
        self.style("VALIGN", "TOP")
        for side, air_mm in (("LEFT", PAD_MM), ("RIGHT", PAD_MM), ("TOP", ROOM_MM), ("BOTTOM", ROOM_MM)):
            self.style(f"{side}PADDING", air_mm)

    def __len__(self) -> int:
        return len(self._rows)

    def add(self, *cells: CellContent, high_mm: float | None = None, whole: bool = False) -> None:
        """A row, as high as its cells where no height is given; a `whole` one is one cell across all columns."""
        if whole:
            self._commands.append(("SPAN", (0, len(self)), (-1, len(self))))
        self._rows.append([*cells, *[()] * (len(self._widths_mm) - len(cells))])
        self._heights_mm.append(high_mm)

    def style(self, what: str, value: float | str, first: CellAt = (0, 0), last: CellAt = (-1, -1)) -> None:
        """One of the engine's cell styles for the cells from one (column, row) to another."""
        self._commands.append((what, first, last, value))

    def rule(self, where: str, first: CellAt = (0, 0), last: CellAt = (-1, -1), *, thick: bool = False) -> None:
        """LINEABOVE, LINEBELOW, BOX or INNERGRID of those cells."""
        self._commands.append((where, first, last, THICK_MM if thick else THIN_MM, "black"))

    def table(self, *, repeat: int = 0, apart_mm: float = 0.0) -> Table:
        """The table; its first `repeat` rows stand again where it goes on on another sheet."""
        return Table(
            self._rows,
            colWidths=self._widths_mm,
            rowHeights=self._heights_mm,
            repeatRows=repeat,
            style=TableStyle(self._commands),
            hAlign="LEFT",
            spaceBefore=apart_mm,
        )


def flowed(groups: Iterable[Sequence[Flowable]], room_mm: Size) -> tuple[Content, ...]:
    """Groups of flowables one below the other in as many rooms of that size as they need. Several in a group stay together
    where one room holds them; a table alone goes on in the next.

    The engine's own frames keep things together only inside its document templates, which write files of their own.
    """
    wide_mm, sheet_mm = room_mm
    canvas, top_mm = Recorder(), sheet_mm
    pages: list[Content] = []

    def turn_page() -> None:
        nonlocal canvas, top_mm
        if canvas.items:
            pages.append((tuple(canvas.items), sheet_mm - top_mm))
        canvas, top_mm = Recorder(), sheet_mm

    for group in groups:
        left = list(group)
        needs_mm = math.fsum(high_mm(one, wide_mm, sheet_mm) + one.getSpaceBefore() for one in left)
        if len(left) > 1 and top_mm < needs_mm and needs_mm - left[0].getSpaceBefore() <= sheet_mm:
            turn_page()
        while left:
            one = left.pop(0)
            left_mm = top_mm - (one.getSpaceBefore() if top_mm < sheet_mm else 0.0)
            needs_mm = high_mm(one, wide_mm, left_mm)
            if needs_mm <= left_mm + TIGHT_MM:
                top_mm = left_mm - needs_mm
                put(one, canvas, 0.0, top_mm)
                continue
            parts = one.split(wide_mm, left_mm) if left_mm > 0 else []
            if len(parts) < 2 and not canvas.items:
                raise ValueError(f"{needs_mm:.0f} mm can't be parted for a sheet of {sheet_mm:.0f} mm")
            if len(parts) < 2:
                turn_page()
            left[:0] = parts if len(parts) > 1 else [one]
    turn_page()
    return tuple(pages)
