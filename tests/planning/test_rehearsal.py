"""Rehearsed joints against what can be worked out without a simulation.

Order statistics and half-normal means are textbook probability; the standard normal is the standard library's
(`statistics.NormalDist`), the integrals a plain sum here. Sampling: 40 000 joints, so four standard errors are under 1 %.
"""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.joints.corner import CornerJoint
from dovelayout.planning.rehearsal import Outcome, PinLines, Rehearsal, cheek_counts, rehearse, words
from dovelayout.shop import Hand
from tests.jobs import corner_job, loaded
from tests.strategies import corner_joints

PERFECT = Hand(marking_mm=0, sawing_mm=0, transfer_mm=0, placing_mm=0)
MANY = 40_000
PHI = NormalDist().cdf


def made(method: PinLines, hand: Hand, *, tails: int = 1, fit_mm: float = 0.0, most_mm: float = 0.0) -> Outcome:
    found = rehearse(cheeks=(tails, tails), fit_mm=fit_mm, most_mm=most_mm, hand=hand, joints=MANY)
    return next(outcome for outcome in found.outcomes if outcome.method is method)


def mean_of_positive(survives: object, reach: float) -> float:
    """Mean of a quantity that is never below 0, from the chance that it exceeds x: a sum of midpoints."""
    steps = 20_000
    return sum(survives((n + 0.5) * reach / steps) for n in range(steps)) * reach / steps  # type: ignore[operator]


@pytest.mark.parametrize("method", PinLines)
@pytest.mark.parametrize("tails", [1, 7])
def test_without_error_there_is_no_gap_and_all_go_home_or_none(method: PinLines, tails: int) -> None:
    home = made(method, PERFECT, tails=tails, fit_mm=0.05, most_mm=0.05)
    assert (home.home_share, home.worst_gap_mm, home.worst_gap_95_mm, home.step_mm, home.tight_cheeks) == (
        1,
        0,
        0,
        0,
        0,
    )
    stuck = made(method, PERFECT, tails=tails, fit_mm=0.06, most_mm=0.05)
    assert (stuck.home_share, stuck.worst_gap_mm, stuck.tight_cheeks) == (0, 0, 2 * tails)
    clear = made(method, PERFECT, tails=tails, fit_mm=-0.1, most_mm=0.05)
    assert (clear.home_share, clear.worst_gap_mm) == (1, pytest.approx(0.1))


@pytest.mark.parametrize("error", ["sawing_mm", "transfer_mm"])
def test_one_scribed_tail_with_one_error_gaps_like_half_a_normal_curve(error: str) -> None:
    # both cheeks share the mean of two errors, N(0, s / sqrt 2): half of all joints gap, by s / sqrt(2) / sqrt(2 pi)
    s = 0.1
    found = made(PinLines.SCRIBED, replace(PERFECT, **{error: s}))
    assert found.home_share == pytest.approx(0.5, abs=0.01)
    assert found.worst_gap_mm == pytest.approx(s / math.sqrt(2) / math.sqrt(2 * math.pi), rel=0.02)
    # 95 %: the normal's own quantile
    assert found.worst_gap_95_mm == pytest.approx(NormalDist(0, s / math.sqrt(2)).inv_cdf(0.95), rel=0.03)


@pytest.mark.parametrize(("tails", "fit_mm", "most_mm"), [(1, 0, 0.05), (5, -0.05, 0.08), (10, 0.02, 0.2)])
def test_held_flush_the_tightest_and_loosest_of_n_cheeks_are_normal_extremes(
    tails: int, fit_mm: float, most_mm: float
) -> None:
    s, n = 0.08, 2 * tails
    hand = replace(PERFECT, sawing_mm=s, held_flush=True)
    found = made(PinLines.SCRIBED, hand, tails=tails, fit_mm=fit_mm, most_mm=most_mm)
    assert found.home_share == pytest.approx(PHI((most_mm - fit_mm) / s) ** n, abs=0.011)
    gap = mean_of_positive(lambda x: 1 - PHI((x + fit_mm) / s) ** n, 8 * s)
    assert found.worst_gap_mm == pytest.approx(gap, rel=0.02)
    assert found.step_mm == 0


def test_a_misplaced_template_steps_the_edges_and_opens_no_cheek_unless_they_are_held() -> None:
    s = 0.12
    hand = replace(PERFECT, placing_mm=s)
    free = made(PinLines.TEMPLATE, hand, tails=5)
    assert (free.home_share, free.worst_gap_mm) == (1, pytest.approx(0, abs=1e-12))
    # two templates, each off by N(0, s): the step is half-normal with s sqrt 2
    assert free.step_mm == pytest.approx(s * math.sqrt(2) * math.sqrt(2 / math.pi), rel=0.02)
    held = made(PinLines.TEMPLATE, replace(hand, held_flush=True), tails=5, most_mm=0.1)
    assert held.home_share == pytest.approx(2 * PHI(0.1 / (s * math.sqrt(2))) - 1, abs=0.011)
    assert held.worst_gap_mm == pytest.approx(s * math.sqrt(2) * math.sqrt(2 / math.pi), rel=0.02)
    # scribing doesn't know where a template lay
    assert made(PinLines.SCRIBED, hand, tails=5).step_mm == 0


