"""What a check says, and the limits it says it by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from dovelayout.units import Unit, with_inches
from dovelayout.words import listed

OURS = "ours"
"""Source of a limit that is this project's own judgement."""

COMMON_PRACTICE = "common practice, no source"

WOOD_HANDBOOK_5_2 = "Wood Handbook FPL-GTR-190, Eq 5-2 and p. 5-30"


class Level(StrEnum):
    """How loud a finding is."""

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
"""How a level is written: in words, never by colour alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One limit ladder of one check: data, with its source.

    `below` True: the lower the measure, the worse; a level speaks when the measure is strictly beyond its limit.
    """

    check: str
    measures: str
    unit: str
    note: float | None = None
    warn: float | None = None
    stop: float | None = None
    below: bool = True
    source: str = OURS

    def judge(self, measured: float) -> tuple[Level, float | None]:
        """The worst level that `measured` reaches, and the limit it crossed."""
        for level, limit in ((Level.STOP, self.stop), (Level.WARN, self.warn), (Level.NOTE, self.note)):
            if limit is not None and self._beyond(measured, limit):
                return level, limit
        return Level.OK, None

    def share_used(self, measured: float) -> float:
        """How much of the limit is used: 1 at the warn limit (the stop where there is no warn), above 1 beyond it."""
        limit = next(value for value in (self.warn, self.stop, self.note) if value is not None)
        if self.below:
            return limit / measured if measured > 0 else float("inf")
        return measured / limit

    def _beyond(self, measured: float, limit: float) -> bool:
        # a layout that was set to the limit stays within it, whatever the last bit of the arithmetic
        slack = 1e-9 * max(1.0, abs(limit))
        return measured < limit - slack if self.below else measured > limit + slack


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What a rule measured on a corner, without a word about it: for comparing many layouts."""

    rule: Rule
    value: float

    @property
    def clean(self) -> bool:
        """Whether neither a warning nor a stop is reached."""
        return self.rule.judge(self.value)[0].rank <= Level.NOTE.rank


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Keys to set in one table of the job; lengths carry their unit, so they hold in any job. A table that is there
    only once, such as [shop], has its own name for a name."""

    table: str
    name: str
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a check found. `changes` is what `fix` says, for a machine to apply; empty where the remedy isn't
    in the job (a plane, another board)."""

    check: str
    level: Level
    where: str
    message: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    fix: str = ""
    source: str = OURS
    changes: tuple[Change, ...] = field(default=())


def not_checked(check: str, where: str, because: str, fix: str = "") -> Finding:
    """The note a check leaves when it can't run: never silence."""
    return Finding(check=check, level=Level.NOTE, where=where, message=f"not checked, because {because}", fix=fix)


def worst_level(findings: Iterable[Finding]) -> Level:
    """The loudest level among the findings, OK when there are none."""
    return max((finding.level for finding in findings), key=lambda level: level.rank, default=Level.OK)


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sorted by level, worst first; within a level as the checks spoke."""
    return tuple(sorted(findings, key=lambda finding: -finding.level.rank))


def at_same_spot(rows: Iterable[tuple[str, Iterable[Finding]]], kind: str = "corner") -> tuple[Finding, ...]:
    """Findings of several corners (or drawers: `kind`), worst first, what is the same for several of them said once.

    `rows` are (corner's name, its findings); a merged finding's place reads 'corners A, B, the same spot'.
    """
    names: dict[tuple[object, ...], list[str]] = {}
    first: dict[tuple[object, ...], tuple[Finding, str]] = {}
    for name, findings in rows:
        for finding in findings:
            spot = finding.where.removeprefix(f"{kind} {name}").removeprefix(", ")
            key = (finding.check, finding.level, spot, finding.message, finding.fix)
            names.setdefault(key, []).append(name)
            first.setdefault(key, (finding, spot))
    merged = []
    for same, (finding, spot) in first.items():
        where = finding.where
        if len(names[same]) > 1:
            where = ", ".join(text for text in (f"{kind}s {listed(names[same])}", spot) if text)
        merged.append(replace(finding, where=where))
    return worst_first(merged)


def spoken(finding: Finding, *, unit: Unit) -> Finding:
    """A finding in the maker's own terms: in a job in inches every length in mm has its inches behind it."""
    if unit is not Unit.IN:
        return finding
    return replace(
        finding,
        where=with_inches(finding.where),
        message=with_inches(finding.message),
        fix=with_inches(finding.fix),
    )
