"""Paper: sizes that printers have, and the margin they can't reach. Values only."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.errors import PrintError

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Paper size and the margin that the printer can't reach, mm."""

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 8.0


def paper(name: str, margin_mm: float = 8.0) -> Paper:
    """A paper size by its name, upper or lower case. Raises PrintError that lists the known ones."""
    for known, (width, height) in SIZES_MM.items():
        if known.lower() == name.strip().lower():
            return Paper(name=known, width_mm=width, height_mm=height, margin_mm=margin_mm)
    raise PrintError(f"paper {name!r} is not known; one of {', '.join(SIZES_MM)}")