def test_two_templates_carry_the_marking_of_both_boards_and_scribing_that_of_neither() -> None:
    s = 0.1
    hand = replace(PERFECT, marking_mm=s, held_flush=True)
    assert made(PinLines.SCRIBED, hand, tails=3).worst_gap_mm == 0
    found = made(PinLines.TEMPLATE, hand, tails=3)
    gap = mean_of_positive(lambda x: 1 - PHI(x / (s * math.sqrt(2))) ** 6, 8 * s)
    assert found.worst_gap_mm == pytest.approx(gap, rel=0.02)


@pytest.mark.parametrize("tails", [1, 4])
def test_a_joint_that_finds_its_middle_is_as_tight_as_the_mean_of_both_sides_tightest(tails: int) -> None:
    """P(home) by a sum over the two sides' extremes, each of n normals."""
    s, most_mm = 0.1, 0.07
    found = made(PinLines.SCRIBED, replace(PERFECT, sawing_mm=s), tails=tails, most_mm=most_mm)
    at = np.linspace(-6 * s, 6 * s, 4001)
    normal = np.array([PHI(x / s) for x in at])
    extreme = normal**tails
    density = np.gradient(extreme, at)
    other = np.interp(2 * most_mm - at, at, extreme, left=0, right=1)
    assert found.home_share == pytest.approx(float(np.trapezoid(density * other, at)), abs=0.011)


def test_the_same_seed_makes_the_same_joints_and_another_others() -> None:
    keys = {"cheeks": (5, 5), "fit_mm": 0.03, "most_mm": 0.06, "hand": Hand(), "joints": 5000}
    one, again = (rehearse(**keys, seed=7) for _ in range(2))  # type: ignore[arg-type]
    assert one == again
    assert one != rehearse(**keys, seed=8)  # type: ignore[arg-type]


hands = st.builds(
    Hand,
    marking_mm=st.floats(0.01, 0.3),
    sawing_mm=st.floats(0.01, 0.3),
    transfer_mm=st.floats(0.01, 0.3),
    placing_mm=st.floats(0.01, 0.3),
    held_flush=st.booleans(),
)


def twice(hand: Hand) -> Hand:
    return replace(
        hand,
        marking_mm=2 * hand.marking_mm,
        sawing_mm=2 * hand.sawing_mm,
        transfer_mm=2 * hand.transfer_mm,
        placing_mm=2 * hand.placing_mm,
    )


def small(hand: Hand, **keys: float) -> Rehearsal:
    return rehearse(cheeks=(4, 3), hand=hand, joints=400, **{"fit_mm": 0.0, "most_mm": 0.0, **keys})  # type: ignore[arg-type]


@given(hands)
@settings(max_examples=40)
def test_twice_the_error_is_twice_the_gap(hand: Hand) -> None:
    for once, doubled in zip(small(hand).outcomes, small(twice(hand)).outcomes, strict=True):
        assert doubled.worst_gap_mm == pytest.approx(2 * once.worst_gap_mm)
        assert doubled.step_mm == pytest.approx(2 * once.step_mm)
        assert doubled.home_share == once.home_share


@given(hands, st.floats(-0.2, 0.2), st.floats(0, 0.2))
@settings(max_examples=40)
def test_the_fuller_the_aim_the_fewer_go_home_and_the_smaller_the_gap(
    hand: Hand, fit_mm: float, most_mm: float
) -> None:
    found = small(hand, fit_mm=fit_mm, most_mm=most_mm)
    for outcome in found.outcomes:
        homes = [point.home_share for point in outcome.curve]
        gaps = [point.worst_gap_mm for point in outcome.curve]
        assert homes == sorted(homes, reverse=True)
        assert gaps == sorted(gaps, reverse=True)
        assert outcome.sure.home_share == pytest.approx(0.8, abs=0.01)
    assert all(words(found))


def test_scribing_wins_for_a_hand_as_we_think_of_it_and_loses_for_one_that_scribes_badly() -> None:
    usual = rehearse(cheeks=(5, 5), fit_mm=0.0, most_mm=0.05, hand=Hand(), joints=4000)
    assert usual.better is PinLines.SCRIBED
    clumsy = rehearse(cheeks=(5, 5), fit_mm=0.0, most_mm=0.05, hand=Hand(transfer_mm=0.5), joints=4000)
    assert clumsy.better is PinLines.TEMPLATE
    even = rehearse(cheeks=(5, 5), fit_mm=0.0, most_mm=0.05, hand=PERFECT, joints=400)
    assert even.better is None
    assert "nothing between" in tuple(words(even))[-1]


@given(corner_joints())
def test_as_many_cheeks_on_either_side_as_tails_less_those_at_a_bare_edge(joint: CornerJoint) -> None:
    near, far = cheek_counts(joint)
    bare = 2 - len(joint.half_pins)
    assert near + far == 2 * len(joint.tails) - bare
    assert abs(near - far) <= 1


def test_a_tail_with_a_half_pin_on_one_side_alone_is_rehearsed_too() -> None:
    joint = loaded(corner_job(tails_at=[[0, 90]], width=100)).joints[0]
    assert cheek_counts(joint) == (0, 1)
    found = rehearse(cheeks=(0, 1), fit_mm=0.0, most_mm=0.0, hand=Hand(), joints=4000)
    assert all(0.4 < outcome.home_share < 0.6 for outcome in found.outcomes)
