"""What the bench sheet says about a divider: setting-out distances, numbers for hand and router, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.sliding.router import first_pass_words
from dovelayout.drawing.bench.sheet import Figures, Number, figure
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.units import Unit, format_both, format_slope

ROUTER_CAUTIONS = (
    "Router: eyes and ears protected; bit in the collet to its full depth, less about 1.5 mm; start clear of the wood.",
    "A dovetail slot can't be plunged into or lifted out of: run out at the open end, or stop the motor.",
    "Never widen a slot by moving the fence so that the bit climbs with the feed: it throws the work.",
)
"""Common practice, no source."""

HAND_LINES = (
    "By hand: knife both lines, saw the cheeks against a block at the bevel, chisel the waste and rout the floor level.",
    "The fit: by hand to within 40 mm of home, then a mallet. A tapered key is loose until the last of its way.",
)
"""Common practice, no source."""


def divider_gauges(dividers: Sequence[Divider]) -> Iterator[tuple[float, str, str]]:
    """(setting in mm, what it scribes, on which board) of all dividers."""
    for divider in dividers:
        for joint in divider.joints:
            yield joint.depth_mm, "housing's depth", joint.host.name
            yield joint.tongue_mm, "tongue's height", joint.key.name


def divider_figures(divider: Divider, unit: Unit) -> Figures:
    """A divider's numbers for the bench, without its name; ends whose numbers are the same have them told once."""

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=unit)

    joint = divider.joint
    grids: dict[tuple[tuple[str, Number], ...], list[str]] = {}
    for one in divider.joints:
        rows = tuple((row.what, figure(row.value_mm, unit)) for row in setting_out(one, "host's end"))
        grids.setdefault(rows, []).append(one.spec.host.label)
    hosts = " and ".join(one.spec.host.label for one in divider.joints)
    lines = [f"Bevel {format_slope(joint.slope.ratio)}, on {_cheeks(joint)}; {_taper(joint)}."]
    if joint.spec.glue_zone_mm is not None:
        lines.append(f"Glue on the front {both(divider.glue_zone_mm)} of the tongue alone; the rest is left dry.")
    lines += HAND_LINES
    bit = joint.spec.bit
    if bit is not None:
        lines.append(
            f"Bit {both(bit.diameter_mm)}, {bit.slope.degrees:.1f}°: at this depth one pass leaves "
            f"{bit.neck_mm(joint.depth_mm):.2f} mm at the face; {first_pass_words(bit, joint.depth_mm)}."
        )
        lines += ROUTER_CAUTIONS
    each = (
        "" if len(grids) == 1 else f" Figures in this order: {'; then '.join(' and '.join(e) for e in grids.values())}."
    )
    return Figures(
        title="",
        about=(f"{joint.key.name} slides into {hosts}; measured from that end of the host.{each}",),
        grids=tuple(grids),
        lines=tuple(lines),
    )


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
