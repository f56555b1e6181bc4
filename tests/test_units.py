"""Lengths, slopes and temperatures as makers type them."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import UnitsError
from dovelayout.units import (
    MM_PER_INCH,
    Unit,
    format_both,
    format_inches,
    format_mm,
    format_slope,
    length_mm,
    parse_length,
    parse_slope,
    parse_temperature,
    slope_degrees,
    slope_ratio,
    with_inches,
)

UNITS = list(Unit)


def inches(value: str) -> Fraction:
    return Fraction(value) * Fraction(254, 10)


# Lengths that carry their unit mean the same in every job.
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


@pytest.mark.parametrize(
    ("value", "celsius"),
    [
        (20, 20), (20.5, 20.5), ("20", 20), ("20 C", 20), ("20 °C", 20), ("20,5 c", 20.5), ("-5 C", -5),
        ("\u22125", -5), ("68 F", 20), ("68°F", 20), ("68 deg F", 20), ("68 fahrenheit", 20), (-40, -40),
        (60, 60),
        ("-40 F", -40),
    ],
)  # fmt: skip
def test_temperatures_are_read_as_celsius(value: int | float | str, celsius: float) -> None:
    assert parse_temperature(value) == pytest.approx(celsius)


@pytest.mark.parametrize("value", [-41, 61, "20 K", "warm", "", "nan", math.nan, True, "142 F", 10**400])
def test_what_is_no_room_temperature_is_refused(value: int | float | str) -> None:
    with pytest.raises(UnitsError):
        parse_temperature(value)


def test_a_bare_fahrenheit_figure_is_answered_with_how_to_write_it() -> None:
    with pytest.raises(UnitsError, match="write '68 F'"):
        parse_temperature(68)


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


def test_whole_inches_are_the_coarsest_steps() -> None:
    assert format_inches(25.4 * 3, denominator=1) == "3 in"
    with pytest.raises(UnitsError, match="denominator must be 1 or more"):
        format_inches(25.4, denominator=0)


@pytest.mark.parametrize(("figure", "hinted"), [(60.5, True), (140, True), (140.5, False)])
def test_figures_that_a_room_in_fahrenheit_has_are_taken_for_such(figure: float, hinted: bool) -> None:
    with pytest.raises(UnitsError, match="is out of -40 to 60") as caught:
        parse_temperature(figure)
    assert ("for Fahrenheit write" in str(caught.value)) is hinted


@pytest.mark.parametrize("value", [True, None, [7]])
def test_what_is_no_text_and_no_number_is_no_slope(value: object) -> None:
    with pytest.raises(UnitsError, match="is not a slope"):
        parse_slope(value)  # type: ignore[arg-type]
