"""Every limit of every check: passes, speaks beyond it, and holds its tongue exactly at it."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import pytest

from dovelayout.checks import CHECKS
from dovelayout.checks.finding import Level
from dovelayout.checks.rule import RULES, Rule
from dovelayout.verdict import verdict
from tests.jobs import corner_job, findings, level

assert verdict  # which loads every check there is
LIMITED = [rule for rule in RULES.values() if (rule.note, rule.warn, rule.stop) != (None, None, None)]


@pytest.mark.parametrize("rule", LIMITED, ids=lambda rule: f"{rule.check}: {rule.measures}")
def test_rule_speaks_beyond_its_limit_and_not_at_it(rule: Rule) -> None:
    ladder = [(Level.NOTE, rule.note), (Level.WARN, rule.warn), (Level.STOP, rule.stop)]
    steps = [(lev, limit) for lev, limit in ladder if limit is not None]
    assert steps, "a rule without a limit says nothing"
    sign = -1 if rule.below else 1
    for lev, limit in steps:
        assert rule.judge(limit)[0].rank < lev.rank
        assert rule.judge(limit + sign * 1e-6 * max(1, abs(limit))) == (lev, limit)
    # worse levels lie further out
    limits = [limit * sign for _, limit in steps]
    assert limits == sorted(limits)
    assert rule.source


# for every check: a corner that passes, one just within or at the limit, one beyond
CASES: list[tuple[str, dict[str, Any], Level]] = [
    ("tail-neck", {"tails_at": [[20, 20 + 11.4 + 2 * 19 / 6], [60, 100]]}, Level.OK),  # at 0.6 x 19 mm
    ("tail-neck", {"tails_at": [[20, 20 + 11.3 + 2 * 19 / 6], [60, 100]]}, Level.WARN),
    ("tail-neck", {"tails_at": [[20, 20 + 3.0 + 2 * 19 / 6], [60, 100]]}, Level.WARN),  # at 3 mm
    ("tail-neck", {"tails_at": [[20, 20 + 2.9 + 2 * 19 / 6], [60, 100]]}, Level.STOP),
    ("wide-tail", {"tails_at": [[20, 77], [90, 130]]}, Level.OK),  # 57 = 3 x 19
    ("wide-tail", {"tails_at": [[20, 77.5], [90, 130]]}, Level.WARN),
    ("half-pin", {"tail_count": 4, "pin": 12, "half_pin": 4.0}, Level.OK),  # a third
    ("half-pin", {"tail_count": 4, "pin": 12, "half_pin": 3.9}, Level.WARN),
    ("edge-tail", {"tail_count": 4, "pin": 8, "half_pin": 8}, Level.OK),
    ("edge-tail", {"tail_count": 4, "pin": 8, "half_pin": 0.01}, Level.OK),
    ("edge-tail", {"tail_count": 4, "pin": 8, "half_pin": 0}, Level.WARN),
    ("groove-depth", {"groove": {"from_edge": 20, "width": 4, "depth": 7.6}}, Level.OK),  # 0.40
    ("groove-depth", {"groove": {"from_edge": 20, "width": 4, "depth": 7.7}}, Level.WARN),
    ("groove-depth", {"groove": {"from_edge": 20, "width": 4, "depth": 9.5}}, Level.WARN),  # 0.50
    ("groove-depth", {"groove": {"from_edge": 20, "width": 4, "depth": 9.6}}, Level.STOP),
    ("squareness", {"board": {"out_of_square": 0.2}}, Level.OK),  # 0.1 per 100 mm
    ("squareness", {"board": {"out_of_square": 0.21}}, Level.WARN),
    ("squareness", {"board": {"out_of_square": 2.0}}, Level.WARN),
    ("squareness", {"board": {"out_of_square": 2.1}}, Level.STOP),
    ("widths", {"pin_board": {"width": 200.1}}, Level.OK),
    ("widths", {"pin_board": {"width": 200.11}}, Level.WARN),
    ("widths", {"pin_board": {"width": 203}}, Level.WARN),
    ("widths", {"pin_board": {"width": 203}, "covers": [0, 200]}, Level.OK),
    ("nominal", {"thickness": 19}, Level.OK),
    ("nominal", {"thickness": 25.4}, Level.NOTE),
    ("nominal", {"thickness": 2.5, "slope": "1:8"}, Level.NOTE),
    ("nominal", {"thickness": 120, "width": 600, "tail_count": 2}, Level.NOTE),
    ("knife-access", {"tail_count": 5, "pin": 1.2, "half_pin": 8}, Level.OK),
    ("knife-access", {"tail_count": 5, "pin": 1.1, "half_pin": 8}, Level.WARN),
    ("chisel", {"tail_count": 5, "pin": 6, "half_pin": 8, "shop": {"chisels": [6, 12]}}, Level.OK),
    ("chisel", {"tail_count": 5, "pin": 1.5, "half_pin": 8, "shop": {"chisels": [12]}}, Level.NOTE),
    ("plywood", {"species": "plywood", "tail_count": 4, "pin": 6, "half_pin": 6}, Level.OK),
    ("plywood", {"species": "plywood", "tail_count": 4, "pin": 5.9, "half_pin": 6}, Level.STOP),
    ("corner-blowout", {"species": "balsa"}, Level.WARN),
    ("lap", {"joint": "half_blind", "lap": 3.0}, Level.OK),
    ("lap", {"joint": "half_blind", "lap": 2.9}, Level.WARN),
    ("lap", {"joint": "half_blind", "lap": 2.4}, Level.WARN),
    ("lap", {"joint": "half_blind", "lap": 2.3}, Level.STOP),
    ("lap", {"joint": "half_blind", "lap": 3.3, "pin_thickness": 22}, Level.OK),  # 15 %
    ("lap", {"joint": "half_blind", "lap": 3.2, "pin_thickness": 22}, Level.WARN),
    ("socket-depth", {"joint": "half_blind", "lap": 8.0, "pin_thickness": 16}, Level.OK),
    ("socket-depth", {"joint": "half_blind", "lap": 8.1, "pin_thickness": 16}, Level.WARN),
    ("socket-depth", {"joint": "half_blind", "lap": 3, "pin_thickness": 15.9}, Level.WARN),
    ("little-hold", {"joint": "comb", "slope": None, "tail_count": 5}, Level.NOTE),  # not checked, and it says so
    ("short-grain", {"joint": "comb", "slope": None, "tail_count": 5}, Level.OK),
    ("short-grain", {"joint": "comb", "slope": None, "tail_count": 5, "board": {"runout": "1:4.6"}}, Level.OK),
    ("short-grain", {"joint": "comb", "slope": None, "tail_count": 5, "board": {"runout": "1:4.4"}}, Level.WARN),
    (
        "tail-neck",
        {"joint": "comb", "slope": None, "tail_count": 32},
        Level.OK,
    ),  # 3.08 mm: no neck to judge by thickness
    ("edge-pitch", {"joint": "comb", "slope": None, "tail_count": 9, "width": 480}, Level.OK),
    ("corner-blowout", {"species": "black cherry"}, Level.OK),
]


def _strong(mor_mpa: float, **keys: Any) -> dict[str, Any]:
    """A corner in a wood of just this bending strength, the rest of it as cherry."""
    job = corner_job("made to measure", **keys)
    job["wood"] = [{"name": "made to measure", "kind": "hardwood", "mor_mpa": mor_mpa, "comp_perp_mpa": 5.0}]
    return job


def _section_mm3(narrow_mm: float, wide_mm: float, high_mm: float) -> float:
    """A trapezoid's section modulus: its second moment h (a + b) (a^2 + b^2) / 48 over half the wide side."""
    return high_mm * (narrow_mm + wide_mm) * (narrow_mm**2 + wide_mm**2) / 48 / (wide_mm / 2)


