"""A simulation of a joint, cut thousands of times: does it go home without paring, and how far does it gap?

Every cheek is cut fuller than its socket by the fit that is aimed at, plus what marking, sawing and transfer add: normal
errors, the maker's own (`Hand`). The tails are sawn from a template. The pins are either scribed from those very tails,
so that nothing but the transfer and the saw can part them, or marked from a template of their own, so that both boards'
marking and sawing count and the place of each template too. A joint finds its own middle along the board's width, unless
its edges are held flush, and goes home when no cheek is then fuller than the fullest that goes home. The worst gap is at
the cheek that is least full. Neither looks at how wood gives under one tight cheek beside loose ones: both are on the
safe side there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Hand
from dovelayout.texts import Texts
from dovelayout.words import capital

TEXTS = Texts("planning", "rehearsal")

CHANCE = 0.8
"""Share of joints that must go home at the fit to aim for: four of five (ours)."""
VISIBLE_GAP_MM = 0.1
"""A gap that is seen at arm's length; under it glue and time close it (common practice, no source)."""
CURVE_MM = (-0.3, 0.2)
"""Fits that the chances are drawn over: from a gap that anyone sees to a cheek that nobody drives home (ours)."""
CURVE_POINTS = 51
"""Fits in the curve, one each hundredth of a mm (ours)."""
_CHUNK = 2_000_000  # figures held at once: 16 MB

Floats = NDArray[np.float64]


