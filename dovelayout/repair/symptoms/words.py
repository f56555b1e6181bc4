"""A report's words: slips of the pen repaired, endings cut off, everyday words read as the concepts they stand for.

The concepts stand in `data/concepts.toml`. The longest entry that fits wins and uses its words up, so 'stick out' is
read as proud and not as stuck as well.
"""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from itertools import groupby
from typing import Any

NOT = "not"
"""What won't, can't, doesn't, never and their like are read as."""
AMOUNT = "amount"
"""What a figure is read as, with its unit."""
BREAK = ","
"""What the marks between clauses are read as: no entry goes on behind one."""
NEUTRAL = "-neutral"
"""Ending of concepts that use their words up and mean nothing: 'at the top' isn't a table's top."""

_DENIALS = frozenset({NOT, "no", "none", "nothing", "without", "neither", "nor"})
_ARTICLES = frozenset({"the", "a", "an", "my", "its"})
_NEGATED = re.compile(
    r"\b(?:(?:ca|wo|do|does|did|is|are|was|were|has|have|had|would|could|should|ai)n'?t|can ?not|never|hardly)\b"
)
_FIGURE = re.compile(r"\d[\d.,/]*\s*(?:mm|cm|m|in|inch(?:es)?|ft|feet|\"|''|'|°|deg(?:rees)?|%|thou|f|c)?(?![\w])")
_ASKING = re.compile(r"\W*(?:will|would|could|should|shall|may|can i|what if|do i|is it (?:ok|safe|normal))\b")
_SQUARE = re.compile(r"\b90(?:\s*(?:°|deg(?:rees?)?))?(?!\w|[.,]\d)")
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?|[,;:.!?()]")
_VOWEL = re.compile(r"[aeiouy]")

DENIED_WORDS = 3
"""A denial is of what is said at most so many words later (ours)."""
LEAST_SLIP = 4
"""Shorter words are too much like others to be taken for a slip of the pen (ours)."""
TWO_SLIPS = 8
"""Words of so many letters may have two letters wrong (ours)."""


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads((files("dovelayout.repair.symptoms") / "data" / "concepts.toml").read_text(encoding="utf-8"))


@cache
def _whole() -> frozenset[str]:
    """Words whose ending belongs to them."""
    return frozenset(_table()["plain"]["whole"].split())


@lru_cache(maxsize=20_000)
def stem(word: str) -> str:
    """A word without its ending: 'sticks', 'sticking' and 'stick' are one, 'moulding' and 'mould' are two."""
    if len(word) < 4 or word in _whole():
        return word
    for ending, instead in (("ies", "y"), ("ied", "y"), ("ing", ""), ("ed", ""), ("es", ""), ("s", "")):
        start = word.removesuffix(ending)
        if start == word or len(start) < 3 - bool(instead) or not _VOWEL.search(start):
            continue
        if ending == "es" and not start.endswith(("s", "x", "z", "ch", "sh")):
            continue
        if ending == "s" and word.endswith(("ss", "us", "is")):
            continue
        word = start + instead
        if ending in ("ing", "ed") and len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
            word = word[:-1]
        break
    return word.removesuffix("e") if len(word) > 3 else word


def asks(text: str) -> bool:
    """Whether a text begins as a question about what is to be done, or what will happen."""
    return _ASKING.match(text.casefold()) is not None


