"""A captured panel in a groove with glue in it. What a wet face needs is common practice, no source."""

from __future__ import annotations

from functools import partial

import pytest

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.checks.movement.panel_groove import PANEL_GROOVE, panel_groove_findings, wet_clearance_mm
from dovelayout.place import Place
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
    return list(
        panel_groove_findings(Place(kind="panel", name="bottom"), clearance_mm=clearance_mm, glue=glue, wet_faces=faces)
    )


EXAMPLES = [partial(_found, clearance_mm, glue, faces) for clearance_mm, glue, faces, _ in CASES]


@pytest.mark.parametrize(("clearance_mm", "glue", "faces", "expected"), CASES)
def test_clearance_on_either_side_of_its_limit(
    clearance_mm: float, glue: Glue | None, faces: int, expected: Level
) -> None:
    found = _found(clearance_mm, glue, faces)
    assert worst_level(found) is expected
    for finding in found:
        assert finding.where == "panel bottom"
        assert any(ch.isdigit() for ch in finding.fix)


def test_a_panel_thicker_than_its_groove_is_planed_by_that_and_a_tenth() -> None:
    (finding,) = _found(-0.25, None, 2)
    assert (finding.measured, finding.limit) == (-0.25, 0.0)
    assert "0.25 mm thicker than its groove" in finding.message
    assert finding.fix == "plane it 0.4 mm thinner where it enters"  # 0.25 + 0.1, up to the tenth


def test_what_is_measured_is_the_clearance_of_one_wet_face_as_for_pva() -> None:
    (finding,) = _found(0.3, PVA, 2)
    assert (finding.measured, finding.limit) == (0.15, 0.2)
    assert "0.4 mm of clearance" in finding.fix
    (finding,) = _found(0.11, HIDE, 2)
    assert finding.measured == pytest.approx(0.11 / 2 / 0.3, abs=0.001)


@pytest.mark.parametrize("glue", [PVA, HIDE, None])
def test_the_clearance_that_is_advised_passes(glue: object) -> None:
    wanted = wet_clearance_mm(glue)  # type: ignore[arg-type]
    assert list(panel_groove_findings(Place(kind="panel", name="bottom"), clearance_mm=wanted, glue=glue)) == []  # type: ignore[arg-type]


@pytest.mark.parametrize(("limit", "lev"), [(PANEL_GROOVE.warn, Level.WARN), (PANEL_GROOVE.stop, Level.STOP)])
def test_the_rule_holds_its_tongue_at_its_limit(limit: float | None, lev: Level) -> None:
    assert limit is not None
    assert PANEL_GROOVE.judge(limit)[0].rank < lev.rank
    assert PANEL_GROOVE.judge(limit - 1e-6)[0] is lev
