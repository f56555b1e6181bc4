"""Findings as the JSON of the contract."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dovelayout.change import changes_json
from dovelayout.checks.finding import Finding


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
        "changes": changes_json(finding.changes),
    }


def findings_json(findings: Sequence[Finding]) -> list[dict[str, Any]]:
    """A list of findings."""
    return [finding_json(finding) for finding in findings]
