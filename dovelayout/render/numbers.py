"""Coordinates that can be written to a file."""

from __future__ import annotations

import math

from dovelayout.errors import PrintError


def finite(value: float) -> float:
    """The value itself. Raises PrintError for an infinite one and for no number at all."""
    if not math.isfinite(value):
        raise PrintError("a coordinate of the drawing is not a number")
    return value
