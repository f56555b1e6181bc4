"""Where in a job something doesn't fit: what every reader of tables says its refusals with."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Protocol, TypeVar

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.place import Place

ErrorAt = Callable[[Place | None, str, str], JobError]
"""(place, problem, remedy) -> the error."""


class Named(Protocol):
    """A table with a name of its own."""

    @property
    def name(self) -> str: ...


AnyNamed = TypeVar("AnyNamed", bound=Named)


def told(fault: DovelayoutError, place: Place, error: ErrorAt) -> JobError:
    """What another room refused, with its place in the job."""
    return error(place, fault.problem, fault.remedy)


def each_once(
    tables: Iterable[AnyNamed], table: str, error: ErrorAt, *, called: str = ""
) -> Iterator[tuple[AnyNamed, Place]]:
    """Each entry with its place. Raises JobError at one whose name is taken.

    `table` is the key of the entries, `called` what they are called where that is another word.
    """
    names: set[str] = set()
    for entry in tables:
        place = Place(kind=table, name=entry.name)
        if entry.name in names:
            raise error(place, "is there twice", f"give each {called or table} a name of its own")
        names.add(entry.name)
        yield entry, place
