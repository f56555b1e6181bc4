"""Lengths in mm in words: in mm, in inches, or in both."""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache

from dovelayout.errors import UnitsError
from dovelayout.units.unit import MM_PER_INCH, Unit

_ROUNDED_MM = 0.0005  # a shown value further than this from the true one is marked as rounded
_REMEMBERED = 4096  # lengths that are kept as they were said: exact sums take long, and a bank says the same ones often
_LENGTH_IN_WORDS = re.compile(r"(?<![\d.,/:])(\d+(?:\.\d+)?)(?:(-| to )(\d+(?:\.\d+)?))? mm\b(?! \()")


@lru_cache(maxsize=_REMEMBERED, typed=True)
def format_inches(mm: float | Fraction, *, denominator: int = 64) -> str:
    """A length in mm as inches, to the nearest 1/`denominator`: `1 3/4 in`, `≈ 3/4 in` where rounded."""
    if denominator < 1:
        raise UnitsError(f"denominator must be 1 or more, not {denominator}")
    exact = _exact(mm)
    inches = Fraction(round(exact / MM_PER_INCH * denominator), denominator)
    mark = "≈ " if abs(inches * MM_PER_INCH - exact) > _ROUNDED_MM else ""
    return f"{mark}{mixed(inches)} in"


@lru_cache(maxsize=_REMEMBERED, typed=True)
def format_mm(mm: float | Fraction, *, decimals: int = 1) -> str:
    """A length in mm: `19 mm`, `≈ 19.1 mm` where rounded; halves go away from zero, as people round."""
    if decimals < 0:
        raise UnitsError(f"decimals must be 0 or more, not {decimals}")
    return f"{_decimal(mm, decimals=decimals, per_unit=1)} mm"


@lru_cache(maxsize=_REMEMBERED, typed=True)
def format_both(mm: float | Fraction, *, unit: Unit) -> str:
    """A length in mm in both systems, the job's unit first: `19 mm (≈ 3/4 in)`, `3/4 in (≈ 19.1 mm)`."""
    if unit is Unit.IN:
        return f"{format_inches(mm)} ({format_mm(mm)})"
    first = format_mm(mm) if unit is Unit.MM else f"{_decimal(mm, decimals=2, per_unit=10)} cm"
    return f"{first} ({format_inches(mm)})"


def with_inches(text: str) -> str:
    """A sentence with the inches put behind every length in mm: for a maker who thinks in them.

    `pin 4 mm` -> `pin 4 mm (≈ 5/32 in)`, `8.6 to 26.3 mm` -> `8.6 to 26.3 mm (≈ 11/32 to 1 1/32 in)`.
    """

    def with_inches_behind(match: re.Match[str]) -> str:
        first, between, last = match.groups()
        end = format_inches(float(last or first))
        if last is None:
            return f"{match[0]} ({end})"
        about = "≈ " if "≈" in end + format_inches(float(first)) else ""
        low, high = (format_inches(float(value)).removeprefix("≈ ").removesuffix(" in") for value in (first, last))
        return f"{match[0]} ({about}{low}{between}{high} in)"

    return _LENGTH_IN_WORDS.sub(with_inches_behind, text)


def mixed(value: Fraction) -> str:
    """A fraction as a mixed number: 7/4 -> `1 3/4`."""
    whole, rest = divmod(abs(value), 1)
    words = [str(whole)] if whole or not rest else []
    return ("-" if value < 0 else "") + " ".join(words + ([str(rest)] if rest else []))


def _exact(mm: float | Fraction) -> Fraction:
    if not math.isfinite(mm):
        raise UnitsError(f"{mm} is not a length")
    return Fraction(mm)


def _decimal(mm: float | Fraction, *, decimals: int, per_unit: int) -> str:
    # From the shortest decimal, not the binary value: 69.85 is stored a hair below and would round down.
    exact = Decimal(repr(float(_exact(mm)))) / per_unit
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    mark = "≈ " if abs(rounded - exact) * per_unit > Decimal(str(_ROUNDED_MM)) else ""
    digits = f"{rounded:f}"
    digits = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return mark + ("0" if digits == "-0" else digits)
