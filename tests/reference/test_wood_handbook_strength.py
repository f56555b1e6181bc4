"""Strength against slope of grain, and the arithmetic of slopes and inches, against published values.

Wood Handbook: Forest Products Laboratory, FPL-GTR-190 (2010) and FPL-GTR-282 (2021). Its p. 5-30 fits Eq 5-2
to Table 5-12; the fit is not exact, and these tests state how far off it is and to which side.
"""

from fractions import Fraction

import pytest

from dovelayout.units import MM_PER_INCH, slope_degrees, slope_ratio
from dovelayout.wood.strength import bending_share, impact_share, strength_share

# Wood Handbook Table 5-12, percent of straight-grained strength at a slope of 1 in n:
# modulus of rupture, impact bending, compression parallel to grain.
TABLE_5_12 = {
    25: (96, 95, 100),
    20: (93, 90, 100),
    15: (89, 81, 100),
    10: (81, 62, 99),
    5: (55, 36, 93),
}


@pytest.mark.parametrize(
    ("run", "bending", "impact"),
    [
        (10, 0.765, 0.617),  # Eq 5-2 by hand at atan(1/10)
        (5, 0.544, 0.369),  # Eq 5-2 by hand at atan(1/5)
    ],
)
def test_the_curves_are_equation_5_2_with_the_constants_of_page_5_30(run: int, bending: float, impact: float) -> None:
    assert bending_share(slope_degrees(run)) == pytest.approx(bending, abs=0.0006)
    assert impact_share(slope_degrees(run)) == pytest.approx(impact, abs=0.0006)


def test_at_1_in_5_the_curves_agree_with_table_5_12_to_one_percentage_point() -> None:
    bending, impact, _ = TABLE_5_12[5]
    assert 100 * bending_share(slope_degrees(5)) == pytest.approx(bending, abs=1.0)
    assert 100 * impact_share(slope_degrees(5)) == pytest.approx(impact, abs=1.0)


def test_at_1_in_10_impact_agrees_to_half_a_point_and_bending_is_under_by_less_than_five() -> None:
    bending, impact, _ = TABLE_5_12[10]
    assert 100 * impact_share(slope_degrees(10)) == pytest.approx(impact, abs=0.5)
    assert 0 < bending - 100 * bending_share(slope_degrees(10)) < 5


@pytest.mark.parametrize("run", [15, 20, 25])
def test_at_gentle_slopes_the_curves_claim_less_strength_than_table_5_12(run: int) -> None:
    bending, impact, _ = TABLE_5_12[run]
    assert 2.5 < bending - 100 * bending_share(slope_degrees(run)) < 4
    assert 6 < impact - 100 * impact_share(slope_degrees(run)) < 9


@pytest.mark.parametrize("run", sorted(TABLE_5_12))
def test_compression_is_under_table_5_12_by_at_most_four_points(run: int) -> None:
    compression = strength_share(slope_degrees(run), cross_grain_share=0.10, exponent=2.5)  # as p. 5-30 fits it
    assert 0 <= TABLE_5_12[run][2] - 100 * compression < 4


# Arithmetic: atan(1/n) in degrees, to a tenth.
@pytest.mark.parametrize(
    ("ratio", "degrees"), [(4, 14.0), (5, 11.3), (6, 9.5), (7, 8.1), (8, 7.1), (9, 6.3), (10, 5.7), (12, 4.8)]
)
def test_a_ratio_is_its_arctangent(ratio: int, degrees: float) -> None:
    assert slope_degrees(ratio) == pytest.approx(degrees, abs=0.05)


# Arithmetic: 1 / tan of the angle, to a tenth.
@pytest.mark.parametrize(("degrees", "ratio"), [(7, 8.1), (8, 7.1), (9, 6.3), (10, 5.7), (14, 4.0)])
def test_an_angle_is_one_over_its_tangent(degrees: int, ratio: float) -> None:
    assert slope_ratio(degrees) == pytest.approx(ratio, abs=0.05)


def test_an_inch_is_exactly_25_4_mm() -> None:
    # International yard and pound agreement, 1959.
    assert Fraction("25.4") == MM_PER_INCH


def test_a_point_of_a_pdf_page_is_exactly_127_360ths_of_a_mm() -> None:
    # ISO 32000: the default unit of user space is 1/72 inch.
    point_mm = MM_PER_INCH / 72
    assert point_mm == Fraction(127, 360)
