"""Troubles that makers of drawers have told of, and what the checks say before the first cut."""

from __future__ import annotations

import pytest

from dovelayout.checks.finding import Level
from tests.drawer_jobs import drawer_job, found, loudest, made
from tests.jobs import loaded, values_of

STEADY = {"humidity": [50, 50]}


def test_wide_shallow_chest_drawer_is_warned_of_cocking_and_offered_a_centre_guide() -> None:
    wide = drawer_job(width=914, height=150, depth=457)
    (finding,) = found(wide, "racking")
    assert finding.level is Level.WARN
    assert finding.measured is not None
    assert finding.measured == pytest.approx(2.0, abs=0.1)
    assert "centre guide" in finding.fix
    assert "muntin" in finding.fix
    assert loudest(drawer_job(width=914, height=150, depth=457, centre_guide=True), "racking") is Level.OK
    assert loudest(drawer_job(width=600, height=150, depth=450), "racking") is Level.OK


def test_solid_bottom_glued_all_round_stops_and_a_plywood_one_does_not() -> None:
    # a poplar bottom 229 mm across the grain, 30 to 65 % relative humidity: 3.8 mm
    box = {"shop": {"humidity": [30, 65]}, "width": 330, "height": 90, "depth": 252, "bottom_glue": "all round"}
    job = drawer_job("yellow poplar", **box)
    assert made(job).board("bottom").width_mm == pytest.approx(229, abs=1)
    (finding,) = found(job, "bottom-held")
    assert finding.level is Level.STOP
    assert finding.measured == pytest.approx(3.8, abs=0.15)
    assert loudest(drawer_job("yellow poplar", **box, bottom="plywood"), "bottom-held") is Level.OK


def test_maple_drawer_on_proud_runners_binds_at_the_top_within_a_year() -> None:
    year = {"humidity": [20, 45], "built_at": 20}
    box = {"shop": year, "height": 127, "front_height": 125}
    (proud,) = found(drawer_job(**box, runner=1.0), "top-gap")
    assert proud.level is Level.STOP
    assert "grows 1.79 mm" in proud.message  # 1.8
    (flush,) = found(drawer_job(**box, runner=0), "top-gap")
    assert flush.level is Level.WARN


def test_rail_is_pushed_out_by_a_runner_as_long_as_the_case_was_deep_when_it_was_built() -> None:
    # walnut case side of 508 mm, built at 60 %
    case = {"shop": {"humidity": [30, 65], "built_at": 60}, "case_species": "black walnut", "depth": 508}
    (finding,) = found(drawer_job(**case, runner_length=508), "runner-length")
    assert finding.level is Level.STOP
    assert loudest(drawer_job(**case, runner_length=498), "runner-length") is Level.OK


def test_drawers_fitted_in_april_stick_in_the_first_humid_week() -> None:
    summer = {"humidity": [40, 70], "built_at": 40}
    box = {"shop": summer, "height": 100.8, "runner": 0, "top_gap": 0.8}
    (flat,) = found(drawer_job(**box), "top-gap")
    assert flat.level is Level.STOP
    assert "grows 1.91 mm" in flat.message  # 1.9
    (quarter,) = found(drawer_job(**box, front_rings="quarter", side_rings="quarter"), "top-gap")
    assert quarter.level is Level.WARN
    assert "grows 0.89 mm" in quarter.message  # 0.9


def test_groove_that_runs_out_through_the_lowest_half_pin_warns_and_one_in_the_tail_is_hidden() -> None:
    # half pin 9 mm at its wide side, the groove 6.35 to 12.7 mm from the lower edge
    flare_mm = (20 - 4.5) / 6
    layout = {"slope": "1:6", "half_pin": 9 - flare_mm, "tail_count": 3, "pin": 5, "lap": 4.5}
    shows = drawer_job(**layout, groove={"from_edge": 6.35, "width": 6.35, "depth": 4.5, "ploughed": "after"})
    findings = found(shows, "groove-shows")
    assert {finding.level for finding in findings} == {Level.WARN}
    assert all("0.0-9.0 mm" in finding.message for finding in findings)
    assert all("half_pin" in values_of(finding) for finding in findings)  # the layout moves, not the bottom
    hidden = drawer_job(**layout, groove={"from_edge": 10, "width": 6, "depth": 4.5, "ploughed": "after"})
    assert loudest(hidden, "groove-shows") is Level.OK


