"""A captured panel in a groove with glue in it. What a wet face needs is common practice, no source."""

from __future__ import annotations

from functools import partial

import pytest

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.checks.panel_groove import PANEL_GROOVE, panel_groove_findings, wet_clearance_mm
from dovelayout.wood.glue import Glue, find_glue

PVA, HIDE, EPOXY = (find_glue(name) for name in ("pva", "liquid hide", "epoxy"))


CASES: list[tuple[float, Glue | None, int, Level]] = [
    (0.0, PVA, 2, Level.STOP),
    (0.19, PVA, 2, Level.STOP),
    (0.2, PVA, 2, Level.WARN),  # 0.1 a wet face
    (0.39, PVA, 2, Level.WARN),
    (0.4, PVA, 2, Level.OK),  # 0.2 a wet face
    (0.2, PVA, 1, Level.OK),
    (0.3, None, 2, Level.OK),
    (0.0, None, 2, Level.OK),  # snug, and dry
    (0.0, PVA, 0, Level.OK),
    (0.0, EPOXY, 2, Level.OK),
    (0.11, HIDE, 2, Level.WARN),
    (0.12, HIDE, 2, Level.OK),
    (-0.1, None, 2, Level.STOP),
]


def _found(clearance_mm: float, glue: Glue | None, faces: int) -> list[Finding]:
    return list(panel_groove_findings("bottom", clearance_mm=clearance_mm, glue=glue, wet_faces=faces))


EXAMPLES = [partial(_found, clearance_mm, glue, faces) for clearance_mm, glue, faces, _ in CASES]


@pytest.mark.parametrize(("clearance_mm", "glue", "faces", "expected"), CASES)
def test_clearance_on_either_side_of_its_limit(
    clearance_mm: float, glue: Glue | None, faces: int, expected: Level
) -> None:
    found = _found(clearance_mm, glue, faces)
    assert worst_level(found) is expected
    for finding in found:
        assert finding.where == "bottom"
        assert any(ch.isdigit() for ch in finding.fix)


@pytest.mark.parametrize("glue", [PVA, HIDE, None])
def test_the_clearance_that_is_advised_passes(glue: object) -> None:
    wanted = wet_clearance_mm(glue)  # type: ignore[arg-type]
    assert list(panel_groove_findings("bottom", clearance_mm=wanted, glue=glue)) == []  # type: ignore[arg-type]


@pytest.mark.parametrize(("limit", "lev"), [(PANEL_GROOVE.warn, Level.WARN), (PANEL_GROOVE.stop, Level.STOP)])
def test_the_rule_holds_its_tongue_at_its_limit(limit: float | None, lev: Level) -> None:
    assert limit is not None
    assert PANEL_GROOVE.judge(limit)[0].rank < lev.rank
    assert PANEL_GROOVE.judge(limit - 1e-6)[0] is lev
