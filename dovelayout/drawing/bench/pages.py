"""How a bench sheet is laid out: verdict, gauges and the picture at the same place on every job, then its parts.

Loads the layout engine: import this inside a function.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from reportlab.platypus import Flowable, Table

from dovelayout.casework.divider import Divider
from dovelayout.drawing.bench.flowables import (
    BODY_MM,
    LEAST_MM,
    LOWER_MM,
    Drawn,
    LargeNumber,
    Recorder,
    Words,
    set_cell,
)
from dovelayout.drawing.bench.sheet import BenchSheet, Figures, Gauge, Number, Section, TableCell, TableRow
from dovelayout.drawing.bench.typeset import PAD_MM, ROOM_MM, Content, RuledTable, flowed, high_mm
from dovelayout.drawing.lettering import fitted, printable, width_mm
from dovelayout.drawing.primitives import Size
from dovelayout.joints.corner import CornerJoint

if TYPE_CHECKING:
    from dovelayout.drawing.cards.card import Card

SMALL_MM = 2.8  # names of figures and of columns
TITLE_MM = 4.4
VERDICT_MM = 4.6
GAUGE_MM = 8.0
BAND_MM = 76.0
"""Height of what stands at the same place on every job."""
VERDICT_HIGH_MM = 8.5
SETTINGS_HEAD_MM = 7.0
GAUGE_ROW_MM = 13.6
MORE_MM = 5.6
MOST_SETTINGS = 4
BOX_SHARE = 0.6
"""Of the width that the gauges take; the picture has the rest."""
SETTING_SHARE = 0.44  # of the box
SCRIBES_LINES = 3
SPARE_MM = 0.8  # to the right of a figure
PICTURE_AIR_MM = 3.0
UNDER_MM = 2.0  # between the verdict and what stands below it
MOST_COLUMNS = 8
LEAST_TEXT_COLUMN_MM = 24.0
LABEL_MM = 19.0
"""The name of a figure is broken beyond this."""
TALLEST_ROW_LINES = 10
"""A row of more lines goes on as a joined one, so that any row goes on any sheet."""

SETTINGS_HEAD = "SETTINGS: set, lock, try in scrap"
APART_MM = 4.0  # between two parts of the sheet

T = TypeVar("T")


def bench_pages(sheet: BenchSheet, room_mm: Size) -> tuple[Content, ...]:
    """The sheet in rooms of that size (mm), as many as it needs: the items of each and how much of its height they fill."""
    wide_mm = room_mm[0]
    groups = [(_band(sheet, wide_mm),), *(group for part in sheet.parts for group in _groups(part, wide_mm))]
    return flowed(groups, room_mm)


def _band(sheet: BenchSheet, wide_mm: float) -> Flowable:
    """The verdict over the gauges, the picture beside them."""
    canvas = Recorder()
    box_mm = BOX_SHARE * wide_mm
    framed = RuledTable([wide_mm])
    framed.add((Words(sheet.verdict, VERDICT_MM, most=1),), high_mm=VERDICT_HIGH_MM)
    framed.style("VALIGN", "MIDDLE")
    framed.rule("LINEBELOW", thick=True)
    verdict = framed.table()
    high_mm(verdict, wide_mm, VERDICT_HIGH_MM)
    canvas.place(verdict, 0.0, BAND_MM - VERDICT_HIGH_MM)
    box = _gauge_box(sheet.gauges, box_mm)
    top_mm = BAND_MM - VERDICT_HIGH_MM - UNDER_MM
    canvas.place(box, 0.0, top_mm - high_mm(box, box_mm, top_mm))
    if sheet.first is not None:
        room_mm = wide_mm - box_mm - PICTURE_AIR_MM
        card = _picture(sheet.first, sheet.names, (room_mm, top_mm))
        canvas.translate(wide_mm - (room_mm + card.width_mm) / 2, top_mm - card.height_mm)
        canvas.put(card.items)
    return Drawn(canvas.items, wide_mm, BAND_MM)


def _gauge_box(gauges: Sequence[Gauge], box_mm: float) -> Table:
    """The settings, in figures large enough to read from where the gauge lies, and the lines that each scribes."""
    shown = gauges[:MOST_SETTINGS]
    more = len(gauges) - len(shown)
    box = RuledTable([SETTING_SHARE * box_mm, (1 - SETTING_SHARE) * box_mm])
    box.add((Words(SETTINGS_HEAD, BODY_MM, most=1),), high_mm=SETTINGS_HEAD_MM, whole=True)
    for one in shown:
        scribes = Words("; ".join(one.scribes), BODY_MM, most=SCRIBES_LINES)
        box.add((LargeNumber(one.setting, GAUGE_MM),), (scribes,), high_mm=GAUGE_ROW_MM)
    if more > 0 or not gauges:
        text = f"and {more} more: below, where they are used" if gauges else "nothing to set in this job"
        box.add((Words(text, SMALL_MM, most=1),), high_mm=MORE_MM, whole=True)
    box.style("VALIGN", "MIDDLE")
    box.rule("BOX", thick=True)
    box.rule("LINEBELOW", last=(-1, -2))
    return box.table()


def _picture(first: CornerJoint | Divider, names: str, room_mm: Size) -> Card:
    from dovelayout.drawing.picture.panel import single_panel
    from dovelayout.drawing.picture.picture import corner_panels, slide_panels

    apart = (slide_panels(first.joint) if isinstance(first, Divider) else corner_panels(first))[0]
    return single_panel(replace(apart, words=(names, *apart.words)), room_mm)


def _groups(part: Section | Figures, wide_mm: float) -> Iterator[Sequence[Flowable]]:
    """A part of the sheet; what stays together is one group."""
    if isinstance(part, Figures):
        grids = (_grid(grid, wide_mm) for grid in part.grids if grid)
        lines = (_lines(part.lines, wide_mm),) if part.lines else ()
        yield (_about(part, wide_mm), *grids, *lines)
        return
    table = (_table(part, wide_mm),) if part.rows else ()
    lines = (_lines(part.lines, wide_mm, "" if part.rows else part.title),) if part.lines else ()
    if len(part.lines) > 1:  # a few lines go on under their table
        yield (*table, *lines)
    else:
        yield from ((one,) for one in (*table, *lines))


def _titled(title: str, widths_mm: Sequence[float]) -> RuledTable:
    """A table that begins with a heading across its columns, underlined."""
    table = RuledTable(widths_mm)
    table.add((Words(title, TITLE_MM),), whole=True)
    table.rule("LINEBELOW", last=(-1, 0), thick=True)
    return table


def _lines(lines: Sequence[str], wide_mm: float, title: str = "") -> Table:
    """Short lines, under a heading where they have one."""
    table = _titled(title, [wide_mm]) if title else RuledTable([wide_mm])
    for text in (text for line in lines for text in _pieces(line, wide_mm - 2 * PAD_MM)):
        table.add((Words(text),))
    return table.table(repeat=1, apart_mm=APART_MM) if title else table.table()


def _table(part: Section, wide_mm: float) -> Table:
    """A heading, the columns' names, and the rows; what comes before the rows stands again on every sheet."""
    widths = _widths(part, wide_mm)
    table = _titled(part.title, widths)
    if any(part.columns):
        table.add(*((Words(name, SMALL_MM),) if name else () for name in part.columns))
        table.rule("LINEBELOW", (0, 1), (-1, 1))
    head = len(table)
    for row in part.rows:
        first = len(table)
        if first > head:
            table.rule("LINEABOVE", (0, first), (-1, first))
        for column, cell in enumerate(row):  # the base lines of words and figures agree in the row's first line
            if not isinstance(cell, Number) and any(isinstance(other, Number) for other in row):
                table.style("TOPPADDING", ROOM_MM + LOWER_MM, (column, first), (column, first))
        for piece in _chunked(row, widths):
            if len(table) > first:
                table.style("TOPPADDING", 0.0, (0, len(table)), (-1, len(table)))
            table.add(*map(set_cell, piece))
    table.rule("LINEBELOW", (0, -1))
    return table.table(repeat=head, apart_mm=APART_MM)


