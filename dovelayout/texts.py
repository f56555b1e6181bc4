"""Sentences kept as data: TOML files of texts with named placeholders, each read when a text of it is first asked for.

A file `data/<name>.toml` of a room holds texts and lists of texts in tables; a key is the way there, 'slip.steps'. Its
table `[placeholders]` names all that is filled in, `{width}`, with an example of each; tests fill every text with these.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, TypedDict

PLACEHOLDERS = "placeholders"


class Said(TypedDict):
    """What a finding says."""

    message: str
    fix: str


class Unchecked(TypedDict):
    """What a check says that can't run."""

    because: str
    fix: str


@dataclass(frozen=True, slots=True)
class Texts:
    """The texts of `data/<name>.toml` in a room of dovelayout.

    A mistake in text or call is a mistake in the program, and raises: KeyError for a text that isn't there and for a
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

    def finding(self, key: str, /, **values: object) -> Said:
        """Message and fix of a finding: the texts of these names in the table `key`."""
        return {"message": self(f"{key}.message", **values), "fix": self(f"{key}.fix", **values)}

    def unchecked(self, key: str, /, **values: object) -> Unchecked:
        """Why a check can't run and what would let it: the texts `because` and `fix` of the table `key`."""
        return {"because": self(f"{key}.because", **values), "fix": self(f"{key}.fix", **values)}

    def table(self, key: str) -> dict[str, str]:
        """The texts of one table by their own names; none of them has placeholders."""
        return {
            name: self(f"{key}.{name}")
            for way, _, name in (entry.rpartition(".") for entry in self.all())
            if way == key
        }

    def __contains__(self, key: str) -> bool:
        """Whether there is such a text or list."""
        return key in _read(self.room, self.name)

    def all(self) -> Mapping[str, str | tuple[str, ...]]:
        """Every text and list by its key."""
        return {key: entry for key, entry in _read(self.room, self.name).items() if not key.startswith(PLACEHOLDERS)}

    def placeholders(self) -> Mapping[str, Any]:
        """An example of each placeholder."""
        rows = _read(self.room, self.name)
        return {key.removeprefix(f"{PLACEHOLDERS}."): rows[key] for key in rows if key.startswith(PLACEHOLDERS)}

    def _entry(self, key: str, values: Mapping[str, object]) -> str | tuple[str, ...]:
        rows = _read(self.room, self.name)
        if key not in rows or (unnamed := [name for name in values if f"{PLACEHOLDERS}.{name}" not in rows]):
            raise KeyError(f"{self}: no {key}" if key not in rows else f"{self}: [placeholders] names no {unnamed}")
        return rows[key]  # type: ignore[no-any-return]


@cache
def _read(room: str, name: str) -> Mapping[str, Any]:
    text = (files(f"dovelayout.{room}") / "data" / f"{name}.toml").read_text(encoding="utf-8")
    return dict(_flat(tomllib.loads(text)))


def _flat(table: Mapping[str, Any], way: str = "") -> Iterator[tuple[str, Any]]:
    for key, entry in table.items():
        if isinstance(entry, Mapping):
            yield from _flat(entry, f"{way}{key}.")
        else:
            yield f"{way}{key}", tuple(entry) if isinstance(entry, list) else entry
