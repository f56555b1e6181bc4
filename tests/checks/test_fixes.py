"""A fix that is offered passes when it is applied: the change goes into the job's own tables, the job is read again,
and the same check no longer speaks as loudly."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.checks.finding import Finding, Level
from dovelayout.errors import DovelayoutError
from tests.jobs import applied, corner_job, findings


def _still_speaks(job: dict[str, Any], finding: Finding) -> bool:
    again = findings(applied(job, finding.changes), finding.check)
    return any(
        other.level.rank >= finding.level.rank and other.unit == finding.unit and other.measured is not None
        for other in again
    )


JOBS: dict[str, dict[str, Any]] = {
    "slope too steep": corner_job(slope="1:4"),
    "run-out": corner_job(slope="1:6", board={"runout": "1:15"}),
    "little hold": corner_job("eastern white pine", slope="1:9"),
    "no hold": corner_job(slope="1:14"),
    "thin pins": corner_job("eastern white pine", tail_count=6, pin=1, half_pin=8),
    "thin pins, told where": corner_job(
        "eastern white pine", tails_at=[[10, 50], [50.8, 95], [95.8, 140], [140.8, 190]]
    ),
    "weak half pins": corner_job("eastern white pine", tail_count=5, pin=6, half_pin=2),
    "weak half pin, told where": corner_job("eastern white pine", tails_at=[[2, 50], [60, 110], [120, 190]]),
    "tails at the edge": corner_job(tail_count=5, pin=8, half_pin=0),
    "tails at the edge, told where": corner_job(tails_at=[[0, 40], [50, 90], [100, 150], [160, 200]]),
    "narrow necks": corner_job(tail_count=10, pin=3, half_pin=5),
    "wide tails": corner_job(tail_count=2, pin=6, half_pin=8),
    "groove in a half pin": corner_job(
        tail_count=5, pin=6, half_pin=14, groove={"from_edge": 8, "width": 5, "depth": 5}
    ),
    "line over a ploughed groove": corner_job(
        tail_count=5, pin=6, half_pin=6, groove={"from_edge": 8, "width": 6, "depth": 6}
    ),
    "groove through a pin, told where": corner_job(
        tails_at=[[8, 40], [50, 95], [105, 190]], groove={"from_edge": 36, "width": 6, "depth": 5}
    ),
    "deep groove": corner_job(tail_count=5, pin=6, half_pin=8, groove={"from_edge": 16, "width": 6, "depth": 9}),
    "plywood": corner_job("plywood", tail_count=4, pin=3, half_pin=5),
    "out of square": corner_job(board={"out_of_square": 2.5}),
    "wide carcase": corner_job(width=480, tail_count=9, pin=6, half_pin=10),
    "thin fingers of a comb": corner_job("eastern white pine", joint="comb", slope=None, tail_count=22, thickness=12),
    "wide fingers of a comb": corner_job(joint="comb", slope=None, tail_count=1),
    "thin lap": corner_job(joint="half_blind", lap=2, tail_count=4, pin=6, half_pin=8),
    "lap thin for its board": corner_job(
        joint="half_blind", lap=3.1, pin_thickness=24, tail_count=4, pin=6, half_pin=8
    ),
    "shallow sockets": corner_job(joint="half_blind", lap=11, thickness=17, tail_count=4, pin=6, half_pin=8),
    "boards of two widths": corner_job(pin_board={"width": 203}, tail_count=5, pin=6, half_pin=8),
    # a small walnut box in inches: the printed place for the groove has to pass as it is printed
    "groove moved": corner_job(
        "black walnut",
        width=107.95,
        thickness=12.7,
        pin_thickness=15.875,
        slope="1:7",
        tail_count=3,
        pin=4.7625,
        half_pin=6.35,
        groove={"from_edge": 3.175, "width": 6.35, "depth": 4.0},
    ),
    "no chisel goes in": corner_job(tail_count=5, pin=2, half_pin=8, shop={"chisels": [6]}),
}


@pytest.mark.parametrize("name", JOBS)
def test_offered_fix_passes_when_applied(name: str) -> None:
    job = JOBS[name]
    found = [finding for finding in findings(job) if finding.changes]
    assert found, "the job was chosen because something can be mended in it"
    for finding in found:
        assert finding.fix
        assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"


def test_no_fix_is_invented_where_none_exists() -> None:
    (finding,) = [f for f in findings(corner_job("balsa", slope="1:6"), "short-grain") if f.level is Level.STOP]
    assert finding.changes == ()
    assert "take a stronger one" in finding.fix


corners = st.fixed_dictionaries(
    {
        "species": st.sampled_from(["eastern white pine", "black cherry", "hard maple", "balsa"]),
        "width": st.floats(60, 400),
        "thickness": st.floats(6, 30),
        "pin_thickness": st.floats(6, 30),
        "slope": st.sampled_from(["1:4", "1:5", "1:6", "1:8", "1:10", "1:13"]),
        "tail_count": st.integers(1, 12),
        "pin": st.floats(0.6, 15),
        "half_pin": st.floats(0, 20),
        "groove": st.none()
        | st.fixed_dictionaries({"from_edge": st.floats(1, 30), "width": st.floats(3, 10), "depth": st.floats(2, 5)}),
    }
)


@settings(max_examples=150)
@given(corners)
def test_offered_fix_passes_for_any_corner(keys: dict[str, Any]) -> None:
    job = corner_job(**{key: value for key, value in keys.items() if value is not None})
    try:
        found = findings(job)
    except DovelayoutError:
        return  # a layout that can't be; its own tests look at what is said
    for finding in found:
        if finding.changes:
            assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"
