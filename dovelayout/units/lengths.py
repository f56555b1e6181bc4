"""Lengths as makers type them, read exactly."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from dovelayout.errors import UnitsError
from dovelayout.units.text import LOOKALIKES, MAX_CHARACTERS, MAX_DIGITS, NUMBER, number_of, shown_as, trimmed, typed
from dovelayout.units.unit import MM_PER_INCH, Unit
from dovelayout.units.writing import mixed

_LONGEST_MM = 1_000_000  # a kilometre: past this a unit was certainly mistaken

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

_PART = re.compile(
    rf"(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<number>{NUMBER}))"
    r"(?: ?(?P<unit>[^\W\d_]+(?:\.(?![0-9]))?|[\"']))?"
)
_GLYPHS = re.compile(rf"(?:(?<=[0-9])-)?([{''.join(_GLYPH_FRACTIONS)}])")
_NOMINAL = re.compile(r"(?<![a-z])(?:ply|plywood|nominal|nom)(?![a-z])")
_ROUGH = re.compile(r"(?<![a-z])(?:rough|rough-sawn|quarters?)(?![a-z])")


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
    shown = shown_as(text)
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
        raise UnitsError(f"{typed(value)} is not a length: write a number, or a text such as '19 mm' or '3/4 in'")
    elif abs(value) > _LONGEST_MM:  # before Fraction(), which refuses infinity; no unit is below 1 mm
        raise UnitsError(f"{typed(value)} {unit} is longer than a kilometre: is the unit right?")
    else:
        mm = Fraction(str(float(value))) * _MM_PER[unit.value]
    if abs(mm) > _LONGEST_MM:
        raise UnitsError(f"'{typed(value)}' is longer than a kilometre: is the unit right?")
    return mm


def _plain(text: str, *, shown: str) -> str:
    """Unifies marks, spaces and fractions, and refuses what cannot hold a length."""
    if len(text) > MAX_CHARACTERS:
        raise UnitsError(f"'{shown}' is too long for one length: write one number and its unit")
    if strange := "".join(c for c in text if c.isnumeric() and not c.isascii() and c not in _GLYPH_FRACTIONS):
        raise UnitsError(f"'{shown}' has digits that are not read ('{strange}'): write them as 0 to 9")
    plain = text.translate(LOOKALIKES).lower()
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
    if any(sum(c.isdigit() for c in run) > MAX_DIGITS for run in re.findall(r"[0-9.,]+", plain)):
        raise UnitsError(f"'{shown}' has a number of more than {MAX_DIGITS} digits")
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
        raise UnitsError(f"'{shown}': '{word}' is not a unit", remedy=f"is it {known}?")
    top, bottom = match["top"] or "", match["bottom"] or ""
    if not top:
        value = number_of(match["number"], shown=shown)
    elif int(bottom) == 0:
        raise UnitsError(f"'{shown}' divides by zero")
    elif match["whole"] and int(top) >= int(bottom):
        raise UnitsError(
            f"'{shown}': {top}/{bottom} after a whole number is not less than one", remedy="which is meant?"
        )
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
    inches, mm = f"{mixed(part.value)} in", _inches_as_mm(part.value)
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
        raise UnitsError(
            f"'{shown}' has no unit: {', '.join(readings)}", remedy=f"write '{inches}' or '{mm}', as measured"
        )
    if unit is not Unit.IN:
        metric = f"{trimmed(part.value, decimals=4)} {unit}"
        raise UnitsError(f"'{shown}' in a job in {unit}: write '{inches}' ({mm}) or '{metric}'")


def _inches_as_mm(inches: Fraction) -> str:
    return f"{trimmed(inches * MM_PER_INCH, decimals=4)} mm"
