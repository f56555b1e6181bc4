"""Where a corner's joint lies on its boards: the stretch it covers, and what mitres leave of that."""

from __future__ import annotations

from dovelayout.errors import LayoutError
from dovelayout.joints.keys import given
from dovelayout.joints.spacing import Span
from dovelayout.joints.spec import EDGE_MM, CornerSpec

CANT_FIT_MM = 0.2
"""A pin board this much off the length of a canted end is planed to it without a thought; ours."""

_SQUARE_ONLY = (
    "covers", "mitre_face_edge_mm", "mitre_far_edge_mm", "lid", "lip", "proud_tails_mm", "proud_pins_mm",
)  # fmt: skip
"""Fields that no canted corner takes."""

SAME_WIDTH_MM = 0.01
"""Boards whose widths differ by no more are of one width; ours."""


def place(spec: CornerSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    return _place_square(spec) if spec.cant.is_square else _place_canted(spec)


def _place_canted(spec: CornerSpec) -> tuple[Span, float]:
    """As `place`, along a canted end: the pin board is as wide as that end is long, and takes all of it.

    Under a lap the pin board's outside face lies before the plane where the tails end, and its edges with it.
    """
    for _, key in given(spec, _SQUARE_ONLY):
        problem = f"{key} goes with square corners, not with one of {spec.cant.angle_deg:g} degrees"
        raise LayoutError(problem, remedy="leave it out")
    wanted_mm = spec.tails.board.width_mm * spec.cant.stretch
    if abs(spec.pins.board.width_mm - wanted_mm) > CANT_FIT_MM:
        tails, pins = spec.tails.board, spec.pins.board
        raise LayoutError(
            f"at {spec.cant.angle_deg:g} degrees the end of {tails.name}, {tails.width_mm:g} mm wide, is {wanted_mm:.2f} mm "
            f"long, and {pins.name} is {pins.width_mm:g} mm wide",
            remedy=f"make it {wanted_mm:.2f} mm, measured on its face, its edges bevelled {abs(spec.cant.lean_deg):g} "
            "degrees",
        )
    return Span(0.0, wanted_mm), -spec.cant.lean * (spec.lap_mm or 0.0)


def _place_square(spec: CornerSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    tail_w, pin_w, covers = spec.tails.board.width_mm, spec.pins.board.width_mm, spec.covers
    if covers is None:
        return Span(0.0, min(tail_w, pin_w)), 0.0
    wanted = f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm"
    if not 0 <= covers.start_mm < covers.end_mm <= tail_w + EDGE_MM:
        problem = f"{wanted}, but {spec.tails.board.name} is 0 to {tail_w:g} mm wide"
        raise LayoutError(problem, remedy="write [from, to] within that, the smaller first")
    if abs(pin_w - covers.width_mm) <= SAME_WIDTH_MM:
        return covers, covers.start_mm
    if covers.end_mm <= pin_w + EDGE_MM:
        return covers, 0.0
    raise LayoutError(
        f"{wanted} ({covers.width_mm:g} mm) of {spec.tails.board.name}, but {spec.pins.board.name} is {pin_w:g} mm wide",
        remedy=f"make it {covers.width_mm:g} mm, or let both boards share a face edge and reach {covers.end_mm:g} mm",
    )


def between_mitres(spec: CornerSpec, whole: Span) -> tuple[Span, tuple[Span, ...]]:
    """What is left for the dovetails, and the stretches at the edges that are mitred."""
    near_mm, far_mm = spec.mitre_face_edge_mm, spec.mitre_far_edge_mm
    if near_mm <= 0 and far_mm <= 0:
        return whole, ()
    one, other = spec.tails.board, spec.pins.board
    left = Span(whole.start_mm + near_mm, whole.end_mm - far_mm)
    if spec.covers is not None or abs(one.width_mm - other.width_mm) > SAME_WIDTH_MM:
        widths = f"{one.name} is {one.width_mm:g} mm and {other.name} {other.width_mm:g} mm wide"
        problem = f"a mitred shoulder needs two boards of one width that meet over all of it, and {widths}"
        raise LayoutError(problem, remedy="make them equal, and leave covers out")
    if spec.proud_tails_mm or spec.proud_pins_mm:
        raise LayoutError("a mitre can't stand proud or shy", remedy="leave proud out")
    if left.width_mm <= 0:
        problem = f"mitres of {near_mm:g} and {far_mm:g} mm leave nothing of {whole.width_mm:g} mm to dovetail"
        raise LayoutError(problem, remedy="make them narrower")
    stretches = (Span(whole.start_mm, left.start_mm), Span(left.end_mm, whole.end_mm))
    return left, tuple(stretch for stretch in stretches if stretch.width_mm > EDGE_MM)
