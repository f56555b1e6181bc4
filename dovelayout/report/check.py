"""`check --json`: a verdict as the JSON of the contract."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dovelayout.checks.corner.tools import clearings
from dovelayout.checks.finding import Finding
from dovelayout.job.reader import Job
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.report.dividers import divider_json
from dovelayout.report.drawers import drawer_json
from dovelayout.report.findings import findings_json
from dovelayout.report.numbers import lengths, mm
from dovelayout.verdict.verdict import Verdict


def part_json(board: Board) -> dict[str, Any]:
    """One of `parts`: a board to cut."""
    return {
        "name": board.name,
        "board": board.name,
        "species": board.wood.name,
        **lengths(board, ("length_mm", "width_mm", "thickness_mm")),
        "count": board.count,
    }


def _slope_json(joint: CornerJoint) -> dict[str, float] | None:
    """None where nothing leans."""
    slope = joint.slope
    return {"ratio": round(slope.ratio, 4), "degrees": round(slope.degrees, 2)} if joint.flares else None


def _corner_json(joint: CornerJoint, findings: Sequence[Finding], job: Job) -> dict[str, Any]:
    tails_end, pins_end = joint.end_faces()
    return {
        "name": joint.name,
        "joint": joint.kind,
        "tails_board": joint.tail_board.name,
        "pins_board": joint.pin_board.name,
        "tails_end": joint.spec.tails.label,
        "pins_end": joint.spec.pins.label,
        **lengths(joint.covers, ("width_mm",)),
        "slope": _slope_json(joint),
        **({} if joint.spec.cant.is_square else {"angle_deg": joint.spec.cant.angle_deg}),
        "gauge": {"tails_mm": mm(tails_end.baseline_mm), "pins_mm": mm(pins_end.baseline_mm)},
        **({"mitres": [[mm(m.start_mm), mm(m.end_mm)] for m in joint.mitres]} if joint.mitres else {}),
        **({"lid_saw_mm": mm(joint.saw_line_mm)} if joint.saw_line_mm is not None else {}),
        **(lengths(joint, ("lap_mm",)) if joint.lap_mm else {}),
        "proposed": {key: mm(value) for key, value in joint.proposed.items()},
        "tails": [lengths(tail, ("start_mm", "end_mm", "neck_start_mm", "neck_end_mm")) for tail in joint.tails],
        "pins": [
            {**lengths(pin, ("start_mm", "end_mm", "root_start_mm", "root_end_mm")), "half": pin.half}
            for pin in joint.pins
        ],
        "chisels": [
            {"clears": row.what, **lengths(row, ("room_mm",)), "chisel_mm": row.chisel_mm}
            for row in clearings(joint, job.shop)
        ],
        "findings": findings_json(findings),
    }


def verdict_json(verdict: Verdict) -> dict[str, Any]:
    """`check --json`."""
    job = verdict.job
    return {
        "title": job.title,
        "worst": verdict.worst.value,
        "parts": [part_json(board) for board in job.boards],
        "corners": [_corner_json(joint, findings, job) for joint, findings in verdict.corners],
        "dividers": [divider_json(divider, findings) for divider, findings in verdict.dividers],
        "drawers": [drawer_json(drawer, findings) for drawer, findings in verdict.drawers],
        "findings": findings_json(verdict.findings),
    }
