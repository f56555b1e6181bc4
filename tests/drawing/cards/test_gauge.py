"""The slope gauges: angles as asked for, lines that meet over the arrises."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from dovelayout.drawing.cards.gauge import gauge_size_mm, slope_gauge
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Stroke, Text
from dovelayout.joints.slope import Slope
from tests.strategies import slopes, thicknesses


def _lines(slope: Slope, thickness_mm: float, role: Role) -> list[Stroke]:
    return [
        segment
        for item in slope_gauge(slope, thickness_mm)
        if isinstance(item, Lines) and item.role is role
        for segment in item.segments
    ]


@given(slope=slopes(), thickness_mm=thicknesses())
def test_every_knife_line_leans_by_the_slope_or_is_square(slope: Slope, thickness_mm: float) -> None:
    leans = []
    for x1, y1, x2, y2 in _lines(slope, thickness_mm, Role.KNIFE):
        leans.append(math.degrees(math.atan(abs(x2 - x1) / abs(y2 - y1))))
    wanted = math.degrees(math.atan(1 / slope.ratio))
    assert sorted(leans) == pytest.approx([0.0, 0.0] + [wanted] * 6, abs=1e-9)


def test_one_in_seven_by_hand() -> None:
    # 70 mm up, 10 mm over
    card = [s for s in _lines(Slope(7), 19, Role.KNIFE) if s[1] == 2 * 40 + 19 + 12]
    assert sorted(s[2] - s[0] for s in card) == [-10.0, 10.0]
    assert {s[3] - s[1] for s in card} == {70.0}
    assert len({s[0] for s in card}) == 1


@given(slope=slopes(), thickness_mm=thicknesses())
def test_the_saddles_lines_meet_at_its_folds_a_thickness_apart(slope: Slope, thickness_mm: float) -> None:
    folds = sorted(s[1] for s in _lines(slope, thickness_mm, Role.FOLD))
    assert folds[1] - folds[0] == pytest.approx(thickness_mm, abs=1e-9)
    saddle = [s for s in _lines(slope, thickness_mm, Role.KNIFE) if max(s[1], s[3]) <= folds[1] + 40]
    for fold in folds:
        places = sorted(x for x1, y1, x2, y2 in saddle for x, y in ((x1, y1), (x2, y2)) if y == fold)
        assert len(places) == 4  # two lines come from either side
        assert places[0] == places[1]
        assert places[2] == places[3]
    # folded over the end, the lines on both faces lie over each other
    faces = sorted((s[2] - s[0]) for s in saddle if s[0] != s[2])
    assert faces == pytest.approx([faces[0], faces[0], -faces[0], -faces[0]], abs=1e-9)


@given(slope=slopes(), thickness_mm=thicknesses())
def test_the_drawing_is_as_large_as_it_says(slope: Slope, thickness_mm: float) -> None:
    width, height = gauge_size_mm(thickness_mm)
    boxes = []
    for item in slope_gauge(slope, thickness_mm):
        if isinstance(item, Text):
            boxes.append(box(item))
        else:
            boxes.extend((min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in item.segments)
    assert (min(b[0] for b in boxes), min(b[1] for b in boxes)) == (0, 0)
    assert (max(b[2] for b in boxes), max(b[3] for b in boxes)) == pytest.approx((width, height))


def test_a_saddle_may_fold_over_another_board_and_a_gauge_be_set_on_paper() -> None:
    from dovelayout.drawing.cards.gauge import gauge_sheet
    from dovelayout.drawing.primitives import Lines, Role
    from dovelayout.drawing.style import Style
    from dovelayout.errors import PrintError
    from dovelayout.joints.slope import Slope
    from dovelayout.paper import paper

    sheet = gauge_sheet(Slope(7.0), 16.0, Style(job="gauge"), saddle_mm=12.0, on=paper("A4"))
    assert (sheet.width_mm, sheet.height_mm) == (210.0, 297.0)
    folds = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.FOLD]
    heights = sorted(y1 for lines in folds for _, y1, _, _ in lines.segments)
    assert heights[1] - heights[0] == pytest.approx(12.0)
    with pytest.raises(PrintError, match="larger paper"):
        gauge_sheet(Slope(7.0), 16.0, Style(job="gauge"), saddle_mm=80.0, on=paper("A5"))
