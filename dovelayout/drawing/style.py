"""The style of a job's sheets: its name, its units, the stamp, and how lengths are written."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.units import Unit, format_inches, format_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The lines at the head of a sheet: the job, what the sheet shows, its numbers, and a stamp (a `stop` overruled)."""

    job: str
    what: str
    numbers: str = ""
    stamp: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """The style of a job's sheets: the job's name, its units, the stamp of a `stop` that was overruled, and whether pieces
    are nested on as few sheets as they need, or each gets a sheet of its own."""

    job: str
    unit: Unit = Unit.MM
    stamp: str = ""
    nest: bool = True

    def heading(self, what: str, numbers: str = "") -> Heading:
        """The head of one of the job's sheets."""
        return Heading(job=self.job, what=what, numbers=numbers, stamp=self.stamp)

    def length(self, value_mm: float) -> str:
        """A length in the job's unit alone: short enough to read at arm's length."""
        return format_inches(value_mm) if self.unit is Unit.IN else format_mm(value_mm)

    def setting(self, value_mm: float) -> str:
        """A length to set a gauge to, to a hundredth of a mm, followed by inches if they are the job's unit."""
        inches = f" ({format_inches(value_mm)})" if self.unit is Unit.IN else ""
        return f"{value_mm:.2f}".rstrip("0").rstrip(".") + f" mm{inches}"
