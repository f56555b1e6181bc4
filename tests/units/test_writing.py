"""Lengths as they are shown, and read back."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import UnitsError
from dovelayout.units import MM_PER_INCH, Unit, format_both, format_inches, format_mm, parse_length, with_inches

UNITS = list(Unit)
sixty_fourths = st.integers(min_value=-64 * 4000, max_value=64 * 4000).map(lambda n: Fraction(n, 64))


@given(inch=sixty_fourths, unit=st.sampled_from(UNITS))
def test_exact_sixty_fourths_survive_writing_and_reading(inch: Fraction, unit: Unit) -> None:
    text = format_inches(inch * MM_PER_INCH)
    assert "≈" not in text
    assert parse_length(text, unit=unit) == inch * MM_PER_INCH


@given(tenths=st.integers(min_value=-50_000, max_value=50_000), unit=st.sampled_from(UNITS))
def test_tenths_of_a_millimetre_survive_writing_and_reading(tenths: int, unit: Unit) -> None:
    text = format_mm(tenths / 10)
    assert "≈" not in text
    assert parse_length(text, unit=unit) == Fraction(tenths, 10)


@given(mm=st.floats(min_value=-5000, max_value=5000))
def test_a_rounded_inch_is_never_further_off_than_half_a_step(mm: float) -> None:
    text = format_inches(mm)
    shown = parse_length(text.removeprefix("≈ "), unit=Unit.IN)
    assert abs(shown - Fraction(mm)) <= MM_PER_INCH / 128
    assert text.startswith("≈") == (abs(shown - Fraction(mm)) > 0.0005)


@given(feet=st.integers(0, 500), inch=sixty_fourths.filter(lambda n: 0 <= n < 12))
def test_feet_and_inches_add_up_in_each_way_of_writing_them(feet: int, inch: Fraction) -> None:
    words = format_inches(inch * MM_PER_INCH).removesuffix(" in")
    for text in (f"{feet}' {words}\"", f"{feet}'-{words}\"", f"{feet} ft {words} in", f"{feet}′{words}″"):
        assert parse_length(text, unit=Unit.MM) == (12 * feet + inch) * MM_PER_INCH


@pytest.mark.parametrize(
    ("mm", "inch", "metric"),
    [
        (19.05, "3/4 in", "≈ 19.1 mm"),
        (44.45, "1 3/4 in", "≈ 44.5 mm"),
        (19, "≈ 3/4 in", "19 mm"),
        (69.85, "2 3/4 in", "≈ 69.9 mm"),
        (25.4, "1 in", "25.4 mm"),
        (-44.45, "-1 3/4 in", "≈ -44.5 mm"),
        (-0.04, "≈ 0 in", "≈ 0 mm"),
        (0, "0 in", "0 mm"),
        (19.0004, "≈ 3/4 in", "19 mm"),
        (19.0006, "≈ 3/4 in", "≈ 19 mm"),
        (19.0504, "3/4 in", "≈ 19.1 mm"),
    ],
)
def test_shown_lengths_are_marked_when_rounded(mm: float, inch: str, metric: str) -> None:
    assert format_inches(mm) == inch
    assert format_mm(mm) == metric


def test_coarser_and_finer_steps_can_be_asked_for() -> None:
    assert format_inches(20, denominator=16) == "≈ 13/16 in"
    assert format_mm(19.25, decimals=2) == "19.25 mm"
    assert format_mm(100, decimals=0) == "100 mm"
    with pytest.raises(UnitsError, match="denominator"):
        format_inches(1, denominator=0)
    with pytest.raises(UnitsError, match="decimals"):
        format_mm(1, decimals=-1)


@pytest.mark.parametrize("mm", [math.nan, math.inf])
def test_what_is_no_number_is_not_shown_as_a_length(mm: float) -> None:
    for show in (format_inches, format_mm):
        with pytest.raises(UnitsError):
            show(mm)


def test_both_systems_are_shown_with_the_unit_of_the_job_first() -> None:
    assert format_both(19, unit=Unit.MM) == "19 mm (≈ 3/4 in)"
    assert format_both(19.05, unit=Unit.IN) == "3/4 in (≈ 19.1 mm)"
    assert format_both(19, unit=Unit.CM) == "1.9 cm (≈ 3/4 in)"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("pin 4 mm", "pin 4 mm (≈ 5/32 in)"),
        ("19.05 mm thick", "19.05 mm (3/4 in) thick"),
        ("groove 9.525-15.875 mm", "groove 9.525-15.875 mm (3/8-5/8 in)"),
        ("(8.6 to 26.3 mm hides it)", "(8.6 to 26.3 mm (≈ 11/32 to 1 1/32 in) hides it)"),
        ("keeps 26 MPa at 1:5, 250 N, 50%", "keeps 26 MPa at 1:5, 250 N, 50%"),
        ("12.7 mm (1/2 in)", "12.7 mm (1/2 in)"),
    ],
)
def test_inches_are_put_behind_every_length_of_a_sentence(said: str, meant: str) -> None:
    assert with_inches(said) == meant
    assert with_inches(with_inches(said)) == meant


def test_whole_inches_are_the_coarsest_steps() -> None:
    assert format_inches(25.4 * 3, denominator=1) == "3 in"
    with pytest.raises(UnitsError, match="denominator must be 1 or more"):
        format_inches(25.4, denominator=0)