def _widths(part: Section, wide_mm: float) -> list[float]:
    """The widths of the columns: those of numbers as wide as they'd like, the others share the rest."""
    columns = list(zip(*part.rows, strict=True))
    natural = [_natural_mm(name, cells) for name, cells in itertools.zip_longest(part.columns, columns, fillvalue="")]
    shares = [0.0 if width is not None else share for width, share in zip(natural, part.shares, strict=True)]
    fixed_mm = math.fsum(width for width in natural if width is not None)
    texts = sum(1 for width in natural if width is None)
    room_mm = wide_mm - texts * min(LEAST_TEXT_COLUMN_MM, wide_mm / 2 / max(1, texts))
    squeeze = min(1.0, room_mm / fixed_mm) if fixed_mm else 1.0
    rest_mm = wide_mm - squeeze * fixed_mm
    return [
        squeeze * width if width is not None else rest_mm * share / math.fsum(shares)
        for width, share in zip(natural, shares, strict=True)
    ]


def _natural_mm(name: str, cells: Sequence[TableCell]) -> float | None:
    """The width of a column of numbers, None for one of words."""
    numbers = [cell for cell in cells if isinstance(cell, Number)]
    if len(numbers) < len(cells):
        return None
    figures = [LargeNumber(cell).natural_mm for cell in numbers]
    return max([*figures, _word_mm(name), width_mm(name, SMALL_MM) / 2 + PAD_MM]) + 2 * PAD_MM + SPARE_MM


