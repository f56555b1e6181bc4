"""Reading a request of the browser, a JSON table; each value is checked before use."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.errors import JobError, UnitsError
from dovelayout.units import Unit, parse_length

UNNAMED = "job.toml"
MOST_WORD = 200


def text_of(request: Mapping[str, Any]) -> str:
    """The job's text of a request. Raises JobError."""
    text = request.get("text")
    if not isinstance(text, str):
        raise JobError(file="", problem="the text of a job is wanted")
    return text


def name_of(request: Mapping[str, Any]) -> str:
    """A file's name, as errors call it; never used as a path."""
    name = request.get("name")
    return name if isinstance(name, str) and 0 < len(name) <= 120 and name.isprintable() else UNNAMED


def word_of(request: Mapping[str, Any], key: str) -> str:
    """A short text; '' where there is none."""
    value = request.get(key)
    return value.strip() if isinstance(value, str) and len(value) <= MOST_WORD else ""


def length_of(request: Mapping[str, Any], key: str, *, label: str, limits_mm: tuple[float, float]) -> float:
    """A length as typed, in mm; a bare number is mm. Raises UnitsError that says which."""
    text = word_of(request, key)
    try:
        got_mm = float(parse_length(text, unit=Unit.MM))
    except UnitsError as error:
        raise UnitsError(f"{label}: {error}") from None
    low_mm, high_mm = limits_mm
    if not low_mm <= got_mm <= high_mm:
        raise UnitsError(f"{label} {text!r} is {got_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
    return got_mm
