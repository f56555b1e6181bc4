"""Which sheet holds what: the sheets of a job drawn small, for jobs of more than a few."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import ASCENT, DESCENT, printable, shortened, width_mm
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Text
from dovelayout.drawing.sheets.nesting import Size

MANY_SHEETS = 4
"""Jobs of more sheets than these have an overview; ours."""

WIDE_MM = 26.0  # of a small sheet, at the most
APART_MM = 4.0
NUMBER_MM = 2.8
LETTER_MM = 3.4
LEAST_MM = 1.7  # nothing smaller can be read at arm's length


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A piece on a sheet of the overview: what it is in a word or two, and its rectangle in the sheet's room, mm."""

    of: str
    what: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


def overview_pages(count: int, sheet: Size, room: Size) -> int:
    """How many pages an overview of so many sheets takes."""
    across, up, _ = _grid(sheet, room)
    return -(-count // (across * up))


def overview(sheets: Sequence[Sequence[Patch]], first: int, sheet: Size, room: Size) -> tuple[tuple[Item, ...], ...]:
    """The sheets' rooms drawn small, numbered from `first`, on as many pages as they need, in the room of each."""
    across, up, scale = _grid(sheet, room)
    wide, high = sheet[0] * scale, sheet[1] * scale
    step = (wide + APART_MM, high + APART_MM + NUMBER_MM + 1.0)
    pages: list[list[Item]] = []
    for number, patches in enumerate(sheets):
        page, place = divmod(number, across * up)
        if page == len(pages):
            pages.append([])
        row, column = divmod(place, across)
        x, y = column * step[0], room[1] - (row + 1) * step[1] + APART_MM
        pages[-1].extend(_small(patches, first + number, (x, y), (wide, high), scale))
    return tuple(tuple(page) for page in pages)


def _grid(sheet: Size, room: Size) -> tuple[int, int, float]:
    """Small sheets in a row, rows on a page, and how small they are."""
    scale = min(WIDE_MM / sheet[0], 1.6 * WIDE_MM / sheet[1])
    wide, high = sheet[0] * scale, sheet[1] * scale
    across = max(1, int((room[0] + APART_MM) // (wide + APART_MM)))
    up = max(1, int(room[1] // (high + APART_MM + NUMBER_MM + 1.0)))
    return across, up, scale


def _small(patches: Sequence[Patch], number: int, at: Size, size: Size, scale: float) -> list[Item]:
    x, y = at
    items: list[Item] = [
        Lines(role=Role.MARK, segments=_frame(x, y, *size)),
        Text(x_mm=x, y_mm=y + size[1] + 1.2, text=f"sheet {number}", size_mm=NUMBER_MM),
    ]
    for patch in patches:
        left, bottom = x + patch.x_mm * scale, y + patch.y_mm * scale
        wide, high = patch.width_mm * scale, patch.height_mm * scale
        items.append(Lines(role=Role.NOTE, segments=_frame(left, bottom, wide, high)))
        items.extend(_label(patch, left, bottom, wide, high))
    return items


def _label(patch: Patch, left: float, bottom: float, wide: float, high: float) -> list[Item]:
    """The corner's letter and what of it, one over the other or beside each other, as large as goes in."""
    room = wide - 1.0
    for rows in ((patch.of, patch.what), (f"{patch.of} {patch.what}",), (patch.of,)):
        size = min(LETTER_MM, (high - 1.0) / (len(rows) * (ASCENT + DESCENT + 0.1)))
        size = min([size, *(size * room / max(1e-6, width_mm(printable(row), size)) for row in rows)]) * 0.999
        if size >= LEAST_MM:
            break
    else:
        size = min(LEAST_MM, (high - 1.0) / (ASCENT + DESCENT + 0.1))
        if size < 0.8:
            return []
    line = size * (ASCENT + DESCENT + 0.1)
    top = bottom + high / 2 + line * len(rows) / 2
    texts: list[Item] = []
    for place, row in enumerate(rows):
        text = shortened(row, size, room)
        if text:
            base = top - place * line - (ASCENT + 0.05) * size
            texts.append(Text(x_mm=left + wide / 2, y_mm=base, text=text, size_mm=size, anchor=Anchor.MIDDLE))
    return texts


def _frame(x: float, y: float, wide: float, high: float) -> tuple[tuple[float, float, float, float], ...]:
    return (
        (x, y, x + wide, y),
        (x + wide, y, x + wide, y + high),
        (x + wide, y + high, x, y + high),
        (x, y + high, x, y),
    )