def _word_mm(text: str) -> float:
    return max((width_mm(word, SMALL_MM) for word in text.split()), default=0.0)


def _chunked(row: TableRow, widths: Sequence[float]) -> list[TableRow]:
    """The row, parted into several where its words take more than TALLEST_ROW_LINES lines."""
    columns: list[Sequence[TableCell]] = []
    for cell, width in zip(row, widths, strict=True):
        if isinstance(cell, Number):
            columns.append([cell])
            continue
        texts = [cell] if isinstance(cell, str) else cell
        pieces = [list(_pieces(text, width - 2 * PAD_MM)) for text in texts]
        whole = all(len(few) < 2 for few in pieces)
        columns.append([cell] if whole else [piece for few in pieces for piece in few])
    return list(itertools.zip_longest(*columns, fillvalue=""))


def _pieces(text: str, wide_mm: float) -> Iterator[str]:
    lines = [line for line, _ in fitted(text, BODY_MM, LEAST_MM, wide_mm)]
    for few in _batches(TALLEST_ROW_LINES, lines):
        yield " ".join(few)


def _about(part: Figures, wide_mm: float) -> Table:
    """The heading, and what it is about: in two columns where several lines go into them."""
    table = _titled(part.title, [wide_mm / 2] * 2)
    most_mm = max((width_mm(printable(text), BODY_MM) for text in part.about), default=0.0)
    if len(part.about) > 1 and most_mm <= wide_mm / 2 - 2 * PAD_MM:
        for pair in _batches(2, part.about):
            table.add(*((Words(text),) for text in (*pair, "")[:2]))
    else:
        for text in (text for line in part.about for text in _pieces(line, wide_mm - 2 * PAD_MM)):
            table.add((Words(text),), whole=True)
    if len(table) > 2:
        table.style("BOTTOMPADDING", 0.0, (0, 1), (-1, -2))
    return table.table(repeat=1, apart_mm=APART_MM)


def _grid(grid: Sequence[tuple[str, Number]], wide_mm: float) -> Table:
    """Every figure in a cell of its own, under its name."""
    widths_mm = [
        max(LargeNumber(number).natural_mm, _word_mm(name), min(LABEL_MM, width_mm(name, SMALL_MM)))
        for name, number in grid
    ]
    count = max(1, min(MOST_COLUMNS, int(wide_mm / (max(widths_mm) + 2 * PAD_MM + SPARE_MM))))
    room_mm = wide_mm / count - 2 * PAD_MM
    table = RuledTable([wide_mm / count] * count)
    for few in _batches(count, grid):  # figures side by side stand at one height
        label_mm = max(high_mm(Words(name, SMALL_MM), room_mm, 0.0) for name, _ in few)
        table.add(*((Words(name, SMALL_MM, least_mm=label_mm), LargeNumber(number)) for name, number in few))
    table.rule("BOX")
    table.rule("INNERGRID")
    return table.table()


def _batches(count: int, things: Sequence[T]) -> list[list[T]]:
    """The things in lists of `count`, the last one shorter."""
    return [list(things[start : start + count]) for start in range(0, len(things), count)]
