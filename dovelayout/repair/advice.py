"""The parts of every repair: a method, figures with their sources, steps and cautions."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.texts import Texts
from dovelayout.units import Unit, format_both, format_inches
from dovelayout.wood.glue import Glue

FINE_MM = 3.0
"""Lengths below this are fits, and are given in thousandths of an inch instead of fractions (ours)."""

MEASURED = "measured"
"""Source of a figure that the user gave."""

SHRINKAGE = "Wood Handbook FPL-GTR-190, Eq 4-5, 13-2 and 13-3"

CAUTIONS = Texts("repair", "cautions")


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairFigure:
    """One number of a repair and its source; in mm unless `unit` says otherwise."""

    what: str
    value: float
    source: str
    unit: str = "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to do about one fault: the method, what will be seen afterwards, what to glue with, the steps in order.

    A finding of level stop means that no repair holds, and the part is made again.
    """

    trouble: str
    method: str
    looks: str
    glue: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    figures: tuple[RepairFigure, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def worst(self) -> Level:
        """Severity of the worst finding."""
        return worst_level(self.findings)


def figures(source: str, values: Mapping[str, float]) -> Iterator[RepairFigure]:
    """Lengths in mm of one source, by what they are."""
    return (RepairFigure(what=what, value=value, source=source) for what, value in values.items())


def cautions(*names: str, glue: Glue | None = None) -> tuple[str, ...]:
    """The cautions of these names, those of a glue's own label, and that the makers of tools and glues come first."""
    label = () if glue is None else (f"{glue.name}: {line}" for line in glue.cautions)
    return (*(CAUTIONS(name) for name in names), *label, CAUTIONS("makers"))


def both(value_mm: float) -> str:
    """A length in both systems: `0.6 mm (0.024 in)` for a fit, `12 mm (≈ 15/32 in)` from FINE_MM up."""
    if abs(value_mm) < FINE_MM:
        return f"{f'{value_mm:.2f}'.rstrip('0').rstrip('.')} mm ({value_mm / 25.4:.3f} in)"
    return format_both(value_mm, unit=Unit.MM)


def at_least(value_mm: float) -> str:
    """A size to look for, rounded up to whole mm and to sixteenths of an inch."""
    inches = Fraction(math.ceil(value_mm / 25.4 * 16 - 1e-6), 16)
    return f"at least {math.ceil(value_mm - 1e-6)} mm ({format_inches(inches * Fraction(254, 10), denominator=16)})"
