"""What a maker asks of one dovetailed corner, before it is worked out."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.joints.board import BoardEnd, Groove, Lip
from dovelayout.joints.cant import SQUARE, Cant, Shifts
from dovelayout.joints.lid import LidCut
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Spacing, Span

EDGE_MM = 1e-6
"""A tail this close to the edge of the joint is meant to be at the edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSpec:
    """What the maker asks of one dovetailed corner; None where the tool is to propose.

    `covers` is the stretch of the tail board's width that the joint takes (None: all that the boards share), in the
    tail board's x. `tails_at` are spans of the tails at their ends (d = 0); they replace count, pins and spacing.
    `lap_mm` is what a half-blind joint leaves of the pin board over the ends of the tails, `lip` the rebated lip of a
    drawer front; `mitre_..._mm` is how much of the width is mitred at an edge, to take a moulding or hide a groove.
    `cant` is the angle at which the boards meet. `origin` says where in the job the corner was written: (table, name);
    `key_prefix` is what its keys begin with there, `piece` what it closes where that has a name of its own, such as one
    drawer of a bank.
    """

    name: str
    tails: BoardEnd
    pins: BoardEnd
    slope: Slope
    slope_given: bool = True
    tail_count: int | None = None
    pin_mm: float | None = None
    half_pin_mm: float | None = None
    tails_at: tuple[Span, ...] | None = None
    spacing: Spacing = Spacing.EVEN
    covers: Span | None = None
    proud_tails_mm: float = 0.0
    proud_pins_mm: float = 0.0
    groove: Groove | None = None
    lap_mm: float | None = None
    lip: Lip | None = None
    mitre_face_edge_mm: float = 0.0
    mitre_far_edge_mm: float = 0.0
    lid: LidCut | None = None
    cant: Cant = SQUARE
    origin: tuple[str, str] = ("corner", "")
    key_prefix: str = ""
    piece: str = ""

    @property
    def keys_of(self) -> tuple[tuple[str, str], str]:
        """Which keys of the job lay this corner out: corners of which this is the same take one layout."""
        return (self.origin, self.key_prefix)


def tail_depth_mm(spec: CornerSpec) -> float:
    """How far the tails of a corner reach into its pin board."""
    return spec.pins.board.thickness_mm - (spec.lap_mm or 0.0)


def shifts_of(spec: CornerSpec) -> Shifts:
    """How far the cheeks and edges of a corner move over the depth of its tails."""
    return spec.cant.shifts(spec.slope, tail_depth_mm(spec))