PINS = {"tail_count": 4, "pin": 6, "half_pin": 8}
# load = MOR x S / L with L = 19 mm: a pin flares to both sides, a half pin to one
PIN_MPA = 19 / _section_mm3(6, 6 + 2 * 19 / 6, 19)
HALF_PIN_MPA = 19 / _section_mm3(8, 8 + 19 / 6, 19)


def _left(q_over_p: float, n: float) -> float:
    """Share of strength left at a slope 1:n: Wood Handbook Eq 5-2 with exponents of 1.5."""
    angle = math.atan(1 / n)
    return q_over_p / (math.sin(angle) ** 1.5 + q_over_p * math.cos(angle) ** 1.5)


BENT, STRUCK = _left(0.10, 6), _left(0.05, 6)
WIDE = {"thickness": 22}
HALF = {"tails_at": [[20, 80], [95, 180]], "slope": "1:6"}  # a half pin 20 mm wide, 20 + 19/6 inside
TAKEN_MM = (20 + 19 / 6) / 2

MADE: list[tuple[str, dict[str, Any], Level]] = [
    ("thin-pin", _strong(250.1 * PIN_MPA, **PINS), Level.OK),
    ("thin-pin", _strong(249.9 * PIN_MPA, **PINS), Level.WARN),
    ("thin-pin", _strong(60.1 * PIN_MPA, **PINS), Level.WARN),
    ("thin-pin", _strong(59.9 * PIN_MPA, **PINS), Level.STOP),
    ("half-pin", _strong(250.1 * HALF_PIN_MPA, **PINS), Level.OK),
    ("half-pin", _strong(249.9 * HALF_PIN_MPA, **PINS), Level.WARN),
    ("half-pin", _strong(100.1 * HALF_PIN_MPA, **PINS), Level.WARN),
    ("half-pin", _strong(99.9 * HALF_PIN_MPA, **PINS), Level.STOP),
    ("short-grain", _strong(28.1 / BENT, **PINS), Level.OK),
    ("short-grain", _strong(27.9 / BENT, **PINS), Level.WARN),
    ("short-grain", _strong(15.1 / BENT, **PINS), Level.WARN),
    ("short-grain", _strong(14.9 / BENT, **PINS), Level.STOP),
    ("corner-blowout", _strong(25.1 / STRUCK, **PINS), Level.OK),
    ("corner-blowout", _strong(24.9 / STRUCK, **PINS), Level.NOTE),
    ("corner-blowout", _strong(18.1 / STRUCK, **PINS), Level.NOTE),
    ("corner-blowout", _strong(17.9 / STRUCK, **PINS), Level.WARN),
    # the share alone, in a wood strong enough: half is left at 12.75 degrees, a third (0.33) at 20.88
    ("short-grain", _strong(150, slope="1:4.42", **PINS), Level.OK),
    ("short-grain", _strong(150, slope="1:4.41", **PINS), Level.WARN),
    ("short-grain", _strong(150, slope="1:2.63", tail_count=3, pin=6, half_pin=8), Level.WARN),
    ("short-grain", _strong(150, slope="1:2.61", tail_count=3, pin=6, half_pin=8), Level.STOP),
    # 4 sqrt(5 MPa) = 8.94
    ("little-hold", _strong(85, slope="1:8.9", **PINS), Level.OK),
    ("little-hold", _strong(85, slope="1:9", **PINS), Level.NOTE),
    ("little-hold", corner_job(slope="1:12"), Level.NOTE),
    ("little-hold", corner_job(slope="1:12.1"), Level.WARN),
    ("wide-tail", corner_job(tails_at=[[20, 85], [95, 160]], **WIDE), Level.OK),  # 65 mm
    ("wide-tail", corner_job(tails_at=[[20, 85.1], [95, 160]], **WIDE), Level.WARN),
    (
        "groove-shows",
        corner_job(**HALF, groove={"from_edge": 4, "width": TAKEN_MM - 0.01, "depth": 6, "ploughed": "after"}),
        Level.WARN,
    ),
    (
        "groove-shows",
        corner_job(**HALF, groove={"from_edge": 4, "width": TAKEN_MM + 0.01, "depth": 6, "ploughed": "after"}),
        Level.STOP,
    ),
]