def test_seven_thousandths_of_an_inch_at_a_side_is_a_piston_fit_and_ten_are_good() -> None:
    (finding,) = found(drawer_job(shop=STEADY, side_gap=0.18), "side-gap")
    assert finding.level is Level.NOTE
    assert "steady climate" in finding.message
    assert loudest(drawer_job(shop=STEADY, side_gap=0.25), "side-gap") is Level.OK


def test_sides_bowed_outward_stop_the_drawer_and_bowed_inward_are_pushed_straight() -> None:
    # 0.8 mm a side over 22 in: the box comes out 1.6 mm too wide
    (out,) = found(drawer_job(depth=559, bow=0.8, side_gap=0.8), "side-gap")
    assert out.level is Level.STOP
    assert loudest(drawer_job(depth=559, bow=0.8, side_gap=0.4), "side-gap") is Level.STOP
    assert loudest(drawer_job(depth=559, bow=-0.8, side_gap=0.8), "side-gap") is Level.OK


def test_front_cut_without_deducting_the_sides_stops_with_what_it_is_too_wide_by() -> None:
    # opening 400, sides of 12 butted to the ends of the front
    (finding,) = found(drawer_job(corners="butted", front_width=400), "cut-list")
    assert finding.level is Level.STOP
    assert finding.measured == pytest.approx(24, abs=0.2)
    assert "24 mm too much" in finding.message
    right = made(drawer_job(corners="butted"))
    gaps = 2 * right.clearances.side_mm
    assert right.board("front").length_mm == pytest.approx(400 - 2 * 12 - gaps)
    assert right.adds_up


def test_front_as_wide_as_its_opening_stops() -> None:
    (finding,) = found(drawer_job(front_width=400), "cut-list")
    assert finding.level is Level.STOP


def test_bottom_cut_to_the_inside_without_the_grooves_stops() -> None:
    right = made(drawer_job())
    inside_mm = right.width_mm - 2 * (12 - 0.2)  # pins are a shaving shorter than the sides are thick
    assert right.board("bottom").length_mm == pytest.approx(inside_mm + 2 * right.groove.depth_mm - 2, abs=0.1)
    (finding,) = found(drawer_job(bottom_width=inside_mm), "cut-list")
    assert finding.level is Level.STOP
    assert "short" in finding.message


def test_eighteen_drawers_that_begin_with_a_full_tail_are_warned_of() -> None:
    # fronts 216 mm high, no half pin at the edge
    tables = {
        "shop": {"humidity": [40, 60]},
        "drawers": {"species": "hard maple", "tail_count": 8, "pin": 2, "half_pin": 0},
        "bank": [{"name": "row", "width": 300, "depth": 400, "count": 18, "height": 18 * 219, "rail": 0}],
    }
    assert len(loaded(tables).drawers) == 18
    findings = found(tables, "edge-tail")
    assert {finding.level for finding in findings} == {Level.WARN}
    weak = {**tables, "drawers": {"species": "hard maple", "tail_count": 4, "pin": 12, "half_pin": 12 * 0.3}}
    assert loudest(weak, "half-pin") is Level.WARN


def test_a_drawer_has_four_oriented_corners_whose_sheets_can_not_be_taken_for_each_other() -> None:
    from dovelayout.drawing.book import job_sheets
    from dovelayout.drawing.style import Style
    from dovelayout.joints.board import End

    job = loaded(drawer_job())
    ends = {joint.name: (joint.spec.tails.label, joint.spec.pins.label) for joint in job.joints}
    assert ends == {
        "d front left": ("d side (left), right end", "d front, left end"),
        "d front right": ("d side (right), left end", "d front, right end"),
        "d back right": ("d side (right), right end", "d back, left end"),
        "d back left": ("d side (left), left end", "d back, right end"),
    }
    assert {joint.spec.tails.end for joint in job.joints} == set(End)
    titles = [
        sheet.title
        for sheet in job_sheets(job.joints, Style(job=job.title, nest=False), job.paper)
        if "Corner" in sheet.title
    ]
    assert len(titles) == len(set(titles)) == 8
    assert {joint.name: joint.kind for joint in job.joints} == {
        "d front left": "half_blind",
        "d front right": "half_blind",
        "d back right": "through",
        "d back left": "through",
    }


def test_opening_measured_twice_names_both_measures_where_they_differ() -> None:
    (finding,) = found(drawer_job(width2=399.2), "measured-twice")
    assert finding.level is Level.WARN
    assert "400 mm" in finding.message
    assert "399.2 mm" in finding.message
    assert loudest(drawer_job(width2=399.5), "measured-twice") is Level.OK
    assert loudest(drawer_job(width2=390), "measured-twice") is Level.STOP
