"""Questions: those that make up a report, and those that tell similar symptoms apart."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.repair.symptoms.ranking import MOST_LISTED, Diagnosis
from dovelayout.repair.symptoms.symptom import Symptom, find_symptom


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question that tells symptoms apart: `answers` as (symptom's id, what its maker would answer)."""

    ask: str
    answers: tuple[tuple[str, str], ...]

    @property
    def ids(self) -> frozenset[str]:
        """The symptoms that it tells apart."""
        return frozenset(name for name, _ in self.answers)


@dataclass(frozen=True, slots=True, kw_only=True)
class Facet:
    """One of the things that a report should say, by its name, with words to choose from."""

    name: str
    ask: str
    words: tuple[str, ...]

    @property
    def line(self) -> str:
        """The question in one line."""
        return f"{self.ask} ({', '.join(self.words)})"


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads((files("dovelayout.repair.symptoms") / "data" / "questions.toml").read_text(encoding="utf-8"))


@cache
def questions() -> tuple[Question, ...]:
    """Every question that tells symptoms apart."""
    return tuple(
        Question(ask=row["ask"], answers=tuple((name, text) for name, text in row.items() if name != "ask"))
        for row in _table()["question"]
    )


@cache
def facets() -> tuple[Facet, ...]:
    """Where it is, what is seen and when it came: what is asked of someone who says nothing."""
    return tuple(Facet(name=row["name"], ask=row["ask"], words=tuple(row["words"])) for row in _table()["facet"])


def question_for(symptoms: Sequence[Symptom]) -> Question | None:
    """The question that tells the first of these from most of the others; None where none does.

    Of several that tell as many apart, the one with the fewest answers.
    """
    ids = [row.id for row in symptoms]
    fitting = [row for row in questions() if len(row.ids & set(ids)) > 1 and ids[0] in row.ids]
    return max(fitting, key=lambda row: (len(row.ids & set(ids)), -len(row.answers)), default=None)


def answered(found: Diagnosis, name: str) -> Diagnosis:
    """A diagnosis after a question was answered by that symptom: likely, never sure. Raises LayoutError for no symptom."""
    chosen = find_symptom(name)
    kept = next((row for row in found.symptoms if row.id == chosen.id), chosen)
    others = tuple(row for row in found.symptoms if row.id != chosen.id)
    doubt = "your answer says so, your report alone doesn't"
    return replace(found, sure=False, likely=True, symptoms=(kept, *others)[:MOST_LISTED], doubt=doubt)


def report_of(answers: Sequence[str]) -> str:
    """One report of what was answered to the facets, empty ones left out."""
    return ", ".join(text for answer in answers if (text := answer.strip()))
