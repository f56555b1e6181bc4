"""Temperatures as makers type them, in degrees Celsius."""

from __future__ import annotations

import re

from dovelayout.errors import UnitsError
from dovelayout.units.text import LOOKALIKES, MAX_CHARACTERS, NUMBER, typed

_COLDEST_C, _HOTTEST_C = -40.0, 60.0
_TEMPERATURE = re.compile(rf"(?P<number>[+-]? ?(?:{NUMBER})) ?(?:°|º|deg\.?|degrees?)? ?(?P<scale>[^\W\d_]*)")


def parse_temperature(value: int | float | str) -> float:
    """Read a temperature as degrees Celsius: a bare number is Celsius, `68 F` and `20 °C` say which.

    Raises UnitsError for what is no temperature and outside -40 to 60 degrees Celsius, where the moisture
    tables behind it don't hold and no glue is spread.
    """
    shown = typed(value)
    plain = shown.translate(LOOKALIKES).replace("℃", "°c").replace("℉", "°f").lower()
    match = None if isinstance(value, bool) else _TEMPERATURE.fullmatch(" ".join(plain.split()))
    scale = match["scale"] if match else "?"
    if match is None or len(shown) > MAX_CHARACTERS or scale not in ("", "c", "celsius", "f", "fahrenheit"):
        raise UnitsError(f"'{shown}' is not a temperature: write it like '20 C' or '68 F'")
    degrees = float(match["number"].replace(" ", "").replace(",", "."))
    celsius = (degrees - 32) * 5 / 9 if scale.startswith("f") else degrees
    if not _COLDEST_C <= celsius <= _HOTTEST_C:
        hint = f"; for Fahrenheit write '{shown} F'" if not scale and 60 < degrees <= 140 else ""
        raise UnitsError(f"'{shown}' is out of -40 to 60 °C{hint}")
    return celsius
