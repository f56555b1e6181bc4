"""Two woods at a corner or in a housing: how much of them may be glued together."""

from __future__ import annotations

import pytest

from tests.divider_jobs import divider_job
from tests.jobs import corner_job, values_of
from tests.season_jobs import CHERRY, emc, found, grown

AIR = {"humidity": [30, 65]}
MAPLE = 0.00353
"""Hard maple across flat-sawn width, Table 13-5."""

APART = max(abs(grown(1, MAPLE, emc(a), emc(b)) - grown(1, CHERRY, emc(a), emc(b))) for a, b in ((30, 65), (65, 30)))


def test_corners_are_told_over_what_width_the_two_would_stay_together() -> None:
    (finding,) = found(corner_job(width=400, pin_species="hard maple", shop=AIR), "two-woods")
    assert f"at most {int(1.5 / APART)} mm glued together" in finding.fix
    assert finding.measured is not None
    assert abs(finding.measured - 400 * APART) < 0.001
    assert "over the 400 mm that they are glued together" in finding.message
    assert finding.changes == ()


def test_two_boards_of_one_wood_are_to_be_sawn_alike() -> None:
    (finding,) = found(corner_job(width=400, pin_board={"rings": "quarter"}, shop=AIR), "two-woods")
    assert values_of(finding) == {"rings": "flat"}
    assert finding.fix.startswith("top flat-sawn, or at most ")


def test_corners_of_the_same_two_boards_are_said_once_and_others_by_themselves() -> None:
    job = corner_job(width=400, pin_species="hard maple", shop=AIR)
    job["corner"].append({**job["corner"][0], "name": "B", "tails": "side.right", "pins": "top.left"})
    (finding,) = found(job, "two-woods")
    assert finding.where == "corners A, B, side and top"


def test_a_key_is_glued_at_the_front_alone() -> None:
    job = divider_job(shop=AIR, shelf={"species": "birch plywood"})
    (finding,) = found(job, "two-woods")
    assert values_of(finding) == {"glue_zone": "76 mm"}
    moves = max(abs(grown(1, CHERRY, emc(a), emc(b)) - 1) for a, b in ((30, 65), (65, 30)))
    assert finding.measured is not None
    assert abs(finding.measured - 300 * moves) < 0.001


def test_a_metered_board_is_named_with_its_moisture() -> None:
    job = corner_job(width=400, pin_species="hard maple", board={"moisture": 9}, shop=AIR)
    (finding,) = found(job, "two-woods")
    assert "side (black cherry, flat, metered at 9 %)" in finding.message
    assert "top (sugar maple, flat)" in finding.message


@pytest.mark.parametrize(("zone", "speaks"), [("76 mm", False), ("76.1 mm", True)])
def test_what_gives_is_glued_whatever_the_two_woods_do(zone: str, speaks: bool) -> None:
    """A year from 5 to 95 %, so that even 76 mm come more than 1.5 mm apart."""
    air = {"humidity": [5, 95]}
    job = divider_job(shop=air, shelf={"species": "birch plywood"}, glue_zone=zone)
    apart = max(abs(grown(1, CHERRY, emc(a), emc(b)) - 1) for a, b in ((5, 95), (95, 5)))
    assert 76 * apart > 1.5
    assert bool(found(job, "two-woods")) is speaks
