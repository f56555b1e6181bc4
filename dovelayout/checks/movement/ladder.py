"""Where the limits on movement come from, and the ladder for wood that something holds."""

from __future__ import annotations

from dovelayout.checks.rule import Rule, rule

HANDBOOK = "movement: Wood Handbook FPL-GTR-190, Eq 4-5, 13-2 and 13-3; limit: ours"


def held(check: str, measures: str) -> Rule:
    """A rule on how far wood moves that can't: what gives unseen, what shows, and what splits."""
    return rule(check, measures, unit="mm", note=1.0, warn=1.5, stop=2.5, below=False, source=HANDBOOK)
