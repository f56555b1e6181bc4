"""Every limit on drawers: passes, speaks beyond it, holds its tongue at it; and every fix passes when it is applied."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from dovelayout.checks.finding import Level
from tests.drawer_jobs import drawer_job, found, loudest, made
from tests.jobs import applied, values_of

STEADY = {"humidity": [50, 50]}  # nothing moves: what is given is what is measured


LIP = {"front": "lipped"}
CASES: list[tuple[str, dict[str, Any], Level]] = [
    ("top-gap", {"top_gap": 0.3}, Level.OK),
    ("top-gap", {"top_gap": 0.29}, Level.WARN),
    ("top-gap", {"front_height": 109.95}, Level.WARN),  # at -0.25 mm
    ("top-gap", {"front_height": 109.96}, Level.STOP),
    ("reveal", {"top_gap": 3.2}, Level.OK),
    ("reveal", {"top_gap": 3.21}, Level.NOTE),
    ("side-gap", {"side_gap": 0.25}, Level.OK),
    ("side-gap", {"side_gap": 0.24}, Level.NOTE),
    ("side-gap", {"side_gap": 0.05}, Level.NOTE),
    ("side-gap", {"side_gap": 0.3, "bow": 0.25}, Level.OK),
    ("side-gap", {"side_gap": 0.3, "bow": 0.251}, Level.WARN),
    ("side-gap", {"side_gap": 0.3, "bow": 0.3}, Level.WARN),
    ("side-gap", {"side_gap": 0.3, "bow": 0.31}, Level.STOP),
    ("side-gap", {"side_gap": 2.0}, Level.OK),
    ("side-gap", {"side_gap": 2.01}, Level.WARN),
    ("lip-cover", {**LIP, "side_gap": 0.8}, Level.OK),
    ("lip-cover", {**LIP, "side_gap": 0.81}, Level.WARN),
    ("lip-cover", {**LIP, "side_gap": 0.5, "lip": {"overhang": 3, "thickness": 6}}, Level.OK),
    ("lip-cover", {**LIP, "side_gap": 0.5, "lip": {"overhang": 2.9, "thickness": 6}}, Level.WARN),
    ("lip-cover", {**LIP, "side_gap": 0.5, "lip": {"overhang": 1.0, "thickness": 6}}, Level.WARN),
    ("lip-cover", {**LIP, "side_gap": 0.5, "lip": {"overhang": 0.9, "thickness": 6}}, Level.STOP),
    ("behind-gap", {"side_length": 408.5}, Level.OK),  # lap 4.5 and bottom 6 past the back: 1 mm is left of 420
    ("behind-gap", {"side_length": 408.6}, Level.WARN),
    ("behind-gap", {"side_length": 409.5}, Level.WARN),
    ("behind-gap", {"side_length": 409.6}, Level.STOP),
    ("runner-length", {"runner_length": 419}, Level.OK),
    ("runner-length", {"runner_length": 419.1}, Level.WARN),
    ("runner-length", {"runner_length": 420}, Level.WARN),
    ("runner-length", {"runner_length": 420.1}, Level.STOP),
    ("racking", {"width": 450.8, "front_width": 450, "side_length": 295.5}, Level.OK),  # 300 mm long
    ("racking", {"width": 450.8, "front_width": 450.1, "side_length": 295.5}, Level.WARN),
    ("wide-bottom", {"width": 620, "depth": 500, "bottom_width": 600}, Level.OK),
    ("wide-bottom", {"width": 620, "depth": 500, "bottom_width": 600.1}, Level.NOTE),
    ("measured-twice", {"depth2": 419.5}, Level.OK),
    ("measured-twice", {"depth2": 419.4}, Level.WARN),
    ("measured-twice", {"height2": 113}, Level.WARN),
    ("measured-twice", {"height2": 113.1}, Level.STOP),
    ("cut-list", {"front_width": 399.9}, Level.OK),
    ("cut-list", {"front_width": 399.91}, Level.STOP),
    ("cut-list", {"side_gap": 0.05}, Level.OK),
    ("cut-list", {"side_gap": 0.049}, Level.STOP),
    ("cut-list", {"side_gap": 0.5, "back_width": 399.3}, Level.OK),  # the front is 399
    ("cut-list", {"side_gap": 0.5, "back_width": 399.31}, Level.STOP),
    ("cut-list", {"side_gap": 0.5, "back_width": 398.69}, Level.STOP),
    ("cut-list", {"top_gap": 1.7, "back_height": 92.0}, Level.OK),  # the side is 108, its groove ends at 16
    ("cut-list", {"top_gap": 1.7, "back_height": 92.1}, Level.STOP),
    ("cut-list", {"side_gap": 0.5, "bottom_width": 384.4}, Level.OK),  # 399 - 2 x 11.8 + 2 x 4.5
    ("cut-list", {"side_gap": 0.5, "bottom_width": 384.5}, Level.STOP),
    ("cut-list", {"side_gap": 0.5, "bottom_width": 378.4}, Level.OK),  # 6 mm of play: 1.5 mm are still in
    ("cut-list", {"side_gap": 0.5, "bottom_width": 378.3}, Level.STOP),
    ("cut-list", {"side_length": 400, "bottom_depth": 389.0}, Level.OK),  # flush with the back
    ("cut-list", {"side_length": 400, "bottom_depth": 388.9}, Level.STOP),
    ("cut-list", {"side_length": 409.5}, Level.OK),
    ("cut-list", {"side_length": 409.6}, Level.STOP),
]


@pytest.mark.parametrize(("check", "drawer", "expected"), CASES)
def test_limit(check: str, drawer: dict[str, Any], expected: Level) -> None:
    assert loudest(drawer_job(shop=STEADY, **drawer), check) is expected


def _held(moves: float) -> Level:
    """How loud a bottom is that is glued all round and moves about so much: as shallow as moves no more."""
    held: dict[str, Any] = {"shop": {"humidity": [30, 65]}, "bottom_glue": "all round"}
    job = drawer_job(**held)
    moves_mm = found(job, "bottom-held")[0].measured
    assert moves_mm is not None
    depth_mm = moves * made(job).board("bottom").width_mm / moves_mm
    shallow = {"side_length": round(depth_mm + 5, 1), "bottom_depth": round(depth_mm, 1)}
    return loudest(drawer_job(**held, **shallow), "bottom-held")


HELD = [
    (0.9, Level.OK),
    (0.99, Level.OK),
    (1.01, Level.NOTE),
    (1.49, Level.NOTE),
    (1.51, Level.WARN),
    (2.48, Level.WARN),
    (2.52, Level.STOP),
]


@pytest.mark.parametrize(("moves", "expected"), HELD)
def test_the_limit_of_a_bottom_that_is_held(moves: float, expected: Level) -> None:
    assert _held(moves) is expected


EXAMPLES = [partial(loudest, drawer_job(shop=STEADY, **drawer), check) for check, drawer, _ in CASES]
EXAMPLES += [partial(_held, moves) for moves, _ in HELD]


YEAR = {"humidity": [35, 70], "built_at": 40}
TROUBLED: list[tuple[str, dict[str, Any]]] = [
    ("top-gap", {"top_gap": 0.4}),
    ("top-gap", {"front_height": 109}),
    ("reveal", {"height": 260}),
    ("side-gap", {"side_gap": 0.1}),
    ("side-gap", {"side_gap": 0.1, "bow": 0.4}),
    ("side-gap", {"side_gap": 5}),
    ("side-gap", {"front_width": 399.85}),
    ("side-gap", {"front_width": 390}),
    ("side-gap", {"fit": "piston", "shop": STEADY}),
    ("lip-cover", {**LIP, "side_gap": 1.5}),
    ("lip-cover", {**LIP, "lip": {"overhang": 2, "thickness": 5}}),
    ("behind-gap", {"side_length": 409}),
    ("behind-gap", {"bottom_depth": 408}),
    ("runner-length", {"runner_length": 420}),
    ("racking", {"width": 914, "height": 150, "depth": 457}),
    ("wide-bottom", {"width": 914, "height": 150, "depth": 640}),
    ("bottom-held", {"bottom_glue": "all round"}),
    ("butted", {"corners": "butted"}),
    ("cut-list", {"corners": "butted", "front_width": 400}),
    ("cut-list", {"front_width": 410}),
    ("cut-list", {"side_gap": 0.04}),
    ("cut-list", {"front_height": 115}),
    ("cut-list", {"side_length": 430}),
    ("cut-list", {"back_width": 376}),
    ("cut-list", {"back_height": 100}),
    ("cut-list", {"bottom_width": 375}),
    ("cut-list", {"bottom_depth": 380}),
    ("groove-depth", {"groove": {"from_edge": 10, "width": 6, "depth": 7}}),
    ("groove-shows", {"groove": {"from_edge": 6, "width": 6, "depth": 4}, "half_pin": 8}),
    ("half-pin", {"half_pin": 2}),
    ("half-pin", {"back_half_pin": 1.5}),
    ("wide-tail", {"tail_count": 1}),
    ("wide-tail", {"back_tail_count": 1}),
    ("lap", {"lap": 2}),
    ("edge-tail", {"back_half_pin": 0}),
]


@pytest.mark.parametrize(("check", "drawer"), TROUBLED)
def test_every_fix_passes_when_it_is_applied(check: str, drawer: dict[str, Any]) -> None:
    job = drawer_job(**{"shop": YEAR, **drawer})
    findings = [finding for finding in found(job, check) if finding.changes]
    assert findings, f"{check} has nothing to apply"
    for finding in findings:
        assert finding.fix
        mended = applied(job, finding.changes)
        left = [
            one for one in found(mended, check) if one.where == finding.where and one.level.rank >= finding.level.rank
        ]
        assert left == []


NEARER: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    # worked out by hand: the gap of the fit, 0.5 mm, before a front of another kind
    ("reveal", {"shop": STEADY, "top_gap": 3.21}, {"top_gap": "0.5 mm"}),
    # a lap that is given goes with an inset front alone
    ("reveal", {"height": 150, "lap": 5}, dict.fromkeys(("front_rings", "side_rings", "back_rings"), "quarter")),
    # 0.25 mm are left of a gap that was set by hand
    ("side-gap", {"shop": STEADY, "side_gap": 0.1}, {"side_gap": "0.25 mm"}),
    # as high as its opening, it covers the edge by the 0.3 mm of its runners: 2.2 mm more, and a hair
    ("lip-cover", {**LIP, "shop": STEADY, "front_height": 110}, {"front_height": "112.2 mm"}),
]


@pytest.mark.parametrize(("check", "drawer", "nearest"), NEARER, ids=str)
def test_the_key_that_is_nearest_to_what_is_wrong_is_set(
    check: str, drawer: dict[str, Any], nearest: dict[str, Any]
) -> None:
    offered = [values_of(finding) for finding in found(drawer_job(**{"shop": YEAR, **drawer}), check)]
    assert nearest in offered


def test_an_unknown_air_is_said_once_for_all_drawers() -> None:
    job = drawer_job()
    del job["shop"]
    job["drawer"].append({**job["drawer"][0], "name": "e"})
    (finding,) = found(job, "seasons")
    assert finding.level is Level.NOTE
    assert "6 to 14 % moisture" in finding.message


def test_a_wood_whose_movement_is_not_known_is_named() -> None:
    job = drawer_job("bog oak")
    job["wood"] = [{"name": "bog oak", "kind": "hardwood", "mor_mpa": 90}]
    notes = found(job, "seasons")
    assert {finding.level for finding in notes} == {Level.NOTE}
    assert {"d, front (bog oak)", "d, side (bog oak)"} <= {finding.where.removeprefix("drawer ") for finding in notes}


def test_plywood_bottoms_ask_for_no_slot() -> None:
    assert made(drawer_job(bottom="plywood")).bottom.slot_mm == 0.0
    assert made(drawer_job()).bottom.slot_mm > 0.0


def test_a_count_that_suits_one_drawer_of_a_bank_is_not_written_into_all_of_them() -> None:
    bank = {"name": "row", "width": 400, "depth": 420, "height": 560, "count": 4, "rule": "geometric", "tail_count": 2}
    job = {"shop": YEAR, "drawers": {"species": "hard maple"}, "bank": [bank]}
    findings = found(job, "wide-tail")
    assert findings
    for finding in findings:
        assert finding.changes == ()
        assert finding.fix.startswith("every tail ")


@pytest.mark.parametrize(
    ("drawer", "words"),
    [
        # at least 0.05 mm at either side
        ({"front_width": 400}, "0.1 mm of side gaps is the least, so 0.1 mm are missing"),
        ({"front_width": 400.5}, "0.5 mm too much"),
    ],
)
def test_a_sum_that_does_not_come_out_says_by_how_much(drawer: dict[str, Any], words: str) -> None:
    (finding,) = found(drawer_job(shop=STEADY, **drawer), "cut-list")
    assert finding.message.endswith(f"; {words}")


def test_what_a_side_grows_is_told_apart_from_its_bow() -> None:
    (finding,) = found(drawer_job(shop=STEADY, side_gap=0.3, bow=0.31), "side-gap")
    assert "bows 0.31 mm outward, and it grows 0 mm thicker in the dampest month: -0.01 mm left" in finding.message


def test_the_air_behind_is_told_apart_for_the_dry_and_the_damp_month() -> None:
    """A plywood bottom stays, and the case's sides move by 420 mm of cherry: Table 13-5 0.00248, Table 4-2."""
    air = made(drawer_job(shop=YEAR, bottom="plywood", case_species="black cherry")).clearances
    assert air.behind_driest_mm == pytest.approx(air.behind_mm - 420 * 0.00248 * (7.8 - 6.9), abs=0.15)
    assert air.behind_dampest_mm == pytest.approx(air.behind_mm + 420 * 0.00248 * (13.1 - 7.8), abs=0.15)
    assert air.behind_least_mm == air.behind_driest_mm


def test_the_gap_over_an_inset_front_is_the_fronts_own() -> None:
    """Cherry over maple sides: the front shrinks less, and its gap is the one that shows."""
    fronts = {"shop": YEAR, "height": 150}
    of_maple, of_cherry = (
        made(drawer_job(**fronts, front_species=wood)).clearances for wood in ("hard maple", "black cherry")
    )
    assert of_cherry.top_mm == of_maple.top_mm  # in the damp, the sides decide how high it may be
    opens = [air.top_driest_mm - air.top_mm for air in (of_cherry, of_maple)]
    assert opens[0] / opens[1] == pytest.approx(0.00248 / 0.00353, rel=0.02)


def test_the_cases_wood_is_said_where_it_is_assumed() -> None:
    told, named = (made(drawer_job(**case)).assumed_case for case in ({}, {"case_species": "black walnut"}))
    assert told == "the case is taken as sugar maple, flat-sawn, since none is named"
    assert named == ""
    (behind,) = found(drawer_job(side_length=409.6, shop=STEADY), "behind-gap")
    assert behind.message.endswith(told)
