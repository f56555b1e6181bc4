"""Where the tails stand along the width of the board.

A job says how many tails, how wide the pins and half pins are at the outside face (their narrow side), and how the
tails grow along the board; this module turns that into spans, or names the nearest layout that can be built.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from dovelayout.errors import LayoutError

LEAST_NECK_MM = 3.0
"""Narrowest neck that is still sawn and chopped as a tail; ours, the same as the tail-neck check's stop."""

MOST_TAILS = 200
"""More tails than this in one corner is a slip of the pen, not a layout; ours."""

_TOLERANCE_MM = 1e-9


class Spacing(StrEnum):
    """How the widths of the tails go along the board."""

    EVEN = "even"
    CLOSER_AT_EDGES = "closer at edges"
    GRADUATED = "graduated"
    KERF_PINS = "kerf pins"


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch along the width of a board, from `start_mm` to `end_mm`."""

    start_mm: float
    end_mm: float

    @property
    def width_mm(self) -> float:
        """Its width."""
        return self.end_mm - self.start_mm

    @property
    def middle_mm(self) -> float:
        """Its middle."""
        return (self.start_mm + self.end_mm) / 2

    def towards(self, other: Span, share: float) -> Span:
        """The span that lies a share of the way to another."""
        start_mm, end_mm = self.start_mm, self.end_mm
        return Span(start_mm + share * (other.start_mm - start_mm), end_mm + share * (other.end_mm - end_mm))

    def holds(self, other: Span) -> bool:
        """Whether `other` lies wholly inside this span."""
        return self.start_mm <= other.start_mm + _TOLERANCE_MM and other.end_mm <= self.end_mm + _TOLERANCE_MM

    def overlap_mm(self, other: Span) -> float:
        """Width that the two spans share, 0 when none."""
        return max(0.0, min(self.end_mm, other.end_mm) - max(self.start_mm, other.start_mm))


@lru_cache(maxsize=1024)
def weights(count: int, spacing: Spacing) -> tuple[float, ...]:
    """Relative widths of the tails.

    'closer at edges' makes the first and last tail about two-thirds as wide as the others, and from seven tails on
    the second and last but one five-sixths (common practice, no source: half to two-thirds as wide at the edges,
    where cupping works hardest). 'graduated' grows in equal steps from the face edge, the last tail 1.6 times as wide
    as the first (ours). 'kerf pins' are even tails; it is the pins that are as narrow as a saw kerf.
    """
    if spacing in (Spacing.EVEN, Spacing.KERF_PINS) or count < 2:
        return (1.0,) * count
    if spacing is Spacing.GRADUATED:
        return tuple(1.0 + 0.6 * place / (count - 1) for place in range(count))
    if count < 3:
        return (1.0,) * count
    edge = (0.65, 0.83) if count >= 7 else (0.65,)
    middle = (1.0,) * (count - 2 * len(edge))
    return (*edge, *middle, *reversed(edge))


@dataclass(frozen=True, slots=True, kw_only=True)
class TailRoom:
    """The stretch that tails are laid out over, and the narrow widths of the pins between them and at its edges.

    Widths are those in the plane of the pin board's outside face: room = 2 half pins + the tails + (count - 1) pins.
    `flare_mm` is how far one cheek leans from there to the baseline.
    """

    span: Span
    pin_mm: float
    half_pin_mm: float
    spacing: Spacing
    flare_mm: float

    def widths_mm(self, count: int) -> tuple[float, ...]:
        """Widths of that many tails; 0 or less where the pins leave no room."""
        left_mm = self.span.width_mm - 2 * self.half_pin_mm - (count - 1) * self.pin_mm
        shares = weights(count, self.spacing)
        total = math.fsum(shares)
        return tuple(left_mm * share / total for share in shares)

    def neck_mm(self, count: int) -> float:
        """The narrowest neck of that many tails."""
        return min(self.widths_mm(count)) - 2 * self.flare_mm

    @property
    def most(self) -> int:
        """The largest count whose narrowest neck is at least LEAST_NECK_MM; 0 when not even one tail fits."""
        best = 0
        for count in range(1, MOST_TAILS + 1):
            neck_mm = self.neck_mm(count)
            if neck_mm >= LEAST_NECK_MM - _TOLERANCE_MM:
                best = count
            elif neck_mm <= -2 * self.flare_mm:
                break  # more tails leave less still
        return best

    def tails(self, count: int) -> tuple[Span, ...]:
        """Spans of that many tails. Raises LayoutError, its remedy the nearest possible count, when a neck would vanish."""
        if count > MOST_TAILS:
            raise LayoutError(f"{count} tails in one corner is more than {MOST_TAILS}", remedy="check the number")
        if self.neck_mm(count) <= 0:
            raise self._no_room_for(count)
        spans = []
        at_mm = self.span.start_mm + self.half_pin_mm
        for width_mm in self.widths_mm(count):
            spans.append(Span(at_mm, at_mm + width_mm))
            at_mm += width_mm + self.pin_mm
        return tuple(spans)

    def proposed_count(self, *, thickness_mm: float) -> int:
        """Count of tails when the job gives none: tails about twice as wide as the pins' wide side (common practice,
        no source), with necks no less than 0.6 of the thickness where that can be had.

        Raises LayoutError when not even one tail fits.
        """
        most = self.most
        if most == 0:
            raise self._no_room_for(1)
        aim_mm = 2.2 * (self.pin_mm + 2 * self.flare_mm)

        def miss(count: int) -> tuple[bool, float]:
            widths = self.widths_mm(count)
            weak = min(widths) - 2 * self.flare_mm < 0.6 * thickness_mm
            clumsy = max(widths) > min(3 * thickness_mm, 65.0)
            return (weak or clumsy, abs(math.fsum(widths) / count - aim_mm))

        return min(range(1, most + 1), key=miss)

    def _no_room_for(self, count: int) -> LayoutError:
        """'9 tails leave -1.2 mm necks', with the count or the narrower half pins that would fit."""
        leave = "tail leaves" if count == 1 else "tails leave"
        half_mm = math.floor((self.span.width_mm - 2 * self.flare_mm - LEAST_NECK_MM) / 2 * 10) / 10
        if fit := self.most:
            remedy = f"{fit} {'fits' if fit == 1 else 'fit'}"
        elif half_mm > 0:
            remedy = f"one tail fits with half_pin {half_mm:g} mm or less"
        else:
            least_mm = 2 * self.flare_mm + LEAST_NECK_MM
            remedy = (
                f"no tail fits: the slope and thickness alone need {least_mm:.1f} mm, a wider board or a finer slope"
            )
        return LayoutError(
            f"{count} {leave} {self.neck_mm(count):.1f} mm necks in {self.span.width_mm:.1f} mm", remedy=remedy
        )


def proposed_pin_mm(*, thickness_mm: float) -> float:
    """Narrow side of a pin when the job gives none: about a third of the thinner board, 4.5 mm at least; ours."""
    return max(4.5, round(2 * 0.32 * thickness_mm) / 2)


def proposed_fingers(*, room_mm: float, thickness_mm: float, least: int = 1) -> int:
    """Count of fingers on the board whose mate has one more, when the job gives none: each about as wide as the thinner
    board is thick, and never under LEAST_NECK_MM where `least` allows it (common practice, no source)."""
    finger_mm = max(thickness_mm, LEAST_NECK_MM)
    most = min(MOST_TAILS, int((room_mm / LEAST_NECK_MM - 1) / 2 + _TOLERANCE_MM))
    return max(least, min(most, round((room_mm / finger_mm - 1) / 2)))


KERF_MM = 0.7
"""Width of a dovetail saw's kerf where the job gives none (common practice, no source: 0.5 to 0.8 mm)."""


def proposed_half_pin_mm(*, pin_mm: float) -> float:
    """Narrow side of a half pin when the job gives none: a quarter more than a pin, 5 mm at least, since it is
    short-grained at the edge and takes the chisel blow (common practice, no source)."""
    return max(5.0, round(2 * 1.25 * pin_mm) / 2)
