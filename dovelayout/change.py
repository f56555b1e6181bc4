"""A change of a job: a value for code. Only this module turns it into words.

A change says which key of which table is set to what; the values are as they stand in a job, lengths with their unit, so that
they hold in any job: '7 mm', '1:6', [['8 mm', '40 mm']].
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from dovelayout.units import format_slope, parse_slope

__all__ = ["Change", "change_words", "changes_json", "changes_of", "merged_changes", "mm_text"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One key to set in one table of a job. A table that is there only once, such as [shop], has its own name for a name."""

    table: str
    name: str
    key: str
    value: Any


def changes_of(table: str, name: str, values: Mapping[str, Any]) -> tuple[Change, ...]:
    """Several keys of one table set."""
    return tuple(Change(table=table, name=name, key=key, value=value) for key, value in values.items())


def merged_changes(*several: Iterable[Change]) -> tuple[Change, ...]:
    """All of them, each key once: the last change of a key counts."""
    found = {(change.table, change.name, change.key): change for changes in several for change in changes}
    return tuple(found.values())


def changes_json(changes: Iterable[Change]) -> list[dict[str, Any]]:
    """As JSON gives them: the keys of one table together, {"table", "name", "values"}."""
    rows = itertools.groupby(changes, key=lambda change: (change.table, change.name))
    return [
        {"table": table, "name": name, "values": {change.key: change.value for change in own}}
        for (table, name), own in rows
    ]


def mm_text(value_mm: float) -> str:
    """A length as it stands in a job, with its unit."""
    return f"{round(value_mm, 3):g} mm"


def change_words(changes: Iterable[Change]) -> str:
    """Keys and values as a maker wrote them: 'pin 7 mm and tail count 4'."""
    return " and ".join(
        f"{change.key.replace('_', ' ')} {_value_words(change.key, change.value)}" for change in changes
    )


def _value_words(key: str, value: Any) -> str:
    match value:
        case str() if key.endswith("slope"):
            return format_slope(parse_slope(value))
        case bool():
            return "on" if value else "off"
        case dict():
            return ", ".join(f"{own.replace('_', ' ')} {_value_words(own, part)}" for own, part in value.items())
        case [str() as start, str() as end]:
            return f"{start} to {end}"
        case list() | tuple():
            return ", ".join(_value_words(key, part) for part in value)
        case _:
            return str(value)
