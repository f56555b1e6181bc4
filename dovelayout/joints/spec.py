"""The specification of one dovetailed corner, as a job gives it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

from dovelayout.joints.board import BoardEnd, Groove, Lip
from dovelayout.joints.cant import SQUARE, Cant, Shifts
from dovelayout.joints.lid import LidCut
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Spacing, Span

EDGE_MM = 1e-6
"""A tail this close to the edge of the joint is meant to be at the edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutSpec:
    """The layout of tails, as one value that several corners may share. None: to be proposed.

    `pin_mm` and `half_pin_mm` are narrow widths, at the plane where the tails end. `tails_at` are spans of the tails
    there; they replace count, pins and spacing.
    """

    tail_count: int | None = None
    pin_mm: float | None = None
    half_pin_mm: float | None = None
    slope: Slope | None = None
    tails_at: tuple[Span, ...] | None = None
    spacing: Spacing = Spacing.EVEN


PROPOSED = LayoutSpec()
"""Everything is to be proposed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSpec(LayoutSpec):
    """One dovetailed corner as specified: its layout, its two board ends, and other features of the joint.

    `covers` is the stretch of the tail board's width that the joint takes (None: all that the boards share), in the
    tail board's x. `lap_mm` is what a half-blind joint leaves of the pin board over the ends of the tails, `lip` the
    rebated lip of a drawer front; `mitre_..._mm` is how much of the width is mitred at an edge, to take a moulding or
    hide a groove. `cant` is the angle at which the boards meet. `origin` says where in the job the corner was written:
    (table, name); `key_prefix` is what its keys begin with there, `piece` what it closes where that has a name of its
    own, such as one drawer of a bank.
    """

    name: str
    tails: BoardEnd
    pins: BoardEnd
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

    @property
    def layout(self) -> LayoutSpec:
        """Its layout alone."""
        return LayoutSpec(**_layout_fields(self))

    def with_layout(self, layout: LayoutSpec) -> CornerSpec:
        """The same corner with another layout."""
        return replace(self, **_layout_fields(layout))

    @property
    def thinner_mm(self) -> float:
        """Thickness of the thinner board."""
        return min(self.tails.board.thickness_mm, self.pins.board.thickness_mm)

    @property
    def depth_mm(self) -> float:
        """How far the tails reach into the pin board."""
        return self.pins.board.thickness_mm - (self.lap_mm or 0.0)

    def shifts(self, slope: Slope) -> Shifts:
        """How far the cheeks and edges move over that depth, with cheeks of that slope."""
        return self.cant.shifts(slope, self.depth_mm)


def _layout_fields(layout: LayoutSpec) -> dict[str, Any]:
    return {field.name: getattr(layout, field.name) for field in fields(LayoutSpec)}
