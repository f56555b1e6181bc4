"""The corners' numbers for the bench, as running text on the first sheets."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from dovelayout.drawing.captions import Style, length
from dovelayout.drawing.flow import Line, heading, item
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.units import format_both


def positions(joint: CornerJoint, style: Style) -> str:
    """Where each tail starts and ends, from the tail board's face edge, to check the paper with a rule."""
    return ", ".join(
        f"{length(tail.start_mm, style)} to {length(tail.end_mm, style)}".replace("≈ ", "") for tail in joint.tails
    )


def corner_lines(
    joints: Sequence[CornerJoint], style: Style, faces: Mapping[str, Sequence[EndFaces]] | None = None
) -> tuple[Line, ...]:
    """The corners' numbers for the bench; corners whose numbers are all the same have them said once.

    `faces` are the ends of the corners by name, tails first, where they are at hand already.
    """
    alike: dict[tuple[Line, ...], list[str]] = {}
    for joint in joints:
        name = f"Corner {joint.name}: {joint.spec.tails.label} (tails) to {joint.spec.pins.label} (pins)"
        alike.setdefault(_numbers(joint, (faces or {}).get(joint.name) or joint.end_faces(), style), []).append(name)
    return tuple(line for numbers, names in alike.items() for line in (*(heading(name) for name in names), *numbers))


def _numbers(joint: CornerJoint, faces: Sequence[EndFaces], style: Style) -> tuple[Line, ...]:
    """One corner's numbers."""
    tails, pins = faces

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=style.unit)

    lines = [
        *_canted_lines(joint, both),
        item(f"gauge: {both(tails.baseline_mm)} for the tail board, {both(pins.baseline_mm)} for the pin board"),
        *_socket_lines(pins, both),
        item(f"{joint.slope.words}, {len(joint.tails)} tails"),
    ]
    if joint.full_pins:
        pin = min(joint.full_pins, key=lambda p: p.width_mm)
        if joint.slope.is_straight:
            lines.append(item(f"pins {both(pin.width_mm)}, the same on both faces"))
        else:
            lines.append(item(f"pins {both(pin.width_mm)} at the narrow side, {both(pin.root_mm)} at the wide"))
    narrow, wide = (choose(joint.tails, key=lambda t: t.width_mm) for choose in (min, max))
    across = both(wide.width_mm)
    if wide.width_mm - narrow.width_mm > 0.05:
        across = f"{both(narrow.width_mm)} to {across}"
    groove = joint.spec.groove
    for mitre in joint.mitres:
        hides = groove is not None and mitre.start_mm <= groove.from_edge_mm and groove.far_mm <= mitre.end_mm
        lines.append(
            item(
                f"mitred shoulder from {mitre.start_mm:g} to {mitre.end_mm:g} mm of the width: saw from the outer arris to "
                f"the inner baseline, on both boards, {'the groove inside it' if hides else 'square shoulder beside it'}"
            )
        )
    if joint.saw_line_mm is not None and joint.spec.lid is not None:
        lines.append(
            item(
                f"lid sawn off after the glue-up, {both(joint.saw_line_mm)} from the face edge: between the dotted lines "
                f"{both(joint.spec.lid.lost_mm)} go to kerf and planing"
            )
        )
    lines.append(item(f"tails from the face edge, at their ends when flush: {positions(joint, style)}"))
    neck = "" if joint.slope.is_straight else f" at the end, narrowest neck {both(min(t.neck_mm for t in joint.tails))}"
    lines.append(item(f"tails {across}{neck}"))
    return tuple(lines)


def _canted_lines(joint: CornerJoint, both: Callable[[float], str]) -> tuple[Line, ...]:
    """What a canted corner needs besides: the angle, the bevelled edges, and two settings of the bevel."""
    cant = joint.spec.cant
    if cant.is_square:
        return ()
    near, far = cant.cheek_deg(joint.slope)

    def towards(degrees: float) -> str:
        return f"{abs(degrees):.1f}° {'away from' if degrees >= 0 else 'towards'} the face edge"

    back = "back, away from its face edge" if cant.lean_deg > 0 else "forward, over its face edge"
    return (
        item(
            f"canted: the end of {joint.tail_board.name} is cut at {cant.angle_deg:g}° to its face edge, "
            f"{both(joint.end_width_mm)} long; {joint.pin_board.name} leans {abs(cant.lean_deg):g}° {back}, is as wide as "
            f"that end is long, and its edges are bevelled {abs(cant.lean_deg):g}°. Cut and bevel before you set out"
        ),
        item(
            "the tails follow the long edge, not the canted end, or their points would be short-grained: from a line square "
            f"to the end, set the bevel {towards(near)} for the cheeks nearer that edge and {towards(far)} for the others"
        ),
    )


def _socket_lines(pins: EndFaces, both: Callable[[float], str]) -> tuple[Line, ...]:
    """What a half-blind corner needs besides: two gauges, and floors that don't rise."""
    if pins.end_gauge_mm is None:
        return ()
    lap_mm = pins.end.board.thickness_mm - pins.end_gauge_mm
    lipped: tuple[Line, ...] = ()
    if pins.lip is not None:
        lipped = (
            item(
                f"lip {both(pins.lip.overhang_mm)} long, {both(pins.lip.thickness_mm)} thick: cut the rebate first; the "
                "sockets are measured from its shoulder, and the side stands that much in from the front's end"
            ),
        )
    return (
        *lipped,
        item(
            f"sockets {both(pins.end_gauge_mm)} deep, lap {both(lap_mm)}: gauge the pin board's end from its inside face. "
            "Keep two gauges, one for each setting"
        ),
        item(
            "socket floors lie level or fall inward, towards the baseline; a floor that rises keeps its tail out and "
            "opens a gap at the lap. Back the lap up while you chop: a mallet blow goes through it"
        ),
    )
