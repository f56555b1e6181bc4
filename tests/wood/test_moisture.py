"""Equilibrium moisture content and movement against the Wood Handbook's printed figures."""

from __future__ import annotations

import pytest

from dovelayout.wood.moisture import emc_pct, movement_share
from dovelayout.wood.species import WoodKind, find_wood, maker_wood

ROW_70_F = (1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5, 23.9)
"""Table 4-2, 70 degrees F, 5 to 95 % relative humidity by fives."""


@pytest.mark.parametrize(("humidity", "printed"), list(zip(range(5, 100, 5), ROW_70_F, strict=True)))
def test_table_4_2_at_70_fahrenheit(humidity: int, printed: float) -> None:
    assert emc_pct(humidity, (70 - 32) / 1.8) == pytest.approx(printed, abs=0.06)


def test_movement_is_coefficient_times_change_of_moisture() -> None:
    cherry = find_wood("black cherry")
    change = emc_pct(60, 20) - emc_pct(40, 20)
    shares = [movement_share(cherry, tangential=t, humidity_pct=(40, 60), temperature_c=20) for t in (True, False)]
    assert shares == pytest.approx([0.00248 * change, 0.00126 * change])
    # about 3.3 points: 20 in of it move by roughly 4 mm
    assert 508 * shares[0] == pytest.approx(4.2, abs=0.2)  # type: ignore[operator]


def test_a_wood_without_coefficients_is_not_known() -> None:
    wood = maker_wood(name="hearsay", kind=WoodKind.HARDWOOD)
    assert movement_share(wood, tangential=True, humidity_pct=(30, 60), temperature_c=20) is None
