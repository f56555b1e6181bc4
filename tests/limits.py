"""Every limit of the checks, and every figure beside them, with its unit, its value and where it comes from.

`python -m tests.limits` prints the table, `python -m tests.limits --write` puts it into dovelayout/docs/limits.md.
"""

from __future__ import annotations

import ast
import functools
import importlib
import inspect
import pkgutil
import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import Any

import dovelayout
from dovelayout.checks.rule import RULES, Rule
from dovelayout.joints.slope import Slope

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "dovelayout" / "docs" / "limits.md"
MARKS = ("<!-- limits -->", "<!-- /limits -->")

ROOMS = ("wood", "joints", "casework", "checks", "planning", "glueup", "repair", "printer")
"""The rooms whose figures judge a piece of furniture, or the paper it is laid out from; those of drawing and rendering are
a matter of looks."""

NEGLIGIBLE = 1e-5
"""Smaller figures guard against the last bit of the arithmetic (ours)."""

SOURCES = re.compile(
    r"\bours\b|common practice, no source|from memory|by definition|Wood Handbook|\bTables? [0-9]|\bEq\.? [0-9]|\bISO [0-9]",
    re.IGNORECASE,
)

_UNITS = {"MM": "mm", "IN": "in", "PCT": "%", "C": "°C", "N": "N", "MPA": "MPa", "MM2": "mm²", "DEG": "degrees"}


@dataclass(frozen=True, slots=True)
class Named:
    """A rule or a figure, by the name it has in its module; `said` is the docstring under it."""

    module: str
    name: str
    value: Any
    said: str = ""

    @property
    def place(self) -> str:
        """'checks.pins'."""
        return self.module.removeprefix("dovelayout.")


def modules(rooms: tuple[str, ...] = ROOMS) -> Iterator[ModuleType]:
    """Every module of these rooms, by name: a new file is among them without a word here."""
    for found in sorted(pkgutil.walk_packages(dovelayout.__path__, "dovelayout."), key=lambda found: found.name):
        if found.name.split(".")[1] in rooms:
            yield importlib.import_module(found.name)


@functools.cache
def rules() -> tuple[Named, ...]:
    """Every rule: those that the registry holds once all rooms are loaded, then those of the rooms that don't register theirs
    yet, by the names they have at the top of their modules."""
    found: dict[int, Named] = {}
    for module in modules():
        own = _assigned(module)
        for name, value in vars(module).items():
            if isinstance(value, Rule) and name in own:
                found.setdefault(id(value), Named(module.__name__, name, value))
    registered = [found.pop(id(rule), Named("", f"{rule.check}: {rule.measures}", rule)) for rule in RULES.values()]
    return (*registered, *found.values())


def unregistered() -> tuple[Named, ...]:
    """Rules that aren't declared with `rule(...)`."""
    known = {id(rule) for rule in RULES.values()}
    return tuple(row for row in rules() if id(row.value) not in known)


@functools.cache
def figures() -> tuple[Named, ...]:
    """Every public UPPER_CASE constant with a figure in it, and what the docstring right after it says."""
    return tuple(
        Named(module.__name__, name, vars(module)[name], said)
        for module in modules()
        for name, said in _assigned(module).items()
        if re.fullmatch(r"[A-Z][A-Z0-9_]*", name) and _numbers(vars(module)[name])
    )


def _assigned(module: ModuleType) -> dict[str, str]:
    """Names that a module gives at its top, and the string right under each."""
    body = ast.parse(inspect.getsource(module)).body
    found: dict[str, str] = {}
    for statement, following in zip(body, [*body[1:], None], strict=True):
        targets = statement.targets if isinstance(statement, ast.Assign) else [getattr(statement, "target", None)]
        for target in targets:
            if isinstance(target, ast.Name):
                found[target.id] = _text(following)
    return found


def _text(statement: ast.stmt | None) -> str:
    match statement:
        case ast.Expr(value=ast.Constant(value=str() as text)):
            return " ".join(text.split())
        case _:
            return ""


def _numbers(value: Any) -> list[float]:
    """The figures in a constant that are more than a guard; none in one that isn't made of figures."""
    match value:
        case bool():
            return []
        case int() | float() | Fraction():
            return [float(value)] if abs(value) >= NEGLIGIBLE or value == 0 else []
        case Slope():
            return [value.ratio]
        case Mapping():
            return [number for part in value.values() for number in _numbers(part)]
        case tuple() | list() | frozenset():
            return [number for part in value for number in _numbers(part)]
        case _:
            return []


def table() -> str:
    """The whole table, as Markdown."""
    rows = [_rule_row(row) for row in rules()] + [_figure_row(row) for row in figures()]
    rows.sort(key=lambda row: row[0])
    lines = ["| where | what | limit | unit | source |", "|---|---|---|---|---|"]
    lines += [f"| {' | '.join(cell.replace('|', '/') for cell in row)} |" for row in rows]
    return "\n".join(lines)


def _rule_row(row: Named) -> tuple[str, ...]:
    rule: Rule = row.value
    side = "under" if rule.below else "over"
    limits = ", ".join(
        f"{level} {side} {getattr(rule, level):.4g}"
        for level in ("note", "warn", "stop")
        if getattr(rule, level) is not None
    )
    return (f"`{row.place}.{row.name}`", f"`{rule.check}`: {rule.measures}", limits or "none", rule.unit, rule.source)


def _figure_row(row: Named) -> tuple[str, ...]:
    ending = row.name.rsplit("_", 1)[-1]
    value = ", ".join(f"{number:.6g}" for number in _numbers(row.value))
    if isinstance(row.value, Slope):
        value = f"1:{value}"
    sources = list(dict.fromkeys(found.lower() if found[0] in "oOcC" else found for found in SOURCES.findall(row.said)))
    return (f"`{row.place}.{row.name}`", row.said, value, _UNITS.get(ending, ""), "; ".join(sources))


def written(page: str) -> str:
    """The page with a fresh table between the marks."""
    before, _, rest = page.partition(MARKS[0])
    _, _, after = rest.partition(MARKS[1])
    return f"{before}{MARKS[0]}\n\n{table()}\n\n{MARKS[1]}{after}"


if __name__ == "__main__":
    if "--write" in sys.argv[1:]:
        PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
    else:
        print(table())
