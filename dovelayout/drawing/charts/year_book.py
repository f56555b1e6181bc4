"""The sheets of a job's year: the chart and what was found on the job's paper, or the chart on a sheet of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.drawing.charts.year import Year, year_charts, year_size_mm
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.sheets.flow import Paragraph, flowed
from dovelayout.drawing.sheets.frame import Legend, Page, all_framed, framed, inset, inset_room_mm, made_round
from dovelayout.drawing.style import Style
from dovelayout.paper import Paper

TITLE = "How it moves through the year"


def year_sheet(year: Year, style: Style, *, fitted: str) -> Sheet:
    """The whole chart on a sheet just large enough. `fitted`: in what air the joints are fitted, in words."""
    on = made_round(year_size_mm(year))
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
