"""From what a maker sees to what it comes from: `data/symptoms.toml`, and an honest search in it.

A report is one symptom only where its words leave no doubt; else the nearest are listed, and nothing is guessed.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.checks.finding import COMMON_PRACTICE, Level
from dovelayout.errors import LayoutError

MOST_LISTED = 3
"""Diagnoses listed for one report: a longer list is no advice (ours)."""
MOST_LETTERS = 500
"""Longer reports are bad input: a sentence says it (ours)."""
_NEGATIONS = frozenset(
    {"not", "no", "never", "without", "isn't", "aren't", "doesn't", "don't", "didn't", "won't", "nothing"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """One trouble: its cause, how to tell, the remedy, and what to ask before anything is cut.

    `words` are groups: a report with a word of every group is this symptom. `air` is 'drier' or 'damper' where the air's
    change belongs to it, else ''.
    """

    id: str
    title: str
    words: tuple[frozenset[str], ...]
    cause: str
    tell: str
    remedy: str
    next_time: str = ""
    asks: tuple[str, ...] = ()
    command: str = ""
    air: str = ""
    level: Level = Level.NOTE
    source: str = COMMON_PRACTICE

    def share(self, said: frozenset[str]) -> float:
        """Share of the groups of which a word was said."""
        return sum(1 for group in self.words if group & said) / len(self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What a report comes down to: one symptom when `sure`, else the nearest, best first, with `doubt` saying why."""

    sure: bool
    symptoms: tuple[Symptom, ...]
    doubt: str = ""


@cache
def all_symptoms() -> Mapping[str, Symptom]:
    """Every symptom by its id, in the table's order."""
    table = tomllib.loads((files("dovelayout.repair") / "data" / "symptoms.toml").read_text(encoding="utf-8"))
    return {name: _symptom(name, row) for name, row in table.items()}


def _symptom(name: str, row: Mapping[str, Any]) -> Symptom:
    values = dict(row)
    words = tuple(frozenset(stem for word in group for stem in _stems(word)) for group in values.pop("words"))
    return Symptom(
        id=name,
        words=words,
        asks=tuple(values.pop("asks", ())),
        level=Level(values.pop("level", "note")),
        **values,
    )


def find_symptom(name: str) -> Symptom:
    """The symptom of that id. Raises LayoutError that lists them."""
    wanted = "-".join(name.strip().casefold().replace("_", "-").split())
    if wanted in all_symptoms():
        return all_symptoms()[wanted]
    raise LayoutError(f"symptom {name[:80]!r} is not known", remedy=f"one of {', '.join(all_symptoms())}")


def air_change(humidity_pct: tuple[float, float]) -> str:
    """'drier' or 'damper' for the relative humidity when all was well and now; '' where it is the same."""
    before, now = humidity_pct
    return "" if before == now else "drier" if now < before else "damper"


def diagnose(report: str, *, air: str = "") -> Diagnosis:
    """What a report in free words comes down to; `air` as `air_change` says it, '' where it isn't known.

    Sure only where one symptom has a word of each of its groups, no other has as many, and nothing is denied in the report.
    Raises LayoutError for a report that is empty, too long, or like nothing in the table.
    """
    if not report.strip():
        raise LayoutError("nothing to diagnose: say what you see, such as 'gap at the lap, one socket only'")
    if len(report) > MOST_LETTERS:
        raise LayoutError(f"a report of {len(report)} letters: say it in one sentence, at most {MOST_LETTERS}")
    words = _words(report)
    said = frozenset(stem for word in words for stem in _stems(word)) | ({air} if air else set())
    rows = [row for row in all_symptoms().values() if row.share(said) > 0 and _fits(row, air)]
    if not rows:
        raise LayoutError(
            f"nothing known is like {report[:80]!r}", remedy=f"name one with --symptom: {', '.join(all_symptoms())}"
        )
    rows.sort(key=lambda row: (-row.share(said), -len(row.words)))
    whole = [row for row in rows if row.share(said) == 1]
    most = [row for row in whole if len(row.words) == len(whole[0].words)]
    if not whole:
        return Diagnosis(sure=False, symptoms=tuple(rows[:MOST_LISTED]), doubt="some of it is missing in what you say")
    if len(most) > 1:
        return Diagnosis(sure=False, symptoms=tuple(most[:MOST_LISTED]), doubt="what you say fits more than one")
    if denied := sorted(words & _NEGATIONS):
        doubt = f"'{denied[0]}' may turn the meaning round, which a search for words can't tell"
        return Diagnosis(sure=False, symptoms=tuple(whole[:MOST_LISTED]), doubt=doubt)
    return Diagnosis(sure=True, symptoms=(whole[0],))


def _fits(row: Symptom, air: str) -> bool:
    """Whether a symptom can be, with what is known of the air."""
    return not (air and row.air) or row.air == air


def _words(report: str) -> frozenset[str]:
    """The words of a report, and the parts of those with a hyphen: 'mirror-image' says 'mirror' too."""
    plain = re.sub(r"\b(half|part) way\b", r"\1-way", report.casefold().replace("’", "'"))
    whole = re.findall(r"[^\W\d_]+(?:['-][^\W\d_]+)*", plain)
    return frozenset((*whole, *(part for word in whole for part in word.split("-"))))


_ENDINGS = ("ing", "ed", "es", "s")


def _stems(word: str) -> frozenset[str]:
    """A word, and without its ending: 'sticks', 'sticking' and 'stick' are one, 'stopped' and 'stop' too."""
    found = {word}
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            stem = word.removesuffix(ending)
            found.add(stem)
            if len(stem) > 3 and stem[-1] == stem[-2]:
                found.add(stem[:-1])
    return frozenset(found)
