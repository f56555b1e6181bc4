"""Which sheet holds what: the sheets of a job drawn small, for jobs of more than a few."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.drawing.lettering import ASCENT, DESCENT, printable, share_that_fits, shortened
from dovelayout.drawing.primitives import Anchor, Item, Items, Role, Size, placed, rectangle, strokes, text_at
from dovelayout.drawing.sheets.pieces import PlacedPiece

MANY_SHEETS = 4
"""Jobs of more sheets than these have an overview; ours."""

WIDE_MM = 26.0  # of a small sheet, at the most
APART_MM = 4.0
NUMBER_MM = 2.8
LETTER_MM = 3.4
LEAST_MM = 1.7  # nothing smaller can be read at arm's length
SMALLEST_MM = 0.8  # smaller letters are left out
LINE = ASCENT + DESCENT + 0.1  # from one row to the next, share of the size


def _grid(room_mm: Size) -> tuple[float, Size, int, int]:
    """How small the sheets are drawn, the step from one to the next, how many stand in a row and how many rows on a page."""
    scale = min(WIDE_MM / room_mm[0], 1.6 * WIDE_MM / room_mm[1])
    step = (room_mm[0] * scale + APART_MM, room_mm[1] * scale + APART_MM + NUMBER_MM + 1.0)
    return scale, step, max(1, int((room_mm[0] + APART_MM) // step[0])), max(1, int(room_mm[1] // step[1]))


def overview_pages(count: int, room_mm: Size) -> int:
    """How many pages an overview of so many sheets takes."""
    _, _, across, up = _grid(room_mm)
    return -(-count // (across * up))


def overview(sheets: Sequence[Sequence[PlacedPiece]], first: int, room_mm: Size) -> tuple[Items, ...]:
    """The sheets drawn small, numbered from `first`, each page in the coordinates of its room. The room of a page, mm, is
    that of the sheets."""
    scale, step, across, up = _grid(room_mm)
    pages: list[list[Item]] = [[] for _ in range(overview_pages(len(sheets), room_mm))]
    for number, pieces in enumerate(sheets):
        page, place = divmod(number, across * up)
        row, column = divmod(place, across)
        y = room_mm[1] - (row + 1) * step[1] + APART_MM
        pages[page] += placed(_small(pieces, first + number, room_mm, scale), column * step[0], y)
    return tuple(map(tuple, pages))


def _small(pieces: Sequence[PlacedPiece], number: int, room_mm: Size, scale: float) -> Iterator[Item]:
    """One sheet, its lower left at (0, 0)."""
    wide, high = (side * scale for side in room_mm)
    yield strokes(Role.MARK, rectangle(0.0, 0.0, wide, high))
    yield text_at((0.0, high + 1.2), f"sheet {number}", NUMBER_MM)
    for one in pieces:
        size = (one.size_mm[0] * scale, one.size_mm[1] * scale)
        drawing = (strokes(Role.NOTE, rectangle(0.0, 0.0, *size)), *_label(one.piece.of, one.piece.what, size))
        yield from placed(drawing, one.place.x_mm * scale, one.place.y_mm * scale)


def _label(of: str, what: str, size_mm: Size) -> Iterator[Item]:
    """The corner's letter and what of it, one over the other or beside each other, as large as goes into a rectangle."""
    wide, high = size_mm
    room = wide - 1.0
    for rows in ((of, what), (f"{of} {what}",), (of,)):
        size = min(LETTER_MM, (high - 1.0) / (len(rows) * LINE))
        size *= min(share_that_fits(printable(row), size, room) for row in rows) * 0.999
        if size >= LEAST_MM:
            break
    else:
        size = min(LEAST_MM, (high - 1.0) / LINE)
        if size < SMALLEST_MM:
            return
    top = high / 2 + size * LINE * len(rows) / 2
    for place, row in enumerate(rows):
        text = shortened(row, size, room)
        if text:
            base = top - place * size * LINE - (ASCENT + 0.05) * size
            yield text_at((wide / 2, base), text, size, Anchor.MIDDLE)
