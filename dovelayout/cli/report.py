"""Verdicts as the JSON of the contract."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from dovelayout.casework.divider import Divider
from dovelayout.checks import check_joint
from dovelayout.checks.finding import Finding, Level, at_same_spot, spoken, worst_first, worst_level
from dovelayout.checks.movement import check_movement
from dovelayout.checks.sliding import check_divider
from dovelayout.checks.tools import clearings
from dovelayout.job.reader import Job
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """All findings of a job: corner by corner, and those of the job as a whole."""

    job: Job
    corners: tuple[tuple[CornerJoint, tuple[Finding, ...]], ...]
    findings: tuple[Finding, ...] = ()
    dividers: tuple[tuple[Divider, tuple[Finding, ...]], ...] = ()

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first."""
        found = [finding for _, findings in self.corners for finding in findings]
        return worst_first((*self.findings, *found, *self._on_dividers))

    @property
    def told_once(self) -> tuple[Finding, ...]:
        """Every finding for people to read: what holds for several corners is said once, in the job's own terms."""
        rows = [(joint.name, findings) for joint, findings in self.corners]
        found = worst_first((*self.findings, *at_same_spot(rows), *self._on_dividers))
        return tuple(spoken(finding, unit=self.job.unit) for finding in found)

    @property
    def _on_dividers(self) -> tuple[Finding, ...]:
        return tuple(finding for _, findings in self.dividers for finding in findings)

    @property
    def worst(self) -> Level:
        """The loudest level."""
        return worst_level(self.all_findings)


def judged(job: Job) -> Verdict:
    """Runs every check on every corner and every divider of a job, and on what moves in it."""
    return Verdict(
        job=job,
        corners=tuple((joint, check_joint(joint, job.shop)) for joint in job.joints),
        dividers=tuple((divider, check_divider(divider.joints, job.shop)) for divider in job.dividers),
        findings=check_movement(
            job.shop,
            boards=job.boards,
            joints=job.joints,
            across=job.across,
            panels=job.panels,
            slides=[joint for divider in job.dividers for joint in divider.joints],
        ),
    )


def _mm(value: float) -> float:
    """Millimetres to a hundred-thousandth: exact enough for any use, and free of the last bits of arithmetic."""
    return round(value, 5)


def _slope_json(slope: Slope) -> dict[str, float] | None:
    return None if slope.is_straight else {"ratio": round(slope.ratio, 4), "degrees": round(slope.degrees, 2)}


def finding_json(finding: Finding) -> dict[str, Any]:
    """FINDING of the contract, and the changes a machine can apply."""
    return {
        "check": finding.check,
        "level": finding.level.value,
        "where": finding.where,
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "message": finding.message,
        "fix": finding.fix,
        "source": finding.source,
        "changes": [
            {"table": change.table, "name": change.name, "values": dict(change.values)} for change in finding.changes
        ],
    }


def findings_json(findings: Sequence[Finding]) -> list[dict[str, Any]]:
    """A list of findings."""
    return [finding_json(finding) for finding in findings]


def _corner_json(joint: CornerJoint, findings: Sequence[Finding], job: Job) -> dict[str, Any]:
    tails_end, pins_end = joint.end_faces()
    return {
        "name": joint.name,
        "joint": joint.kind,
        "tails_board": joint.tail_board.name,
        "pins_board": joint.pin_board.name,
        "tails_end": joint.spec.tails.label,
        "pins_end": joint.spec.pins.label,
        "width_mm": _mm(joint.covers.width_mm),
        "slope": _slope_json(joint.slope),
        **({} if joint.spec.cant.is_square else {"angle_deg": joint.spec.cant.angle_deg}),
        "gauge": {"tails_mm": _mm(tails_end.baseline_mm), "pins_mm": _mm(pins_end.baseline_mm)},
        **({"mitres": [[_mm(m.start_mm), _mm(m.end_mm)] for m in joint.mitres]} if joint.mitres else {}),
        **({"lid_saw_mm": _mm(joint.saw_line_mm)} if joint.saw_line_mm is not None else {}),
        **({"lap_mm": _mm(joint.lap_mm)} if joint.lap_mm else {}),
        "proposed": {key: _mm(value) for key, value in joint.proposed.items()},
        "tails": [
            {
                "start_mm": _mm(tail.start_mm),
                "end_mm": _mm(tail.end_mm),
                "neck_start_mm": _mm(tail.neck_start_mm),
                "neck_end_mm": _mm(tail.neck_end_mm),
            }
            for tail in joint.tails
        ],
        "pins": [
            {
                "start_mm": _mm(pin.start_mm),
                "end_mm": _mm(pin.end_mm),
                "root_start_mm": _mm(pin.root_start_mm),
                "root_end_mm": _mm(pin.root_end_mm),
                "half": pin.half,
            }
            for pin in joint.pins
        ],
        "chisels": [
            {"clears": row.what, "room_mm": _mm(row.room_mm), "chisel_mm": row.chisel_mm}
            for row in clearings(joint, job.shop)
        ],
        "findings": findings_json(findings),
    }


def verdict_json(verdict: Verdict) -> dict[str, Any]:
    """`check --json`."""
    from dovelayout.cli.dividers import divider_json  # it writes findings with this module's own words

    job = verdict.job
    return {
        "title": job.title,
        "worst": verdict.worst.value,
        "parts": [
            {
                "name": board.name,
                "board": board.name,
                "species": board.wood.name,
                "length_mm": _mm(board.length_mm),
                "width_mm": _mm(board.width_mm),
                "thickness_mm": _mm(board.thickness_mm),
                "count": board.count,
            }
            for board in job.boards
        ],
        "corners": [_corner_json(joint, findings, job) for joint, findings in verdict.corners],
        "dividers": [divider_json(divider, findings) for divider, findings in verdict.dividers],
        "findings": findings_json(verdict.findings),
    }
