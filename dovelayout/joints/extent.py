"""Where a corner's joint lies on its boards: the stretch it covers, and what mitres leave of that."""

from __future__ import annotations

from dovelayout.errors import LayoutError
from dovelayout.joints.spacing import Span
from dovelayout.joints.spec import EDGE_MM, CornerSpec

CANT_FIT_MM = 0.2
"""A pin board this much off the length of a canted end is planed to it without a thought; ours."""


def place(spec: CornerSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    return _place_square(spec) if spec.cant.is_square else _place_canted(spec)


def _place_canted(spec: CornerSpec) -> tuple[Span, float]:
    """As `place`, along a canted end: the pin board is as wide as that end is long, and takes all of it.

    Under a lap the pin board's outside face lies before the plane where the tails end, and its edges with it.
    """
    asked = {
        "covers": spec.covers is not None,
        "mitre": spec.mitre_face_edge_mm > 0 or spec.mitre_far_edge_mm > 0,
        "lid": spec.lid is not None,
        "lip": spec.lip is not None,
        "proud": bool(spec.proud_tails_mm or spec.proud_pins_mm),
    }
    for key, given in asked.items():
        if given:
            angle = f"{spec.cant.angle_deg:g} degrees"
            raise LayoutError(f"{key} goes with square corners, not with one of {angle}", remedy="leave it out")
    wanted_mm = spec.tails.board.width_mm * spec.cant.stretch
    if abs(spec.pins.board.width_mm - wanted_mm) > CANT_FIT_MM:
        raise LayoutError(
            f"at {spec.cant.angle_deg:g} degrees the end of {spec.tails.board.name}, {spec.tails.board.width_mm:g} "
            f"mm wide, is {wanted_mm:.2f} mm long, and {spec.pins.board.name} is {spec.pins.board.width_mm:g} mm "
            "wide",
            remedy=(
                f"make it {wanted_mm:.2f} mm, measured on its face, its edges bevelled "
                f"{abs(spec.cant.lean_deg):g} degrees"
            ),
        )
    return Span(0.0, wanted_mm), -spec.cant.lean * (spec.lap_mm or 0.0)


def _place_square(spec: CornerSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    tail_w, pin_w = spec.tails.board.width_mm, spec.pins.board.width_mm
    if spec.covers is None:
        return Span(0.0, min(tail_w, pin_w)), 0.0
    covers = spec.covers
    if not (0 <= covers.start_mm < covers.end_mm <= tail_w + EDGE_MM):
        raise LayoutError(
            f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm, but {spec.tails.board.name} is "
            f"0 to {tail_w:g} mm wide"
        )
    if abs(pin_w - covers.width_mm) <= 0.01:
        return covers, covers.start_mm
    if covers.end_mm <= pin_w + EDGE_MM:
        return covers, 0.0
    raise LayoutError(
        f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm ({covers.width_mm:g} mm) of "
        f"{spec.tails.board.name}, but {spec.pins.board.name} is {pin_w:g} mm wide",
        remedy=(f"make it {covers.width_mm:g} mm, or let both boards share a face edge and reach {covers.end_mm:g} mm"),
    )


def between_mitres(spec: CornerSpec, whole: Span) -> tuple[Span, tuple[Span, ...]]:
    """What is left for the dovetails, and the stretches at the edges that are mitred."""
    near_mm, far_mm = spec.mitre_face_edge_mm, spec.mitre_far_edge_mm
    if near_mm <= 0 and far_mm <= 0:
        return whole, ()
    widths = (spec.tails.board.width_mm, spec.pins.board.width_mm)
    if spec.covers is not None or abs(widths[0] - widths[1]) > 0.01:
        raise LayoutError(
            "a mitred shoulder needs two boards of one width that meet over all of it",
            remedy=f"{spec.tails.board.name} is {widths[0]:g} mm and {spec.pins.board.name} {widths[1]:g} mm wide",
        )
    if spec.proud_tails_mm or spec.proud_pins_mm:
        raise LayoutError("a mitre can't stand proud or shy", remedy="leave proud out")
    left = Span(whole.start_mm + near_mm, whole.end_mm - far_mm)
    if left.width_mm <= 0:
        raise LayoutError(f"mitres of {near_mm:g} and {far_mm:g} mm leave nothing of {whole.width_mm:g} mm to dovetail")
    stretches = (Span(whole.start_mm, left.start_mm), Span(left.end_mm, whole.end_mm))
    return left, tuple(stretch for stretch in stretches if stretch.width_mm > EDGE_MM)
