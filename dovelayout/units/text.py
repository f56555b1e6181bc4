"""Helpers for all texts that hold a number, whatever they measure."""

from __future__ import annotations

import re
from fractions import Fraction

from dovelayout.errors import UnitsError

MAX_CHARACTERS = 40
"""Most characters of one text; a longer one is more than a number and its unit."""

MAX_DIGITS = 12
"""Most digits of one number; nobody measures finer."""

# By code point, because many of these look the same on screen.
LOOKALIKES = str.maketrans(
    {
        # curly single quotes, prime, modifier prime and apostrophe, acute and grave accent
        **dict.fromkeys("\u2018\u2019\u201b\u2032\u02b9\u02bc\u00b4\u0060", "'"),
        # curly double quotes, double prime, modifier double prime and double acute
        **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u02ba\u02dd", '"'),
        # hyphens, figure and en dash, minus sign
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-"),
        # fraction slash, division slash; ratio sign
        **dict.fromkeys("\u2044\u2215", "/"),
        "\u2236": ":",
        # zero-width characters become a space, lest two numbers run together
        **dict.fromkeys("\u200b\u2060\ufeff", " "),
    }
)

NUMBER = r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def number_of(digits: str, *, shown: str) -> Fraction:
    """Digits with a point or a comma, exactly. Raises UnitsError for a comma that may part thousands."""
    if _THOUSANDS.fullmatch(digits):
        raise UnitsError(
            f"'{shown}': is {digits} meant as {digits.replace(',', '.')} or as {digits.replace(',', '')}? "
            "write the one you mean"
        )
    return Fraction(digits.replace(",", "."))


def typed(value: object) -> str:
    """A value of any kind as it is quoted in an error."""
    # str() of an int of thousands of digits raises, so such a number is only described.
    if isinstance(value, int) and abs(value) >= 10**MAX_DIGITS:
        return f"a number of more than {MAX_DIGITS} digits"
    return shown_as(str(value))


def shown_as(text: str) -> str:
    """A text as it is quoted in an error: shortened, without control characters."""
    plain = "".join(c if c.isprintable() else " " for c in text)
    return plain if len(plain) <= MAX_CHARACTERS else plain[:MAX_CHARACTERS] + "…"


def trimmed(value: float | Fraction, *, decimals: int = 2) -> str:
    """A decimal without trailing zeros."""
    return f"{float(value):.{decimals}f}".rstrip("0").rstrip(".")
