"""A second opinion on pins: the load at the tip that breaks one, and what a tight tail does to its neighbours.

The beam equation E I w'''' = q is integrated step by step (Runge and Kutta), the section by Gauss's points, and what bending,
squeezing and crushing share is found by halving. Elementary mechanics; the figures are typed from the Wood Handbook,
FPL-GTR-190: bending strength, stiffness along the grain and compression perpendicular from Table 5-3a, stiffness across
the grain from Table 5-1 (black cherry's and yellow-poplar's from memory), strength at an angle to the grain Eq 5-2 with the
constants of p. 5-30. That a half pin counts as a symmetrical trapezoid, that crushing starts at 1.2 x compression
perpendicular, and that a half pin's load is spread evenly: ours.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.checks.corner.pins import pin_load_n
from dovelayout.checks.corner.squeeze import springs_of, squeeze
from dovelayout.joints.board import Board, Rings
from dovelayout.joints.corner import CornerJoint, Pin, Tail
from dovelayout.wood.species import find_wood
from tests.strategies import half_blind_joints, lengths, through_joints


@dataclass(frozen=True, kw_only=True)
class Row:
    """A wood: MPa along the grain to break and to stretch it, MPa that dents it, its stiffness across as shares."""

    mor: float
    moe: float
    crush: float
    tangential: float
    radial: float


WOODS = {
    "black cherry": Row(mor=85, moe=10_300, crush=4.8, tangential=0.086, radial=0.197),
    "sugar maple": Row(mor=109, moe=12_600, crush=10.1, tangential=0.065, radial=0.132),
    "white oak": Row(mor=105, moe=12_300, crush=7.4, tangential=0.072, radial=0.163),
    "yellow poplar": Row(mor=70, moe=10_900, crush=3.4, tangential=0.043, radial=0.092),
}
STEPS = 8  # the integration is exact for a power of four, which is what an evenly loaded beam bends to


def second_moment(narrow_mm: float, wide_mm: float, high_mm: float) -> float:
    """Of a stack of strips as wide as the trapezoid is there, about its middle; four of Gauss's points are exact."""
    points, weights = np.polynomial.legendre.leggauss(4)
    widths = narrow_mm + (wide_mm - narrow_mm) * (points + 1) / 2
    return float(weights @ widths**3) * high_mm / 2 / 12


def bent(length_mm: float, stiffness: float, *, tip_n: float = 0.0, spread_n: float = 0.0) -> tuple[float, float]:
    """Deflection at the tip of a cantilever and bending moment at its root, from root to tip by Runge and Kutta.

    The state is deflection, slope, moment and shear; what the root has to hold comes from the balance of the whole beam.
    """

    def rates(state: np.ndarray) -> np.ndarray:
        _, slope, moment, shear = state
        return np.array([slope, moment / stiffness, -shear, -spread_n / length_mm])

    state = np.array([0.0, 0.0, tip_n * length_mm + spread_n * length_mm / 2, tip_n + spread_n])
    root, h = float(state[2]), length_mm / STEPS
    for _ in range(STEPS):
        k1 = rates(state)
        k2 = rates(state + h / 2 * k1)
        k3 = rates(state + h / 2 * k2)
        k4 = rates(state + h * k3)
        state = state + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    assert abs(state[2]) < 1e-9 * root  # the tip is free: no moment is left there, nor any shear but the load
    assert state[3] == pytest.approx(tip_n, abs=1e-9 * (tip_n + spread_n))
    return float(state[0]), root


def halved(rising: Callable[[float], float], wanted: float, high: float) -> float:
    """Where a rising function from 0 comes to a value."""
    low = 0.0
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return low


def share_left(runout_ratio: float | None) -> float:
    """Eq 5-2 for bending strength: Q/P = 0.10, n = 1.5; sine and cosine of 1:n from its triangle."""
    if runout_ratio is None:
        return 1.0
    hypotenuse = math.sqrt(1 + runout_ratio**2)
    left: float = 0.10 / ((1 / hypotenuse) ** 1.5 + 0.10 * (runout_ratio / hypotenuse) ** 1.5)
    return left


def breaking_n(joint: CornerJoint, pin: Pin, wood: Row, runout_ratio: float | None) -> float:
    """Load at the tip whose moment at the root stresses the outermost fibre up to the bending strength."""
    length_mm, high_mm = joint.spec.tails.board.thickness_mm, socket_mm(joint)
    moment = second_moment(pin.width_mm, pin.root_mm, high_mm)
    _, root = bent(length_mm, wood.moe * moment, tip_n=1.0)
    stress_for_1_n = root * (pin.root_mm / 2) / moment
    return wood.mor * share_left(runout_ratio) / stress_for_1_n


def socket_mm(joint: CornerJoint) -> float:
    """How far the tails reach into the pin board."""
    return joint.spec.pins.board.thickness_mm - (joint.spec.lap_mm or 0.0)