class PinLines(StrEnum):
    """How the pins are marked."""

    SCRIBED = "scribed"
    TEMPLATE = "template"

    @property
    def words(self) -> str:
        """As said to people."""
        return TEXTS(f"method.{self}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """Results for one intended fit: the share of joints that go home unpared, and the mean of the worst gap."""

    fit_mm: float
    home_share: float
    worst_gap_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """Thousands of joints made by one method, aimed at one fit.

    `home_doubt` is the standard error of `home_share`. `worst_gap_mm` is the mean of the joints' worst gaps,
    `worst_gap_95_mm` what one joint of twenty exceeds. `step_mm` is the mean step at the boards' edges once the joint has
    found its middle. `sure` is the fit at which four of five go home, and the gap it costs.
    """

    method: PinLines
    fit_mm: float
    home_share: float
    home_doubt: float
    worst_gap_mm: float
    worst_gap_95_mm: float
    tight_cheeks: float
    step_mm: float
    sure: Aim
    curve: tuple[Aim, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rehearsal:
    """Both methods with one hand. `most_mm` is the fullest cheek that goes home."""

    hand: Hand
    joints: int
    seed: int
    most_mm: float
    outcomes: tuple[Outcome, ...]

    @property
    def better(self) -> PinLines | None:
        """The method that leaves the smaller gap where four of five joints go home; None: there is nothing in it."""
        first, second = sorted(self.outcomes, key=lambda outcome: outcome.sure.worst_gap_mm)
        close = second.sure.worst_gap_mm - first.sure.worst_gap_mm <= 0.02 * second.sure.worst_gap_mm + 1e-6
        return None if close else first.method


def cheek_counts(joint: CornerJoint) -> tuple[int, int]:
    """How many of a corner's cheeks press towards the far edge and how many towards the face edge: as many as tails,
    less those that stand at an edge without a half pin."""
    starts, ends = {pin.start_mm for pin in joint.pins}, {pin.end_mm for pin in joint.pins}
    near = sum(tail.start_mm in ends for tail in joint.tails)
    far = sum(tail.end_mm in starts for tail in joint.tails)
    return near, far


def rehearse(
    *, cheeks: tuple[int, int], fit_mm: float, most_mm: float, hand: Hand, joints: int, seed: int = 1
) -> Rehearsal:
    """Makes a joint so many times by each method. The same seed gives the same joints again."""
    most_rows = max(1, _CHUNK // (sum(cheeks) + 1))
    rows = [min(most_rows, joints - start) for start in range(0, joints, most_rows)]
    outcomes = []
    for number, method in enumerate(PinLines):
        rng = np.random.default_rng([seed, number])
        lots = [_seated(method, (row, *cheeks), hand, rng, room_mm=most_mm - fit_mm) for row in rows]
        outcomes.append(_outcome(method, lots, fit_mm=fit_mm, most_mm=most_mm))
    return Rehearsal(hand=hand, joints=joints, seed=seed, most_mm=most_mm, outcomes=tuple(outcomes))


def _outcome(method: PinLines, lots: Sequence[tuple[Floats, ...]], *, fit_mm: float, most_mm: float) -> Outcome:
    tightest, loosest, moved, tight = (np.concatenate(parts) for parts in zip(*lots, strict=True))

    def gaps(aim_mm: float) -> Floats:
        return np.maximum(0.0, -(loosest + aim_mm))

    def at(aim_mm: float) -> Aim:
        # a fuller aim moves every cheek alike, so one set of joints serves all aims
        home = float(np.mean(tightest + aim_mm <= most_mm + 1e-12))
        return Aim(fit_mm=aim_mm, home_share=home, worst_gap_mm=float(gaps(aim_mm).mean()))

    now = at(fit_mm)
    return Outcome(
        method=method,
        fit_mm=fit_mm,
        home_share=now.home_share,
        home_doubt=sqrt(now.home_share * (1 - now.home_share) / len(tightest)),
        worst_gap_mm=now.worst_gap_mm,
        worst_gap_95_mm=float(np.quantile(gaps(fit_mm), 0.95)),
        tight_cheeks=float(tight.mean()),
        step_mm=float(np.abs(moved).mean()),
        sure=at(most_mm - float(np.quantile(tightest, CHANCE))),
        curve=tuple(at(round(float(aim), 4)) for aim in np.linspace(*CURVE_MM, CURVE_POINTS)),
    )


def _seated(
    method: PinLines, shape: tuple[int, int, int], hand: Hand, rng: np.random.Generator, *, room_mm: float
) -> tuple[Floats, ...]:
    """So many joints aimed at a fit of 0, with so many cheeks on either side: each one's tightest and loosest cheek once it
    is seated, how far it moved to seat itself, and how many cheeks are fuller than `room_mm`."""
    joints, *cheeks = shape
    near, far = (_errors(method, (joints, count), hand, rng) for count in cheeks)
    if method is PinLines.TEMPLATE:
        # each template lies a little off along its board: one cheek of every tail tighter, the other looser
        apart = rng.normal(0.0, hand.placing_mm * sqrt(2), (joints, 1))
        near, far = near + apart, far - apart
    tight_near, tight_far = near.max(axis=1, initial=-np.inf), far.max(axis=1, initial=-np.inf)
    held = hand.held_flush or not all(cheeks)  # with cheeks on one side alone nothing pushes it back
    moved = np.zeros(joints) if held else (tight_far - tight_near) / 2
    every = np.concatenate([near + moved[:, None], far - moved[:, None]], axis=1)
    return every.max(axis=1), every.min(axis=1), moved, (every > room_mm).sum(axis=1).astype(np.float64)


def _errors(method: PinLines, shape: tuple[int, int], hand: Hand, rng: np.random.Generator) -> Floats:
    """How much fuller than aimed at each cheek came out."""
    if method is PinLines.SCRIBED:
        # the tails' own errors are in the lines scribed from them, and so drop out
        return rng.normal(0.0, hand.transfer_mm, shape) + rng.normal(0.0, hand.sawing_mm, shape)
    marked = rng.normal(0.0, hand.marking_mm, shape) - rng.normal(0.0, hand.marking_mm, shape)
    return marked + rng.normal(0.0, hand.sawing_mm, shape) - rng.normal(0.0, hand.sawing_mm, shape)


def words(rehearsal: Rehearsal) -> Iterator[str]:
    """The results, in sentences."""
    errors = {name: getattr(rehearsal.hand, f"{name}_mm") for name in ("marking", "sawing", "transfer", "placing")}
    whose = TEXTS("ours") if rehearsal.hand == Hand() else ""
    yield TEXTS("made", joints=rehearsal.joints, most=rehearsal.most_mm, whose=whose, **errors)
    for outcome in rehearsal.outcomes:
        share, sure = outcome.home_share, outcome.sure
        few = "hardly_any" if share < 0.005 else "nearly_all" if share > 0.995 else "of_a_hundred"
        gaps = {"worst": outcome.worst_gap_mm, "worst_95": outcome.worst_gap_95_mm, "gap": sure.worst_gap_mm}
        aim = TEXTS("full" if sure.fit_mm >= 0 else "clear", mm=abs(sure.fit_mm))
        home = TEXTS(few, percent=share * 100)
        yield TEXTS("outcome", method=capital(outcome.method.words), share=home, aim=aim, **gaps)
    better, other = sorted(rehearsal.outcomes, key=lambda outcome: outcome.method is not rehearsal.better)
    if rehearsal.better is None:
        yield TEXTS("even")
    else:
        less = 1 - better.sure.worst_gap_mm / other.sure.worst_gap_mm
        yield TEXTS("better", method=better.method.words, less=less)
