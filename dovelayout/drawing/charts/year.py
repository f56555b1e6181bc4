"""The year of a job as a chart: a row for each part, a bar for each month, all rows to one scale.

A bar over its line: larger than as fitted, hatched; under it: smaller, empty. So it reads in black and white.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import box

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import shortened, width_mm
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Text

LABEL_MM = 50.0
ROW_MM = 27.0
HEAD_MM = 17.0
BAR_MOST_MM = 8.5
COLUMN_MM = 10.4
FEW_COLUMN_MM = 22.0
BAR_SHARE = 0.6
FIGURE_MM = 2.3
TEXT_MM = 3.0
SMALL_MM = 2.4
LEAST_BAR_MM = 0.15
MAGNIFIED = (100.0, 50.0, 20.0, 10.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.5, 0.2, 0.1)
"""Scales that a chart may have: bars so many times the real movement."""

LEGEND_LINE = "A chart, not a template. Hatched bar: larger than as fitted. Empty bar: smaller. Figures in mm."


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A month, or an extreme: its name, relative humidity and the moisture content that wood comes to, percent."""

    name: str
    humidity_pct: float
    moisture_pct: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A part: its name, lines under it, and by how much it is larger than as fitted in each column, mm."""

    name: str
    lines: tuple[str, ...]
    larger_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """What a chart shows."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    @property
    def column_mm(self) -> float:
        """Width of a column where there is room: months stand closer than the two extremes."""
        return COLUMN_MM if len(self.columns) > 2 else FEW_COLUMN_MM

    @property
    def magnified(self) -> float:
        """How many times the real movement the bars are drawn: the largest scale that holds the largest of them."""
        most_mm = max((abs(value) for row in self.rows for value in row.larger_mm), default=0.0)
        return next((scale for scale in MAGNIFIED if most_mm * scale <= BAR_MOST_MM), MAGNIFIED[-1])


def year_size_mm(year: Year) -> tuple[float, float]:
    """Width and height of the whole chart in one piece."""
    return LABEL_MM + year.column_mm * len(year.columns), HEAD_MM + ROW_MM * len(year.rows)


def year_charts(year: Year, *, wide_mm: float, high_mm: float) -> tuple[tuple[Item, ...], ...]:
    """The chart in pieces that fit a room, each with its head; lower left of the room at (0, 0)."""
    column_mm = min(year.column_mm, (wide_mm - LABEL_MM) / max(1, len(year.columns)))
    rows_each = max(1, int((high_mm - HEAD_MM) // ROW_MM))
    pieces = []
    for start in range(0, len(year.rows), rows_each):
        top = high_mm
        items: list[Item] = list(_head(year.columns, column_mm, top))
        for number, row in enumerate(year.rows[start : start + rows_each]):
            items.extend(_row(row, year.magnified, column_mm, top - HEAD_MM - number * ROW_MM))
        pieces.append(tuple(items))
    return tuple(pieces)


def _head(columns: Sequence[Column], column_mm: float, top: float) -> tuple[Item, ...]:
    labels = ((4.0, "", TEXT_MM), (8.6, "relative humidity, %", SMALL_MM), (12.6, "moisture in wood, %", SMALL_MM))
    items: list[Item] = [Text(x_mm=0, y_mm=top - down, text=text, size_mm=size) for down, text, size in labels if text]
    for number, column in enumerate(columns):
        middle = LABEL_MM + (number + 0.5) * column_mm
        said = (column.name, f"{column.humidity_pct:.0f}", f"{column.moisture_pct:.1f}")
        for (down, _, size), text in zip(labels, said, strict=True):
            small = min(size, size * (column_mm - 0.6) / max(0.1, width_mm(text, size)))
            items.append(Text(x_mm=middle, y_mm=top - down, text=text, size_mm=small, anchor=Anchor.MIDDLE))
    line = top - HEAD_MM + 1.5
    items.append(Lines(role=Role.BAR, segments=((0, line, LABEL_MM + column_mm * len(columns), line),)))
    return tuple(items)


def _row(row: Row, magnified: float, column_mm: float, top: float) -> tuple[Item, ...]:
    zero = top - ROW_MM / 2
    right = LABEL_MM + column_mm * len(row.larger_mm)
    items: list[Item] = [Text(x_mm=0, y_mm=top - 6.5, text=shortened(row.name, TEXT_MM, LABEL_MM - 3), size_mm=TEXT_MM)]
    for number, line in enumerate(row.lines):
        text = shortened(line, SMALL_MM, LABEL_MM - 3)
        items.append(Text(x_mm=0, y_mm=top - 10.8 - 3.8 * number, text=text, size_mm=SMALL_MM))
    outlines: list[Segment] = []
    grown = []
    for number, value in enumerate(row.larger_mm):
        middle = LABEL_MM + (number + 0.5) * column_mm
        half, tip = min(column_mm * BAR_SHARE, COLUMN_MM) / 2, zero + value * magnified
        if abs(tip - zero) >= LEAST_BAR_MM:
            x0, x1 = middle - half, middle + half
            outlines += [(x0, zero, x0, tip), (x0, tip, x1, tip), (x1, tip, x1, zero)]
            if tip > zero:
                grown.append(box(x0, zero, x1, tip))
        text = signed(value)
        size = min(FIGURE_MM, FIGURE_MM * (column_mm - 0.6) / max(0.1, width_mm(text, FIGURE_MM)))
        over = max(zero, tip) + 1.0 if value >= 0 else min(zero, tip) - 1.0 - 0.76 * size
        items.append(Text(x_mm=middle, y_mm=over, text=text, size_mm=size, anchor=Anchor.MIDDLE))
    items.append(Lines(role=Role.BAR, segments=((LABEL_MM, zero, right, zero),)))
    items.append(Lines(role=Role.NOTE, segments=((0, top - ROW_MM + 0.5, right, top - ROW_MM + 0.5),)))
    if outlines:
        items.append(Lines(role=Role.MARK, segments=tuple(outlines)))
    if grown:
        items.append(Lines(role=Role.HATCH, segments=hatch(grown, pitch_mm=1.1)))
    return tuple(items)


def signed(value_mm: float) -> str:
    """'+1.9', '−0.2', '0': a tenth of a mm, or a hundredth where the movement is small."""
    digits = 1 if abs(value_mm) >= 0.95 else 2
    text = f"{abs(value_mm):.{digits}f}"
    if float(text) == 0:
        return "0"
    return f"{'+' if value_mm > 0 else '−'}{text}"
