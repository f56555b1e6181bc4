"""A finding of a check, its severity, and the change that fixes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum

from dovelayout.change import Change
from dovelayout.checks.remedy import Remedies, Remedy, no_remedies
from dovelayout.place import Place
from dovelayout.units import Unit, with_inches

OURS = "ours"
"""Source of a limit that is this project's own judgement."""

COMMON_PRACTICE = "common practice, no source"

WOOD_HANDBOOK_5_2 = "Wood Handbook FPL-GTR-190, Eq 5-2 and p. 5-30"


class Level(StrEnum):
    """Severity of a finding."""

    OK = "ok"
    NOTE = "note"
    WARN = "warn"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """0 for ok up to 3 for stop."""
        return _RANKS[self]


_RANKS = {level: rank for rank, level in enumerate(Level)}

MARKS = {"stop": "STOP", "warn": "WARN", "note": "note", "ok": "ok"}
"""Names of the levels: always words, never colour alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a check found.

    `fix` is what would do, `changes` the same for a machine to apply: empty where the job has no key for it (a plane,
    another board). As a check leaves it, `fix` is what would do outside the job, and `remedies` are the changes to be tried
    on all of the job, of which one may take its place, or stand before it where it holds `beside` them. `measures` names the
    rule of the check (see `checks.rule`).
    """

    check: str
    level: Level
    place: Place
    message: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    fix: str = ""
    source: str = OURS
    changes: tuple[Change, ...] = ()
    measures: str = ""
    beside: bool = False
    remedies: Remedies = field(default=no_remedies, compare=False, repr=False)

    @property
    def where(self) -> str:
        """The place in words."""
        return str(self.place)

    @property
    def candidates(self) -> Iterator[Remedy]:
        """The changes to try, nearest first."""
        if self.changes:
            yield Remedy(changes=self.changes, words=self.fix)
        yield from self.remedies()

    @property
    def untried_fix(self) -> str:
        """The nearest fix, whether or not it suits the rest of the job."""
        return next((remedy.words for remedy in self.candidates), self.fix)


def worst_level(findings: Iterable[Finding]) -> Level:
    """The worst level among the findings, OK when there are none."""
    return max((finding.level for finding in findings), key=lambda level: level.rank, default=Level.OK)


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sorted by level, worst first; within a level in the order given."""
    return tuple(sorted(findings, key=lambda finding: -finding.level.rank))


def merged(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings worst first; what is the same at the same part of several things is one finding, with all their names."""
    names: dict[tuple[object, ...], list[str]] = {}
    first: dict[tuple[object, ...], Finding] = {}
    for finding in findings:
        place = finding.place
        key = (finding.check, finding.level, replace(place, name="", also=()), finding.message, finding.fix)
        names.setdefault(key, []).extend(name for name in (place.name, *place.also) if name)
        first.setdefault(key, finding)
    return worst_first(
        replace(finding, place=replace(finding.place, name=own[0], also=own[1:])) if own else finding
        for key, finding in first.items()
        for own in [tuple(dict.fromkeys(names[key]))]
    )


def in_unit(finding: Finding, unit: Unit) -> Finding:
    """A finding in the maker's own unit: in a job in inches every length in mm has its inches behind it."""
    if unit is not Unit.IN:
        return finding
    return replace(
        finding,
        place=replace(finding.place, part=with_inches(finding.place.part)),
        message=with_inches(finding.message),
        fix=with_inches(finding.fix),
    )
