"""What the bench sheet says about a divider: setting-out distances, numbers for hand and router, cautions."""

from __future__ import annotations

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.router import first_pass_words
from dovelayout.drawing.flow import Line, heading, item
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.units import Unit, format_both, format_slope

ROUTER_CAUTIONS = (
    "router: eyes and ears protected; bit in the collet to its full depth, less about 1.5 mm; start clear of the wood",
    "a dovetail slot can't be plunged into or lifted out of: run out at the open end, or stop the motor",
    "never widen a slot by moving the fence so that the bit climbs with the feed: it throws the work",
)
"""Common practice, no source."""

HAND_LINES = (
    "by hand: knife both lines, saw the cheeks against a block at the bevel, chisel the waste and rout the floor level",
    "the fit: by hand to within 40 mm of home, then a mallet. A tapered key is loose until the last of its way",
)
"""Common practice, no source."""


def divider_lines(divider: Divider, unit: Unit) -> tuple[Line, ...]:
    """A divider's numbers for the bench."""

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=unit)

    joint = divider.joint
    hosts = " and ".join(one.spec.host.label for one in divider.joints)
    lines = [heading(f"Divider {divider.name}: {joint.key.name} slides into {hosts}")]
    for one in divider.joints:
        lines += [item(f"{row.what}: {both(row.value_mm)}") for row in setting_out(one)]
    lines.append(item(f"bevel {format_slope(joint.slope.ratio)}, on {_cheeks(joint)}; {_taper(joint)}"))
    if joint.spec.glue_zone_mm is not None:
        lines.append(item(f"glue on the front {both(divider.glue_zone_mm)} of the tongue alone; the rest is left dry"))
    lines += [item(line) for line in HAND_LINES]
    bit = joint.spec.bit
    if bit is not None:
        lines.append(
            item(
                f"bit {both(bit.diameter_mm)}, {bit.slope.degrees:.1f}°: at this depth one pass leaves "
                f"{bit.neck_mm(joint.depth_mm):.2f} mm at the face; {first_pass_words(bit, joint.depth_mm)}"
            )
        )
        lines += [item(line) for line in ROUTER_CAUTIONS]
    return tuple(lines)


def _cheeks(joint: SlidingJoint) -> str:
    return "both cheeks" if joint.spec.sloped == "both" else f"the {joint.spec.sloped.value} cheek, the other is square"


def _taper(joint: SlidingJoint) -> str:
    ratio = joint.spec.taper_ratio
    if ratio is None:
        return "the cheeks run parallel"
    return (
        f"the {joint.taper_on.value} cheek tapers 1:{ratio:g}, {joint.taper_mm(joint.front_mm):.2f} mm over the tongue's "
        f"{joint.length_mm:g} mm, narrower at the front"
    )
