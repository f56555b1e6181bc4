"""The sheets of a job's year: the chart and what was found on the job's paper, or the chart on a sheet of its own."""

from __future__ import annotations

from collections.abc import Sequence

from dovelayout.drawing.charts.year import LEGEND_LINE, Year, year_charts, year_size_mm
from dovelayout.drawing.primitives import Item, Sheet, moved
from dovelayout.drawing.sheets.flow import Line, flowed
from dovelayout.drawing.sheets.frame import Heading, framed, made_to_measure, room_mm
from dovelayout.paper import Paper

AIR_MM = 2.0


def _room_mm(on: Paper) -> tuple[float, float]:
    wide_mm, high_mm = room_mm(on)
    # the last bit of the sums must not cost a row
    return wide_mm - 2 * AIR_MM, high_mm - 2 * AIR_MM + 1e-9


def _placed(content: Sequence[Item]) -> tuple[Item, ...]:
    return tuple(moved(item, AIR_MM, AIR_MM) for item in content)


def _numbers(year: Year, fitted: str) -> str:
    return f"Bars {year.magnified:g} times the real movement from the line of as fitted ({fitted})"


def year_sheet(year: Year, *, job: str, fitted: str) -> Sheet:
    """The whole chart on a sheet just large enough."""
    wide_mm, high_mm = year_size_mm(year)
    on = made_to_measure(wide_mm + 2 * AIR_MM, high_mm + 2 * AIR_MM)
    wide_mm, high_mm = _room_mm(on)
    (content,) = year_charts(year, wide_mm=wide_mm, high_mm=high_mm)
    heading = Heading(job=job, what="How it moves through the year", numbers=_numbers(year, fitted))
    return framed(
        _placed(content),
        on=on,
        heading=heading,
        number=1,
        of=1,
        legend=LEGEND_LINE,
        title=f"{job}: {heading.what}",
        description=heading.numbers,
    )


def year_sheets(year: Year, notes: Sequence[Line], *, job: str, fitted: str, on: Paper) -> tuple[Sheet, ...]:
    """The chart on as many sheets of one paper as it needs, then the notes."""
    wide_mm, high_mm = _room_mm(on)
    charts = year_charts(year, wide_mm=wide_mm, high_mm=high_mm)
    pages = [(_placed(content), _numbers(year, fitted), LEGEND_LINE) for content in charts]
    pages += [(content, "What it means for each fixing", "") for content in flowed(notes, on)]
    what = "How it moves through the year"
    return tuple(
        framed(
            content,
            on=on,
            heading=Heading(job=job, what=what, numbers=numbers),
            number=number,
            of=len(pages),
            title=f"{job}: {what}",
            description=numbers,
            legend=legend,
        )
        for number, (content, numbers, legend) in enumerate(pages, 1)
    )
