"""One trouble with all that is known of it, read from `data/*.toml`: a file a theme, a table a symptom."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.checks.finding import COMMON_PRACTICE, Level
from dovelayout.errors import LayoutError
from dovelayout.repair.advice import CAUTIONS
from dovelayout.repair.symptoms.figures import filled
from dovelayout.units import Unit, parse_length

THEMES = (
    "gaps",
    "fitting",
    "breaks",
    "marking",
    "squareness",
    "housings",
    "drawers",
    "movement",
    "glue",
    "looks",
)
SIZE = "SIZE"
"""Where a symptom's command takes the size that a maker measured."""
MOST_TIMES = 10.0
"""A size said in a report is taken for the command's only within so many times of its example (ours)."""

_LENGTH = re.compile(r"(?<![\d/.,])((?:\d+\s+)?\d+/\d+|\d+(?:[.,]\d+)?)\s*-?(mm|cm|in|inch(?:es)?|\")(?![a-z])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """One trouble: what it looks like, what it comes from (most frequent cause first), how to tell, and what to do.

    What to do depends on how far the piece is: `glue_open` before the joint is glued or while its glue is open, `glue_set`
    when it has set, `finished` when the finish is on. `command_form` is the command that works the figures out, with SIZE
    for the size that is measured, and `size` that size or an example of it. `air` is 'drier' or 'damper' where the air's
    change belongs to it, else ''.

    `needs` are groups, each a choice of concepts or of concepts together: a report is this symptom beyond doubt only if it
    says one choice of each group, and none of `clash`.
    """

    id: str
    title: str
    seen: str
    causes: tuple[str, ...]
    tell: str
    glue_open: str
    glue_set: str
    finished: str
    leave: str
    next_time: str
    asks: tuple[str, ...]
    cautions: tuple[str, ...]
    phrases: tuple[str, ...]
    needs: tuple[tuple[frozenset[str], ...], ...]
    clash: frozenset[str]
    also: tuple[str, ...] = ()
    command_form: str = ""
    size: str = ""
    air: str = ""
    level: Level = Level.NOTE
    source: str = COMMON_PRACTICE
    said_mm: float | None = None
    """The size that a report says; None where it says none that can be meant."""

    @property
    def cause(self) -> str:
        """The most frequent cause."""
        return self.causes[0]

    @property
    def command(self) -> str:
        """The command that works the figures out, with a size that can be run as it stands."""
        return self.command_form.replace(SIZE, self.size)

    def sized(self, report: str) -> Symptom:
        """The symptom with the size that a report says, if it says one alone and that can be meant."""
        concepts = {_mm(number, unit) for number, unit in _LENGTH.findall(report.casefold())}
        if not self.size or len(concepts) != 1:
            return self
        (size_mm,), example_mm = concepts, float(parse_length(self.size, unit=Unit.MM))
        if not example_mm / MOST_TIMES <= size_mm <= example_mm * MOST_TIMES:
            return self
        return replace(self, size=f"{size_mm:.3f}".rstrip("0").rstrip(".") + "mm", said_mm=size_mm)

    @property
    def remedy(self) -> str:
        """What to do at each stage, in one text."""
        return " ".join(f"{stage}: {text}" for stage, text in self.stages)

    @property
    def stages(self) -> tuple[tuple[str, str], ...]:
        """(Stage, what to do) in the order in which a piece comes about."""
        return (
            ("Dry, or the glue still open", self.glue_open),
            ("Glue set", self.glue_set),
            ("Finished", self.finished),
        )

    def met(self, concepts: frozenset[str]) -> tuple[bool, ...]:
        """For each group of needs, whether one of its choices is said."""
        return tuple(any(choice <= concepts for choice in group) for group in self.needs)


def _mm(number: str, unit: str) -> float:
    """A length as it stands in a report, in mm."""
    return round(float(parse_length(f"{number.replace(',', '.')} {unit}", unit=Unit.MM)), 3)


def _read(name: str) -> Mapping[str, Any]:
    return tomllib.loads((files("dovelayout.repair.symptoms") / "data" / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def all_symptoms() -> Mapping[str, Symptom]:
    """Every symptom by its id, in the tables' order."""
    return {name: _symptom(name, row) for theme in THEMES for name, row in _read(theme).items()}


@cache
def _cautions() -> Mapping[str, str]:
    """Every caution by its name: those of all repairs, and the symptoms' own."""
    shared = {name: CAUTIONS(name) for name in ("chisels", "lap", "ca", "glues", "clamps", "makers")}
    return shared | dict(_read("cautions"))


def _symptom(name: str, row: Mapping[str, Any]) -> Symptom:
    """A row of the data with its figures and cautions filled in."""
    values: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
    for key in ("seen", "tell", "glue_open", "glue_set", "finished", "leave", "next_time"):
        values[key] = filled(values[key])
    for key in ("causes", "asks"):
        values[key] = tuple(filled(text) for text in values[key])
    values["phrases"] = tuple(values["phrases"].strip().splitlines())
    values["cautions"] = (*(_cautions()[caution] for caution in values["cautions"]), _cautions()["makers"])
    values["needs"] = tuple(
        tuple(frozenset(choice.split("+")) for choice in group.split()) for group in values["needs"]
    )
    values["command_form"] = values.pop("command", "")
    values["clash"] = frozenset(values["clash"].split())
    return Symptom(id=name, level=Level(values.pop("level", "note")), **values)


@cache
def _ids() -> Mapping[str, str]:
    """Every name that a symptom goes by, its own id and older ones."""
    return {name: row.id for row in all_symptoms().values() for name in (row.id, *row.also)}


def find_symptom(name: str) -> Symptom:
    """The symptom of that id, or of an id that it had before. Raises LayoutError that lists them."""
    wanted = "-".join(name.strip().casefold().replace("_", "-").split())
    if wanted in _ids():
        return all_symptoms()[_ids()[wanted]]
    raise LayoutError(f"symptom {name[:80]!r} is not known; one of {', '.join(all_symptoms())}")
