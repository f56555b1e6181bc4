"""Troubles that makers report, and what should have been said before the first saw cut. Common practice, no source."""

from __future__ import annotations

import pytest

from dovelayout.checks.finding import Level
from tests.jobs import corner_job, findings, level


def test_tails_at_the_edge_of_eighteen_drawer_fronts_warn() -> None:
    # fronts 216 mm high, eight tails of about 25.4 mm, a full tail at either edge
    pin_mm = (216 - 8 * 25.4) / 7
    edge = corner_job("hard maple", width=216, thickness=16, tail_count=8, pin=pin_mm, half_pin=0)
    assert level(edge, "edge-tail") is Level.WARN
    assert any("cupping" in finding.message for finding in findings(edge, "edge-tail"))


@pytest.mark.parametrize(("share", "expected"), [(0.3, Level.WARN), (0.5, Level.OK)])
def test_end_pin_under_a_third_of_a_full_pin_warns(share: float, expected: Level) -> None:
    job = corner_job("hard maple", width=216, thickness=16, tail_count=6, pin=14, half_pin=14 * share)
    assert level(job, "half-pin") is expected


def test_kerf_wide_pins_warn_of_access_and_say_that_their_strength_is_disputed() -> None:
    oak = corner_job("white oak", pin_thickness=19, thickness=9.5, slope="1:7", tail_count=5, pin=0.7, half_pin=6)
    assert level(oak, "knife-access") is Level.WARN
    assert level(oak, "kerf-pin") is Level.NOTE
    assert "disputed" in findings(oak, "kerf-pin")[0].message
    assert level(oak, "thin-pin") is Level.OK  # the oak beside them holds
    pine = corner_job(
        "eastern white pine", pin_thickness=19, thickness=9.5, slope="1:7", tail_count=5, pin=0.7, half_pin=6
    )
    assert level(pine, "thin-pin") is Level.WARN


def test_nothing_fits_between_the_tails_to_mark_the_pins() -> None:
    job = corner_job("cherry", thickness=9.5, tail_count=5, pin=1.0, half_pin=6, shop={"knife": 1.2})
    (finding,) = findings(job, "knife-access")
    assert finding.level is Level.WARN
    assert "saw itself" in finding.message


def test_layout_line_over_a_groove_that_is_already_ploughed_stops() -> None:
    job = corner_job(
        "hard maple", tails_at=[[6, 60], [70, 130], [140, 192]], groove={"from_edge": 4, "width": 4, "depth": 5}
    )
    (finding,) = findings(job, "groove-shows")
    assert finding.level is Level.STOP
    assert "air" in finding.message


def test_groove_that_runs_out_through_the_half_pin_warns_and_one_inside_a_tail_does_not() -> None:
    # bottom half pin 9 mm at its wide side; groove 6.35 to 12.7 mm from the edge, ploughed after the joint is cut
    thickness, n = 12.0, 6
    tails = [[9 - thickness / n, 50], [58, 100]]
    shows = corner_job(
        "white oak",
        width=108,
        thickness=thickness,
        slope="1:6",
        tails_at=tails,
        groove={"from_edge": 6.35, "width": 6.35, "depth": 4, "ploughed": "after"},
    )
    (finding,) = findings(shows, "groove-shows")
    assert finding.level is Level.WARN
    assert "0.0-9.0" in finding.message
    hidden = corner_job(
        "white oak",
        width=108,
        thickness=thickness,
        slope="1:6",
        tails_at=tails,
        groove={"from_edge": 10, "width": 6, "depth": 4, "ploughed": "after"},
    )
    assert level(hidden, "groove-shows") is Level.OK


def test_small_pins_in_half_inch_plywood_stop_and_in_solid_wood_do_not() -> None:
    ply = corner_job("birch plywood", thickness=12.7, tail_count=4, pin=3, half_pin=6)
    assert level(ply, "plywood") is Level.STOP
    solid = corner_job("yellow birch", thickness=12.7, tail_count=4, pin=5, half_pin=6)
    assert level(solid, "plywood") is Level.OK


def test_wide_tails_at_a_chests_free_top_edge_warn() -> None:
    # a cherry wall 457 mm wide with the tails 76 mm apart
    job = corner_job("black cherry", width=457, tail_count=6, pin=8, half_pin=8)
    assert level(job, "wide-tail") is Level.WARN


def test_grooved_side_under_ten_millimetres_is_pointed_to_slips() -> None:
    job = corner_job("white oak", thickness=8, tail_count=4, groove={"from_edge": 16, "width": 4, "depth": 3})
    assert any("slips" in finding.message for finding in findings(job, "groove-depth"))


def test_lap_of_a_quarter_inch_in_figured_wood_warns_of_the_grain_and_not_of_the_lap() -> None:
    # drawer fronts 19.05 mm thick, lap 6.35: half of the sockets broke through where the grain turned
    front = {"joint": "half_blind", "thickness": 12, "pin_thickness": 19.05, "lap": 6.35, "tail_count": 5}
    figured = corner_job("black walnut", **front, pin_board={"grain": "interlocked"})
    assert level(figured, "lap") is Level.OK
    (finding,) = findings(figured, "lap-grain")
    assert finding.level is Level.WARN
    assert "backing block" in finding.fix
    straight = corner_job("black walnut", **front)
    assert level(straight, "lap-grain") is Level.OK
    assert level(straight, "lap") is Level.OK


@pytest.mark.parametrize("nest", [True, False])
def test_four_corners_of_a_drawer_are_eight_templates_that_can_not_be_taken_for_each_other(nest: bool) -> None:
    # a back was once transferred mirror-image: no template may serve two hands
    from pathlib import Path

    from dovelayout.drawing.book import job_sheets
    from dovelayout.drawing.primitives import Text
    from dovelayout.drawing.style import Style
    from dovelayout.job.reader import read_job

    job = read_job(Path(__file__).parents[2] / "samples" / "button-drawer.toml")
    sheets = job_sheets(job.joints, Style(job=job.title, nest=nest), job.paper)
    words = [item.text for sheet in sheets for item in sheet.items if isinstance(item, Text)]
    names = [word for word in words if word.startswith("Corner ") and (": tails on " in word or ": pins on " in word)]
    assert len(names) == len(set(names)) == 8  # tails and pins of four corners
    assert {"side.left", "side.right"} <= {name.rsplit(" on ", 1)[1] for name in names}
