"""Lengths as makers type them."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import UnitsError
from dovelayout.units import Unit, length_mm, parse_length, parse_slope, parse_temperature

UNITS = list(Unit)


def inches(value: str) -> Fraction:
    return Fraction(value) * Fraction(254, 10)


WITH_UNIT = [
    ('1 3/4"', inches("7/4")),
    ("1-3/4 in", inches("7/4")),
    ("1 3/4 in.", inches("7/4")),
    ('3/4"', inches("3/4")),
    ("3/4''", inches("3/4")),
    (".005 in", inches("0.005")),
    ("5 thou", inches("0.005")),
    ("11/4 in", inches("11/4")),
    ("8/4 in", inches("2")),
    ("19mm", Fraction(19)),
    ("19 mm", Fraction(19)),
    ("19 MM", Fraction(19)),
    ("19 millimetres", Fraction(19)),
    ("19.5 mm", Fraction(39, 2)),
    ("19,5 mm", Fraction(39, 2)),
    ("1.9cm", Fraction(19)),
    ("1,2 m", Fraction(1200)),
    ("2 1/2 mm", Fraction(5, 2)),
    ("5'-0 3/4\"", inches("60.75")),
    ("5' - 3\"", inches("63")),
    ("5ft3in", inches("63")),
    ("5' 6", inches("66")),
    ("5 1/2 ft", inches("66")),
    ("2' 3 1/2\"", inches("27.5")),
    ('1¾"', inches("7/4")),
    ("1 ¾ in", inches("7/4")),
    ("1-¾ in", inches("7/4")),
    ("5'½\"", inches("60.5")),
    ("1 3/4\u201d", inches("7/4")),
    ("5′ 3/4″", inches("60.75")),
    ("5’ 3/4”", inches("60.75")),
    ("19\u00a0mm", Fraction(19)),
    ("19\u2009mm", Fraction(19)),
    ("  19   mm ", Fraction(19)),
    ("-3 mm", Fraction(-3)),
    ("\u22123 mm", Fraction(-3)),
    ("+3 mm", Fraction(3)),
    ("-1-3/4 in", inches("-7/4")),
    ("-5' 3\"", inches("-63")),
]


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize(("text", "mm"), WITH_UNIT)
def test_a_length_with_its_unit_means_the_same_in_every_job(text: str, mm: Fraction, unit: Unit) -> None:
    assert parse_length(text, unit=unit) == mm


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        ("3/4", "3/4"), ("1 3/4", "7/4"), ("1-3/4", "7/4"), (".75", "3/4"), ("0,75", "3/4"), ("19", "19"),
        ("¾", "3/4"), ("1¾", "7/4"), ("1 ¾", "7/4"), ("1 1\u20442", "3/2"), ("⅞", "7/8"), ("-¼", "-1/4"),
        ("0", "0"),
    ],
)  # fmt: skip
def test_bare_numbers_and_fractions_in_an_inch_job_are_inches(text: str, inch: str) -> None:
    assert parse_length(text, unit=Unit.IN) == inches(inch)


def test_bare_numbers_in_a_metric_job_are_its_unit() -> None:
    assert parse_length("19,5", unit=Unit.MM) == Fraction(39, 2)
    assert parse_length("1.9", unit=Unit.CM) == 19
    assert parse_length("0,750", unit=Unit.MM) == Fraction(3, 4)


@pytest.mark.parametrize("unit", UNITS)
def test_feet_are_kept_when_only_a_fraction_of_an_inch_follows(unit: Unit) -> None:
    assert parse_length("5' 3/4\"", unit=unit) == Fraction("1543.05")


@pytest.mark.parametrize("unit", UNITS)
def test_the_inch_after_many_feet_is_kept(unit: Unit) -> None:
    assert parse_length("60 ft 1 in", unit=unit) == inches("721")


def test_a_glyph_after_a_digit_is_two_and_a_half_not_twenty_one_halves() -> None:
    assert parse_length("2½", unit=Unit.IN) == inches("2.5")
    assert parse_length('2½"', unit=Unit.MM) == inches("2.5")


def test_a_glyph_alone_and_the_fraction_slash_are_both_a_half() -> None:
    assert parse_length("½", unit=Unit.IN) == inches("1/2")
    assert parse_length("1\u20442", unit=Unit.IN) == inches("1/2")


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "missing"), ("   ", "missing"), ("\u200b", "missing"), ("-", "not a length"),
        ("abc", "not a length"), ("nan", "not a length"), ("inf", "not a length"), ("in", "not a length"),
        ("1 2 3", "side by side"), ("1/2 3/4 in", "side by side"), ("½2", "side by side"),
        ("1.5½", "side by side"),
        ("1.2.3", "decimal mark"), ("1,234.5", "decimal mark"), ("1,234,567", "decimal mark"),
        ("1,234", "1.234 or as 1234"), ("19,125 mm", "19.125 or as 19125"),
        ("3/0", "divides by zero"), ("1 3/0 in", "divides by zero"), ("3/4/5", "not a length"),
        ("3/½", "not a length"),
        ("19 mm 3", "more than one length"), ("1 m 20 cm", "more than one length"),
        ("1' 2\" 3", "more than one"),
        ("19 mm 3 in", "mixes"), ("1 in 5 ft", "inches before feet"), ("5' 14\"", "less than 12"),
        ("1'234", "less than 12"), ("5.5' 3\"", "whole feet"), ("1 5/4 in", "not less than one"),
        ("1e3mm", "power of ten"), ("1E3", "power of ten"), ("--3 mm", "not a length"),
        ("19.", "not a length"),
        ("1 - 3/4 in", "not a length"), ("１９ mm", "digits"), ("١٩", "digits"),
        ("5² mm", "digits"),
        ("19 mm" + " " * 40, "too long"), ("1" * 13, "more than 12 digits"),
        ("0.1234567890123 mm", "12 digits"),
        ("19 mn", "'mm'"), ("3 inchs", "'inches' or 'inch'"), ("19 furlong", "mm, cm, m, in, ft or thou"),
        ("3/4 ply", "23/32 in"), ("3/4ply", "18 mm"), ("3/4 in plywood", "nominal"), ("2 nominal", "nominal"),
        ("4/4 rough", "before planing"), ("5 quarters", "before planing"),
    ],
)  # fmt: skip
def test_what_is_no_single_length_is_refused_with_its_reason(text: str, said: str, unit: Unit) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_length(text, unit=unit)
    assert said in str(caught.value)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("11/4", ["2 3/4 in (69.85 mm)", "1 1/4 in is 31.75 mm", "'quarters'"]),
        ("4/4", ["1 in (25.4 mm)", "rough-sawn 'quarters'"]),
        ("8/4", ["2 in (50.8 mm)", "rough-sawn 'quarters'"]),
        ("115/16", ["7 3/16 in (182.5625 mm)", "1 15/16 in is 49.2125 mm", "11 5/16 in is 287.3375 mm"]),
        ("5/2", ["2 1/2 in (63.5 mm)"]),
    ],
)
def test_an_improper_fraction_without_a_unit_is_asked_about(text: str, readings: list[str], unit: Unit) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_length(text, unit=unit)
    assert [r for r in readings if r not in str(caught.value)] == []
    assert ("quarters" in str(caught.value)) == text.endswith("/4")


def test_only_readings_with_a_proper_fraction_are_offered() -> None:
    with pytest.raises(UnitsError) as caught:
        parse_length("19/4", unit=Unit.IN)
    assert "4 3/4 in" in str(caught.value)
    assert "1 9/4" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "unit", "choices"),
    [
        ("3/4", Unit.MM, "'3/4 in' (19.05 mm) or '0.75 mm'"),
        ("¾", Unit.CM, "'3/4 in' (19.05 mm) or '0.75 cm'"),
        ("1 3/4", Unit.MM, "'1 3/4 in' (44.45 mm) or '1.75 mm'"),
        ("1\u20442", Unit.MM, "'1/2 in' (12.7 mm) or '0.5 mm'"),
    ],
)
def test_a_fraction_without_a_unit_in_a_metric_job_is_asked_about(text: str, unit: Unit, choices: str) -> None:
    with pytest.raises(UnitsError) as caught:
        parse_length(text, unit=unit)
    assert choices in str(caught.value)


@given(text=st.text(alphabet=st.sampled_from("0123456789/.,-+'\" ½¾\u2044mincftx"), max_size=14))
def test_any_text_is_a_length_or_a_units_error_of_one_line(text: str) -> None:
    try:
        outcome: Fraction | str = parse_length(text, unit=Unit.IN)
    except UnitsError as error:
        outcome = str(error)
    assert isinstance(outcome, Fraction) or (outcome and "\n" not in outcome)


def test_numbers_from_a_file_are_the_decimals_that_were_typed() -> None:
    assert length_mm(0.1, unit=Unit.MM) == Fraction(1, 10)
    assert length_mm(0.75, unit=Unit.IN) == Fraction("19.05")
    assert length_mm(2, unit=Unit.CM) == 20
    assert length_mm("3/4 in", unit=Unit.MM) == Fraction("19.05")
    assert length_mm(1e-7, unit=Unit.MM) == Fraction(1, 10**7)


@pytest.mark.parametrize("value", [True, False, math.nan, math.inf, -math.inf, 10**400, 1e7, "2000 m"])
def test_numbers_that_are_no_length_are_refused(value: int | float | str) -> None:
    with pytest.raises(UnitsError):
        length_mm(value, unit=Unit.MM)


def test_a_number_too_long_to_be_written_out_is_refused_like_any_other() -> None:
    with pytest.raises(UnitsError, match="more than 12 digits"):
        length_mm(-(10**5000), unit=Unit.MM)
    with pytest.raises(UnitsError, match="more than 12 digits"):
        parse_slope(10**5000)
    with pytest.raises(UnitsError, match="more than 12 digits"):
        parse_temperature(10**5000)


def test_a_kilometre_is_the_limit_whatever_the_unit() -> None:
    assert length_mm(1_000_000, unit=Unit.MM) == 1_000_000
    with pytest.raises(UnitsError, match="kilometre"):
        length_mm(1_000_000, unit=Unit.IN)


def test_twelve_inches_are_a_foot() -> None:
    assert parse_length("5 ft 11 63/64 in", unit=Unit.MM) == inches("4607/64")
    with pytest.raises(UnitsError, match="less than 12 inches"):
        parse_length("5 ft 12 in", unit=Unit.MM)


def test_two_lengths_in_inches_are_more_than_one_and_inches_before_feet_are_asked_to_change_places() -> None:
    with pytest.raises(UnitsError, match="more than one length"):
        parse_length("5 in 3 in", unit=Unit.MM)
    with pytest.raises(UnitsError, match="more than one length"):
        parse_length("5 ft 3 ft", unit=Unit.MM)
    with pytest.raises(UnitsError, match="write the feet first"):
        parse_length("3 in 5 ft", unit=Unit.MM)


def test_texts_of_forty_letters_are_read_and_longer_ones_are_not() -> None:
    assert parse_length("19" + " " * 36 + "mm", unit=Unit.IN) == 19
    with pytest.raises(UnitsError, match="too long for one length"):
        parse_length("19" + " " * 37 + "mm", unit=Unit.IN)
