"""How a board's sizes move: which moisture it is fitted at, what isn't known, two boards against each other."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.joints.board import Board, Rings
from dovelayout.joints.moving import (
    Axis,
    assumption,
    moisture,
    moisture_or_assumed,
    movement,
    swing,
    swing_between,
    unknown,
)
from dovelayout.shop import Home, Shop
from dovelayout.wood.species import find_wood, maker_wood
from tests.season_jobs import emc

BOARD = Board(name="side", wood=find_wood("black cherry"), length_mm=900, width_mm=400, thickness_mm=19)
HOME = Home(humidity_pct=(30, 60))


@pytest.mark.parametrize(
    ("shop", "board", "built"),
    [
        (Shop(humidity_pct=(35, 65)), BOARD, (emc(35), emc(65))),  # built at any time of the year
        (Shop(home=HOME), BOARD, (emc(30), emc(60))),
        (Shop(home=HOME, humidity_pct=(45, 70)), BOARD, (emc(45), emc(70))),  # the shop's year
        (Shop(home=HOME, humidity_pct=(45, 70), built_at_pct=50), BOARD, (emc(50),)),
        (Shop(home=HOME, built_at_pct=50, temperature_c=5), BOARD, (emc(50, 5),)),
        (Shop(home=HOME, built_at_pct=50), replace(BOARD, moisture_pct=12), (12,)),  # the meter wins
    ],
)
def test_moisture_it_is_fitted_at(shop: Shop, board: Board, built: tuple[float, ...]) -> None:
    at = moisture(board, shop)
    assert at is not None
    assert at.fitted_pct == pytest.approx(built)


def test_the_home_counts_for_what_comes_after_and_the_shop_where_there_is_none() -> None:
    assert Shop(humidity_pct=(35, 65)).home_humidity_pct == (35, 65)
    assert Shop(humidity_pct=(35, 65), home=HOME).home_humidity_pct == (30, 60)
    months = (36, 35, 38, 42, 48, 54, 58, 60, 56, 50, 43, 38)
    year = Shop(home=Home(humidity_pct=months), temperature_c=18)
    assert (year.home_humidity_pct, year.months_pct, year.home_temperature_c) == ((35, 60), months, 18)
    assert Shop(home=Home(humidity_pct=(30, 60), temperature_c=22), temperature_c=10).home_temperature_c == 22
    assert Shop(home=HOME).months_pct == ()
    assert Shop().fitting_humidity_pct == ()


def test_what_is_not_known_is_none_and_says_why() -> None:
    assert swing(BOARD, Shop()) is None
    assert movement(BOARD, Shop()) is None
    assert unknown(BOARD, Shop())[1] == "say it: [shop] humidity = [35, 65]"
    blank = replace(BOARD, wood=maker_wood(name="hearsay"))
    shop = Shop(home=HOME)
    assert swing(blank, shop) is None
    assert swing_between(BOARD, blank, shop) is None
    assert movement(blank, shop) is None
    assert "hearsay" in unknown(blank, shop)[0]


@given(built=st.integers(10, 90), low=st.integers(10, 60), more=st.integers(0, 30))
def test_it_shrinks_and_grows_within_what_it_is_at_its_extremes(built: int, low: int, more: int) -> None:
    shop = Shop(home=Home(humidity_pct=(low, low + more)), built_at_pct=built)
    for axis in Axis:
        part = movement(BOARD, shop, axis)
        assert part is not None
        assert part.driest_mm <= part.dampest_mm
        assert part.change_mm <= part.shrinks_mm + part.grows_mm + 1e-9
        assert part.shrinks_mm == pytest.approx(max(0, part.dimension_mm - part.driest_mm), abs=1e-9)
        assert part.grows_mm == pytest.approx(max(0, part.dampest_mm - part.dimension_mm), abs=1e-9)
        assert part.dimension_mm + part.larger_mm(part.moisture.driest_pct) == pytest.approx(part.driest_mm)


@given(low=st.integers(35, 50), more=st.integers(1, 20), rings=st.sampled_from(Rings))
def test_like_wood_moves_together_and_unlike_by_the_difference(low: int, more: int, rings: Rings) -> None:
    shop = Shop(home=Home(humidity_pct=(low, low + more)))
    same = swing_between(BOARD, replace(BOARD, width_mm=90), shop)
    assert same is not None
    assert same.most_share == 0
    other = replace(BOARD, wood=find_wood("hard maple"), rings=rings)
    one, two, apart = swing(BOARD, shop), swing(other, shop), swing_between(BOARD, other, shop)
    assert one is not None
    assert two is not None
    assert apart is not None
    assert apart.most_share == pytest.approx(abs(one.most_share - two.most_share), abs=1e-12)


def test_two_boards_of_unlike_moisture_part_company_though_they_are_of_one_wood() -> None:
    shop = Shop(home=Home(humidity_pct=(40, 50)))
    wet = replace(BOARD, moisture_pct=14)
    apart, alone = swing_between(wet, BOARD, shop), swing(wet, shop)
    assert apart is not None
    assert alone is not None
    # at worst it dries by all of its own, while the other, fitted dry, stays as it is
    assert apart.most_share == pytest.approx(alone.most_share)
    assert apart.most_share > 0.015


@given(low=st.integers(20, 60), more=st.integers(1, 30))
def test_what_nothing_says_when_it_is_fitted_is_the_worse_of_both_extremes(low: int, more: int) -> None:
    """Fitted at its dampest a board loses all of the year, fitted at its driest it gains all of it."""
    home = Home(humidity_pct=(low, low + more))
    unsaid, dry, damp = (
        swing(BOARD, Shop(home=home, built_at_pct=built, temperature_c=20)) for built in (None, low, low + more)
    )
    assert unsaid is not None
    assert dry is not None
    assert damp is not None
    assert (unsaid.shrinks_share, unsaid.grows_share) == (damp.shrinks_share, dry.grows_share)
    assert (dry.shrinks_share, damp.grows_share) == pytest.approx((0, 0), abs=1e-12)
    assert unsaid.year_share == pytest.approx(max(unsaid.shrinks_share, unsaid.grows_share))
    assert unsaid.year_share < unsaid.shrinks_share + unsaid.grows_share


@given(built=st.integers(10, 90))
def test_what_it_moves_in_a_year_hardly_depends_on_when_it_is_fitted(built: int) -> None:
    known, unsaid = (swing(BOARD, Shop(home=HOME, built_at_pct=pct)) for pct in (built, None))
    assert known is not None
    assert unsaid is not None
    # a share of another size: that at the day of the fitting
    assert known.year_share == pytest.approx(unsaid.year_share, rel=0.03)


@pytest.mark.parametrize("rings", Rings)
def test_plywood_moves_through_its_thickness_alone_whatever_its_rings_are_said_to_be(rings: Rings) -> None:
    sheet = replace(BOARD, wood=find_wood("birch plywood"), rings=rings)
    across, through = (swing(sheet, Shop(home=HOME), axis) for axis in Axis)
    assert across is not None
    assert through is not None
    assert across.most_share == 0
    assert through.most_share == pytest.approx(0.00256 * (emc(60) - emc(30)), rel=0.02)


def test_a_home_that_nobody_knows_is_taken_as_wide_as_makers_take_it() -> None:
    at = moisture_or_assumed(BOARD, Shop())
    assert (at.fitted_pct, at.driest_pct, at.dampest_pct) == ((6, 14), 6, 14)
    assert moisture_or_assumed(BOARD, Shop(built_at_pct=50)).fitted_pct == pytest.approx((emc(50),))
    assert moisture_or_assumed(replace(BOARD, moisture_pct=9), Shop()).fitted_pct == (9,)
    assert moisture(BOARD, Shop()) is None
    known = swing(BOARD, Shop(), assume_home=True)
    assert known is not None
    assert known.grows_share == pytest.approx(8 * 0.00248)  # Eq 13-2, black cherry by Table 13-5


@pytest.mark.parametrize(
    ("shop", "words"),
    [
        (Shop(humidity_pct=(35, 65)), "fitted at 35 % and at 65 % relative humidity"),
        (Shop(home=HOME), "fitted at 30 % and at 60 % relative humidity"),
        (Shop(home=HOME, humidity_pct=(45, 70)), "fitted at 45 % and at 70 % relative humidity"),
        (Shop(), "fitted at 6 % and at 14 % moisture in the wood"),
    ],
)
def test_the_assumption_names_the_extremes_that_it_is_the_worse_of(shop: Shop, words: str) -> None:
    assert assumption(shop) == f"it isn't said in what air it is fitted: each figure is the worse of {words}"


@pytest.mark.parametrize("shop", [Shop(home=HOME, built_at_pct=50), Shop(humidity_pct=(50, 50)), Shop(built_at_pct=50)])
def test_nothing_is_assumed_where_it_is_said_or_makes_no_difference(shop: Shop) -> None:
    assert assumption(shop) == ""