@st.composite
def corners(draw: st.DrawFn) -> tuple[CornerJoint, str, str]:
    """A corner, through or half-blind, of two woods from the list, and their names, the tails' first."""
    joint = draw(st.one_of(through_joints(), half_blind_joints()))
    names = draw(st.tuples(*[st.sampled_from(tuple(WOODS))] * 2))
    ends = [
        replace(end, board=replace(end.board, wood=find_wood(name)))
        for end, name in zip((joint.spec.tails, joint.spec.pins), names, strict=True)
    ]
    return replace(joint, spec=replace(joint.spec, tails=ends[0], pins=ends[1])), names[0], names[1]


# --- 8: pin load ---


@given(drawn=corners(), runout=st.none() | lengths(4, 30))
def test_the_load_that_breaks_a_pin_by_integrating_the_beam(
    drawn: tuple[CornerJoint, str, str], runout: float | None
) -> None:
    joint, _, wood = drawn
    pins = replace(joint.spec.pins, board=replace(joint.spec.pins.board, runout_ratio=runout))
    joint = replace(joint, spec=replace(joint.spec, pins=pins))
    for pin in joint.pins:
        assert pin_load_n(joint, pin) == pytest.approx(breaking_n(joint, pin, WOODS[wood], runout), rel=1e-9)


# --- 8: half pins bent and cheeks pressed by a tight fit ---


def across_mpa(board: Board, wood: Row) -> float:
    """Stiffness in the direction of the board's width; with rings at 45 degrees the mean (ours)."""
    ratios = {Rings.FLAT: wood.tangential, Rings.QUARTER: wood.radial, Rings.RIFT: (wood.tangential + wood.radial) / 2}
    return wood.moe * ratios[board.rings]


def beside(joint: CornerJoint) -> list[tuple[Tail, Pin]]:
    """Every cheek: a tail and the pin it leans on."""
    return [
        (tail, pin)
        for tail in joint.tails
        for pin in joint.pins
        if math.isclose(pin.end_mm, tail.start_mm, abs_tol=1e-7)
        or math.isclose(pin.start_mm, tail.end_mm, abs_tol=1e-7)
    ]


@given(drawn=corners(), tight_mm=lengths(0.01, 0.4))
def test_pressure_and_bent_half_pins_by_halving_until_they_balance(
    drawn: tuple[CornerJoint, str, str], tight_mm: float
) -> None:
    joint, tail_name, pin_name = drawn
    tail_wood, pin_wood = WOODS[tail_name], WOODS[pin_name]
    tail_board, pin_board = joint.spec.tails.board, joint.spec.pins.board
    deep_mm, long_mm = socket_mm(joint), tail_board.thickness_mm
    area_mm2 = abs(complex(deep_mm, deep_mm / joint.spec.slope.ratio)) * long_mm  # a cheek down its slope
    crush_mpa = 1.2 * min(tail_wood.crush, pin_wood.crush)

    def gives_mm(load_n: float, tail: Tail, pin: Pin, bends_mm_per_n: float) -> float:
        """How far tail and pin give way under a load on their cheek: each is squeezed as far as its middle."""
        half_tail, half_pin = (tail.width_mm + tail.neck_mm) / 4, (pin.width_mm + pin.root_mm) / 4
        strains = [load_n / area_mm2 / across_mpa(*side) for side in ((tail_board, tail_wood), (pin_board, pin_wood))]
        return strains[0] * half_tail + strains[1] * half_pin + load_n * bends_mm_per_n

    pressed, by_tail, shares = [], dict.fromkeys(joint.tails, 0.0), []
    for tail, pin in beside(joint):
        stiffness = pin_wood.moe * second_moment(pin.width_mm, pin.root_mm, deep_mm)
        # nothing stands behind a half pin: it bends outward as well, for each newton by so much
        bends_mm_per_n = bent(long_mm, stiffness, spread_n=1.0)[0] if pin.half else 0.0
        meets = partial(gives_mm, tail=tail, pin=pin, bends_mm_per_n=bends_mm_per_n)
        elastic_n = halved(meets, tight_mm, 1e7)
        load_n = min(elastic_n, crush_mpa * area_mm2)
        pressed.append(elastic_n / area_mm2)
        by_tail[tail] += 0.4 * load_n  # friction of dry smooth wood: 0.3 to 0.5, chapter 4
        if pin.half:
            moment = bent(long_mm, stiffness, spread_n=load_n)[1]
            strength_n = breaking_n(joint, pin, pin_wood, pin_board.runout_ratio)
            shares.append(moment / (strength_n * long_mm))  # at the root, over the moment that breaks it
    springs = springs_of(joint)
    assert springs is not None
    got = squeeze(springs, interference_mm=tight_mm)
    assert got.elastic_mpa == pytest.approx(max(pressed), rel=1e-9)
    assert got.pressure_mpa == pytest.approx(min(max(pressed), crush_mpa), rel=1e-9)
    assert got.cheek_area_mm2 == pytest.approx(area_mm2, rel=1e-12)
    assert got.drive_n == pytest.approx(math.fsum(by_tail.values()), rel=1e-9)
    assert got.tail_drive_n == pytest.approx(max(by_tail.values()), rel=1e-9)
    assert (got.half_pin_share is None) == (not shares)
    if got.half_pin_share is not None:
        assert got.half_pin_share == pytest.approx(max(shares), rel=1e-8)
