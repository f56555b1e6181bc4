"""A season's figures against the Wood Handbook's equations (FPL-GTR-190, chapters 4 and 13), worked out apart from the
package in `tests/season_jobs.py`, and against sums quoted for it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.joints.board import Board, Rings
from dovelayout.joints.moving import Axis, movement
from dovelayout.shop import Home, Shop
from dovelayout.wood.moisture import Direction, size_change_share
from dovelayout.wood.species import find_wood
from tests.season_jobs import CHERRY, emc, grown

INCH = 25.4


def _board(species: str = "black cherry", width_mm: float = 508) -> Board:
    return Board(name="x", wood=find_wood(species), length_mm=900, width_mm=width_mm, thickness_mm=19)


@pytest.mark.parametrize(
    ("species", "width_mm", "humidity", "moves_mm"),
    [
        ("black walnut", 508, (30, 65), 508 * 0.00274 * 5.8),
        ("yellow poplar", 229, (30, 65), 229 * 0.00289 * 5.8),
        ("black cherry", 457, (30, 70), 457 * 0.00248 * 6.9),
        ("hard maple", 406, (30, 65), 0.33 * INCH),  # 16 in of flat-sawn maple: 0.33 in
        ("hard maple", 101.6, (35, 80), 0.128 * INCH),  # 4 in fronts from 35 to 80 %: 0.128, 0.090 and 0.099 in
        ("black cherry", 101.6, (35, 80), 0.090 * INCH),
        ("black walnut", 101.6, (35, 80), 0.099 * INCH),
    ],
)
def test_movement_from_table_13_5_and_the_printed_row_of_table_4_2(
    species: str, width_mm: float, humidity: tuple[float, float], moves_mm: float
) -> None:
    """At 70 F Table 4-2 prints 6.2 % at 30, 6.9 at 35, 12.0 at 65, 13.1 at 70 and 16.0 at 80 % relative humidity."""
    part = movement(_board(species, width_mm), Shop(humidity_pct=humidity, temperature_c=21.1))
    assert part is not None
    assert part.change_mm == pytest.approx(moves_mm, rel=0.02)


@given(
    low=st.integers(10, 80),
    more=st.integers(0, 15),
    built=st.integers(10, 95),
    celsius=st.integers(5, 30),
)
def test_every_season_is_the_published_equations(low: int, more: int, built: int, celsius: int) -> None:
    home = Home(humidity_pct=(low, low + more), temperature_c=celsius)
    part = movement(_board(), Shop(home=home, built_at_pct=built, temperature_c=18))
    assert part is not None
    start, dry, damp = emc(built, 18), emc(low, celsius), emc(low + more, celsius)
    ends = [grown(508, CHERRY, min(30, start), min(30, end)) for end in (dry, damp)]
    assert [part.driest_mm, part.dampest_mm] == pytest.approx(ends, abs=1e-6)
    assert part.shrinks_mm == pytest.approx(max(0, 508 - min(ends)), abs=1e-6)
    assert part.grows_mm == pytest.approx(max(0, max(ends) - 508), abs=1e-6)


def test_a_metre_of_flat_cherry_from_12_to_18_percent() -> None:
    """14.9 mm by Eq 13-2; beyond 14 % Eq 13-3 counts, which gives 0.5 % less."""
    share = size_change_share(find_wood("black cherry"), Direction.TANGENTIAL, from_mc_pct=12, to_mc_pct=18)
    assert share is not None
    assert 1000 * share == pytest.approx(14.9, abs=0.1)


def test_rules_of_thumb_are_a_quarter_or_half_of_what_oak_does_in_a_dry_winter() -> None:
    """A sixteenth and an eighth in a foot of width are heard; a foot of flat oak from 25 to 60 % moves by a quarter."""
    part = movement(_board("northern red oak", 12 * INCH), Shop(humidity_pct=(25, 60)))
    assert part is not None
    assert part.change_mm / INCH == pytest.approx(0.25, abs=0.01)


def test_thickness_of_three_quarter_cherry_through_a_hard_winter() -> None:
    """19 mm from 65 to 25 %: 0.16 mm radially, 0.31 tangentially."""
    shop = Shop(built_at_pct=65, home=Home(humidity_pct=(25, 65)))
    wood = find_wood("black cherry")
    moves = [
        movement(
            Board(name="x", wood=wood, length_mm=1, width_mm=100, thickness_mm=19, rings=rings), shop, Axis.THICKNESS
        )
        for rings in (Rings.FLAT, Rings.QUARTER)
    ]
    assert [part.shrinks_mm for part in moves if part] == pytest.approx([0.16, 0.31], abs=0.01)


def test_a_size_in_any_air() -> None:
    shop = Shop(built_at_pct=50, home=Home(humidity_pct=(30, 60)))
    part = movement(_board(), shop)
    assert part is not None
    for humidity in (20, 50, 75, 90):
        assert 508 + part.larger_mm(emc(humidity)) == pytest.approx(
            grown(508, CHERRY, emc(50), emc(humidity)), abs=1e-6
        )
