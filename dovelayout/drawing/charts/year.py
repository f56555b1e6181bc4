"""The year of a job as a chart: a row for each part, a bar for each month, all rows to one scale.

A bar over its line: larger than as fitted, hatched; under it: smaller, empty. So it reads in black and white.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import box

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import ASCENT, share_that_fits, shortened
from dovelayout.drawing.primitives import Anchor, Item, Items, Role, Sheet, Size, Stroke, path, strokes, text_at
from dovelayout.drawing.sheets.flow import Paragraph, flowed
from dovelayout.drawing.sheets.frame import Legend, Page, all_framed, framed, inset, inset_room_mm, paper_around
from dovelayout.drawing.style import Style
from dovelayout.paper import Paper

TITLE = "How it moves through the year"
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


@dataclass(frozen=True, slots=True, kw_only=True)
class YearColumn:
    """A month, or an extreme: its name, relative humidity and the moisture content that wood comes to, percent."""

    name: str
    humidity_pct: float
    moisture_pct: float


@dataclass(frozen=True, slots=True, kw_only=True)
class YearRow:
    """A part: its name, lines under it, and by how much it is larger than as fitted in each column, mm."""

    name: str
    lines: tuple[str, ...]
    larger_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """What a chart shows."""

    columns: tuple[YearColumn, ...]
    rows: tuple[YearRow, ...]

    @property
    def column_mm(self) -> float:
        """Width of a column where there is room: months stand closer than the two extremes."""
        return COLUMN_MM if len(self.columns) > 2 else FEW_COLUMN_MM

    @property
    def magnified(self) -> float:
        """How many times the real movement the bars are drawn: the largest scale that holds the largest of them."""
        most_mm = max((abs(value) for row in self.rows for value in row.larger_mm), default=0.0)
        return next((scale for scale in MAGNIFIED if most_mm * scale <= BAR_MOST_MM), MAGNIFIED[-1])


def year_size_mm(year: Year) -> Size:
    """Width and height of the whole chart in one piece."""
    return LABEL_MM + year.column_mm * len(year.columns), HEAD_MM + ROW_MM * len(year.rows)


def year_charts(year: Year, room_mm: Size) -> tuple[Items, ...]:
    """The chart in pieces that fit a room, each with its head; lower left of the room at (0, 0)."""
    wide_mm, top = room_mm
    column_mm = min(year.column_mm, (wide_mm - LABEL_MM) / max(1, len(year.columns)))
    rows_each = max(1, int((top - HEAD_MM) // ROW_MM))
    pieces = []
    for start in range(0, len(year.rows), rows_each):
        items: list[Item] = list(_head(year.columns, column_mm, top))
        for number, row in enumerate(year.rows[start : start + rows_each]):
            items += _row(row, year.magnified, column_mm, top - HEAD_MM - number * ROW_MM)
        pieces.append(tuple(items))
    return tuple(pieces)


def _head(columns: Sequence[YearColumn], column_mm: float, top: float) -> Iterator[Item]:
    yield text_at((0, top - 8.6), "relative humidity, %", SMALL_MM)
    yield text_at((0, top - 12.6), "moisture in wood, %", SMALL_MM)
    for number, column in enumerate(columns):
        middle = LABEL_MM + (number + 0.5) * column_mm
        for down_mm, size_mm, text in (
            (4.0, TEXT_MM, column.name),
            (8.6, SMALL_MM, f"{column.humidity_pct:.0f}"),
            (12.6, SMALL_MM, f"{column.moisture_pct:.1f}"),
        ):
            small_mm = size_mm * share_that_fits(text, size_mm, column_mm - 0.6)
            yield text_at((middle, top - down_mm), text, small_mm, Anchor.MIDDLE)
    line = top - HEAD_MM + 1.5
    yield strokes(Role.BAR, [(0, line, LABEL_MM + column_mm * len(columns), line)])


def _row(row: YearRow, magnified: float, column_mm: float, top: float) -> Iterator[Item]:
    zero, bottom = top - ROW_MM / 2, top - ROW_MM + 0.5
    right = LABEL_MM + column_mm * len(row.larger_mm)
    yield text_at((0, top - 6.5), shortened(row.name, TEXT_MM, LABEL_MM - 3), TEXT_MM)
    for number, line in enumerate(row.lines):
        yield text_at((0, top - 10.8 - 3.8 * number), shortened(line, SMALL_MM, LABEL_MM - 3), SMALL_MM)
    outlines: list[Stroke] = []
    larger = []
    for number, value in enumerate(row.larger_mm):
        middle = LABEL_MM + (number + 0.5) * column_mm
        half, tip = min(column_mm * BAR_SHARE, COLUMN_MM) / 2, zero + value * magnified
        if abs(tip - zero) >= LEAST_BAR_MM:
            left, far = middle - half, middle + half
            outlines += path([(left, zero), (left, tip), (far, tip), (far, zero)])
            if tip > zero:
                larger.append(box(left, zero, far, tip))
        text = signed(value)
        size = FIGURE_MM * share_that_fits(text, FIGURE_MM, column_mm - 0.6)
        base = max(zero, tip) + 1.0 if value >= 0 else min(zero, tip) - 1.0 - ASCENT * size
        yield text_at((middle, base), text, size, Anchor.MIDDLE)
    yield strokes(Role.BAR, [(LABEL_MM, zero, right, zero)])
    yield strokes(Role.NOTE, [(0, bottom, right, bottom)])
    if outlines:
        yield strokes(Role.MARK, outlines)
    if larger:
        yield strokes(Role.HATCH, hatch(larger, pitch_mm=1.1))


def signed(value_mm: float) -> str:
    """'+1.9', '−0.2', '0': a tenth of a mm, or a hundredth where the movement is small."""
    digits = 1 if abs(value_mm) >= 0.95 else 2
    text = f"{abs(value_mm):.{digits}f}"
    if float(text) == 0:
        return "0"
    return f"{'+' if value_mm > 0 else '−'}{text}"


def year_sheet(year: Year, style: Style, *, fitted: str) -> Sheet:
    """The whole chart on a sheet just large enough. `fitted`: in what air the joints are fitted, in words."""
    on = paper_around(year_size_mm(year))
    (page,) = _chart_pages(year, style, fitted, on)
    return framed(page, on)


def year_sheets(year: Year, notes: Sequence[Paragraph], style: Style, *, fitted: str, on: Paper) -> tuple[Sheet, ...]:
    """The chart on as many sheets of one paper as it needs, then the notes."""
    heading = style.heading(TITLE, "What it means for each fixing")
    pages = (Page.of(content, heading, Legend.NONE) for content in flowed(notes, on))
    return all_framed([*_chart_pages(year, style, fitted, on), *pages], on)


def _chart_pages(year: Year, style: Style, fitted: str, on: Paper) -> Iterator[Page]:
    numbers = f"Bars {year.magnified:g} times the real movement from the line of as fitted ({fitted})"
    wide_mm, high_mm = inset_room_mm(on)
    for content in year_charts(year, (wide_mm, high_mm + 1e-9)):  # the last bit of the sums must not cost a row
        yield Page.of(inset(content), style.heading(TITLE, numbers), Legend.YEAR)
