"""Reading what the browser asks: nothing in it is trusted to be what it should."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.errors import JobError, UnitsError
from dovelayout.units import Unit, parse_length

UNNAMED = "job.toml"
MOST_WORD = 200


def text_of(asked: Mapping[str, Any]) -> str:
    """The job's text of a request. Raises JobError."""
    text = asked.get("text")
    if not isinstance(text, str):
        raise JobError(file="", problem="the text of a job is wanted")
    return text


def name_of(asked: Mapping[str, Any]) -> str:
    """A file's name, as errors call it; never used as a path."""
    name = asked.get("name")
    return name if isinstance(name, str) and 0 < len(name) <= 120 and name.isprintable() else UNNAMED


def word_of(asked: Mapping[str, Any], key: str) -> str:
    """A short text; '' where there is none."""
    value = asked.get(key)
    return value.strip() if isinstance(value, str) and len(value) <= MOST_WORD else ""


def length_of(asked: Mapping[str, Any], key: str, label: str, low_mm: float, high_mm: float) -> float:
    """A length as typed, in mm; a bare number is mm. Raises UnitsError that says which."""
    text = word_of(asked, key)
    try:
        got_mm = float(parse_length(text, unit=Unit.MM))
    except UnitsError as error:
        raise UnitsError(f"{label}: {error}") from None
    if not low_mm <= got_mm <= high_mm:
        raise UnitsError(f"{label} {text!r} is {got_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
    return got_mm
