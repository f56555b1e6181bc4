"""The year of a shop: from its air to moisture contents and how far wood moves between them."""

from __future__ import annotations

import pytest

from dovelayout.casework.seasons import seasons
from dovelayout.shop import Shop
from dovelayout.wood.moisture import Direction
from dovelayout.wood.species import find_wood

# Wood Handbook FPL-GTR-190, Table 4-2, at 70 F
TABLE_4_2 = {35: 6.9, 45: 8.4, 50: 9.2, 65: 12.0}


def test_the_air_gives_the_moisture_of_table_4_2() -> None:
    year = seasons(Shop(humidity_pct=(35, 65), built_at_pct=45, temperature_c=21.1))
    assert year.driest_pct == pytest.approx(TABLE_4_2[35], abs=0.1)
    assert year.built_pct == pytest.approx(TABLE_4_2[45], abs=0.1)
    assert year.dampest_pct == pytest.approx(TABLE_4_2[65], abs=0.1)
    assert not year.assumed


def test_fitted_at_the_middle_of_the_range_where_nothing_is_said() -> None:
    year = seasons(Shop(humidity_pct=(35, 65), temperature_c=21.1))
    assert year.built_pct == pytest.approx(TABLE_4_2[50], abs=0.1)


def test_an_unknown_home_is_reckoned_from_6_to_14_percent() -> None:
    year = seasons(Shop())
    assert (year.driest_pct, year.built_pct, year.dampest_pct) == (6.0, 10.0, 14.0)
    assert year.assumed


def test_a_shop_damper_than_the_home_widens_the_year() -> None:
    year = seasons(Shop(humidity_pct=(30, 50), built_at_pct=65))
    assert year.built_pct == year.dampest_pct
    swing = year.swing(find_wood("hard maple"), Direction.TANGENTIAL)
    assert swing is not None
    assert swing.grows == 0.0
    assert swing.shrinks > 0.01


def test_a_measured_moisture_goes_before_the_air() -> None:
    year = seasons(Shop(humidity_pct=(35, 65))).fitted_at(8.0)
    assert year.built_pct == 8.0
    swing = year.swing(find_wood("hard maple"), Direction.TANGENTIAL)
    assert swing is not None
    # Eq 13-2: Table 13-5 has 0.00353 a percent
    assert swing.grows == pytest.approx(0.00353 * (year.dampest_pct - 8.0), rel=0.02)
