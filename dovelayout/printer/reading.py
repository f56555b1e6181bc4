"""Readings of the calibration sheet, and what they say about a printer."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, worst_first
from dovelayout.checks.rule import rule
from dovelayout.drawing.cards.calibration import BARS_MM, SHORT_BAR_MM
from dovelayout.drawing.correction import Correction
from dovelayout.errors import PrintError
from dovelayout.place import Place

KNOWN_BARS_MM = (SHORT_BAR_MM, *sorted(BARS_MM))
"""The bars that are drawn on the sheets; by definition."""

PRINT_SCALE = rule(
    "print-scale",
    "how far a bar comes out from its length",
    unit="%",
    note=0.3,  # half a millimetre in 150
    stop=2.0,  # printers are off by up to about 1 %; 'fit to page' shrinks by 3 to 4 %
    below=False,
    source=COMMON_PRACTICE,
)

MOST_PCT = 5.0
"""Further off, it was another bar or another paper: refused; ours."""

MOST_NAME_LETTERS = 32
"""Letters of a printer's name; ours."""

NO_PRINTER = "none"
"""Given as a printer's name, it asks for no correction."""


class PaperAxis(StrEnum):
    """Along the sheet's width, or along its height."""

    ACROSS = "across"
    UP = "up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a bar of a known length measures on paper. Made by `reading`, which refuses nonsense."""

    axis: PaperAxis
    bar_mm: float
    measured_mm: float

    @property
    def factor(self) -> float:
        """What drawings must be stretched by along this axis."""
        return self.bar_mm / self.measured_mm

    @property
    def off_pct(self) -> float:
        """How far it is off: negative where it comes out short."""
        return (self.measured_mm / self.bar_mm - 1.0) * 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """One printer's readings, both ways, and the paper they were read on ('': not said).

    A printer may feed another paper the other way round; then what holds across holds up there.
    """

    name: str
    across: Reading
    up: Reading
    paper: str = ""

    @property
    def correction(self) -> Correction:
        """What its readings ask for."""
        return Correction(printer=self.name, across=self.across.factor, up=self.up.factor)

    @property
    def good_as_it_is(self) -> bool:
        """Whether both ways are within what is accepted uncorrected."""
        return all(PRINT_SCALE.judge(abs(row.off_pct))[0] is Level.OK for row in (self.across, self.up))


def printer_name(text: str) -> str:
    """A name that a printer can be kept and asked for by. Raises PrintError that says what would do."""
    name = " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())
    if not name or len(name) > MOST_NAME_LETTERS:
        raise PrintError(f"a printer's name has 1 to {MOST_NAME_LETTERS} letters, not {len(name)}")
    if name.casefold() == NO_PRINTER:
        raise PrintError(f"'{NO_PRINTER}' stands for no correction", remedy="give the printer another name")
    return name


def reading(axis: PaperAxis, *, bar_mm: float, measured_mm: float) -> Reading:
    """A reading that can be one. Raises PrintError for a bar that isn't drawn, or one that can't be what was read."""
    if bar_mm not in KNOWN_BARS_MM:
        bars = " and ".join(f"{bar:g}" for bar in KNOWN_BARS_MM)
        raise PrintError(f"{axis}: there is no bar of {bar_mm:g} mm", remedy=f"those on the sheets are {bars} mm")
    if not (math.isfinite(measured_mm) and measured_mm > 0):
        raise PrintError(f"{axis}: {measured_mm:g} mm is not a reading", remedy=f"it would be about {bar_mm:g}")
    read = Reading(axis=axis, bar_mm=bar_mm, measured_mm=measured_mm)
    if abs(read.off_pct) > MOST_PCT + 1e-9:
        near = [bar for bar in KNOWN_BARS_MM if abs(measured_mm / bar - 1.0) * 100.0 <= MOST_PCT]
        option = "--bar" if axis is PaperAxis.ACROSS else "--bar-y"
        hint = (
            f"was it the {near[0]:g} mm bar ({option} {near[0]:g})?"
            if near
            else "read it again, or print it again at 100 %"
        )
        raise PrintError(
            f"{axis}: {measured_mm:g} mm read on a bar of {bar_mm:g} is {abs(read.off_pct):.1f} % off",
            remedy=f"more than {MOST_PCT:g} % is another bar, or a sheet that was fitted to another paper: {hint}",
        )
    return read


def reading_findings(calibration: Calibration) -> tuple[Finding, ...]:
    """What the readings say, worst first; nothing where the printer is good as it is."""
    return worst_first(_findings(calibration))


def _findings(calibration: Calibration) -> Iterator[Finding]:
    rows = (calibration.across, calibration.up)
    both_short = all(row.off_pct < -(PRINT_SCALE.stop or 0.0) for row in rows)
    for row in rows:
        breach = PRINT_SCALE.breach(abs(row.off_pct))
        if breach is None:
            continue
        bars = " both bars" if row.off_pct < 0 and not both_short else ""
        fix = f"print it again at 100 %, 'actual size', and measure{bars} again; the factor would be {row.factor:.3f}"
        if breach.level is Level.NOTE:
            why, fix = f": corrected by × {row.factor:.4f}", ""
        elif both_short:
            why = ": 'fit to page' (or 'shrink to fit') was switched on when the sheet was printed"
        elif row.off_pct < 0:
            why = ", and the other way isn't as short: 'fit to page', or a bar that was misread"
        else:
            why = ": a scale above 100 % was set, or a bar was misread"
        read = f"{row.measured_mm:g} mm came out where {row.bar_mm:g} were drawn"
        place = Place(kind="printer", name=calibration.name or "(no name)", part=row.axis)
        yield breach.finding(place, f"{read}{why}", fix=fix)
