"""What stands on a job's bench sheet, as plain values: gauges, tables, key figures, short lines. `pages` lays it out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.divider import Divider
from dovelayout.joints.corner import CornerJoint
from dovelayout.units import Unit, format_both, format_inches, format_mm
from dovelayout.words import listed, listed_by_kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number that is read at arm's length: in large figures, its unit after it, the other unit small below."""

    text: str
    unit: str = ""
    other: str = ""


TableCell = str | tuple[str, ...] | Number
"""What stands in one cell of a table: words, several paragraphs, a number; '' where there is nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """One setting of a marking gauge or of the bevel, and whose lines it scribes."""

    setting: Number
    scribes: tuple[str, ...]


TableRow = tuple[TableCell, ...]
"""A row of a table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the sheet under a heading: a table where there are rows, then short lines.

    A column of numbers is as wide as its widest one; the others share what is left by `shares`.
    """

    title: str
    columns: tuple[str, ...] = ()
    shares: tuple[float, ...] = ()
    rows: tuple[TableRow, ...] = ()
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Key figures of one or several like things, each under its name, in grids; then short lines."""

    title: str
    about: tuple[str, ...] = ()
    grids: tuple[tuple[tuple[str, Number], ...], ...] = ()
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSheet:
    """A job's bench sheet. `verdict`: how the checks ended; `first`: the joint that is pictured, with `names`."""

    gauges: tuple[Gauge, ...] = ()
    verdict: str = ""
    first: CornerJoint | Divider | None = None
    names: str = ""
    parts: tuple[Section | Figures, ...] = ()


MOST_NAMES = 8
"""More names than these are a line under a heading, not in it (ours)."""


def titled(kind: str, names: Sequence[str], figures: Figures, unit: Unit) -> Figures:
    """Figures under the names of all that have them: 'Corners A, B, mm'."""
    if len(names) <= MOST_NAMES:
        title, about = f"{kind}{'s' if len(names) > 1 else ''} {listed(names)}", figures.about
    else:
        title, about = f"{len(names)} {kind.lower()}s alike", (f"{listed_by_kind(names)}.", *figures.about)
    return replace(figures, title=f"{title}, {unit.value}", about=about)


def without_repeats(parts: Sequence[Figures]) -> tuple[Figures, ...]:
    """The parts without the lines that stand in an earlier one already."""
    known: set[str] = set()
    left: list[Figures] = []
    for part in parts:
        left.append(replace(part, lines=tuple(line for line in part.lines if line not in known)))
        known |= set(part.lines)
    return tuple(left)


def figure(value_mm: float, unit: Unit) -> Number:
    """A length among figures whose heading names the unit; in a job in inches with the mm below."""
    first, _, other = format_both(value_mm, unit=unit).partition(" (")
    return _bare(Number(text=first.rpartition(" ")[0], other=other.removesuffix(")")), unit)


def fine_figure(value_mm: float, unit: Unit) -> Number:
    """A gauge setting among such figures."""
    return _bare(setting(value_mm, unit), unit)


def _bare(number: Number, unit: Unit) -> Number:
    return Number(text=number.text, other=number.other if unit is Unit.IN else "")


def setting(value_mm: float, unit: Unit) -> Number:
    """A gauge setting, to a hundredth of a mm, in both units."""
    inches, mm = format_inches(value_mm), format_mm(value_mm, decimals=2)
    first, other = (inches, mm) if unit is Unit.IN else (mm, inches)
    text, _, name = first.rpartition(" ")
    return Number(text=text, unit=name, other=other)
