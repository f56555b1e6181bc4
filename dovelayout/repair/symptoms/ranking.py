"""Which symptom a report in free words is: weighted BM25 over its words and concepts, and how sure that is.

Each symptom is one document of its title and its phrases, which say the same thing as different makers would. A report is
compared by five kinds of features: stems, neighbouring stems, concepts, concepts near each other, and runs of letters,
which find what a slip of the pen hides from the others. BM25: Robertson and Zaragoza, The Probabilistic Relevance
Framework, 2009, Eq 3.15; weights and limits are ours, tried on reports kept for that.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from types import MappingProxyType

from dovelayout.errors import LayoutError
from dovelayout.repair.symptoms.symptom import Symptom, all_symptoms
from dovelayout.repair.symptoms.words import Lexicon, Read, Speller, asks, lexicon, pairs, speller, tokens

MOST_LISTED = 3
"""Diagnoses listed for one report: a longer list is no advice (ours)."""
MOST_LETTERS = 1500
"""Longer reports are bad input: a few sentences say it (ours)."""

WEIGHTS: Mapping[str, float] = {"stem": 0.5, "stems": 0.35, "concept": 1.4, "concepts": 0.8, "letters": 0.1}
"""What a match of each kind of feature counts (ours)."""
NEEDS_SCORE = 8.0
"""What it counts that all that a symptom needs is said, in part where it is in part (ours)."""
WHOLE_SCORE = 5.0
"""What it counts beyond that when nothing of it is missing (ours)."""
CLASH_SCORE = -2.5
"""What each concept counts that speaks against a symptom (ours)."""
SATURATION = 2.0
"""BM25's k1: how much a further phrase with the same feature still counts (ours)."""
LENGTH_SHARE = 0.6
"""BM25's b: how much a document's length counts (ours)."""
MOST_APART = 4
"""Concepts at most so many words apart belong together (ours)."""
LETTERS = 4
"""Length of the runs of letters that are compared (ours)."""

SHARPNESS = 1.8
"""How fast a lead turns into certainty: the factor on z-scores before the softmax (ours)."""
SURE = 0.97
"""Probability from which a report may be one symptom beyond doubt (ours)."""
LEAST_KNOWN = 0.6
"""Share of a report's words that must be known for that (ours)."""

LEAST_CONCEPTS = 2
"""Concepts that must be said for that (ours)."""

JOB_SCORE = 3.0
"""What it counts that a job speaks for a symptom or against it: less than one thing that a symptom needs (ours)."""

ASKED = "you ask or fear it, and don't say that it happened"
_TALK = frozenset({"asking", "wish"})
"""Concepts of a text that asks or fears instead of reporting."""
_ELSEWHERE = "elsewhere"
"""The concept of things that no symptom here is about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """What a report comes down to: one symptom when `sure`, else the nearest, best first, with `doubt` saying why.

    `likely`: an answer has told the nearest apart, so the first is it unless the report left something out.
    """

    sure: bool
    symptoms: tuple[Symptom, ...]
    doubt: str = ""
    likely: bool = False


def air_change(humidity_pct: tuple[float, float]) -> str:
    """'drier' or 'damper' for the relative humidity when all was well and now; '' where it is the same."""
    before, now = humidity_pct
    return "" if before == now else "drier" if now < before else "damper"


_AIR_WORDS = {"drier": "the air is drier", "damper": "the air is damper"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """How often each feature of one kind is in each document: `places` holds (document, count) for each feature, `norms`
    what BM25 sets against the count in each document, long ones more."""

    places: Mapping[str, Sequence[tuple[int, int]]]
    norms: Sequence[float]

    def score(self, feature: str) -> Iterator[tuple[int, float]]:
        """(Document, score) for each document that has the feature."""
        found = self.places.get(feature, ())
        rarity = math.log(1 + (len(self.norms) - len(found) + 0.5) / (len(found) + 0.5))
        for place, count in found:
            yield place, rarity * (SATURATION + 1) * count / (count + self.norms[place])


@dataclass(frozen=True, slots=True, kw_only=True)
class Index:
    """All symptoms ready to be searched, with one tally for each kind of feature."""

    symptoms: tuple[Symptom, ...]
    lexicon: Lexicon
    speller: Speller
    tallies: Mapping[str, Tally]

    def read(self, report: str) -> Read:
        """A report's words, slips repaired."""
        return self.lexicon.read(self.speller.repaired(tokens(report)))

    def ranked(self, read: Read) -> list[tuple[float, Symptom]]:
        """Every symptom with its score, best first."""
        totals = [0.0] * len(self.symptoms)
        for kind, found in features(read).items():
            for feature in sorted(found):  # floats add up differently in another order
                for place, score in self.tallies[kind].score(feature):
                    totals[place] += WEIGHTS[kind] * score
        rows = [(total + _fit_score(row, read.names), row) for total, row in zip(totals, self.symptoms, strict=True)]
        return sorted(rows, key=_score)

    def known_share(self, read: Read) -> float:
        """Share of a report's words that some symptom's phrases or the lexicon have."""
        return sum(1 for word in read.stems if word in self.speller.stems) / max(1, len(read.stems))


def _score(row: tuple[float, Symptom]) -> float:
    """Sorts best first."""
    return -row[0]


