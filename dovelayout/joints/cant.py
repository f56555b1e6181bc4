"""Canted corners: the tail board's end is cut at an angle and the pin board leans against it.

In the tail board's face let s run along its canted end from the face edge and d square to it, into the board. The pin
board's face lies along s, its thickness along d. The board's long edges, and with them the fibres, lean `lean_deg` from
d, and so do the axes of the tails: they follow the long edge, not the canted end, or their points were short-grained.
With slope angle a, a cheek on the side of the face edge moves by d tan(lean + a) over a depth d, one on the far side by
d tan(lean - a), and an edge of the board by d tan(lean).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from dovelayout.joints.slope import Slope

LEAST_DEG, MOST_DEG = 75.0, 105.0
"""The angles that are laid out; beyond them a lapped or a mitred corner serves better (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifts:
    """How far each line moves along s over the depth of a joint, mm: cheeks nearer the face edge, cheeks on the far
    side of their tails, and the edges of the board."""

    start_mm: float
    end_mm: float
    edge_mm: float

    @property
    def flare_mm(self) -> float:
        """By how much one cheek narrows a tail, in the mean of both: depth / n where nothing leans."""
        return (self.start_mm - self.end_mm) / 2


@dataclass(frozen=True, slots=True, order=True)
class Cant:
    """A corner whose boards meet at `angle_deg`, measured inside the tail board between its face edge and its end."""

    angle_deg: float = 90.0

    @property
    def is_square(self) -> bool:
        """Whether nothing leans."""
        return self.angle_deg == 90.0

    @property
    def lean_deg(self) -> float:
        """How far the pin board leans back, away from the face edge; negative: over it."""
        return 90.0 - self.angle_deg

    @property
    def lean(self) -> float:
        """The tangent of that: mm along the end for every mm of depth."""
        return math.tan(math.radians(self.lean_deg))

    @property
    def stretch(self) -> float:
        """Length along the canted end for every mm across the board."""
        return 1.0 / math.cos(math.radians(self.lean_deg))

    def shifts(self, slope: Slope, depth_mm: float) -> Shifts:
        """How far cheeks and edges move over a depth."""
        edge_mm, flare_mm = self.lean * depth_mm, slope.flare_mm(depth_mm)
        # tan(a + b) and tan(a - b) by the sum of tangents, so that a square corner's flare is depth / n to the last bit
        both = self.lean / slope.ratio
        return Shifts(
            start_mm=(edge_mm + flare_mm) / (1 - both),
            end_mm=(edge_mm - flare_mm) / (1 + both),
            edge_mm=edge_mm,
        )

    def cheek_deg(self, slope: Slope) -> tuple[float, float]:
        """How far the two cheeks of a tail stand off a line square to the canted end, nearer the face edge first;
        positive: away from the face edge."""
        return (self.lean_deg + slope.degrees, self.lean_deg - slope.degrees)


SQUARE = Cant()