def tokens(text: str) -> list[str]:
    """The words of a text in lower case: contractions of 'not' are one word NOT, figures AMOUNT, marks BREAK."""
    plain = text.casefold().replace("’", "'").replace("`", "'")
    plain = _NEGATED.sub(f" {NOT} ", plain)
    plain = _FIGURE.sub(f" {AMOUNT} ", _SQUARE.sub(" ninety ", plain))
    return [word.removesuffix("'s").replace("'", "") if word[0].isalpha() else BREAK for word in _WORD.findall(plain)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What was read in a text.

    `stems` without filler words, in order; `concepts` as (place, name), places counting words; `denied`: a 'not' or 'no'
    that belongs to no known entry; what it denies is not among the concepts.
    """

    stems: tuple[str, ...]
    concepts: tuple[tuple[int, str], ...]
    denied: bool

    @property
    def names(self) -> frozenset[str]:
        """The concepts that were said."""
        return frozenset(name for _, name in self.concepts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Words that stand for a concept, or for several, as they are written and by their stems."""

    words: tuple[str, ...]
    stems: tuple[str, ...]
    concepts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """Concepts by their entries, and words of four sorts: `words` of the entries; `fillers`, which may stand between them;
    `empty` ones, which count for nothing; `plain` ones, which are never taken for a slip of the pen.

    `entries`: first stem -> second stem, or '' for entries of one word -> entries.
    """

    entries: Mapping[str, Mapping[str, Sequence[Entry]]]
    fillers: frozenset[str]
    empty: frozenset[str]
    words: frozenset[str]
    plain: frozenset[str]
    concepts: frozenset[str]

    def read(self, words: Sequence[str]) -> Read:
        """What a text's words say."""
        stems = tuple(stem(word) for word in words)
        found: list[tuple[int, str]] = []
        denied = False
        place, reach = 0, -1
        while place < len(stems):
            match = self._longest(words, stems, place)
            if match is not None and words[place] in self.fillers:
                later = self._longest(words, stems, place + 1)  # 'the back' is less than 'back of the drawer'
                match = None if later is not None and later.length >= match.length else match
            if match is None:
                if words[place] in _DENIALS:
                    denied, reach = True, place + DENIED_WORDS
                elif words[place] == BREAK:
                    reach = -1
                place += 1
                continue
            if place > reach:
                found.extend((place, name) for name in match.concepts if not name.endswith(NEUTRAL))
            reach = -1  # a denial is of the one thing that follows it
            place = match.after
        content = tuple(one for word, one in zip(words, stems, strict=True) if word not in self.empty and word != BREAK)
        return Read(stems=content, concepts=tuple(found), denied=denied)

    def _longest(self, words: Sequence[str], stems: Sequence[str], place: int) -> _Match | None:
        """The longest entry that starts here, None where none does.

        Of two as long the one whose words are said to the letter: 'fronts' are a drawer's, 'front' is any front.
        """
        best: _Match | None = None
        by_second = self.entries.get(stems[place], {}) if place < len(stems) else {}
        for second in self._seconds(words, stems, place) if by_second else ():
            for entry in by_second.get(second, ()):
                after, same = self._ends(entry, words, stems, place)
                length = len(entry.stems)
                if after and (best is None or (length, same) > (best.length, best.same)):
                    best = _Match(concepts=entry.concepts, length=length, same=same, after=after)
        return best

    def _seconds(self, words: Sequence[str], stems: Sequence[str], place: int) -> Iterator[str]:
        """What can be the second stem of an entry that starts here: none, or one up to the first that is no filler."""
        yield ""
        for at in range(place + 1, len(stems)):
            yield stems[at]
            if words[at] not in self.fillers:
                return

    def _ends(self, entry: Entry, words: Sequence[str], stems: Sequence[str], place: int) -> tuple[int, int]:
        """Where an entry that starts here ends, and how many of its words are said to the letter; 0 where it isn't said."""
        at, same = place, 0
        for wanted, word in zip(entry.stems, entry.words, strict=True):
            while place < at < len(stems) and stems[at] != wanted and words[at] in self.fillers:
                at += 1
            if at >= len(stems) or stems[at] != wanted:
                return 0, 0
            same += words[at] == word
            at += 1
        return at, same


@dataclass(frozen=True, slots=True, kw_only=True)
class _Match:
    """An entry found in a text: how many words it has, how many are said to the letter, and the place after it."""

    concepts: tuple[str, ...]
    length: int
    same: int
    after: int


@cache
def lexicon() -> Lexicon:
    """The lexicon of the package. An entry that stands in the table under two concepts says both."""
    table = _table()
    plain = (files("dovelayout.repair.symptoms") / "data" / "plain_words.txt").read_text(encoding="utf-8").split()
    entries: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for name, texts in table["words"].items():
        apart = groupby(tokens(texts), key=lambda word: word == BREAK)
        for said in dict.fromkeys(form for mark, words in apart if not mark for form in _forms(tuple(words))):
            entries[said].append(name)
    by_start: dict[str, dict[str, list[Entry]]] = defaultdict(lambda: defaultdict(list))
    for said, names in entries.items():
        entry = Entry(words=said, stems=tuple(stem(word) for word in said), concepts=tuple(names))
        by_start[entry.stems[0]][entry.stems[1] if len(said) > 1 else ""].append(entry)
    fillers = frozenset(table["plain"]["fillers"].split())
    empty = fillers.union(*(tokens(word) for word in table["plain"]["empty"].split()))
    return Lexicon(
        entries=by_start,
        fillers=fillers,
        empty=empty,
        words=frozenset(word for said in entries for word in said),
        plain=empty | frozenset(plain),
        concepts=frozenset(table["words"]),
    )


def _forms(words: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """An entry as it is written, and without the articles in its middle: 'behind tails' is 'behind the tails'."""
    yield words
    short = (*words[:1], *(word for word in words[1:] if word not in _ARTICLES))
    if len(short) > 1:
        yield short


@dataclass(frozen=True, slots=True, kw_only=True)
class Speller:
    """Repairs slips of the pen: a word nobody knows becomes the nearest known one with the same first letter, of two as
    near the more frequent one. `stems` are those of the words that are repaired to, `by_first` these words by their
    first letter, with how often each is used."""

    known: frozenset[str]
    stems: frozenset[str]
    by_first: Mapping[str, tuple[tuple[str, int], ...]]

    def repaired(self, words: Iterable[str]) -> list[str]:
        """The words, slips repaired."""
        return [self.nearest(word) for word in words]

    def nearest(self, word: str) -> str:
        """The word itself where it is known or like none, else the one that was meant."""
        if len(word) < LEAST_SLIP or word in self.known or stem(word) in self.stems:
            return word
        most = 2 if len(word) >= TWO_SLIPS else 1
        near = [
            (distance(word, other, most), -used, other)
            for other, used in self.by_first.get(word[0], ())
            if abs(len(word) - len(other)) <= most
        ]
        best = min(near, default=None)
        return best[2] if best is not None and best[0] <= most else word


def speller(words: Mapping[str, int], plain: Iterable[str]) -> Speller:
    """A speller that repairs towards these words, given with how often they are used, and leaves the plain ones alone."""
    by_first: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for word, used in sorted(words.items()):
        if len(word) >= LEAST_SLIP - 1:
            by_first[word[0]].append((word, used))
    return Speller(
        known=frozenset(words) | frozenset(plain),
        stems=frozenset(stem(word) for word in words),
        by_first={first: tuple(rows) for first, rows in by_first.items()},
    )


def distance(one: str, other: str, most: int) -> int:
    """Letters wrong, missing, too many or exchanged with their neighbour between two words; `most` + 1 for any more."""
    before: list[int] = []
    last = list(range(len(other) + 1))
    for row, letter in enumerate(one, 1):
        line = [row]
        for column, wanted in enumerate(other, 1):
            cost = min(last[column] + 1, line[-1] + 1, last[column - 1] + (letter != wanted))
            if row > 1 and column > 1 and letter == other[column - 2] and one[row - 2] == wanted:
                cost = min(cost, before[column - 2] + 1)
            line.append(cost)
        if min(line) > most:
            return most + 1
        before, last = last, line
    return min(last[-1], most + 1)


def pairs(concepts: Sequence[tuple[int, str]], most_apart: int) -> Iterator[str]:
    """Pairs of concepts said at most so many words apart, their order aside."""
    for number, (place, name) in enumerate(concepts):
        for further, other in concepts[number + 1 :]:
            if further - place > most_apart:
                break
            if other != name:
                yield " ".join(sorted((name, other)))
