"""The units a job may be written in."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

MM_PER_INCH: Fraction = Fraction(254, 10)
"""Exact since the international yard and pound agreement of 1959."""


class Unit(StrEnum):
    """The unit that a job is written in: what a bare number means."""

    MM = "mm"
    CM = "cm"
    IN = "in"
