"""The chart of a year: bars as long as they say, words clear of them and of each other, all on the paper."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.drawing.charts.year import (
    BAR_MOST_MM,
    LEAST_BAR_MM,
    Year,
    YearColumn,
    YearRow,
    signed,
    year_sheet,
    year_sheets,
)
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Sheet, Text
from dovelayout.drawing.style import Style
from dovelayout.paper import paper

TOUCH_MM = 1e-6
STYLE = Style(job="Press")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def _year(*rows: tuple[float, ...], name: str = "side") -> Year:
    names = MONTHS if len(rows[0]) == 12 else ("driest", "dampest")
    return Year(
        columns=tuple(YearColumn(name=month, humidity_pct=50, moisture_pct=9.3) for month in names),
        rows=tuple(
            YearRow(
                name=name,
                lines=("black cherry, flat-sawn", "420 mm wide as fitted", "moves 4.2 mm in a year"),
                larger_mm=row,
            )
            for row in rows
        ),
    )


def _clear(sheet: Sheet, margin_mm: float) -> None:
    texts = [item for item in sheet.items if isinstance(item, Text)]
    # hatching lies in bars, whose outlines are looked at
    segments = [
        s for item in sheet.items if isinstance(item, Lines) and item.role is not Role.HATCH for s in item.segments
    ]
    boxes = [shapely.box(*box(text)).buffer(-TOUCH_MM) for text in texts]
    strokes = shapely.linestrings([((x1, y1), (x2, y2)) for x1, y1, x2, y2 in segments])
    on_lines = shapely.STRtree(strokes).query(boxes, predicate="intersects")
    assert on_lines.shape[1] == 0, [texts[index].text for index in on_lines[0]]
    pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects")
    assert not [(texts[a].text, texts[b].text) for a, b in pairs.T if a < b]
    for x1, y1, x2, y2 in [box(text) for text in texts] + segments:
        assert margin_mm - TOUCH_MM <= min(x1, x2) <= max(x1, x2) <= sheet.width_mm - margin_mm + TOUCH_MM
        assert margin_mm - TOUCH_MM <= min(y1, y2) <= max(y1, y2) <= sheet.height_mm - margin_mm + TOUCH_MM


larger = st.one_of(st.just(0.0), st.floats(-40, 40), st.floats(-0.3, 0.3))
years = st.one_of(
    st.lists(st.tuples(*[larger] * 12), min_size=1, max_size=14),
    st.lists(st.tuples(larger, larger), min_size=1, max_size=4),
).map(lambda rows: _year(*rows))


@settings(max_examples=60)
@given(year=years, name=st.sampled_from(["A4", "A5", "Letter", "A3"]))
def test_words_stand_clear_and_nothing_leaves_the_paper(year: Year, name: str) -> None:
    for sheet in year_sheets(year, (), STYLE, fitted="fitted at 50 %", on=paper(name)):
        _clear(sheet, 8.0)
    _clear(year_sheet(year, STYLE, fitted="fitted at 50 %"), 5.0)


@settings(max_examples=60)
@given(year=years)
def test_every_bar_is_as_long_as_its_figure_says_at_one_scale(year: Year) -> None:
    sheet = year_sheet(year, STYLE, fitted="fitted at 50 %")
    outlines = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.MARK]
    drawn = [abs(y2 - y1) for item in outlines for x1, y1, x2, y2 in item.segments[::3]]
    wanted = [abs(value) * year.magnified for row in year.rows for value in row.larger_mm]
    assert drawn == pytest.approx([length for length in wanted if length >= LEAST_BAR_MM])
    assert max(wanted) <= BAR_MOST_MM + 1e-9
    assert f"Bars {year.magnified:g} times the real movement" in sheet.description


def test_larger_is_hatched_over_its_line_and_smaller_is_empty_under_it() -> None:
    sheet = year_sheet(_year((-2.0, 3.0)), STYLE, fitted="fitted at 50 %")
    (bars,) = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.MARK]
    (hatching,) = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.HATCH]
    zero = bars.segments[0][1]
    assert bars.segments[0][3] < zero
    assert bars.segments[3][3] > zero
    assert all(min(y1, y2) >= zero - 1e-9 for _, y1, _, y2 in hatching.segments)
    under = year_sheet(_year((-2.0, -1.0)), STYLE, fitted="fitted at 50 %")
    assert not [item for item in under.items if isinstance(item, Lines) and item.role is Role.HATCH]


def test_many_parts_take_several_sheets_each_with_its_head() -> None:
    sheets = year_sheets(_year(*[(1.0,) * 12] * 14), (), STYLE, fitted="fitted at 50 %", on=paper("A4"))
    assert len(sheets) == 2
    for sheet in sheets:
        words = [item.text for item in sheet.items if isinstance(item, Text)]
        assert words.count("Jan") == 1
    names = [item.text for sheet in sheets for item in sheet.items if isinstance(item, Text) and item.text == "side"]
    assert len(names) == 14


@pytest.mark.parametrize(
    ("value", "said"),
    [(0, "0"), (0.004, "0"), (-0.004, "0"), (0.126, "+0.13"), (-0.94, "−0.94"), (0.99, "+1.0"), (-12.34, "−12.3")],
)
def test_figures(value: float, said: str) -> None:
    assert signed(value) == said
