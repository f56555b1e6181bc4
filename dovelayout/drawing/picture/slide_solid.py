"""Host and key of a sliding dovetail as solids, in their places when the key is home.

The host stands with its front edge away from the one who looks, the end that is measured from below; the key comes from
the rear. Stations, spans and depths are those of `joints.sliding`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from shapely import box

from dovelayout.drawing.picture.joint_solid import Timber
from dovelayout.drawing.picture.solid import Vec, cell, fused, prism
from dovelayout.joints.corner import EDGE_MM
from dovelayout.joints.sliding import Cheek, SlidingJoint
from dovelayout.joints.spacing import Span

LEAST_NECK_SHARE = 0.55
"""A taper drawn steeper than it is leaves this much of the key's neck at its front; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideSolids:
    """Host and key of a sliding dovetail. `apart` is the way the key is drawn away from the host's face, `rear` the way
    it slides out; `taper_times` how much steeper the taper is drawn than it is."""

    host: Timber
    key: Timber
    apart: Vec
    rear: Vec
    taper_times: int


def taper_times(joint: SlidingJoint, *, shown_mm: float = 6.0) -> int:
    """How much steeper a taper must be drawn to be seen: so that it runs in `shown_mm`, or what the neck can spare."""
    if joint.spec.taper_ratio is None:
        return 1
    whole_mm = joint.length_mm / joint.spec.taper_ratio
    neck_mm = joint.tongue_at(joint.rear_mm, 0.0).width_mm
    return max(1, int(min(shown_mm, neck_mm * (1 - LEAST_NECK_SHARE)) / whole_mm))


def slide_solids(joint: SlidingJoint, *, times: int = 1, stub_mm: float = 40.0) -> SlideSolids:
    """The two boards, cut off `stub_mm` beside the joint, the taper drawn `times` as steep as it is."""
    side = 1.0 if joint.end_on_the_left else -1.0
    host, key = joint.host, joint.key

    def place(u: float, z: float, s: float) -> Vec:
        return (side * z, s, u)

    def span(of: Callable[[float, float], Span], s: float, z: float) -> Span:
        """A span with its taper drawn steeper; the housing goes on at its own taper behind the key."""
        true = of(s, z)
        more_mm = (times - 1) * max(0.0, joint.taper_mm(s))
        if joint.taper_on is Cheek.LOWER:
            return Span(true.start_mm + more_mm, true.end_mm)
        return Span(true.start_mm, true.end_mm - more_mm)

    low = max(0.0, min(joint.key_lower_mm, joint.neck_at(joint.rear_mm).start_mm) - stub_mm)
    upper = max(joint.key_lower_mm + key.thickness_mm, joint.neck_at(joint.rear_mm).end_mm)
    high = min(host.length_mm, upper + stub_mm)
    thick = host.thickness_mm

    def host_section(s: float) -> list[Vec]:
        neck, floor = span(joint.housing_at, s, 0.0), span(joint.housing_at, s, joint.depth_mm)
        notch = [
            (neck.start_mm, 0.0),
            (floor.start_mm, joint.depth_mm),
            (floor.end_mm, joint.depth_mm),
            (neck.end_mm, 0.0),
        ]
        return [place(u, z, s) for u, z in [(low, 0.0), *notch, (high, 0.0), (high, thick), (low, thick)]]

    stations = [joint.front_mm, joint.rear_mm]
    if joint.rear_gap_mm > EDGE_MM:
        stations.append(host.width_mm)
    host_cells = [cell(host_section(one), host_section(two)) for one, two in pairwise(stations)]
    if joint.front_mm > EDGE_MM:
        host_cells.append(prism(box(low, 0.0, high, thick), place, 0.0, joint.front_mm))

    def tongue(s: float) -> list[Vec]:
        root, end = span(joint.tongue_at, s, 0.0), span(joint.tongue_at, s, joint.tongue_mm)
        outline = [
            (root.start_mm, 0.0),
            (root.end_mm, 0.0),
            (end.end_mm, joint.tongue_mm),
            (end.start_mm, joint.tongue_mm),
        ]
        return [place(u, z, s) for u, z in outline]

    under = joint.key_lower_mm
    body = box(under, -stub_mm, under + key.thickness_mm, 0.0)
    key_cells = [
        prism(body, place, joint.spec.set_back_mm, joint.rear_mm),
        cell(tongue(joint.front_mm), tongue(joint.rear_mm)),
    ]
    return SlideSolids(
        host=Timber(
            part="HOST",
            name=joint.spec.host.label,
            board=host,
            solid=fused(host_cells),
            along=(0.0, 0.0, 1.0),
            wide=(0.0, 1.0, 0.0),
            through=(side, 0.0, 0.0),
            corner=place(0.0, 0.0, 0.0),
        ),
        key=Timber(
            part="KEY",
            name=joint.spec.key.label,
            board=key,
            solid=fused(key_cells),
            along=(-side, 0.0, 0.0),
            wide=(0.0, 1.0, 0.0),
            through=(0.0, 0.0, 1.0),
            corner=place(under, 0.0, joint.spec.set_back_mm),
        ),
        apart=(-side, 0.0, 0.0),
        rear=(0.0, 1.0, 0.0),
        taper_times=times,
    )
