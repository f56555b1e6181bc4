"""The current place in a job file, and the errors raised there."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any, Protocol, TypeVar

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """A file, and the place in it that is being read."""

    file: str
    place: Place | None = None

    def entry(self, kind: str, name: str = "", **more: Any) -> Here:
        """An entry of a table, or a table that is there once."""
        return replace(self, place=Place(kind=kind, name=name, **more))

    def at(self, key: str) -> Here:
        """A key of this entry."""
        return replace(self, place=(self.place or Place(kind="")).at(key=key))

    def error(self, problem: str, remedy: str) -> JobError:
        """An error at this place."""
        return JobError(file=self.file, place=self.place, problem=problem, remedy=remedy)

    @contextmanager
    def reading(self) -> Iterator[None]:
        """Errors of other rooms that are raised meanwhile become JobErrors of this place."""
        try:
            yield
        except JobError:
            raise
        except DovelayoutError as fault:
            raise self.error(fault.problem, fault.remedy) from None


class Named(Protocol):
    """A table with a name of its own."""

    @property
    def name(self) -> str: ...


AnyNamed = TypeVar("AnyNamed", bound=Named)


def each_once(
    tables: Iterable[AnyNamed], kind: str, here: Here, *, called: str = ""
) -> Iterator[tuple[AnyNamed, Here]]:
    """Each entry with its place. Raises JobError at one whose name an entry before it has.

    `kind` is the key of the entries, `called` what they are called where that is another word.
    """
    names: set[str] = set()
    for entry in tables:
        place = here.entry(kind, entry.name)
        if entry.name in names:
            raise place.error("is there twice", f"give each {called or kind} a name of its own")
        names.add(entry.name)
        yield entry, place


def nearest(name: str, known: Iterable[str], otherwise: str, *, quote: str = "'", cutoff: float = 0.5) -> str:
    """'did you mean ...?' with the known name nearest to one that isn't known; else `otherwise`."""
    near = difflib.get_close_matches(name, list(known), 1, cutoff)
    return f"did you mean {quote}{near[0]}{quote}?" if near else otherwise
