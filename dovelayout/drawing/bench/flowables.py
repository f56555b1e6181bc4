"""What is set on a bench sheet: words and large numbers as flowables of the layout engine, and the canvas they draw on.

Words are measured and broken in `lettering` like all words, and never read as markup. What the engine draws goes to a
canvas that only records it as strokes and texts, so that a typeset sheet has the font, the correction for the printer and
the back ends of all others. Lengths are mm. The engine takes a while to load: import this inside a function.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any, cast

from reportlab.platypus import Flowable

from dovelayout.drawing.bench.sheet import Number, TableCell
from dovelayout.drawing.lettering import ASCENT, ascent, descent, fitted, printable, shortened, width_mm
from dovelayout.drawing.primitives import Item, Role, placed, strokes, text_at

BODY_MM = 3.2
FIGURE_MM = 4.9
"""Figures of the sheet font are 0.73 of their size: 3.57 mm high."""
LOWER_MM = ASCENT * (FIGURE_MM - BODY_MM)
"""Words stand so much lower than figures for their base lines to agree."""
LEAST_MM = 2.6
"""As small as a word gets before it is cut."""
BETWEEN_MM = 0.5  # lines of one text
THIN_MM, THICK_MM = 0.1, 0.35
TIGHT_MM = 1e-6

CellContent = tuple[Flowable, ...]
"""What is set in one cell of a table, one below the other."""

_Placed = tuple[str, float, float]
"""A text, its size and how far from the left it stands, mm."""


class Recorder:
    """The part of a canvas that tables and our own flowables draw on; it keeps what they draw as items."""

    def __init__(self) -> None:
        self.items: list[Item] = []
        self._x = self._y = self._pen_mm = 0.0
        self._saved: list[tuple[float, float, float]] = []

    # the engine's own names
    def saveState(self) -> None:
        """Saves origin and pen."""
        self._saved.append((self._x, self._y, self._pen_mm))

    def restoreState(self) -> None:
        """Restores what was saved last."""
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
        """Adds items, moved to the current origin."""
        self.items += placed(items, self._x, self._y)

    def place(self, one: Flowable, x_mm: float, y_mm: float) -> None:
        """Draws a flowable that was wrapped before, its lower left at a point."""
        one.drawOn(cast(Any, self), x_mm, y_mm)


class _Recorded(Flowable):
    """A flowable that draws on a recorder."""

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
        """The texts of both rows, at full size."""
        number = self._number
        after_mm = width_mm(number.text, self._size_mm) + 0.25 * self._size_mm
        first = [(number.text, self._size_mm, 0.0), (number.unit, BODY_MM, after_mm)]
        return [one for one in first if one[0]], [(number.other, BODY_MM, 0.0)] if number.other else []

    @property
    def natural_mm(self) -> float:
        """Its width at full size, mm."""
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
    """The flowables for the content of a table cell."""
    if isinstance(cell, Number):
        return (LargeNumber(cell),) if cell.text else ()
    return tuple(Words(text) for text in ((cell,) if isinstance(cell, str) else cell) if printable(text))