@pytest.mark.parametrize(("check", "tables", "expected"), MADE, ids=lambda value: str(value)[:60])
def test_check_on_either_side_of_a_limit_that_is_worked_out(
    check: str, tables: dict[str, Any], expected: Level
) -> None:
    assert level(tables, check) is expected


EXAMPLES = [partial(level, tables, check) for check, tables, _ in MADE]
EXAMPLES += [partial(level, corner_job(**keys), check) for check, keys, _ in CASES]


@pytest.mark.parametrize(("check", "keys", "expected"), CASES, ids=lambda value: str(value)[:60])
def test_check_on_either_side_of_its_limit(check: str, keys: dict[str, Any], expected: Level) -> None:
    assert level(corner_job(**keys), check) is expected


def test_every_finding_names_place_and_reason() -> None:
    bad = corner_job(
        "balsa",
        slope="1:4",
        tail_count=5,
        pin=0.8,
        half_pin=1,
        shop={"chisels": [6]},
        board={"out_of_square": 3},
        groove={"from_edge": 1, "width": 6, "depth": 10},
    )
    found = findings(bad)
    assert len(found) > 8
    for finding in found:
        assert finding.where.startswith("corner A")
        assert finding.message
        assert finding.source
    assert [f.level.rank for f in found] == sorted((f.level.rank for f in found), reverse=True)


def test_clean_corner_is_silent() -> None:
    assert findings(corner_job("black cherry", tail_count=5, pin=6, half_pin=8, slope="1:7")) == ()


def test_checks_have_names_and_do_not_raise_on_any_theme() -> None:
    assert set(CHECKS) == {"grain", "pins", "tails", "grooves", "laps", "stock", "tools", "fit"}
