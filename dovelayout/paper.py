"""Paper: sizes that printers have, sizes of the maker's own, rolls, and the margin they can't reach. Values only."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dovelayout.errors import PrintError, UnitsError
from dovelayout.units import Unit, length_mm

MM_PER_INCH = 25.4

SIZES_MM: dict[str, tuple[float, float]] = {
    "A5": (148.0, 210.0),
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "A2": (420.0, 594.0),
    "A1": (594.0, 841.0),
    "A0": (841.0, 1189.0),
    "Letter": (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH),
    "Legal": (8.5 * MM_PER_INCH, 14.0 * MM_PER_INCH),
    "Tabloid": (11.0 * MM_PER_INCH, 17.0 * MM_PER_INCH),
}
"""Paper sizes, portrait, width x height in mm: ISO 216 A series and the North American sizes (ANSI/ASME Y14.1)."""

NEUTRAL = "A4 or Letter"
"""The area that A4 and Letter share: as wide as A4, as high as Letter. It prints whole on either at 100 %."""

LEAST_SIDE_MM, MOST_SIDE_MM = 100.0, 5000.0
"""Of paper that is named by its size: a scale bar goes on it, and no PDF page may be much longer (5080 mm)."""

CUSTOM = '"210 x 400 mm" or "roll 610 mm" for a size of your own'

_TWO_SIDES = re.compile(r"([^x×*]+?)\s*[x×*]\s*([^x×*]+)")
_BARE = re.compile(r"[0-9][0-9.,/ ]*")
_UNIT = re.compile(r"(mm|cm|in|\"|″|ft|m)\.?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Paper size and the margin that the printer can't reach, mm. Of a roll the height is the most it may be."""

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 8.0
    roll: bool = False

    @property
    def media(self) -> str:
        """What the print system (lp, CUPS) calls it."""
        if self.name in SIZES_MM:
            return self.name
        if self.name == NEUTRAL:
            return "A4"
        return f"Custom.{self.width_mm:g}x{self.height_mm:g}mm"


def paper(name: str, margin_mm: float = 8.0, *, unit: Unit = Unit.MM) -> Paper:
    """A paper by its name, upper or lower case, or by its size: '210 x 400 mm', 'roll 24 in', 'A4 or Letter'.

    `unit` is what a bare number means. Raises PrintError that lists the known ones.
    """
    spelled = " ".join(name.split())
    for known, (width, height) in SIZES_MM.items():
        if known.lower() == spelled.lower():
            return Paper(name=known, width_mm=width, height_mm=height, margin_mm=margin_mm)
    if spelled.lower() in (NEUTRAL.lower(), "letter or a4"):
        return Paper(name=NEUTRAL, width_mm=SIZES_MM["A4"][0], height_mm=SIZES_MM["Letter"][1], margin_mm=margin_mm)
    if spelled.lower().startswith("roll"):
        width = _side(spelled[4:].strip(), name, unit)
        return Paper(name=f"roll {width:g} mm", width_mm=width, height_mm=MOST_SIDE_MM, margin_mm=margin_mm, roll=True)
    two = _TWO_SIDES.fullmatch(spelled)
    if two is None:
        raise PrintError(f"paper {name!r} is not known", remedy=f"one of {', '.join(SIZES_MM)}, {NEUTRAL}, or {CUSTOM}")
    across, up = two.groups()
    last_unit = _UNIT.search(up)
    if last_unit is not None and _BARE.fullmatch(across):  # '210 x 400 mm': the unit is for both
        across = f"{across} {last_unit[1]}"
    return sized(_side(across, name, unit), _side(up, name, unit), margin_mm)


def sized(width_mm: float, height_mm: float, margin_mm: float = 8.0) -> Paper:
    """Paper of a custom size, upright or lying as given. Raises PrintError."""
    for side in (width_mm, height_mm):
        if not LEAST_SIDE_MM <= side <= MOST_SIDE_MM:
            raise PrintError(
                f"paper {width_mm:g} x {height_mm:g} mm won't do",
                remedy=f"{LEAST_SIDE_MM:g} to {MOST_SIDE_MM:g} mm a side would",
            )
    return Paper(name=f"{width_mm:g} x {height_mm:g} mm", width_mm=width_mm, height_mm=height_mm, margin_mm=margin_mm)


def _side(text: str, name: str, unit: Unit) -> float:
    try:
        side = float(length_mm(text, unit=unit))
    except UnitsError as error:
        raise PrintError(f"paper {name!r} can't be read ({str(error).partition(';')[0]})", remedy=f"{CUSTOM}") from None
    if not LEAST_SIDE_MM <= side <= MOST_SIDE_MM:
        raise PrintError(f"paper {name!r} won't do", remedy=f"{LEAST_SIDE_MM:g} to {MOST_SIDE_MM:g} mm a side would")
    return side
