"""What a board is told of the air: how far to let it come, and which way its thickness goes."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.finding import Finding, Level
from tests.jobs import corner_job, values_of
from tests.season_jobs import CHERRY, emc, found, grown, panel_job

HOME = {"humidity": [30, 65]}


@pytest.mark.parametrize(("metered", "end"), [(14.0, 65), (4.0, 30)])
def test_stock_is_to_come_to_the_nearest_tenth_inside_what_its_home_makes_of_it(metered: float, end: float) -> None:
    (finding,) = found(panel_job("black cherry", width=100, board={"moisture": metered}, home=HOME), "stock-moisture")
    near_pct = values_of(finding)["moisture"]
    assert emc(30) <= near_pct <= emc(65)
    assert abs(near_pct - emc(end)) < 0.1
    assert f"until the meter says {near_pct:g} %" in finding.fix
    assert finding.measured == pytest.approx(abs(metered - emc(end)), abs=0.006)


def test_dry_stock_is_told_what_it_will_gain() -> None:
    (finding,) = found(
        panel_job("black cherry", width=100, thickness=19, board={"moisture": 4}, home=HOME), "stock-moisture"
    )
    width_mm, thick_mm = grown(100, CHERRY, 4, emc(65)) - 100, grown(19, 0.00126, 4, emc(65)) - 19
    assert f"gains up to {width_mm:.1f} mm in width and {thick_mm:.2f} mm in thickness" in finding.message


@pytest.mark.parametrize(("built", "way", "end"), [(65, "lose", 30), (30, "gain", 65)])
def test_a_thickness_goes_the_way_of_the_air_by_how_the_rings_lie(built: float, way: str, end: float) -> None:
    job = corner_job(thickness=40, width=600, tail_count=4, shop={"built_at": built})
    job["home"] = HOME
    finding = found(job, "thickness-step")[0]
    radial_mm, tangential_mm = (abs(grown(40, c, emc(built), emc(end)) - 40) for c in (0.00126, CHERRY))
    assert (
        f"its 40 mm {way} {radial_mm:.2f} mm with the season ({radial_mm:.2f} to {tangential_mm:.2f} by"
        in finding.message
    )
    assert finding.measured == pytest.approx(radial_mm, abs=0.002)
    assert f"about {(emc(30) + emc(65)) / 2:.1f} % moisture" in finding.fix


@pytest.mark.parametrize(("built", "word", "near"), [(90, "damper", 65), (15, "drier", 30)])
def test_air_that_the_home_never_has_is_said_with_the_nearest_that_it_has(built: float, word: str, near: float) -> None:
    (finding,) = found(panel_job(width=100, shop={"built_at": built}, home=HOME), "shop-air")
    assert f"holds {emc(built):.1f} % moisture, {word} than" in finding.message
    assert f"come to air of {near} %" in finding.fix
    assert finding.measured == pytest.approx(abs(emc(built) - emc(near)), abs=0.006)


def _assumed(**keys: Any) -> tuple[Finding, ...]:
    return tuple(finding for finding in found(panel_job(width=100, **keys), "shop-air") if finding.measured is None)


def test_where_nothing_says_when_it_is_fitted_the_assumption_is_a_note() -> None:
    (note,) = _assumed(home=HOME)
    assert note.level is Level.NOTE
    assert "the worse of fitted at 30 % and at 65 % relative humidity" in note.message
    assert "built_at" in note.fix


@pytest.mark.parametrize(
    "keys",
    [
        {"home": HOME, "shop": {"built_at": 50}},
        {"home": HOME, "board": {"moisture": 9}},  # its only board is metered
        {"shop": {"humidity": [50, 50]}},
        {"shop": {}},  # nothing is reckoned
    ],
)
def test_nothing_is_noted_where_nothing_is_assumed(keys: dict[str, Any]) -> None:
    assert _assumed(**keys) == ()
