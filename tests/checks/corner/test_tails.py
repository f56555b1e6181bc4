"""Tails: what is offered where no count passes, and the free edge of a wide board."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.finding import Level
from tests.jobs import corner_job, findings, level


def test_a_layout_that_the_maker_set_out_is_told_the_widths_that_pass() -> None:
    """0.6 of 19 mm and twice the flare of 19/6; 3 times 19 mm, or 65 mm in thicker stock."""
    (narrow,) = findings(corner_job(tails_at=[[20, 34], [60, 100]]), "tail-neck")
    assert "at least 17.733 mm wide" in narrow.fix
    assert narrow.where == "corner A, tail 1"
    (wide,) = findings(corner_job(tails_at=[[20, 60], [80, 150]]), "wide-tail")
    assert "57 mm wide or less" in wide.fix
    assert wide.where == "corner A, tail 2"
    (wide,) = findings(corner_job(tails_at=[[20, 60], [80, 150]], thickness=24), "wide-tail")
    assert "65 mm wide or less" in wide.fix


# pins of 8 mm: middles at 64, 124, 184, 244; a pitch of 60 inside
PITCHES = [[10, 60], [68, 120], [128, 180], [188, 240]]


@pytest.mark.parametrize(
    ("width", "last", "expected"),
    [
        (300, 290, Level.NOTE),  # 64 at the face edge against 60
        (299.9, 290, Level.OK),  # no wide carcase
        (310, 300, Level.NOTE),
    ],
)
def test_the_edge_of_a_wide_board_wants_the_closer_tails(width: float, last: float, expected: Level) -> None:
    job = corner_job(width=width, tails_at=[*PITCHES, [248, last]])
    assert level(job, "edge-pitch") is expected


@pytest.mark.parametrize(("first", "end"), [(58, 305), (46, 312)])
def test_the_wider_of_the_two_edges_counts(first: float, end: float) -> None:
    """One edge is closer than the 60 mm inside, the other isn't, whichever it is."""
    shift = 64 - first - 4
    tails: list[list[Any]] = [
        [10, first],
        [first + 8, 120 - shift],
        [128 - shift, 180 - shift],
        [188 - shift, 240 - shift],
    ]
    job = corner_job(
        width=end - shift if end - shift >= 300 else 300, tails_at=[*tails, [248 - shift, end - shift - 10]]
    )
    (finding,) = findings(job, "edge-pitch")
    assert finding.changes == ()
    assert finding.fix == "first and last tail set closer"
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured > finding.limit * 1.02


@pytest.mark.parametrize(("first_mm", "expected"), [(61.19, Level.OK), (61.21, Level.NOTE)])
def test_an_edge_pitch_within_two_percent_of_the_others_is_even(first_mm: float, expected: Level) -> None:
    """60 mm inside: up to 61.2 mm at the edge is a matter of the rule, not of the layout."""
    shift = first_mm - 64
    tails = [[10, 60 + shift], *([a + shift, b + shift] for a, b in PITCHES[1:]), [248 + shift, 290]]
    assert level(corner_job(width=300, tails_at=tails), "edge-pitch") is expected
