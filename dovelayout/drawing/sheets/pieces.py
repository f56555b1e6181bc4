"""Pieces to nest: a drawing with a small heading of its own, which stands above it on the waste paper.

Several pieces share a sheet, so each carries its own name and numbers. Only drawing takes time: a piece knows its size
before it is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from dovelayout.drawing.lettering import DESCENT, ascent, printable, share_that_fits, shortened, width_mm, wrapped
from dovelayout.drawing.primitives import Drawing, Items, Size, Text, placed, text_at, turned_left
from dovelayout.drawing.sheets.nesting import Placement, Shape

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
class SheetPiece:
    """A piece to nest: its name, its numbers, the size of its drawing in mm and how to draw it.

    `of` is the corner or divider it belongs to, `what` it is in a word: for the overview and the head of the sheet.
    The drawing's lower left is at (0, 0).
    """

    of: str
    what: str
    name: str
    numbers: tuple[str, ...] = ()
    width_mm: float
    height_mm: float
    draw: Callable[[], Items]
    may_turn: bool = True

    @classmethod
    def of_drawing(cls, drawing: Drawing, *, of: str, what: str, name: str, may_turn: bool = True) -> SheetPiece:
        """A piece of a drawing that is there already."""
        draw = partial(tuple, drawing.items)
        wide_mm, high_mm = drawing.width_mm, drawing.height_mm
        return cls(of=of, what=what, name=name, width_mm=wide_mm, height_mm=high_mm, draw=draw, may_turn=may_turn)

    @cached_property
    def shape(self) -> Shape:
        """Its size with its heading; rotated it is a little longer, for the line that says so."""
        turned = (self._heading(turned=True)[1], self.width_mm) if self.may_turn else None
        return Shape(upright=(self.width_mm, self._heading(turned=False)[1]), turned=turned)

    def items(self, *, turned: bool) -> Items:
        """The drawing with its heading, as it stands or rotated, its lower left at (0, 0)."""
        texts, high_mm = self._heading(turned=turned)
        upright = (*self.draw(), *texts)
        return placed(map(turned_left, upright), high_mm, 0.0) if turned else upright

    def _heading(self, *, turned: bool) -> tuple[tuple[Text, ...], float]:
        """The rows over the drawing, the first of them first, and where they end above, mm."""
        rows = [*((row, NAME_MM) for row in self._names), *((row, NUMBERS_MM) for row in self._numbers)]
        if turned:
            rows.append((TURNED, NUMBERS_MM))
        texts: list[Text] = []
        base = self.height_mm + ABOVE_MM
        for row, size_mm in reversed(rows):  # made smaller before it is cut; its room stays the same
            fitted_mm = size_mm * max(LEAST_SHARE, share_that_fits(row, size_mm, self.width_mm)) * 0.9999
            text = shortened(row, fitted_mm, self.width_mm)
            base += DESCENT * size_mm
            if text:
                texts.append(text_at((0.0, base), text, fitted_mm))
            base += ascent(row) * size_mm + BETWEEN_MM
        return tuple(reversed(texts)), base

    @cached_property
    def _names(self) -> tuple[str, ...]:
        """The name on as many rows as it needs: cut short it might no longer tell which end it is for."""
        name, least_mm = printable(self.name), NAME_MM * LEAST_SHARE
        if width_mm(name, least_mm) <= self.width_mm:
            return (name,)
        return wrapped(name, least_mm, self.width_mm)[:MOST_NAME_ROWS]

    @cached_property
    def _numbers(self) -> tuple[str, ...]:
        return _joined(self.numbers, self.width_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPiece:
    """A piece and where it stands on its sheet."""

    piece: SheetPiece
    place: Placement

    @property
    def size_mm(self) -> Size:
        """Its size as it stands there."""
        return self.piece.shape.sizes[self.place.turned]

    def items(self) -> Items:
        """The piece at its place."""
        return placed(self.piece.items(turned=self.place.turned), self.place.x_mm, self.place.y_mm)


def placed_pieces(pieces: Sequence[SheetPiece], places: Sequence[Placement]) -> tuple[PlacedPiece, ...]:
    """The pieces of one sheet, found by the numbers in their places."""
    return tuple(PlacedPiece(piece=pieces[place.piece], place=place) for place in places)


def _joined(parts: Sequence[str], room_mm: float) -> tuple[str, ...]:
    """Parts set beside each other as far as a row goes; the rest joins the last row and is cut there."""
    rows: list[str] = []
    for part in map(printable, parts):
        longer = f"{rows[-1]} · {part}" if rows else part
        if rows and (len(rows) == MOST_ROWS or width_mm(longer, NUMBERS_MM * JOINED_SHARE) <= room_mm):
            rows[-1] = longer
        else:
            rows.append(part)
    return tuple(rows)
