"""A captured panel in a groove with glue in it. What a wet face needs is common practice, no source."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.checks.movement.panels import FIT_WET
from tests.jobs import applied
from tests.season_jobs import found, panel_job

STEADY = [50, 50]  # nothing grows: what is given is what is left

CASES: list[tuple[float, str, str, Level]] = [
    (0.0, "pva", "middle", Level.STOP),
    (0.19, "pva", "middle", Level.STOP),
    (0.2, "pva", "middle", Level.WARN),  # 0.1 a wet face
    (0.39, "pva", "one edge", Level.WARN),
    (0.4, "pva", "middle", Level.OK),  # 0.2 a wet face
    (0.19, "", "middle", Level.STOP),  # a glue that isn't named is taken as PVA
    (0.0, "pva", "no", Level.OK),  # just as wide, and dry
    (0.0, "epoxy", "middle", Level.OK),
    (0.05, "liquid hide", "middle", Level.STOP),
    (0.11, "liquid hide", "middle", Level.WARN),
    (0.12, "liquid hide", "middle", Level.OK),
]


def _job(clearance_mm: float, glue: str, glued: str) -> dict[str, Any]:
    shop = {"humidity": STEADY, **({"glue": glue} if glue else {})}
    return panel_job("black cherry", groove=20, play=5, clearance=clearance_mm, glued=glued, shop=shop)


def _found(clearance_mm: float, glue: str, glued: str) -> tuple[Finding, ...]:
    return found(_job(clearance_mm, glue, glued), "groove-fit")


EXAMPLES = [partial(_found, clearance_mm, glue, glued) for clearance_mm, glue, glued, _ in CASES]


@pytest.mark.parametrize(("clearance_mm", "glue", "glued", "expected"), CASES)
def test_clearance_on_either_side_of_its_limit(clearance_mm: float, glue: str, glued: str, expected: Level) -> None:
    rows = _found(clearance_mm, glue, glued)
    assert worst_level(rows) is expected
    for finding in rows:
        assert finding.where == "panel one, thickness in its groove"
        assert "one part home at a time" in finding.fix


def test_what_is_measured_is_the_clearance_of_one_wet_face_as_for_pva() -> None:
    (finding,) = _found(0.3, "pva", "middle")
    assert (finding.measured, finding.limit) == (0.15, 0.2)
    (finding,) = _found(0.11, "liquid hide", "middle")
    assert finding.measured == pytest.approx(0.11 / 2 / 0.3, abs=0.001)


@pytest.mark.parametrize("glue", ["pva", "liquid hide", "urea formaldehyde", ""])
def test_the_clearance_that_is_advised_passes(glue: str) -> None:
    (finding,) = _found(0.01, glue, "middle")
    assert found(applied(_job(0.01, glue, "middle"), finding.changes), "groove-fit") == ()


@pytest.mark.parametrize(("limit", "level"), [(FIT_WET.warn, Level.WARN), (FIT_WET.stop, Level.STOP)])
def test_the_rule_says_nothing_at_its_limit(limit: float | None, level: Level) -> None:
    assert limit is not None
    assert FIT_WET.judge(limit)[0].rank < level.rank
    assert FIT_WET.judge(limit - 1e-6)[0] is level