def features(read: Read) -> dict[str, set[str]]:
    """What a text is compared by, of each kind."""
    stems = read.stems
    return {
        "stem": set(stems),
        "stems": {f"{one} {other}" for one, other in pairwise(stems)},
        "concept": set(read.names),
        "concepts": set(pairs(read.concepts, MOST_APART)),
        "letters": {run for word in stems for run in _runs(word)},
    }


@lru_cache(maxsize=20_000)
def _runs(word: str) -> tuple[str, ...]:
    """Runs of letters of a word, its beginning and its end marked by a space."""
    padded = f" {word} "
    return tuple(padded[start : start + LETTERS] for start in range(len(padded) - LETTERS + 1)) or (padded,)


def _fit_score(row: Symptom, concepts: frozenset[str]) -> float:
    """What it counts how much of a symptom's needs is said, and how much against it."""
    met = row.met(concepts)
    share = sum(met) / len(met)
    return NEEDS_SCORE * share + WHOLE_SCORE * (share == 1) + CLASH_SCORE * len(row.clash & concepts)


@cache
def index() -> Index:
    """The index of all symptoms."""
    symptoms, known = tuple(all_symptoms().values()), lexicon()
    texts = [[tokens(text) for text in (row.title, *row.phrases)] for row in symptoms]
    counts: dict[str, list[Counter[str]]] = {kind: [] for kind in WEIGHTS}
    for row in texts:
        tallies = {kind: Counter[str]() for kind in WEIGHTS}
        for words in row:
            for kind, found in features(known.read(words)).items():
                tallies[kind].update(found)
        for kind, found_so_often in tallies.items():
            counts[kind].append(found_so_often)
    return Index(
        symptoms=symptoms,
        lexicon=known,
        speller=speller(
            Counter([*known.words, *(word for row in texts for words in row for word in words)]), known.plain
        ),
        tallies={kind: tally(rows) for kind, rows in counts.items()},
    )


def tally(documents: Sequence[Counter[str]]) -> Tally:
    """The tally of documents, each given as how often it has each feature."""
    lengths = [document.total() for document in documents]
    mean = math.fsum(lengths) / len(lengths)
    places: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
    for place, document in enumerate(documents):
        for feature, count in document.items():
            places[feature].append((place, count))
    norms = [SATURATION * (1 - LENGTH_SHARE + LENGTH_SHARE * length / mean) for length in lengths]
    return Tally(places=places, norms=norms)


def probabilities(scores: Sequence[float]) -> list[float]:
    """Scores as probabilities: a softmax over their z-scores, sharpened."""
    mean = math.fsum(scores) / len(scores)
    spread = math.sqrt(math.fsum((score - mean) ** 2 for score in scores) / len(scores)) or 1.0
    powers = [math.exp(SHARPNESS * (score - mean) / spread) for score in scores]
    whole = math.fsum(powers)
    return [power / whole for power in powers]


def diagnose(report: str, *, air: str = "", favoured: Mapping[str, float] = MappingProxyType({})) -> Diagnosis:
    """What a report in free words comes down to; `air` as `air_change` says it, '' where it isn't known.

    Sure only where one symptom leads clearly, all that it needs is said, nothing speaks against it, and nothing is denied,
    asked or feared. `favoured`: 1 for each symptom that a job speaks for and -1 for one that it speaks against; this turns
    the order round and takes certainty away, and never gives any. Raises LayoutError for a report that is empty, too long,
    or like nothing that is known.
    """
    if not report.strip():
        raise LayoutError("nothing to diagnose: say what you see, such as 'gap at the lap, one socket only'")
    if len(report) > MOST_LETTERS:
        raise LayoutError(f"a report of {len(report)} letters: say it in a few sentences, at most {MOST_LETTERS}")
    known = index()
    read = known.read(f"{report}, {_AIR_WORDS[air]}" if air else report)
    if not read.concepts and known.known_share(known.read(report)) < LEAST_KNOWN:
        raise LayoutError(f"nothing known is like {report[:80]!r}; name one with --symptom, --list shows them")
    ranked = [(score, row) for score, row in known.ranked(read) if not air or row.air in ("", air)]
    certain = probabilities([score for score, _ in ranked])[0]
    doubt = ASKED if asks(report) else _doubt(ranked[0][1], read, certain=certain, known_share=known.known_share(read))
    if favoured:
        first = ranked[0][1]
        ranked = sorted(((score + JOB_SCORE * favoured.get(row.id, 0.0), row) for score, row in ranked), key=_score)
        turned = ranked[0][1] != first or favoured.get(first.id, 0.0) < 0
        doubt = doubt or ("what you say is clear, but your job speaks against it" if turned else "")
    nearest = tuple(row.sized(report) for _, row in ranked[: MOST_LISTED if doubt else 1])
    return Diagnosis(sure=not doubt, symptoms=nearest, doubt=doubt)


def _doubt(row: Symptom, read: Read, *, certain: float, known_share: float) -> str:
    """Why a report may not be this symptom; '' where there is no doubt."""
    concepts = read.names
    if concepts & _TALK:
        return ASKED
    if _ELSEWHERE in concepts:
        return "it may be of something that isn't known here"
    if read.denied:
        return "a 'not' or 'no' may turn the meaning round, which a search for words can't tell"
    if row.clash & concepts:
        return "what you say fits more than one"
    if len(concepts) < LEAST_CONCEPTS or not all(row.met(concepts)):
        return "some of it is missing in what you say"
    if known_share < LEAST_KNOWN:
        return "too many of your words are not known here"
    return "" if certain >= SURE else "what you say fits more than one"
