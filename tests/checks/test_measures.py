"""What layouts are compared by is what their findings say: the same figure for the same rule, on any corner."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from dovelayout.checks import corner_findings, measure_joint
from dovelayout.checks.corner import grain, laps, pins, tails
from dovelayout.checks.corner.parts import place_of
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.rule import Measure, Rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from tests.checks.test_limits import CASES, MADE
from tests.jobs import corner_job, loaded
from tests.strategies import corner_joints

TABLES = [corner_job(**keys) for _, keys, _ in CASES] + [tables for _, tables, _ in MADE]


def _said_of(measure: Measure, joint: CornerJoint, found: tuple[Finding, ...]) -> list[Finding]:
    rule = measure.rule
    said = [f for f in found if f.check == rule.check and f.unit == rule.unit and f.measured is not None]
    # of several pins the one that was measured
    return [f for f in said if measure.part is None or f.place == place_of(joint, measure.part)]


def _agree(joint: CornerJoint, shop: Shop) -> None:
    found = corner_findings(joint, shop)
    for measure in measure_joint(joint, shop):
        level, limit = measure.rule.judge(measure.value)
        said = [f for f in _said_of(measure, joint, found) if f.limit == limit]
        if level is Level.OK:
            assert not [f for f in _said_of(measure, joint, found) if f.limit in (measure.rule.warn, measure.rule.stop)]
        elif said:
            assert measure.value == pytest.approx(said[0].measured, abs=0.051)  # rounded for a reader
        else:
            # a louder rule of the same check has spoken in its place
            assert any(f.check == measure.rule.check and f.level.rank >= level.rank for f in found)


@pytest.mark.parametrize("tables", TABLES, ids=range(len(TABLES)))
def test_at_every_limit_measures_and_findings_agree(tables: dict[str, Any]) -> None:
    job = loaded(tables)
    for joint in job.joints:
        _agree(joint, job.shop)


@given(joint=corner_joints())
def test_on_any_corner_measures_and_findings_agree(joint: CornerJoint) -> None:
    _agree(joint, Shop())


def test_what_is_not_known_is_not_measured() -> None:
    """Plywood: no strength is claimed for it."""
    job = loaded(corner_job("birch plywood", tail_count=4, pin=8, half_pin=10))
    units = {measure.rule.unit for measure in measure_joint(job.joints[0], job.shop)}
    assert not units & {"MPa", "N"}


def test_a_lapped_corner_in_a_known_wood_is_measured_by_every_rule_that_a_layout_moves_against() -> None:
    """One left out would let `suggest` offer a layout that the checks then warn of."""
    tables = corner_job("black cherry", joint="half_blind", lap=5, tail_count=4, pin=8, half_pin=10)
    rules = {(measure.rule.check, measure.rule.measures) for measure in measure_joint(loaded(tables).joints[0], Shop())}
    themes = (grain, pins, tails, laps)
    own = [rule for theme in themes for rule in vars(theme).values() if isinstance(rule, Rule)]
    assert rules == {(rule.check, rule.measures) for rule in own if rule.warn or rule.stop}
