"""Troubles that makers of sliding dovetails have told of, and what the checks say before the first cut."""

from __future__ import annotations

from dovelayout.checks.finding import Level
from tests.divider_jobs import divider_job, found, loudest

DEEP_DESK = {"side": {"width": 520}, "shelf": {"width": 500}, "shop": {"glue": "pva"}}


def test_long_straight_key_with_water_glue_stops_as_it_seized_six_inches_from_home() -> None:
    assert loudest(divider_job(**DEEP_DESK), "long-slide") is Level.STOP


def test_long_key_with_a_taper_or_glue_on_its_front_alone_goes_home() -> None:
    assert loudest(divider_job(**DEEP_DESK, taper="1:320"), "long-slide") is Level.OK
    assert loudest(divider_job(**DEEP_DESK, glue_zone=76), "long-slide") is Level.OK


def test_straight_key_of_a_foot_slides_on_polyurethane() -> None:
    assert loudest(divider_job(shelf={"width": 300}, shop={"glue": "polyurethane"}), "long-slide") is Level.OK


def test_housing_of_half_an_inch_in_three_quarter_walnut_stops_and_a_quarter_passes() -> None:
    side = {"species": "black walnut", "thickness": 19.05}
    assert loudest(divider_job(side=side, depth=12.7), "housing-depth") is Level.STOP
    assert loudest(divider_job(side=side, depth=6.35), "housing-depth") is Level.OK


def test_cupped_drawer_back_stops_straight_and_passes_tapered() -> None:
    # a back 150 mm high, hollow by half a millimetre, with 0.05 mm at each cheek
    back = {"shelf": {"width": 150, "thickness": 12}, "cup": 0.5, "clearance": 0.05}
    assert loudest(divider_job(**back), "cupped-key") is Level.STOP
    assert loudest(divider_job(**back, taper="1:320"), "cupped-key") is Level.OK


def test_full_pass_in_hard_maple_is_warned_of_and_the_straight_bit_is_given() -> None:
    bit = {"diameter": 12.7, "angle": "14 deg"}
    (finding,) = found(divider_job("hard maple", depth=9.5, bit=bit), "router-pass")
    assert finding.level is Level.WARN
    # neck 7.96: 7.2 wide, 8.7 deep
    assert "at most 7.2 mm wide and 8.7 mm deep" in finding.fix
    ploughed = divider_job("hard maple", depth=9.5, bit={**bit, "plough_first": True})
    assert loudest(ploughed, "router-pass") is Level.OK
