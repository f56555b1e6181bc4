"""Sums that check a cut list: parts and the room they leave, against what they go into."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One part of a sum and how often it counts."""

    what: str
    value_mm: float
    times: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """The key of the job that fixes a part of a sum, and the value that would be right."""

    key: str
    right_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """Parts, and the room they leave in what they go into.

    `room_mm` has to lie between `least_mm` and `most_mm` (None: no upper limit).
    """

    what: str
    terms: tuple[Term, ...]
    room: str
    into: str
    into_mm: float
    least_mm: float = 0.0
    most_mm: float | None = None
    override: Override | None = None

    @property
    def parts_mm(self) -> float:
        """What the parts come to."""
        return math.fsum(term.times * term.value_mm for term in self.terms)

    @property
    def room_mm(self) -> float:
        """What they leave: below 0 they don't go in."""
        return self.into_mm - self.parts_mm

    @property
    def off_mm(self) -> float:
        """How far the room is beyond its limits: above 0 the parts are that much too large, below 0 too small."""
        if self.room_mm < self.least_mm - 1e-6:
            return self.least_mm - self.room_mm
        if self.most_mm is not None and self.room_mm > self.most_mm + 1e-6:
            return self.most_mm - self.room_mm
        return 0.0

    @property
    def adds_up(self) -> bool:
        """Whether the parts fit what they go into."""
        return self.off_mm == 0.0

    @property
    def words(self) -> str:
        """'2 × side 12 + front 375.3 + 0.7 side gaps = 400 opening', in mm."""
        parts = ""
        for term in self.terms:
            sign = "−" if term.value_mm < 0 else "+"
            times = "" if term.times == 1 else f"{term.times} × "
            parts += f" {sign} {times}{term.what} {figure(abs(term.value_mm))}"
        sign = "+" if self.room_mm >= -1e-9 else "−"
        parts = parts.removeprefix(" + ")
        return f"{parts} {sign} {self.room} {figure(abs(self.room_mm))} = {self.into} {figure(self.into_mm)}"


def figure(value_mm: float) -> str:
    """A length to a hundredth of a mm, without trailing zeros."""
    return f"{value_mm:.2f}".rstrip("0").rstrip(".")
