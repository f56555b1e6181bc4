"""Rules: what a check measures and the limits it judges by, each declared once; a breach makes the finding.

`rule(...)` declares one and keeps it in `RULES`, from which the list of limits, the pages of the checks and the search for
layouts are read. A check has one id and may have several rules, each with a measure of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from dovelayout.checks.finding import OURS, Change, Finding, Level
from dovelayout.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One ladder of limits of one check, with its source.

    `below` True: the lower the measure, the worse. A level is reached when the measure lies strictly beyond its limit; a rule
    without limits says what is so or not so. `layout`: whether another layout of the joint changes what is measured. `why`
    says in a sentence why it matters, `example` what it looks like in wood.
    """

    check: str
    measures: str
    unit: str = ""
    note: float | None = None
    warn: float | None = None
    stop: float | None = None
    below: bool = True
    layout: bool = False
    source: str = OURS
    why: str = ""
    example: str = ""

    def judge(self, measured: float) -> tuple[Level, float | None]:
        """The worst level that `measured` reaches, and the limit it crossed."""
        for level, limit in ((Level.STOP, self.stop), (Level.WARN, self.warn), (Level.NOTE, self.note)):
            if limit is not None and self._beyond(measured, limit):
                return level, limit
        return Level.OK, None

    def breach(self, measured: float) -> Breach | None:
        """The limit that `measured` breaks, None where it breaks none."""
        level, limit = self.judge(measured)
        return None if level is Level.OK else Breach(rule=self, level=level, measured=measured, limit=limit)

    def said(self, level: Level, place: Place, message: str, **more: Any) -> Finding:
        """A finding of this check that isn't measured against its limits."""
        return Finding(check=self.check, level=level, place=place, message=message, source=self.source, **more)

    def not_checked(self, place: Place, because: str, fix: str = "") -> Finding:
        """The note a check leaves when it can't run: never silence."""
        return self.said(Level.NOTE, place, f"not checked, because {because}", fix=fix)

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
class Breach:
    """A rule broken: how badly, by which measure, beyond which limit."""

    rule: Rule
    level: Level
    measured: float
    limit: float | None

    def finding(
        self, place: Place, message: str, *, fix: str = "", changes: tuple[Change, ...] = (), digits: int = 3
    ) -> Finding:
        """The finding; `digits` are kept of what was measured."""
        return Finding(
            check=self.rule.check,
            level=self.level,
            place=place,
            message=message,
            measured=round(self.measured, digits),
            limit=self.limit,
            unit=self.rule.unit,
            fix=fix,
            source=self.rule.source,
            changes=changes,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What a rule measured on a corner, without a word about it: for comparing many layouts."""

    rule: Rule
    value: float

    @property
    def clean(self) -> bool:
        """Whether neither a warning nor a stop is reached."""
        return self.rule.judge(self.value)[0].rank <= Level.NOTE.rank


RULES: dict[tuple[str, str], Rule] = {}
"""Every rule by its check and what it measures, as the modules that declare them are imported."""


def rule(check: str, measures: str, **limits: Any) -> Rule:
    """Declares a rule (the fields of `Rule`) and keeps it in `RULES`. Raises ValueError for one that is there already."""
    if (check, measures) in RULES:
        raise ValueError(f"the rule {check!r}, {measures!r} is declared twice")
    RULES[check, measures] = declared = Rule(check=check, measures=measures, **limits)
    return declared


def rules_of(check: str) -> tuple[Rule, ...]:
    """The rules of one check, in the order they were declared."""
    return tuple(rule for rule in _every() if rule.check == check)


def _every() -> Iterable[Rule]:
    return RULES.values()
