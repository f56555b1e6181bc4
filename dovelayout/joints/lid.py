"""A lid sawn off after the glue-up: the pin it is sawn through is widened, so that a whole half pin is left on either
side of the saw."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from dovelayout.errors import LayoutError
from dovelayout.joints.spacing import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class LidCut:
    """Where the lid is sawn off, and what is lost there: the saw's kerf and the planing of both new edges together."""

    at_mm: float
    kerf_mm: float
    clean_up_mm: float

    @property
    def lost_mm(self) -> float:
        """Width lost between lid and box."""
        return self.kerf_mm + self.clean_up_mm


def parted(spans: tuple[Span, ...], cut: LidCut) -> tuple[tuple[Span, ...], float]:
    """Tails laid out over a room that is `lost_mm` too narrow, those beyond the saw moved up by that much; and the
    saw line, in the middle of the widened pin nearest to where the lid is wanted.

    Raises LayoutError when there is no pin to saw through.
    """
    if len(spans) < 2:
        raise LayoutError("a lid is sawn off through a pin between two tails", remedy="two tails or more would do")
    lines = [(one.end_mm + other.start_mm + cut.lost_mm) / 2 for one, other in itertools.pairwise(spans)]
    chosen = min(range(len(lines)), key=lambda index: (round(abs(lines[index] - cut.at_mm), 6), index))
    moved = tuple(
        Span(span.start_mm + cut.lost_mm, span.end_mm + cut.lost_mm) if index > chosen else span
        for index, span in enumerate(spans)
    )
    return moved, lines[chosen]


def line_through(spans: tuple[Span, ...], cut: LidCut) -> float:
    """The saw line through a layout that the maker set out: just where it is wanted.

    Raises LayoutError when it isn't inside a pin, naming the pins, or when the pin is narrower than what is lost.
    """
    gaps = [Span(one.end_mm, other.start_mm) for one, other in itertools.pairwise(spans)]
    half_mm = cut.lost_mm / 2
    for gap in gaps:
        if gap.start_mm < cut.at_mm - half_mm and cut.at_mm + half_mm < gap.end_mm:
            return cut.at_mm
    pins = ", ".join(f"{gap.start_mm:g}-{gap.end_mm:g}" for gap in gaps) or "none"
    raise LayoutError(
        f"the lid's saw line at {cut.at_mm:g} mm, {cut.lost_mm:g} mm lost, isn't inside a pin",
        remedy=f"the pins are at {pins} mm",
    )
