"""The slope of a dovetail's cheek, 1:n."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Slope:
    """A cheek that leans 1 across the board for every `ratio` along it; `ratio` is above 1."""

    ratio: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.ratio) and self.ratio > 1.0):
            raise ValueError(f"slope ratio must be a number above 1, not {self.ratio!r}")

    @property
    def degrees(self) -> float:
        """The angle from the square line."""
        return math.degrees(math.atan(1.0 / self.ratio))

    def flare_mm(self, depth_mm: float) -> float:
        """How far one cheek leans over a depth: depth / n."""
        return depth_mm / self.ratio
