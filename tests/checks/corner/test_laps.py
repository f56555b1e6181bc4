"""Laps: the nearest that passes, and what is said where none does."""

from __future__ import annotations

import pytest

from dovelayout.checks.corner.laps import FRONT, LAP, LAP_SHARE, SOCKET, measure_laps
from dovelayout.checks.finding import Level
from tests.jobs import corner_job, findings, level, loaded, values_of

BASE = {"joint": "half_blind", "tail_count": 4, "pin": 8, "half_pin": 8}


@pytest.mark.parametrize(
    ("lap", "thickness", "check", "nearest"),
    [
        (2.0, 19, "lap", "lap 3 mm"),
        (3.1, 24, "lap", "lap 3.6 mm"),  # 15 %
        (12.0, 19, "socket-depth", "lap 9.5 mm"),  # up to half the board
        (8.5, 16, "socket-depth", "lap 8 mm"),
    ],
)
def test_the_nearest_lap_that_leaves_a_socket_is_offered(
    lap: float, thickness: float, check: str, nearest: str
) -> None:
    finding = next(f for f in findings(corner_job(**BASE, lap=lap, pin_thickness=thickness), check) if f.changes)
    assert finding.fix == nearest
    assert f"{values_of(finding)['lap']}" == nearest.removeprefix("lap ")


def test_a_board_too_thin_for_lap_and_socket_wants_a_thicker_one() -> None:
    """10 mm: 3 mm of lap and 8 of socket are 11."""
    thin = corner_job(**BASE, lap=2.8, pin_thickness=10)
    (lap,) = findings(thin, "lap")
    assert lap.fix == "lap 3 mm"  # 7 mm of socket are no new warning: 7.2 were too shallow as well
    (socket, front) = findings(thin, "socket-depth")
    assert socket.fix.startswith("a thicker pin board: 11 mm leaves 8 mm")
    assert (socket.measured, front.measured) == (7.2, 10)
    assert "a front of 16 mm or more" in front.fix
    assert level(corner_job(**BASE, lap=3, pin_thickness=11), "lap") is Level.OK
    assert [f.unit for f in findings(corner_job(**BASE, lap=3, pin_thickness=11), "socket-depth")] == ["mm thick"]


@pytest.mark.parametrize(
    ("grain", "expected"), [("straight", Level.OK), ("figured", Level.WARN), ("interlocked", Level.WARN)]
)
def test_grain_that_turns_under_a_lap_is_warned_of(grain: str, expected: Level) -> None:
    job = corner_job(**BASE, lap=6, pin_board={"grain": grain})
    assert level(job, "lap-grain") is expected
    assert level(corner_job(tail_count=4, pin=8, half_pin=8, pin_board={"grain": grain}), "lap-grain") is Level.OK


def test_what_layouts_are_compared_by_is_lap_share_socket_and_front() -> None:
    """5 mm of lap in 20 mm leave 15 mm of socket."""
    joint = loaded(corner_job(**BASE, lap=5, pin_thickness=20)).joints[0]
    measured = [(measure.rule, measure.value) for measure in measure_laps(joint)]
    assert measured == [(LAP, 5), (LAP_SHARE, 0.25), (SOCKET, 15), (FRONT, 20)]
    assert list(measure_laps(loaded(corner_job(tail_count=4, pin=8, half_pin=8)).joints[0])) == []
