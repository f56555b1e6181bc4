"""The rehearsal's chart: its words stand clear of each other and of the edges, its curves where the figures are."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.drawing.charts.rehearsal import LEFT_MM, MARGIN_MM, PANEL_MM, PLOT_MM, rehearsal_sheet
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Sheet, Text
from dovelayout.planning.rehearsal import CURVE_MM, rehearse
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.svg import svg_text
from dovelayout.shop import Hand


def sheet(hand: Hand, *, fit_mm: float = 0.03, title: str = "corner A", cheeks: tuple[int, int] = (5, 5)) -> Sheet:
    return rehearsal_sheet(rehearse(cheeks=cheeks, fit_mm=fit_mm, most_mm=0.06, hand=hand, joints=200), title=title)


misses = st.floats(0, 2)


@given(st.builds(Hand, marking_mm=misses, sawing_mm=misses, transfer_mm=misses, placing_mm=misses), st.floats(0, 2))
@settings(max_examples=40)
def test_texts_keep_clear_of_each_other_and_everything_stays_on_the_sheet(hand: Hand, fit_mm: float) -> None:
    drawn = sheet(hand, fit_mm=fit_mm, title="corner " + "W" * 200)
    boxes = [box(item) for item in drawn.items if isinstance(item, Text)]
    for (ax1, ay1, ax2, ay2), (bx1, by1, bx2, by2) in itertools.combinations(boxes, 2):
        assert not (ax1 < bx2 and bx1 < ax2 and ay1 < by2 and by1 < ay2)
    for x1, y1, x2, y2 in boxes:
        assert x1 >= MARGIN_MM - 1e-6
        assert x2 <= drawn.width_mm - MARGIN_MM + 1e-6
        assert y1 >= MARGIN_MM - 1e-6
        assert y2 <= drawn.height_mm - MARGIN_MM + 1e-6
    for item in drawn.items:
        if isinstance(item, Lines):
            for x1, y1, x2, y2 in item.segments:
                assert min(x1, x2) > 0
                assert max(x1, x2) < drawn.width_mm
                assert min(y1, y2) > 0
                assert max(y1, y2) < drawn.height_mm
    assert svg_text(drawn).startswith("<svg")
    assert pdf_bytes([drawn], title="x").startswith(b"%PDF")


def test_the_scribed_curve_stands_where_its_figures_are() -> None:
    rehearsal = rehearse(cheeks=(5, 5), fit_mm=0.03, most_mm=0.06, hand=Hand(), joints=2000)
    drawn = rehearsal_sheet(rehearsal, title="corner A")
    curves = [item.segments for item in drawn.items if isinstance(item, Lines) and item.role is Role.MARK]
    home = next(segments for segments in curves if len(segments) == len(rehearsal.outcomes[0].curve) - 1)
    bottom = min(y for _, y1, _, y2 in home for y in (y1, y2))
    for segment, point in zip(home, rehearsal.outcomes[0].curve, strict=False):
        across = (point.fit_mm - CURVE_MM[0]) / (CURVE_MM[1] - CURVE_MM[0]) * PLOT_MM
        assert segment[0] == pytest.approx(MARGIN_MM + LEFT_MM + across)
        assert segment[1] - bottom == pytest.approx(point.home_share * PANEL_MM, abs=0.01 * PANEL_MM)
