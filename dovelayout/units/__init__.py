"""Lengths, slopes and temperatures as typed: parsed exactly, and written back as text.

Lengths are read exactly, as `Fraction` millimetres, and nothing is snapped. A text that could mean two things
is not guessed at: `UnitsError` asks, and shows each reading in inches and in millimetres. Everything past
this room is in mm, degrees and degrees Celsius; a slope is the n of 1:n (1 across, n along).
"""

from __future__ import annotations

from dovelayout.units.lengths import length_mm, parse_length
from dovelayout.units.slopes import format_slope, parse_slope, slope_degrees, slope_ratio
from dovelayout.units.temperatures import parse_temperature
from dovelayout.units.unit import MM_PER_INCH, Unit
from dovelayout.units.writing import format_both, format_inches, format_mm, with_inches

__all__ = [
    "MM_PER_INCH",
    "Unit",
    "format_both",
    "format_inches",
    "format_mm",
    "format_slope",
    "length_mm",
    "parse_length",
    "parse_slope",
    "parse_temperature",
    "slope_degrees",
    "slope_ratio",
    "with_inches",
]
