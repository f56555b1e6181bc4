"""Temperatures as makers type them."""

import math

import pytest

from dovelayout.errors import UnitsError
from dovelayout.units import parse_temperature


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


@pytest.mark.parametrize(("figure", "hinted"), [(60.5, True), (140, True), (140.5, False)])
def test_figures_that_a_room_in_fahrenheit_has_are_taken_for_such(figure: float, hinted: bool) -> None:
    with pytest.raises(UnitsError, match="is out of -40 to 60") as caught:
        parse_temperature(figure)
    assert ("for Fahrenheit write" in str(caught.value)) is hinted
