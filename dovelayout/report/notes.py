"""Findings as running text for the sheets, and the stamp of a stop."""

from __future__ import annotations

from dovelayout.checks.finding import MARKS, Finding, Level
from dovelayout.drawing.sheets.flow import Paragraph, heading, item
from dovelayout.verdict.verdict import Verdict


def stamp_of(judgement: Verdict) -> str:
    """What stands on every sheet of a job that is drawn against a stop; '' where nothing stops."""

    stops = [finding for finding in judgement.all_findings if finding.level is Level.STOP]
    if not stops:
        return ""
    more = f" and {len(stops) - 1} more" if len(stops) > 1 else ""
    return f"DRAWN AGAINST A STOP: {stops[0].check} at {stops[0].where}{more}"


def findings_notes(findings: tuple[Finding, ...]) -> tuple[Paragraph, ...]:
    """The findings as they stand on the first sheets."""

    if not findings:
        return (heading("What the checks say"), item("Nothing stands against sawing."))
    rows = [heading("What the checks say")]
    for finding in findings:
        fix = f" What would do: {finding.fix}." if finding.fix else ""
        rows.append(item(f"{MARKS[finding.level.value]}, {finding.where}: {finding.message}.{fix}"))
    return tuple(rows)
