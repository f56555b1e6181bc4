"""Rules: what a check measures and the limits it judges by, each declared once; a breach makes the finding.

`rule(...)` declares one and keeps it in `RULES`, from which the list of limits, the pages of the checks and the search for
layouts are read. A check has one id and may have several rules, each with a measure of its own. The sentences for people
stand in `data/checks.toml`, by the check's id, or in the `data/rules.toml` of the rule's own room.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.checks.finding import OURS, Finding, Level
from dovelayout.checks.remedy import Remedies, no_remedies
from dovelayout.place import Place

DIGITS = {"N": 1, "MPa": 2, "points": 2, "times": 2} | dict.fromkeys(
    ("share", "of the host", "of the open time", "of the longest open time"), 4
)
"""So many digits are kept of what was measured in these units, by definition of what a reader sees; 3 in all others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One ladder of limits of one check, with its source.

    `below` True: the lower the measure, the worse. A level is reached when the measure lies strictly beyond its limit; a rule
    without limits says what is so or not so, or has its limit from the job. `layout`: whether another layout of the joint
    changes what is measured. For people: `fault`, what is wrong in two or three words ('thin pins'), `why` it matters, and
    an `example` of what it looks like in wood.
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
    fault: str = ""
    why: str = ""
    example: str = ""

    def limited(self, **limits: float) -> Rule:
        """The same rule with limits of the job's own, such as its thinnest knife."""
        return replace(self, **limits)  # type: ignore[arg-type]

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

    def said(self, level: Level, place: Place, message: str, *, measured: float | None = None, **more: Any) -> Finding:
        """A finding of this check that isn't judged by its limits; `more`: other fields of a Finding."""
        if measured is not None:
            more = {"measured": round(measured, DIGITS.get(self.unit, 3)), "unit": self.unit, **more}
        more = {"source": self.source, **more}
        return Finding(check=self.check, measures=self.measures, level=level, place=place, message=message, **more)

    def not_checked(self, place: Place, because: str, fix: str = "") -> Finding:
        """The note of a check that can't run."""
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
        self, place: Place, message: str, *, fix: str = "", remedies: Remedies = no_remedies, **more: Any
    ) -> Finding:
        """The finding. `fix`: what would do where no change of the job does; `more`: other fields of a Finding."""
        more = {"limit": self.limit, "fix": fix, "remedies": remedies, **more}
        return self.rule.said(self.level, place, message, measured=self.measured, **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What a rule measured on a corner, and on which part of it: no word about it, since many layouts are compared by it."""

    rule: Rule
    value: float
    part: Any = None

    @property
    def breach(self) -> Breach | None:
        """The limit that it breaks, None where it breaks none."""
        return self.rule.breach(self.value)

    @property
    def clean(self) -> bool:
        """Whether neither a warning nor a stop is reached."""
        return self.rule.judge(self.value)[0].rank <= Level.NOTE.rank


RULES: dict[tuple[str, str], Rule] = {}
"""Every rule by its check and what it measures, as the modules that declare them are imported."""


def rule(check: str, measures: str, **fields: Any) -> Rule:
    """Declares a rule (the fields of `Rule`) and keeps it in `RULES`; sentences that aren't given are those of its check in
    `data/checks.toml`. Raises ValueError for one that is there already."""
    if (check, measures) in RULES:
        raise ValueError(f"the rule {check!r}, {measures!r} is declared twice")
    fields = {**all_words().get(check, {}), **fields}
    RULES[check, measures] = declared = Rule(check=check, measures=measures, **fields)
    return declared


def rule_of(finding: Finding) -> Rule | None:
    """The rule that a finding comes from; None for one that names none."""
    return RULES.get((finding.check, finding.measures))


@cache
def all_words() -> dict[str, dict[str, str]]:
    """The sentences for people of every check, by its id: `fault`, `why` and `example`."""
    return tomllib.loads(files("dovelayout.checks").joinpath("data/checks.toml").read_text(encoding="utf-8"))
