"""What a repair consists of, whatever the trouble: a method, its figures with their sources, steps and cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.units import Unit, format_both, format_inches

FINE_MM = 3.0
"""Below this, lengths are fits and are said in thousandths of an inch, not in fractions (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One number of a repair and where it comes from; in mm unless `unit` says otherwise."""

    what: str
    value: float
    source: str
    unit: str = "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to do about one trouble: how it will look, what to glue it with, and in which order.

    `looks` is honest about what will be seen afterwards. A finding of level stop means that the honest answer is to recut.
    """

    trouble: str
    method: str
    looks: str
    glue: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    figures: tuple[Figure, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def worst(self) -> Level:
        """The loudest of its findings."""
        return worst_level(self.findings)


def both(value_mm: float) -> str:
    """A length in both systems: `0.6 mm (0.024 in)` for a fit, `12 mm (≈ 15/32 in)` from FINE_MM up."""
    if abs(value_mm) < FINE_MM:
        return f"{f'{value_mm:.2f}'.rstrip('0').rstrip('.')} mm ({value_mm / 25.4:.3f} in)"
    return format_both(value_mm, unit=Unit.MM)


def at_least(value_mm: float) -> str:
    """A size to look for, rounded up: whole mm, sixteenths of an inch."""
    inches = Fraction(math.ceil(value_mm / 25.4 * 16 - 1e-6), 16)
    return f"at least {math.ceil(value_mm - 1e-6)} mm ({format_inches(inches * Fraction(254, 10), denominator=16)})"


CHISELS = (
    "chisels, saws and knives: work clamped, both hands behind the edge, pare away from the body, eyes protected when "
    "chopping"
)
LAP = "a mallet blow goes through a lap: keep the other hand off the front"
CA = (
    "CA (cyanoacrylate): its vapour stings eyes and nose, so open a window and keep your face away; it bonds skin, and "
    "heats and fumes on cotton or tissue, so no cotton gloves and no rag"
)
GLUES = "glues: air the room, gloves where the label asks for them; sanding dust of wood and cured glue wants a mask"
CLAMPS = "clamps can slip or spit out a caul: stand aside, and no more pressure than closes the joint"
MAKERS_FIRST = (
    "the makers of your glues, tools and finishes, local rules and qualified people come before anything said here; an "
    "old or valuable piece belongs first in the hands of a conservator"
)
"""The usual cautions: common practice, no source."""
