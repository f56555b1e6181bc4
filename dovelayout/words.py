"""Names listed in text, and capitals at the start of a sentence."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Sequence
from typing import TypeVar

K = TypeVar("K", bound=Hashable)
T = TypeVar("T")

_NUMBERED = re.compile(r"(?P<head>(?:.*\D)?)(?P<number>0|[1-9]\d{0,5})(?P<tail>\D*)", re.DOTALL)

_DIGITS = re.compile(r"\d+")


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return f"{text[:1].upper()}{text[1:]}"


def listed(names: Iterable[str]) -> str:
    """Names in a row, runs of numbers drawn together: 'ribbons 1 to 3, ribbons 6, top'."""
    parts: list[str] = []
    run: list[str] = []
    for name in names:
        if run and _follows(run[-1], name):
            run.append(name)
            continue
        parts.extend(_run(run))
        run = [name]
    parts.extend(_run(run))
    return ", ".join(parts)


def listed_by_kind(names: Iterable[str]) -> str:
    """Names in a row, those that differ by a number alone next to each other, so that their runs are drawn together."""
    rows = grouped((_DIGITS.sub("0", name), name) for name in names)
    return ", ".join(listed(row) for row in rows.values())


def grouped(pairs: Iterable[tuple[K, T]]) -> dict[K, list[T]]:
    """The values of each key, in the order of the pairs: {key: [value, ...]}."""
    groups: dict[K, list[T]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return groups


def _run(names: Sequence[str]) -> list[str]:
    if len(names) < 3:
        return list(names)
    first, last = (_NUMBERED.fullmatch(name) for name in (names[0], names[-1]))
    if first is None or last is None:
        return list(names)
    return [f"{first['head']}{first['number']} to {last['number']}{last['tail']}"]


def _follows(name: str, other: str) -> bool:
    """Whether the other's number is the next one, all else being the same."""
    one, two = _NUMBERED.fullmatch(name), _NUMBERED.fullmatch(other)
    if one is None or two is None:
        return False
    return (one["head"], one["tail"], int(one["number"]) + 1) == (two["head"], two["tail"], int(two["number"]))
