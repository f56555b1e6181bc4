"""Findings before and after a change, for comparison."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from dovelayout.checks.finding import Finding, Level, worst_first
from dovelayout.place import Place


class Found:
    """All findings on a job, or on a part of it: how bad each check is at each place, and where each rule is broken."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = worst_first(findings)

    @cached_property
    def ranks(self) -> dict[tuple[str, Place], int]:
        """The rank of the worst that each check says of each place."""
        return {(finding.check, finding.place): finding.level.rank for finding in reversed(self.findings)}

    @cached_property
    def broken(self) -> set[tuple[str, str, Place]]:
        """Every rule that is broken, by its check and what it measures, and where."""
        return {(finding.check, finding.measures, finding.place) for finding in self.findings}

    def remaining(self, finding: Finding, before: Found) -> tuple[Finding, ...]:
        """Findings of the same check that remain: its rule broken at the same place, or any of its rules broken where it
        wasn't before. Of two rules of a check broken at one place often only the worse is reported, so a new one may hide
        the old."""
        own = (finding.check, finding.measures, finding.place)
        known = before.broken - {own}
        return tuple(
            f for f in self.findings if f.check == finding.check and (f.check, f.measures, f.place) not in known
        )

    def new_since(self, before: Found) -> tuple[Finding, ...]:
        """Warnings and stops that weren't there before, worst first; one that was of a lower level is new."""
        return tuple(
            finding
            for finding in self.findings
            if finding.level.rank > max(Level.NOTE.rank, before.ranks.get((finding.check, finding.place), 0))
        )
