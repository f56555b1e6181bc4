"""Sentences kept as data: TOML files of texts with named placeholders, each read on first use.

A file `data/<name>.toml` of a room holds texts and lists of texts in tables; a key is a dotted path, 'slip.steps'. Its
table `[placeholders]` names all that is filled in, `{width}`, with an example of each; tests fill every text with these.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, TypedDict


class FindingTexts(TypedDict):
    """Message and fix of a finding."""

    message: str
    fix: str


class UncheckedTexts(TypedDict):
    """Why a check can't run, and what would let it."""

    because: str
    fix: str


@dataclass(frozen=True, slots=True)
class Texts:
    """The texts of `data/<name>.toml` in a room of dovelayout.

    A wrong text or call is an error of the program, and raises: KeyError for a text that isn't there and for a
    placeholder that isn't filled or isn't named in the file, TypeError for one text where a list stands or the reverse.
    """

    room: str
    name: str

    def __call__(self, key: str, /, **values: object) -> str:
        """One text, its placeholders filled."""
        text = self._entry(key, values)
        if not isinstance(text, str):
            raise TypeError(f"{self}: {key} is a list of texts")
        return text.format(**values)

    def rows(self, key: str, /, **values: object) -> tuple[str, ...]:
        """A list of texts, their placeholders filled."""
        texts = self._entry(key, values)
        if isinstance(texts, str):
            raise TypeError(f"{self}: {key} is one text")
        return tuple(text.format(**values) for text in texts)

    def finding(self, key: str, /, **values: object) -> FindingTexts:
        """Message and fix of a finding: the texts of these names in the table `key`."""
        return {"message": self(f"{key}.message", **values), "fix": self(f"{key}.fix", **values)}

    def unchecked(self, key: str, /, **values: object) -> UncheckedTexts:
        """Why a check can't run and what would let it: the texts `because` and `fix` of the table `key`."""
        return {"because": self(f"{key}.because", **values), "fix": self(f"{key}.fix", **values)}

    def table(self, key: str) -> dict[str, str]:
        """The texts of one table by their own names; none of them has placeholders."""
        names = [name for prefix, _, name in (entry.rpartition(".") for entry in self.all()) if prefix == key]
        return {name: self(f"{key}.{name}") for name in names}

    def __contains__(self, key: str) -> bool:
        """Whether there is such a text or list."""
        return key in self.all()

    def all(self) -> Mapping[str, str | tuple[str, ...]]:
        """Every text and list by its key."""
        return _read(self.room, self.name)[0]

    def placeholders(self) -> Mapping[str, Any]:
        """An example of each placeholder."""
        return _read(self.room, self.name)[1]

    def _entry(self, key: str, values: Mapping[str, object]) -> str | tuple[str, ...]:
        if key not in self:
            raise KeyError(f"{self}: no {key}")
        if unnamed := values.keys() - self.placeholders().keys():
            raise KeyError(f"{self}: [placeholders] doesn't name {', '.join(sorted(unnamed))}")
        return self.all()[key]


@cache
def _read(room: str, name: str) -> tuple[dict[str, str | tuple[str, ...]], dict[str, Any]]:
    """The texts of a file and its placeholders."""
    table = tomllib.loads((files(f"dovelayout.{room}") / "data" / f"{name}.toml").read_text(encoding="utf-8"))
    placeholders = table.pop("placeholders", {})
    return dict(_flat(table)), placeholders


def _flat(table: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    for key, entry in table.items():
        if isinstance(entry, Mapping):
            yield from _flat(entry, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}", tuple(entry) if isinstance(entry, list) else entry
