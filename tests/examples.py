"""What every rule judges in the examples of its tests.

A test file in one of FOLDERS gives its examples away as `EXAMPLES`: calls that judge a job on either side of
a limit (and are checked in that file). Recording calls to `Rule.judge` while they run tells which limits they come to.
"""

from __future__ import annotations

import ast
import importlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dovelayout.checks.finding import Level
from dovelayout.checks.rule import Rule

ROOT = Path(__file__).parents[1]
FOLDERS = ("tests/checks", "tests/planning", "tests/glueup", "tests/repair", "tests/printer")

NEAR = 0.03
"""At a limit: on its good side and no further from it than this share of it (ours)."""
NEAR_ZERO = 0.06
"""The same for limits under 2 units, in units (ours)."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One judgement."""

    rule: Rule
    measured: float
    level: Level


def every() -> Iterator[Callable[[], object]]:
    """All examples of all test files: a new file's are among them."""
    for folder in FOLDERS:
        for path in sorted(ROOT.joinpath(folder).rglob("test_*.py")):
            if _gives_examples(path):
                yield from importlib.import_module(".".join(path.relative_to(ROOT).with_suffix("").parts)).EXAMPLES


def _gives_examples(path: Path) -> bool:
    body = ast.parse(path.read_text(encoding="utf-8")).body
    names = [target for s in body if isinstance(s, ast.Assign) for target in s.targets]
    names += [s.target for s in body if isinstance(s, ast.AnnAssign)]
    return any(isinstance(name, ast.Name) and name.id == "EXAMPLES" for name in names)


@contextmanager
def overheard() -> Iterator[list[Judged]]:
    """Every judgement of any rule while it lasts."""
    heard: list[Judged] = []
    judge = Rule.judge

    def listening(rule: Rule, measured: float) -> tuple[Level, float | None]:
        said = judge(rule, measured)
        heard.append(Judged(rule, measured, said[0]))
        return said

    Rule.judge = listening  # type: ignore[method-assign]
    try:
        yield heard
    finally:
        Rule.judge = judge  # type: ignore[method-assign]


def lacking(rule: Rule, heard: list[Judged]) -> list[str]:
    """What no example of a rule with limits shows: that it passes, that it speaks beyond a limit, that it is silent at
    it."""
    if rule.note is rule.warn is rule.stop is None:
        return []  # it says what is so or not so, and never judges a measure
    # a rule that has other limits from the job is a copy with the same name
    own = [judged for judged in heard if (judged.rule.check, judged.rule.measures) == (rule.check, rule.measures)]
    lacks = [] if any(judged.level is Level.OK for judged in own) else ["one that passes"]
    for level, limit in ((Level.NOTE, rule.note), (Level.WARN, rule.warn), (Level.STOP, rule.stop)):
        if limit is None:
            continue
        if not any(judged.level is level for judged in own):
            lacks.append(f"one beyond {level} {limit:g}")
        near = max(NEAR * abs(limit), NEAR_ZERO if abs(limit) < 2 else 0.0)
        if not any(judged.level.rank < level.rank and abs(judged.measured - limit) <= near for judged in own):
            lacks.append(f"one at {level} {limit:g}")
    return lacks
