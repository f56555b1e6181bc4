"""The slope of a dovetail's cheek, 1:n."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dovelayout.units import format_slope


@dataclass(frozen=True, slots=True, order=True)
class Slope:
    """A cheek that leans 1 across the board for every `ratio` along it; `ratio` is above 1, infinite where none leans."""

    ratio: float

    def __post_init__(self) -> None:
        if not self.ratio > 1.0:
            raise ValueError(f"slope ratio must be a number above 1, not {self.ratio!r}")

    @property
    def is_straight(self) -> bool:
        """Whether the cheek doesn't lean at all."""
        return math.isinf(self.ratio)

    @property
    def words(self) -> str:
        """As sheets and tables write it: 'slope 1:7 (8.1°)', or 'cheeks straight'."""
        return "cheeks straight" if self.is_straight else f"slope {format_slope(self.ratio)}"

    @property
    def degrees(self) -> float:
        """The angle from the square line."""
        return math.degrees(math.atan(1.0 / self.ratio))

    def flare_mm(self, depth_mm: float) -> float:
        """How far one cheek leans over a depth: depth / n."""
        return depth_mm / self.ratio


STRAIGHT = Slope(math.inf)
"""No slope: the cheeks of a comb, parallel by definition."""
