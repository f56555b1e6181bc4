"""Slopes: the n of 1:n (1 across, n along), as makers type it and as it is shown, and as an angle."""

from __future__ import annotations

import math
import re

from dovelayout.errors import UnitsError
from dovelayout.units.text import LOOKALIKES, MAX_CHARACTERS, NUMBER, number_of, trimmed, typed

_STEEPEST_DEG, _FINEST_DEG = 45.0, 0.5
_SLOPE = re.compile(rf"(?P<run>{NUMBER}) ?(?::|/|in|to) ?(?P<length>{NUMBER})")
_ANGLE = re.compile(rf"(?P<angle>{NUMBER}) ?(?:°|º|deg\.?|degrees?)")


def parse_slope(text: str | int | float) -> float:
    """Read a slope as the n of 1:n: `1:7`, `1 in 7`, `1/7`, `2:13`, `8 deg`, `8,1°`.

    Raises UnitsError for what is no slope or is outside 0.5 to 45 degrees, and as a question for a bare
    number, which could be degrees or the n of 1:n.
    """
    shown = typed(text)
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise UnitsError(f"{shown} is not a slope: write it like '1:7' or '8 deg'")
    plain = " ".join(shown.translate(LOOKALIKES).lower().split())
    if len(plain) <= MAX_CHARACTERS:
        if match := _ANGLE.fullmatch(plain):
            degrees = float(number_of(match["angle"], shown=shown))
            _require_slope(degrees, shown=shown, hint="")
            return slope_ratio(degrees)
        if match := _SLOPE.fullmatch(plain):
            run, length = (number_of(match[key], shown=shown) for key in ("run", "length"))
            hint = f"; is it {match['length']}:{match['run']}?" if run > length > 0 else ""
            _require_slope(math.degrees(math.atan2(run, length)), shown=shown, hint=hint)
            return float(length / run)
        if re.fullmatch(NUMBER, plain) and (number := float(number_of(plain, shown=shown))) >= _FINEST_DEG:
            readings = f"degrees ('{plain} deg') or a ratio ('1:{plain}')"
            if 1 < number < _STEEPEST_DEG:
                readings = (
                    f"'{plain} deg', which is 1:{trimmed(slope_ratio(number))}, or '1:{plain}', which is "
                    f"{slope_degrees(number):.1f}°"
                )
            raise UnitsError(f"'{shown}' as a slope could be {readings}: write the one you mean")
    raise UnitsError(f"'{shown}' is not a slope: write it like '1:7', '1 in 7' or '8 deg'")


def slope_degrees(ratio: float) -> float:
    """Degrees off the board's length of a slope of 1:`ratio`. Raises UnitsError unless above 0."""
    if not (math.isfinite(ratio) and ratio > 0):
        raise UnitsError(f"a slope of 1:{ratio} has no angle: the ratio must be above 0")
    return math.degrees(math.atan(1 / ratio))


def slope_ratio(degrees: float) -> float:
    """The n of 1:n for an angle in degrees. Raises UnitsError unless it is between 0 and 90."""
    if not 0 < degrees < 90:
        raise UnitsError(f"an angle of {degrees} degrees has no slope ratio: it must be between 0 and 90")
    return 1 / math.tan(math.radians(degrees))


def format_slope(ratio: float) -> str:
    """A slope as ratio and angle: `1:7 (8.1°)`."""
    return f"1:{trimmed(ratio)} ({slope_degrees(ratio):.1f}°)"


def _require_slope(degrees: float, *, shown: str, hint: str) -> None:
    if not _FINEST_DEG <= degrees < _STEEPEST_DEG:
        raise UnitsError(f"'{shown}' is out of 1:1 .. 1:115 (45 to 0.5 degrees), too steep or too fine{hint}")
