"""Numbers of a value for JSON, by the names of its attributes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

MM_DIGITS = 5
"""Millimetres to a hundred-thousandth: exact enough for any use, and free of the last bits of arithmetic."""


def mm(value: float) -> float:
    """A length as JSON holds it."""
    return round(value, MM_DIGITS)


def lengths(value: object, names: Iterable[str]) -> dict[str, float]:
    """The lengths of these names."""
    return rounded(value, dict.fromkeys(names, MM_DIGITS))


def rounded(value: object, digits: Mapping[str, int]) -> dict[str, float]:
    """The numbers of these names, each kept to so many digits."""
    return {name: round(getattr(value, name), kept) for name, kept in digits.items()}
