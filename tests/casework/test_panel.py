"""A panel in its grooves, moved from every state it may be built in to its extremes, by a sum of our own."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.panel import Glued
from dovelayout.checks.finding import Level
from dovelayout.checks.movement.panels import well_held
from dovelayout.joints.moving import Swing
from tests.jobs import applied, loaded
from tests.season_jobs import CHERRY, airs, built_at, emc, found, grown, loudest, panel_job


def _fates(tables: dict[str, Any], air: dict[str, Any]) -> list[tuple[float, float]]:
    """(play left, least reach into a groove) for every state it may be built in and come to."""
    (panel,) = tables["panel"]
    width, groove, play = tables["board"][0]["width"], panel["groove"], panel["play"]
    opening = width + play  # from groove bottom to groove bottom
    low, high = air["home"]["humidity"]
    fates = []
    for start in built_at(air):
        for humidity in (low, high):
            now = grown(width, CHERRY, start, emc(humidity))
            loose = opening - now
            lefts = {"middle": (loose / 2,), "one edge": (0.0,)}.get(panel.get("glued", "no"), (0.0, loose))
            reach = min(min(groove - left, left + now - (opening - groove)) for left in lefts)
            fates.append((loose, reach))
    return fates


panels = st.fixed_dictionaries(
    {
        "width": st.integers(80, 700),
        "groove": st.integers(3, 15),
        "play": st.integers(0, 12),
        "glued": st.sampled_from(["no", "middle", "one edge"]),
    }
)


@given(air=airs(), keys=panels)
def test_a_panel_that_passes_neither_jams_nor_drops_out(air: dict[str, Any], keys: dict[str, Any]) -> None:
    tables = panel_job("black cherry", **keys, **air)
    fates = _fates(tables, air)
    jams = min(play for play, _ in fates) < -1e-6
    drops = min(reach for _, reach in fates) < -1e-6
    said = {finding.check: finding.level for finding in found(tables)}
    assert (said.get("panel-jam", Level.OK).rank >= Level.WARN.rank) is jams or abs(min(p for p, _ in fates)) < 1e-6
    if said.get("panel-hold", Level.OK) is not Level.STOP:
        assert not drops
    if drops:
        assert said["panel-hold"] is Level.STOP


@given(air=airs(), keys=panels)
def test_a_panel_made_as_advised_lives_through_the_year(air: dict[str, Any], keys: dict[str, Any]) -> None:
    tables = panel_job("black cherry", **{**keys, "glued": "all round"}, **air)
    for finding in found(tables, "panel-glued"):
        if finding.changes:
            made = applied(tables, finding.changes)
            made["panel"][0] = {
                key: float(value.removesuffix(" mm")) if isinstance(value, str) and value.endswith(" mm") else value
                for key, value in made["panel"][0].items()
            }
            width = made["board"][0]["width"]
            made["board"][0]["width"] = float(str(width).removesuffix(" mm"))
            fates = _fates(made, air)
            assert min(play for play, _ in fates) >= -1e-6
            assert min(reach for _, reach in fates) >= -1e-6


def test_a_panel_that_no_groove_holds_is_not_advised_into_one() -> None:
    wide = loaded(panel_job("hard maple", width=1500, groove=6, play=3, home={"humidity": [15, 90]}))
    (panel,) = wide.panels
    swing = panel.swing(wide.shop)
    assert swing is not None
    assert well_held(panel, swing) is None
    (jam,) = found(panel_job("hard maple", width=1500, groove=6, play=3, home={"humidity": [15, 90]}), "panel-jam")
    assert "muntin" in jam.fix
    assert jam.changes == ()


@given(air=airs(), keys=panels)
def test_what_is_advised_fits_the_frame_that_is_there(air: dict[str, Any], keys: dict[str, Any]) -> None:
    """Between the frame's edges nothing changes: deeper grooves lie further apart, and the panel is made to suit."""
    job = loaded(panel_job("black cherry", **keys, **air))
    (panel,) = job.panels
    swing = panel.swing(job.shop)
    assert swing is not None
    better = well_held(panel, swing)
    if better is not None:
        assert better.groove_mm is not None
        assert better.play_mm is not None
        inside = better.board.width_mm + better.play_mm - 2 * better.groove_mm
        assert inside == pytest.approx(keys["width"] + keys["play"] - 2 * keys["groove"])


def test_held_in_its_middle_it_goes_away_from_both_grooves_alike() -> None:
    (panel,) = loaded(panel_job(groove=8, play=4)).panels
    by_three_mm = 3 / panel.board.width_mm
    swing = Swing(shrinks_share=by_three_mm, grows_share=by_three_mm, year_share=by_three_mm)
    assert panel.hold_mm(swing) == pytest.approx(1)
    assert replace(panel, glued=Glued.MIDDLE).hold_mm(swing) == pytest.approx(4.5)
    assert panel.left_mm(swing) == pytest.approx(1)
    assert loudest(panel_job(groove=8, play=4, home={"humidity": [40, 50]})) is Level.OK
