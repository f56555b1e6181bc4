"""Slopes as makers type them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import UnitsError
from dovelayout.units import format_slope, parse_slope, slope_degrees, slope_ratio


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("1:7", 7), ("1 : 7", 7), ("1:7.5", 7.5), ("1:7,5", 7.5), ("1 in 7", 7), ("1 to 7", 7), ("1/7", 7),
        ("2:13", 6.5), ("1\u22367", 7), ("8 deg", 7.1154), ("8 degrees", 7.1154), ("8°", 7.1154),
        ("8.1°", 7.0264),
        ("8,1 °", 7.0264), ("1:114", 114), ("44.9 deg", 1.0035),
    ],
)  # fmt: skip
def test_slopes_are_read_in_every_usual_form(text: str, ratio: float) -> None:
    assert parse_slope(text) == pytest.approx(ratio, abs=5e-5)


@pytest.mark.parametrize("bare", ["8", 8, 8.0])
def test_a_bare_number_as_a_slope_is_asked_about(bare: str | int | float) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_slope(bare)
    assert "1:7.12" in str(caught.value)
    assert "7.1°" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1:0", "out of 1:1"), ("0:7", "out of 1:1"), ("0 deg", "out of 1:1"), ("1:1", "out of 1:1"),
        ("45 deg", "out of 1:1"), ("0.4 deg", "out of 1:1"), ("1:115", "out of 1:1"), ("7:1", "is it 1:7?"),
        ("-1:7", "not a slope"), ("1:-7", "not a slope"), ("-8 deg", "not a slope"), ("nan", "not a slope"),
        ("", "not a slope"), ("1:7:3", "not a slope"), ("steep", "not a slope"),
        ("1:1,234", "1.234 or as 1234"),
        (math.nan, "not a slope"), (math.inf, "not a slope"), (True, "not a slope"),
    ],
)  # fmt: skip
def test_what_is_no_slope_is_refused(text: str | int | float, said: str) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_slope(text)
    assert said in str(caught.value)


def test_a_slope_is_shown_as_ratio_and_angle() -> None:
    assert format_slope(7) == "1:7 (8.1°)"
    assert format_slope(parse_slope("8 deg")) == "1:7.12 (8.0°)"


@given(ratio=st.floats(min_value=1.01, max_value=114))
def test_ratio_and_angle_are_each_others_inverse(ratio: float) -> None:
    assert slope_ratio(slope_degrees(ratio)) == pytest.approx(ratio)


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_an_impossible_ratio_has_no_angle(bad: float) -> None:
    with pytest.raises(UnitsError):
        slope_degrees(bad)


@pytest.mark.parametrize("bad", [0, -1, 90, math.nan])
def test_an_impossible_angle_has_no_ratio(bad: float) -> None:
    with pytest.raises(UnitsError):
        slope_ratio(bad)


@pytest.mark.parametrize("value", [True, None, [7]])
def test_what_is_no_text_and_no_number_is_no_slope(value: object) -> None:
    with pytest.raises(UnitsError, match="is not a slope"):
        parse_slope(value)  # type: ignore[arg-type]
