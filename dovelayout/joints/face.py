"""The faces of a board's end after the joint is cut: what is kept, what is waste, and the lines between.

A joint describes every board end as an `EndFaces`; the drawing room folds it into a template without knowing
which joint it came from. All coordinates are the board's own (see `board`): outside and inside faces are (x, y),
the end grain is (x, z).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from shapely import Polygon

from dovelayout.joints.board import BoardEnd, Groove, Lip

Point = tuple[float, float]
Segment = tuple[Point, Point]


class FaceName(StrEnum):
    """The faces a template covers: outside, end, inside in the order it folds over them; on a rebated front the inner
    side of its lip takes the place of the outside face."""

    OUTSIDE = "outside"
    LIP = "lip"
    END = "end"
    INSIDE = "inside"


class Part(StrEnum):
    """Which half of the joint a board end carries."""

    TAILS = "tails"
    PINS = "pins"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A tail or a pin on one face: what stays, with the number it is called by ('' for a half pin's)."""

    label: str
    polygon: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face of a board's end, down to the baseline (the whole thickness for the end grain).

    `cheeks` are the knife lines between what stays and what goes, each once, in (x, y) or (x, z) mm;
    `keep` and `waste` together fill the face exactly.
    """

    name: FaceName
    keep: tuple[Piece, ...]
    waste: tuple[Polygon, ...]
    cheeks: tuple[Segment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EndFaces:
    """All faces of one end of one board.

    `baseline_mm` is the gauge setting for this board: from its end to the baseline. `proud_mm` of it stands proud of
    the mate's face. `cut_places_mm` are places along the width where a template may be parted between two sheets:
    middles of tails, and plain stretches, never a pin or a cheek. `saw_lines_mm`: both sides of the saw's way where a
    lid is cut off. `outside_is_blank`: nothing is cut on the outside face. `end_gauge_mm` is a second gauge setting,
    from the inside face across the end grain (None: there is none). With a `lip` the end grain is that of the
    rebate's shoulder, its z counted from the lip, and `outside` is the lip's inner side.

    In a canted corner x runs along the end from the outer arris, which is `stretch` times as long as the board is wide
    across; the board's edges then lean on the faces (`face_lean`: mm along x for every mm from the end) or across the
    end grain (`end_lean`: for every mm from the outside face).
    """

    end: BoardEnd
    part: Part
    baseline_mm: float
    proud_mm: float
    outside: Face
    end_grain: Face
    inside: Face
    groove: Groove | None
    cut_places_mm: tuple[float, ...]
    saw_lines_mm: tuple[float, ...] = ()
    outside_is_blank: bool = False
    end_gauge_mm: float | None = None
    lip: Lip | None = None
    stretch: float = 1.0
    face_lean: float = 0.0
    end_lean: float = 0.0

    @property
    def width_mm(self) -> float:
        """Width along the end."""
        return self.end.board.width_mm * self.stretch

    def edge_mm(self, face: FaceName, other_mm: float) -> float:
        """Where the face edge lies in x, that far from the end on a face or from the outside face on the end grain."""
        if face is FaceName.END:
            return self.end_lean * other_mm
        return self.face_lean * other_mm + (self.end_lean * self.band_mm if face is FaceName.INSIDE else 0.0)

    @property
    def band_mm(self) -> float:
        """Height of the end grain that the template covers: the thickness, or the rebate's shoulder under a lip."""
        return self.end.board.thickness_mm - (0.0 if self.lip is None else self.lip.thickness_mm)

    @property
    def first_mm(self) -> float:
        """How far the first face is covered: to the baseline, or to the end of the lip."""
        return self.baseline_mm if self.lip is None else self.lip.overhang_mm

    @property
    def faces(self) -> tuple[Face, Face, Face]:
        """The three faces in folding order."""
        return (self.outside, self.end_grain, self.inside)
