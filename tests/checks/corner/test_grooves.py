"""Grooves at a corner: where they show and where not, and which boards have them."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from dovelayout.checks.finding import Finding, Level
from tests.jobs import applied, corner_job, findings, level, values_of

AFTER = {"depth": 5, "ploughed": "after"}
BEFORE = {"width": 6, "depth": 5, "ploughed": "before"}


def _only(check: str, **keys: Any) -> Finding:
    (finding,) = findings(corner_job(**keys), check)
    return finding


def test_without_half_pins_none_is_broken_by_a_groove_through_a_pin() -> None:
    finding = _only(
        "groove-shows", tails_at=[[0, 40], [50, 95], [105, 200]], groove={"from_edge": 41, "width": 6, **AFTER}
    )
    assert finding.level is Level.WARN
    assert "leaves a hole at the corner" in finding.message


def test_the_pins_that_a_groove_runs_through_are_named_by_their_inside_and_no_others() -> None:
    """A pin from 40 to 50 flares to 36.83 and 53.17 on the inside, and 6 mm of groove lie in it."""
    finding = _only(
        "groove-shows", tails_at=[[8, 40], [50, 95], [105, 190]], groove={"from_edge": 42, "width": 6, **AFTER}
    )
    assert "through a pin (36.8-53.2 mm) and" in finding.message
    assert (finding.measured, finding.limit) == (6.0, 0.0)


def test_a_groove_hidden_in_a_tail_is_stopped_where_the_tails_end_shows_and_nowhere_else() -> None:
    layout = {"tails_at": [[8, 60], [70, 190]], "groove": {"from_edge": 20, "width": 6, **AFTER}}
    (note,) = findings(corner_job(**layout), "stopped-groove")
    assert note.level is Level.NOTE
    assert "a tail of side" in note.message
    assert findings(corner_job(joint="half_blind", lap=5, **layout), "stopped-groove") == ()  # the lap covers it
    for joint in ({}, {"joint": "half_blind", "lap": 5}):
        assert findings(corner_job(**joint, **layout), "groove-shows") == ()


def test_a_tail_that_hides_a_groove_keeps_a_neck_that_holds() -> None:
    """0.6 of 19 mm: among the half pins that hide it those with thinner tails aren't offered."""
    for groove in range(8, 40):
        job = corner_job(tail_count=7, pin=8, half_pin=8, groove={"from_edge": groove, "width": 4, "depth": 5})
        assert level(job, "tail-neck") is Level.OK
        for finding in findings(job, "groove-shows"):
            assert finding.changes
            assert level(applied(job, finding.changes), "tail-neck") is Level.OK


def test_a_groove_clear_of_the_joint_is_no_matter() -> None:
    job = corner_job(covers=[20, 180], tails_at=[[30, 80], [95, 160]], groove={"from_edge": 8, "width": 6, **AFTER})
    assert findings(job, "stopped-groove") == ()
    assert level(job, "groove-shows") is Level.OK


@pytest.mark.parametrize(("from_edge", "expected"), [(4, Level.OK), (12, Level.WARN)])
def test_a_mitred_shoulder_hides_a_groove_inside_it(from_edge: float, expected: Level) -> None:
    job = corner_job(
        mitre={"face_edge": 14}, tails_at=[[24, 80], [95, 180]], groove={"from_edge": from_edge, "width": 6, **AFTER}
    )
    assert level(job, "groove-shows") is expected


def test_a_board_that_stops_above_the_groove_has_none() -> None:
    deep = {"from_edge": 8, "width": 6, "depth": 9, "ploughed": "after"}
    both = findings(corner_job(tail_count=5, pin=6, half_pin=8, groove=deep), "groove-depth")
    assert [f.where for f in both] == ["corner A, groove of side", "corner A, groove of top"]
    back = corner_job(pin_width=180, covers=[20, 200], tail_count=5, pin=6, half_pin=8, groove=deep)
    (finding,) = findings(back, "groove-depth")
    assert finding.where == "corner A, groove of side"


def _thin(thickness: float) -> Level:
    job = corner_job(
        thickness=thickness,
        slope="1:7",
        tail_count=5,
        pin=6,
        half_pin=8,
        groove={"from_edge": 16, "width": 4, "depth": 3},
    )
    return level(job, "groove-depth")


EXAMPLES = [partial(_thin, thickness) for thickness in (10.0, 9.9)]


@pytest.mark.parametrize(("thickness", "expected"), [(10.0, Level.OK), (9.9, Level.NOTE)])
def test_under_10_mm_slips_are_better_than_a_groove(thickness: float, expected: Level) -> None:
    assert _thin(thickness) is expected


