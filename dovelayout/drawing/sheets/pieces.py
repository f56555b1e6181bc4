"""Pieces to nest: a drawing with a small heading of its own, which stands above it on the waste paper.

Several pieces share a sheet, so each says for itself what it is. Only what is drawn later costs time: a piece knows its
size before it is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from dovelayout.drawing.lettering import DESCENT, ascent, printable, shortened, width_mm, wrapped
from dovelayout.drawing.primitives import Item, Text, moved, turned_left
from dovelayout.drawing.sheets.nesting import Shape

NAME_MM = 3.2
NUMBERS_MM = 2.4
LEAST_SHARE = 0.8  # of its size that a row is written in before it is broken or cut
JOINED_SHARE = 0.9  # and before rows are joined to one
MOST_ROWS = 3  # of numbers
MOST_NAME_ROWS = 4  # a name of 60 letters on the narrowest piece
ABOVE_MM = 1.2  # between a drawing and the heading above it
BETWEEN_MM = 0.4
TURNED = "turned a quarter on this sheet"


@dataclass(frozen=True, kw_only=True)
class Piece:
    """What is to be nested: its name, its numbers, the size of its drawing in mm and how to draw it.

    `of` is the corner or divider it belongs to, `what` it is in a word: for the overview and the head of the sheet.
    The drawing's lower left is at (0, 0).
    """

    of: str
    what: str
    name: str
    numbers: tuple[str, ...]
    width_mm: float
    height_mm: float
    draw: Callable[[], tuple[Item, ...]]
    may_turn: bool = True

    @cached_property
    def shape(self) -> Shape:
        """The room it takes with its heading; turned it is a little longer, for the line that says so."""
        upright = (self.width_mm, self._high_mm(turned=False))
        return Shape(upright=upright, turned=(self._high_mm(turned=True), self.width_mm) if self.may_turn else None)

    def placed(self, x_mm: float, y_mm: float, *, turned: bool) -> tuple[Item, ...]:
        """The drawing and its heading with their lower left at a place on the sheet."""
        rows = self._heading(turned=turned)
        if not turned:
            return tuple(moved(item, x_mm, y_mm) for item in (*self.draw(), *rows))
        high_mm = self._high_mm(turned=True)
        return tuple(moved(turned_left(item), x_mm + high_mm, y_mm) for item in (*self.draw(), *rows))

    def _rows(self, *, turned: bool) -> list[tuple[str, float]]:
        """The rows over the drawing and their sizes, from the drawing upwards."""
        lines = [*((row, NAME_MM) for row in self._names), *((row, NUMBERS_MM) for row in self._numbers)]
        if turned:
            lines.append((TURNED, NUMBERS_MM))
        return lines[::-1]

    def _high_mm(self, *, turned: bool) -> float:
        """Where the rows end above, without setting them."""
        base = self.height_mm + ABOVE_MM
        for line, size_mm in self._rows(turned=turned):
            base += DESCENT * size_mm
            base += ascent(line) * size_mm + BETWEEN_MM
        return base

    def _heading(self, *, turned: bool) -> tuple[Text, ...]:
        """The rows over the drawing, the first of them first."""
        texts: list[Text] = []
        base = self.height_mm + ABOVE_MM
        for line, size_mm in self._rows(turned=turned):  # made smaller before it is cut; its room stays the same
            share = self.width_mm / max(1e-6, width_mm(line, size_mm))
            size = size_mm * max(LEAST_SHARE, min(1.0, share)) * 0.9999
            row = shortened(line, size, self.width_mm)
            base += DESCENT * size_mm
            if row:
                texts.append(Text(x_mm=0.0, y_mm=base, text=row, size_mm=size))
            base += ascent(line) * size_mm + BETWEEN_MM
        return tuple(reversed(texts))

    @cached_property
    def _names(self) -> tuple[str, ...]:
        """The name on as many rows as it takes: what is cut off of it may be which end it is for."""
        name, least_mm = printable(self.name), NAME_MM * LEAST_SHARE
        if width_mm(name, least_mm) <= self.width_mm:
            return (name,)
        return tuple(wrapped(name, least_mm, self.width_mm))[:MOST_NAME_ROWS]

    @cached_property
    def _numbers(self) -> tuple[str, ...]:
        return _joined(self.numbers, self.width_mm)


def _joined(parts: Sequence[str], room_mm: float) -> tuple[str, ...]:
    """Parts set beside each other as far as a row goes; what is over joins the last row and is cut there."""
    rows: list[str] = []
    for part in map(printable, parts):
        longer = f"{rows[-1]} · {part}" if rows else part
        if rows and (len(rows) == MOST_ROWS or width_mm(longer, NUMBERS_MM * JOINED_SHARE) <= room_mm):
            rows[-1] = longer
        else:
            rows.append(part)
    return tuple(rows)
