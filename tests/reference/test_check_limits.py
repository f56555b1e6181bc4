"""The checks at points worked out outside the code.

Curves: Wood Handbook FPL-GTR-190, Eq 5-2 and p. 5-30. Bending strength (MOR): its Table 5-3a, average of small clear
specimens at 12 %: eastern white pine 59 MPa, black cherry 85, balsa 21.6 (Table 5-5). Section moduli by hand below.
"""

from __future__ import annotations

import math

import pytest

from dovelayout.checks.corner.pins import trapezoid_modulus_mm3
from dovelayout.checks.finding import Level
from dovelayout.wood.strength import bending_share
from tests.jobs import corner_job, findings, level


@pytest.mark.parametrize(("n", "share"), [(4, 0.465), (5, 0.544), (6, 0.607), (8, 0.702)])
def test_share_of_strength_left_at_a_slope(n: float, share: float) -> None:
    # 0.10 / (sin^1.5 t + 0.10 cos^1.5 t), t = atan(1/n), worked by hand to three figures
    assert bending_share(math.degrees(math.atan(1 / n))) == pytest.approx(share, abs=0.0006)


@pytest.mark.parametrize(
    ("species", "slope", "runout", "check", "expected"),
    [
        ("eastern white pine", "1:6", None, "short-grain", Level.OK),
        ("eastern white pine", "1:8", None, "little-hold", Level.NOTE),
        ("black cherry", "1:4", None, "short-grain", Level.WARN),
        ("black cherry", "1:5", None, "short-grain", Level.OK),
        ("black cherry", "1:6", "1:8", "short-grain", Level.WARN),
        ("balsa", "1:6", None, "short-grain", Level.STOP),
        ("balsa", "1:8", None, "short-grain", Level.WARN),
        ("black cherry", "1:13", None, "little-hold", Level.WARN),
    ],
)
def test_verdict_on_slope_and_wood(species: str, slope: str, runout: str | None, check: str, expected: Level) -> None:
    board = {"runout": runout} if runout else {}
    assert level(corner_job(species, slope=slope, board=board, pin_board=board), check) is expected


def test_bending_modulus_of_a_trapezoid_against_strips() -> None:
    # an independent sum over 20 000 thin strips: I = sum of w(z)^3 dz / 12, S = I / (wide / 2)
    narrow, wide, height, strips = 3.0, 3.0 + 2 * 19 / 6, 19.0, 20_000
    widths = (narrow + (wide - narrow) * (i + 0.5) / strips for i in range(strips))
    second_moment = sum(w**3 for w in widths) * (height / strips) / 12
    assert trapezoid_modulus_mm3(narrow_mm=narrow, wide_mm=wide, height_mm=height) == pytest.approx(
        second_moment / (wide / 2), rel=1e-6
    )


@pytest.mark.parametrize(
    ("species", "pin_mm", "load_n"),
    [("eastern white pine", 3, 310), ("eastern white pine", 1, 150), ("black cherry", 3, 450)],
)
def test_load_that_breaks_a_pin(species: str, pin_mm: float, load_n: float) -> None:
    # MOR S / L: pine, 3 mm, 19 mm boards, 1:6: I = 19 x 12.33 x (9 + 87.1) / 48 = 469, S = 100.5, 59 x 100.5 / 19 = 312
    from dovelayout.checks.corner.pins import pin_load_n
    from tests.jobs import loaded

    joint = loaded(corner_job(species, tail_count=5, pin=pin_mm, half_pin=8)).joints[0]
    load = pin_load_n(joint, joint.full_pins[0])
    assert load == pytest.approx(load_n, rel=0.03)


@pytest.mark.parametrize(("half_pin_mm", "load_n"), [(4.5, 310), (3, 170)])
def test_load_that_breaks_a_half_pin_of_pine(half_pin_mm: float, load_n: float) -> None:
    from dovelayout.checks.corner.pins import pin_load_n
    from tests.jobs import loaded

    joint = loaded(corner_job("eastern white pine", tail_count=5, pin=6, half_pin=half_pin_mm)).joints[0]
    load = pin_load_n(joint, joint.half_pins[0])
    assert load == pytest.approx(load_n, rel=0.03)


def test_weak_half_pin_warns_and_a_weaker_one_stops() -> None:
    pine = "eastern white pine"
    assert level(corner_job(pine, tail_count=5, pin=4, half_pin=4.5), "half-pin") is Level.OK
    assert level(corner_job(pine, tail_count=5, pin=4, half_pin=3), "half-pin") is Level.WARN
    assert level(corner_job(pine, tail_count=5, pin=4, half_pin=1, slope="1:8"), "half-pin") is Level.STOP


def test_unknown_strength_is_said_and_not_passed_over() -> None:
    found = findings(corner_job("birch plywood", tail_count=4, pin=8, half_pin=10))
    said = {finding.check for finding in found if finding.message.startswith("not checked, because")}
    assert {"short-grain", "corner-blowout", "thin-pin", "half-pin"} <= said


def test_taking_a_half_pin_as_symmetrical_is_at_most_an_eighth_too_strong() -> None:
    # the true section: width w(z) from a to b over the height, one side straight; elementary mechanics, by 4000 strips
    height, strips, worst = 19.0, 4000, 1.0
    for narrow in (0.0, 1.0, 3.0, 4.5, 5.77, 8.0, 10.0):
        wide = 10.0
        widths = [narrow + (wide - narrow) * (i + 0.5) / strips for i in range(strips)]
        dz = height / strips
        area = sum(widths) * dz
        centre = sum(w**2 / 2 for w in widths) * dz / area
        second_moment = sum(w**3 / 3 for w in widths) * dz - area * centre**2
        true_modulus = second_moment / max(centre, wide - centre)
        taken = trapezoid_modulus_mm3(narrow_mm=narrow, wide_mm=wide, height_mm=height)
        assert taken >= true_modulus * (1 - 1e-6)
        worst = max(worst, taken / true_modulus)
    assert 1.1 < worst < 1.125
