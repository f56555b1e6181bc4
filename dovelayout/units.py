"""What makers type, turned into exact millimetres, and back into words.

Lengths are read exactly, as `Fraction` millimetres, and nothing is snapped. A text that could mean two things
is not guessed at: `UnitsError` asks, and shows each reading in inches and in millimetres. Everything past
this module is in mm, degrees and degrees Celsius; a slope is the n of 1:n (1 across, n along).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from dovelayout.errors import UnitsError

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
]

MM_PER_INCH: Fraction = Fraction(254, 10)
"""Exact since the international yard and pound agreement of 1959."""

_LONGEST_MM = 1_000_000  # a kilometre: past this a unit was certainly mistaken
_ROUNDED_MM = 0.0005  # a shown value further than this from the true one is marked as rounded
_REMEMBERED = 4096  # lengths that are kept as they were said: exact sums take long, and a bank says the same ones often
_MAX_CHARACTERS = 40
_MAX_DIGITS = 12
_STEEPEST_DEG, _FINEST_DEG = 45.0, 0.5
_COLDEST_C, _HOTTEST_C = -40.0, 60.0


class Unit(StrEnum):
    """The unit that a job is written in: what a bare number means."""

    MM = "mm"
    CM = "cm"
    IN = "in"


_MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
    "thou": MM_PER_INCH / 1000,
}
_METRIC = frozenset({"mm", "cm", "m"})
_UNIT_WORDS: dict[str, str] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
    "thou": "thou",
}

_GLYPH_FRACTIONS: dict[str, str] = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅒": "1/10",
    "⅐": "1/7",
    "⅑": "1/9",
}
# By code point, because many of these look the same on screen.
_LOOKALIKES = str.maketrans(
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

_NUMBER = r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
_PART = re.compile(
    rf"(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<number>{_NUMBER}))"
    r"(?: ?(?P<unit>[^\W\d_]+(?:\.(?![0-9]))?|[\"']))?"
)
_GLYPHS = re.compile(rf"(?:(?<=[0-9])-)?([{''.join(_GLYPH_FRACTIONS)}])")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_NOMINAL = re.compile(r"(?<![a-z])(?:ply|plywood|nominal|nom)(?![a-z])")
_ROUGH = re.compile(r"(?<![a-z])(?:rough|rough-sawn|quarters?)(?![a-z])")
_SLOPE = re.compile(rf"(?P<run>{_NUMBER}) ?(?::|/|in|to) ?(?P<length>{_NUMBER})")
_ANGLE = re.compile(rf"(?P<angle>{_NUMBER}) ?(?:°|º|deg\.?|degrees?)")
_TEMPERATURE = re.compile(rf"(?P<number>[+-]? ?(?:{_NUMBER})) ?(?:°|º|deg\.?|degrees?)? ?(?P<scale>[^\W\d_]*)")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    value: Fraction
    unit: str  # a key of _MM_PER, or "" for a bare number
    top: str  # numerator and denominator as typed, "" when the part has no fraction
    bottom: str
    mixed: bool


def parse_length(text: str, *, unit: Unit) -> Fraction:
    """Read one length, in any of the ways makers write one, as exact mm.

    `unit` is what a bare number means. Read are decimals with point or comma, fractions typed or as one
    glyph, mixed numbers (`1 3/4`, `1-3/4`, `1¾`), mm, cm, m, in, ft, thou, inch and foot marks, and feet with
    inches. A leading sign is read too: whether a length may be negative is for the caller to say.

    Raises UnitsError for what is no length, and as a question for what could be several: a fraction without a
    unit in a metric job, `11/4`, `4/4`, `1,234`, and nominal sizes such as `3/4 ply`.
    """
    shown = _shown(text)
    body = _plain(text, shown=shown)
    sign = -1 if body.startswith("-") else 1
    parts = _split(body[1:].lstrip() if body[0] in "+-" else body, shown=shown)
    if len(parts) == 1:
        part = parts[0]
        if part.top and not part.unit:
            _refuse_bare_fraction(part, unit=unit, shown=shown)
        return sign * part.value * _MM_PER[part.unit or unit.value]
    return sign * _feet_and_inches(parts, shown=shown)


def length_mm(value: int | float | str, *, unit: Unit) -> Fraction:
    """A length from a file, as exact mm: a number is in `unit`, a text may carry its own.

    A float counts as the decimal that was typed (0.1 is 1/10). Raises UnitsError as `parse_length` does, and
    for true/false, nan, infinities and anything past 1 km.
    """
    if isinstance(value, str):
        mm = parse_length(value, unit=unit)
    elif isinstance(value, bool) or not isinstance(value, (int, float)) or value != value:
        raise UnitsError(f"{_typed(value)} is not a length: write a number, or a text such as '19 mm' or '3/4 in'")
    elif abs(value) > _LONGEST_MM:  # before Fraction(), which refuses infinity; no unit is below 1 mm
        raise UnitsError(f"{_typed(value)} {unit} is longer than a kilometre: is the unit right?")
    else:
        mm = Fraction(str(float(value))) * _MM_PER[unit.value]
    if abs(mm) > _LONGEST_MM:
        raise UnitsError(f"'{_typed(value)}' is longer than a kilometre: is the unit right?")
    return mm


@lru_cache(maxsize=_REMEMBERED, typed=True)
def format_inches(mm: float | Fraction, *, denominator: int = 64) -> str:
    """A length in mm as inches, to the nearest 1/`denominator`: `1 3/4 in`, `≈ 3/4 in` where rounded."""
    if denominator < 1:
        raise UnitsError(f"denominator must be 1 or more, not {denominator}")
    exact = _exact(mm)
    inches = Fraction(round(exact / MM_PER_INCH * denominator), denominator)
    mark = "≈ " if abs(inches * MM_PER_INCH - exact) > _ROUNDED_MM else ""
    return f"{mark}{_mixed(inches)} in"


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


_LENGTH_IN_WORDS = re.compile(r"(?<![\d.,/:])(\d+(?:\.\d+)?)(?:(-| to )(\d+(?:\.\d+)?))? mm\b(?! \()")


def with_inches(text: str) -> str:
    """A sentence with the inches put behind every length in mm: for a maker who thinks in them.

    `pin 4 mm` -> `pin 4 mm (≈ 5/32 in)`, `8.6 to 26.3 mm` -> `8.6 to 26.3 mm (≈ 11/32 to 1 1/32 in)`.
    """

    def said(match: re.Match[str]) -> str:
        first, between, last = match.groups()
        end = format_inches(float(last or first))
        if last is None:
            return f"{match[0]} ({end})"
        about = "≈ " if "≈" in end + format_inches(float(first)) else ""
        low, high = (format_inches(float(value)).removeprefix("≈ ").removesuffix(" in") for value in (first, last))
        return f"{match[0]} ({about}{low}{between}{high} in)"

    return _LENGTH_IN_WORDS.sub(said, text)


def parse_slope(text: str | int | float) -> float:
    """Read a slope as the n of 1:n: `1:7`, `1 in 7`, `1/7`, `2:13`, `8 deg`, `8,1°`.

    Raises UnitsError for what is no slope or is outside 0.5 to 45 degrees, and as a question for a bare
    number, which could be degrees or the n of 1:n.
    """
    shown = _typed(text)
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise UnitsError(f"{shown} is not a slope: write it like '1:7' or '8 deg'")
    plain = " ".join(shown.translate(_LOOKALIKES).lower().split())
    if len(plain) <= _MAX_CHARACTERS:
        if match := _ANGLE.fullmatch(plain):
            degrees = float(_number(match["angle"], shown=shown))
            _require_slope(degrees, shown=shown, hint="")
            return slope_ratio(degrees)
        if match := _SLOPE.fullmatch(plain):
            run, length = (_number(match[key], shown=shown) for key in ("run", "length"))
            hint = f"; is it {match['length']}:{match['run']}?" if run > length > 0 else ""
            _require_slope(math.degrees(math.atan2(run, length)), shown=shown, hint=hint)
            return float(length / run)
        if re.fullmatch(_NUMBER, plain) and (number := float(_number(plain, shown=shown))) >= _FINEST_DEG:
            readings = f"degrees ('{plain} deg') or a ratio ('1:{plain}')"
            if 1 < number < _STEEPEST_DEG:
                readings = (
                    f"'{plain} deg', which is 1:{_trim(slope_ratio(number))}, or '1:{plain}', which is "
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
    return f"1:{_trim(ratio)} ({slope_degrees(ratio):.1f}°)"


def parse_temperature(value: int | float | str) -> float:
    """Read a temperature as degrees Celsius: a bare number is Celsius, `68 F` and `20 °C` say which.

    Raises UnitsError for what is no temperature and outside -40 to 60 degrees Celsius, where the moisture
    tables behind it don't hold and no glue is spread.
    """
    shown = _typed(value)
    plain = shown.translate(_LOOKALIKES).replace("℃", "°c").replace("℉", "°f").lower()
    match = None if isinstance(value, bool) else _TEMPERATURE.fullmatch(" ".join(plain.split()))
    scale = match["scale"] if match else "?"
    if match is None or len(shown) > _MAX_CHARACTERS or scale not in ("", "c", "celsius", "f", "fahrenheit"):
        raise UnitsError(f"'{shown}' is not a temperature: write it like '20 C' or '68 F'")
    degrees = float(match["number"].replace(" ", "").replace(",", "."))
    celsius = (degrees - 32) * 5 / 9 if scale.startswith("f") else degrees
    if not _COLDEST_C <= celsius <= _HOTTEST_C:
        hint = f"; for Fahrenheit write '{shown} F'" if not scale and 60 < degrees <= 140 else ""
        raise UnitsError(f"'{shown}' is out of -40 to 60 °C{hint}")
    return celsius


def _plain(text: str, *, shown: str) -> str:
    """One spelling for marks, spaces and fractions; refuse what can be refused before reading a number."""
    if len(text) > _MAX_CHARACTERS:
        raise UnitsError(f"'{shown}' is too long for one length: write one number and its unit")
    if strange := "".join(c for c in text if c.isnumeric() and not c.isascii() and c not in _GLYPH_FRACTIONS):
        raise UnitsError(f"'{shown}' has digits that are not read ('{strange}'): write them as 0 to 9")
    plain = text.translate(_LOOKALIKES).lower()
    # Spaces on both sides, or '2½' would become 21/2.
    plain = _GLYPHS.sub(lambda match: f" {_GLYPH_FRACTIONS[match[1]]} ", plain)
    plain = " ".join(plain.replace("''", '"').split())
    if not plain:
        raise UnitsError("a length is missing: write it like '19 mm' or '3/4 in'")
    if _NOMINAL.search(plain):
        raise UnitsError(
            f"'{shown}' is a nominal size: measure the actual sheet or board and write that "
            "(sheets sold as 3/4 are usually 18 mm or 23/32 in)"
        )
    if _ROUGH.search(plain):
        raise UnitsError(f"'{shown}' is a rough-sawn thickness, before planing: measure the board and write that")
    if re.search(r"[0-9]e[+-]?[0-9]", plain):
        raise UnitsError(f"'{shown}' has a power of ten: write the number out")
    if any(sum(c.isdigit() for c in run) > _MAX_DIGITS for run in re.findall(r"[0-9.,]+", plain)):
        raise UnitsError(f"'{shown}' has a number of more than {_MAX_DIGITS} digits")
    if re.search(r"[0-9][.,][0-9]*[.,]", plain):
        raise UnitsError(f"'{shown}' has more than one decimal mark: write one, and no thousands separators")
    return plain


def _split(body: str, *, shown: str) -> tuple[_Part, ...]:
    parts: list[_Part] = []
    position = 0
    while match := _PART.match(body, position):
        parts.append(_part(match, shown=shown))
        position = match.end()
        if position == len(body):
            return tuple(parts)
        # 5'-3" and 5' - 3" put a dash after the feet; anywhere else it would be a subtraction.
        gap = re.compile(r" ?-? ?" if parts[-1].unit == "ft" else r" ?").match(body, position)
        position = gap.end() if gap else position
    raise UnitsError(f"'{shown}' is not a length: write it like '19 mm', '3/4 in', '1 3/4 in' or 5' 3/4\"")


def _part(match: re.Match[str], *, shown: str) -> _Part:
    word = (match["unit"] or "").rstrip(".")
    if word and word not in _UNIT_WORDS:
        near = get_close_matches(word, [w for w in _UNIT_WORDS if w.isalpha()], n=2, cutoff=0.5)
        known = " or ".join(f"'{w}'" for w in near) or "mm, cm, m, in, ft or thou"
        raise UnitsError(f"'{shown}': '{word}' is not a unit; is it {known}?")
    top, bottom = match["top"] or "", match["bottom"] or ""
    if not top:
        value = _number(match["number"], shown=shown)
    elif int(bottom) == 0:
        raise UnitsError(f"'{shown}' divides by zero")
    elif match["whole"] and int(top) >= int(bottom):
        raise UnitsError(f"'{shown}': {top}/{bottom} after a whole number is not less than one; which is meant?")
    else:
        value = int(match["whole"] or 0) + Fraction(int(top), int(bottom))
    return _Part(value=value, unit=_UNIT_WORDS.get(word, ""), top=top, bottom=bottom, mixed=bool(match["whole"]))


def _feet_and_inches(parts: tuple[_Part, ...], *, shown: str) -> Fraction:
    first, second = parts[:2]
    units = {part.unit for part in parts}
    if not first.unit:
        raise UnitsError(f"'{shown}' has two numbers side by side: write one length, such as '1 3/4 in'")
    if units & _METRIC and units - _METRIC - {""}:
        raise UnitsError(f"'{shown}' mixes metric and inches: write it in one of them")
    if first.unit == "in" and second.unit == "ft":
        raise UnitsError(f"'{shown}' has inches before feet: write the feet first")
    if len(parts) > 2 or first.unit != "ft" or second.unit not in ("in", ""):
        raise UnitsError(f"'{shown}' is more than one length: only feet and inches go together, as in 5' 3/4\"")
    if first.top or first.value.denominator != 1 or second.value >= 12:
        raise UnitsError(f"'{shown}': feet with inches are whole feet and less than 12 inches")
    if second.top and not second.unit:
        _refuse_bare_fraction(second, unit=Unit.IN, shown=shown)
    return first.value * _MM_PER["ft"] + second.value * _MM_PER["in"]


def _refuse_bare_fraction(part: _Part, *, unit: Unit, shown: str) -> None:
    """Ask about a fraction that carries no unit, unless it is a proper or mixed one in inches."""
    inches, mm = f"{_mixed(part.value)} in", _inches_as_mm(part.value)
    if not part.mixed and part.value >= 1:
        readings = [f"{part.top}/{part.bottom} in is {inches} ({mm})"]
        for cut in range(1, len(part.top)):
            whole, top = part.top[:cut], part.top[cut:]
            if top[0] != "0" and int(whole) and int(top) < int(part.bottom):
                value = int(whole) + Fraction(int(top), int(part.bottom))
                readings.append(f"{whole} {top}/{part.bottom} in is {_inches_as_mm(value)}")
        if part.bottom == "4":
            neither = "neither" if len(readings) == 2 else "not that"
            readings.append(f"and rough-sawn 'quarters', sold before planing, are {neither}")
        raise UnitsError(f"'{shown}' has no unit: {', '.join(readings)}; write '{inches}' or '{mm}', as measured")
    if unit is not Unit.IN:
        metric = f"{_trim(part.value, decimals=4)} {unit}"
        raise UnitsError(f"'{shown}' in a job in {unit}: write '{inches}' ({mm}) or '{metric}'")


def _inches_as_mm(inches: Fraction) -> str:
    return f"{_trim(inches * MM_PER_INCH, decimals=4)} mm"


def _number(digits: str, *, shown: str) -> Fraction:
    if _THOUSANDS.fullmatch(digits):
        raise UnitsError(
            f"'{shown}': is {digits} meant as {digits.replace(',', '.')} or as {digits.replace(',', '')}? "
            "write the one you mean"
        )
    return Fraction(digits.replace(",", "."))


def _require_slope(degrees: float, *, shown: str, hint: str) -> None:
    if not _FINEST_DEG <= degrees < _STEEPEST_DEG:
        raise UnitsError(f"'{shown}' is out of 1:1 .. 1:115 (45 to 0.5 degrees), too steep or too fine{hint}")


def _exact(mm: float | Fraction) -> Fraction:
    if not math.isfinite(mm):
        raise UnitsError(f"{mm} is not a length")
    return Fraction(mm)


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(abs(value), 1)
    words = [str(whole)] if whole or not rest else []
    return ("-" if value < 0 else "") + " ".join(words + ([str(rest)] if rest else []))


def _decimal(mm: float | Fraction, *, decimals: int, per_unit: int) -> str:
    # From the shortest decimal, not the binary value: 69.85 is stored a hair below and would round down.
    exact = Decimal(repr(float(_exact(mm)))) / per_unit
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    mark = "≈ " if abs(rounded - exact) * per_unit > Decimal(str(_ROUNDED_MM)) else ""
    digits = f"{rounded:f}"
    digits = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return mark + ("0" if digits == "-0" else digits)


def _trim(value: float | Fraction, *, decimals: int = 2) -> str:
    return f"{float(value):.{decimals}f}".rstrip("0").rstrip(".")


def _typed(value: object) -> str:
    # str() of an int of thousands of digits raises, so such a number is only described.
    if isinstance(value, int) and abs(value) >= 10**_MAX_DIGITS:
        return f"a number of more than {_MAX_DIGITS} digits"
    return _shown(str(value))


def _shown(text: str) -> str:
    plain = "".join(c if c.isprintable() else " " for c in text)
    return plain if len(plain) <= _MAX_CHARACTERS else plain[:_MAX_CHARACTERS] + "…"
