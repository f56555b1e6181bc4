"""Readings of the bars: what is good as it is, what is corrected, what stops, and what can't be a reading."""

from __future__ import annotations

import math
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.checks.finding import Level, worst_level
from dovelayout.errors import PrintError
from dovelayout.printer.reading import (
    KNOWN_BARS_MM,
    MOST_PCT,
    PRINT_SCALE,
    Calibration,
    PaperAxis,
    printer_name,
    reading,
    reading_findings,
)


def calibration(across_mm: float, up_mm: float, *, bar_mm: float = 150.0, name: str = "study") -> Calibration:
    return Calibration(
        name=name,
        across=reading(PaperAxis.ACROSS, bar_mm=bar_mm, measured_mm=across_mm),
        up=reading(PaperAxis.UP, bar_mm=bar_mm, measured_mm=up_mm),
    )


LEVELS = [
    (150.0, Level.OK),
    (149.6, Level.OK),
    (149.55, Level.OK),  # 0.3 %, at the limit
    (150.45, Level.OK),
    (149.54, Level.NOTE),
    (150.46, Level.NOTE),
    (147.0, Level.NOTE),  # 2 %, at the limit
    (153.0, Level.NOTE),
    (146.99, Level.STOP),
    (153.01, Level.STOP),
    (142.5, Level.STOP),  # 5 %, at the limit
    (157.5, Level.STOP),
]


@pytest.mark.parametrize(("measured_mm", "level"), LEVELS)
def test_levels(measured_mm: float, level: Level) -> None:
    for both in (calibration(measured_mm, 150.0), calibration(150.0, measured_mm)):
        assert worst_level(reading_findings(both)) is level
        assert both.good_as_it_is == (level is Level.OK)


EXAMPLES = [partial(reading_findings, calibration(measured_mm, 150.0)) for measured_mm, _ in LEVELS]


@pytest.mark.parametrize("measured_mm", [142.49, 157.51, 0.0, -150.0, math.nan, math.inf, -math.inf, 1e-300, 14.94])
def test_what_can_not_be_a_reading_is_refused(measured_mm: float) -> None:
    for axis in PaperAxis:
        with pytest.raises(PrintError, match=rf"^{axis}: "):
            reading(axis, bar_mm=150.0, measured_mm=measured_mm)


def test_a_reading_of_another_bar_is_named() -> None:
    with pytest.raises(PrintError, match=r"was it the 250 mm bar \(--bar-y 250\)\?"):
        reading(PaperAxis.UP, bar_mm=150.0, measured_mm=250.8)
    with pytest.raises(PrintError, match=r"was it the 100 mm bar \(--bar 100\)\?"):
        reading(PaperAxis.ACROSS, bar_mm=150.0, measured_mm=99.7)


@pytest.mark.parametrize("bar_mm", [0.0, 149.0, 200.0, math.nan])
def test_a_bar_that_is_on_no_sheet(bar_mm: float) -> None:
    with pytest.raises(PrintError, match="100 and 150 and 250"):
        reading(PaperAxis.UP, bar_mm=bar_mm, measured_mm=150.0)


@given(st.sampled_from(KNOWN_BARS_MM), st.floats(0.951, 1.049), st.floats(0.951, 1.049))
def test_a_bar_that_is_drawn_by_its_factor_comes_out_right(bar_mm: float, across: float, up: float) -> None:
    # the printer makes `across` of every mm; whatever it is, a corrected bar measures what it says
    correction = calibration(bar_mm * across, bar_mm * up, bar_mm=bar_mm).correction
    assert bar_mm * correction.across * across == pytest.approx(bar_mm, abs=1e-9)
    assert bar_mm * correction.up * up == pytest.approx(bar_mm, abs=1e-9)


def test_fit_to_page_is_named_where_both_ways_are_short_and_only_there() -> None:
    both, one, long = calibration(145.0, 145.2), calibration(145.0, 150.0), calibration(154.0, 154.0)
    assert all("'fit to page' (or 'shrink to fit') was switched on" in row.message for row in reading_findings(both))
    assert ["isn't as short" in row.message for row in reading_findings(one)] == [True]
    assert all("above 100 %" in row.message for row in reading_findings(long))
    for found in (*reading_findings(both), *reading_findings(one), *reading_findings(long)):
        assert "100 %" in found.fix
        assert found.measured is not None
        assert found.limit == PRINT_SCALE.stop


def test_the_rule_says_where_it_comes_from() -> None:
    assert PRINT_SCALE.source
    assert PRINT_SCALE.note is not None
    assert PRINT_SCALE.stop is not None
    assert PRINT_SCALE.note < PRINT_SCALE.stop < MOST_PCT


@pytest.mark.parametrize("text", ["study", "  study\n", "Büro", "ящик", "3rd floor, left", "x" * 32])
def test_names(text: str) -> None:
    assert printer_name(text) == " ".join(text.split())


@pytest.mark.parametrize("text", ["", "  ", "\x00\x1b", "x" * 33, "none", "None ", "NONE"])
def test_names_that_can_not_be(text: str) -> None:
    with pytest.raises(PrintError):
        printer_name(text)
