"""The strength left across the grain: the shape of the curve and its limits."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import LayoutError
from dovelayout.wood.strength import bending_share, impact_share, strength_share

CURVES = [(bending_share, 0.10), (impact_share, 0.05)]


@pytest.mark.parametrize(("curve", "across"), CURVES)
def test_all_of_it_is_left_along_the_grain_and_the_cross_grain_share_across(
    curve: Callable[[float], float], across: float
) -> None:
    assert curve(0) == 1
    assert curve(90) == pytest.approx(across)


@pytest.mark.parametrize(("curve", "across"), CURVES)
@given(angle=st.floats(0, 90))
def test_between_the_ends_the_share_stays_between_them(
    curve: Callable[[float], float], across: float, angle: float
) -> None:
    # Below an exponent of 2 the form dips under its cross-grain end near 90 degrees, by less than 0.01 %.
    assert across * 0.9999 <= curve(angle) <= 1


@given(angle=st.floats(0, 60))
def test_bending_strength_falls_as_the_grain_turns(angle: float) -> None:
    assert bending_share(angle + 1) < bending_share(angle)


def test_two_and_no_exponent_tricks_give_the_plain_formula() -> None:
    # n = 2 at 45 degrees: q / ((1 + q)/2), arithmetic.
    assert strength_share(45, cross_grain_share=0.25, exponent=2) == pytest.approx(0.25 / 0.625)
    assert strength_share(30, cross_grain_share=1, exponent=2) == pytest.approx(1)


@pytest.mark.parametrize("angle", [-0.1, 90.1, math.nan, math.inf])
def test_angles_past_the_quarter_circle_are_refused(angle: float) -> None:
    for curve, _ in CURVES:
        with pytest.raises(LayoutError, match="0 to 90"):
            curve(angle)


@pytest.mark.parametrize(("share", "exponent"), [(0, 2), (1.1, 2), (math.nan, 2), (0.1, 0), (0.1, math.inf)])
def test_constants_outside_their_range_are_refused(share: float, exponent: float) -> None:
    with pytest.raises(ValueError, match=r"cross_grain_share|exponent"):
        strength_share(10, cross_grain_share=share, exponent=exponent)


def test_any_exponent_above_nothing_is_one() -> None:
    # n = 1 at 45 degrees: q / ((1 + q) sin 45); n = 1/2: over its root
    sine = math.sin(math.radians(45))
    assert strength_share(45, cross_grain_share=0.25, exponent=1) == pytest.approx(0.25 / (1.25 * sine))
    assert strength_share(45, cross_grain_share=0.25, exponent=0.5) == pytest.approx(0.25 / (1.25 * sine**0.5))
