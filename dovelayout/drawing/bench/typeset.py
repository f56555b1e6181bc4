"""Tables and pages of a bench sheet, set by reportlab's layout engine, which takes a while to load: import this inside a
function. Lengths are mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from reportlab.platypus import Flowable, Table, TableStyle

from dovelayout.drawing.bench.flowables import THICK_MM, THIN_MM, TIGHT_MM, CellContent, Recorder
from dovelayout.drawing.primitives import Items, Size

PAD_MM = 1.2  # beside what stands in a cell
ROOM_MM = 0.9  # above and below it

Content = tuple[Items, float]
"""What stands on one sheet, in the coordinates of its room, and how much of the height it fills."""

CellAt = tuple[int, int]
"""Column and row of a cell."""


def high_mm(one: Flowable, wide_mm: float, room_mm: float) -> float:
    """The height of a flowable at a width, mm."""
    return one.wrap(wide_mm, room_mm)[1]


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
                canvas.place(one, 0.0, top_mm)
                continue
            parts = one.split(wide_mm, left_mm) if left_mm > 0 else []
            if len(parts) < 2 and not canvas.items:
                raise ValueError(f"{needs_mm:.0f} mm can't be parted for a sheet of {sheet_mm:.0f} mm")
            if len(parts) < 2:
                turn_page()
            left[:0] = parts if len(parts) > 1 else [one]
    turn_page()
    return tuple(pages)