def test_a_groove_is_made_as_deep_as_the_thinner_board_bears() -> None:
    """0.4 of 15 mm, though it is only too deep there."""
    job = corner_job(
        pin_thickness=15, tail_count=5, pin=6, half_pin=8, groove={"from_edge": 16, "width": 4, "depth": 7}
    )
    (finding,) = findings(job, "groove-depth")
    assert finding.where == "corner A, groove of top"
    assert values_of(finding)["groove"]["depth"] == "6 mm"


def test_in_thin_stock_a_line_leans_little_and_is_still_a_line() -> None:
    """6 mm at 1:8 flares by 0.75 mm."""
    job = corner_job(
        thickness=6,
        slope="1:8",
        tails_at=[[8, 40], [50, 95], [105, 190]],
        groove={"from_edge": 36, "width": 6, "depth": 2, "ploughed": "before"},
    )
    (finding,) = findings(job, "groove-shows")
    assert finding.level is Level.STOP
    assert finding.message.startswith("a layout line lands in the groove (tail line at 40.0 mm)")


@pytest.mark.parametrize(("ploughed", "expected"), [("before", Level.STOP), ("after", Level.WARN)])
def test_the_straight_line_of_a_comb_s_finger_is_a_line_too(ploughed: str, expected: Level) -> None:
    """Fingers of 99 / 11 = 9 mm: the cheek at 18 mm runs over a groove from 16 to 21."""
    comb = {"joint": "comb", "slope": None, "width": 99, "thickness": 12, "pin_thickness": 15, "tail_count": 5}
    finding = _only("groove-shows", **comb, groove={"from_edge": 16, "width": 5, "depth": 4, "ploughed": ploughed})
    assert finding.level is expected
    assert ("tail line at 18.0 mm" in finding.message) is (ploughed == "before")


def test_a_mitre_away_from_the_groove_lays_no_line_over_it() -> None:
    """Its edge is at 14 mm; the groove lies in a pin of 80 to 95 whose cheeks lean outward."""
    layout = {"mitre": {"face_edge": 14}, "tails_at": [[30, 80], [95, 180]]}
    finding = _only("groove-shows", **layout, groove={"from_edge": 85, "width": 5, "depth": 5})
    assert "runs out through a pin" in finding.message


# in 19 mm stock at 1:6 a tail leans by 3.17 mm a side
@pytest.mark.parametrize(
    ("keys", "groove", "nearest"),
    [
        # with half pins of h the first tail's neck ends at h + (184 - 2 h) / 3 - 3.17 = 58.17 + h / 3: 60.9 from h = 8.2 on
        ({"tail_count": 3, "pin": 8, "half_pin": 6}, {"from_edge": 57, "width": 3.9}, {"half_pin": "8.5 mm"}),
        # the neck starts at h + 3.17, below 12 mm; (146 - 2 x 8.5) / 7 - 6.33 = 12.1 mm of it are 0.64 of 19
        ({"tail_count": 7, "pin": 9, "half_pin": 10}, {"from_edge": 12, "width": 4}, {"half_pin": "8.5 mm"}),
        # 64.9 would take half pins of 20.5 mm, which are more than any; the neck of one tail less starts at 23.17
        (
            {"tail_count": 4, "pin": 8, "half_pin": 20},
            {"from_edge": 49, "width": 3.9},
            {"half_pin": "20 mm", "tail_count": 3},
        ),
    ],
)
def test_the_nearest_half_pin_that_hides_a_groove_is_offered(
    keys: dict[str, Any], groove: dict[str, Any], nearest: dict[str, Any]
) -> None:
    assert values_of(_only("groove-shows", **keys, groove={**groove, **AFTER})) == nearest


def test_where_no_tail_can_be_moved_over_it_the_groove_moves_to_the_nearest_one() -> None:
    """Necks from 11.17 to 56.83 and from 73.17 to 186.83: 6 mm of groove at 63 are 12.2 and 10.2 mm away from them."""
    finding = _only("groove-shows", tails_at=[[8, 60], [70, 190]], groove={"from_edge": 63, "width": 6, **AFTER})
    assert finding.fix == "the groove moved to 73.2 mm from the face edge (73.2 to 180.8 mm hides it)"
    assert values_of(finding)["groove"]["from_edge"] == "73.2 mm"


def test_a_tail_at_the_edge_of_what_the_joint_covers_has_no_line_there_and_no_pin() -> None:
    finding = _only(
        "groove-shows", covers=[20, 180], tails_at=[[20, 80], [95, 160]], groove={**BEFORE, "from_edge": 18}
    )
    assert finding.level is Level.WARN
    assert finding.message == "the groove runs out through the edge of the joint and leaves a hole at the corner"
