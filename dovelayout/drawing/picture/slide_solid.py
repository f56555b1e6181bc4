"""Host and key of a sliding dovetail as solids, in their places when the key is home.

The host stands with its front edge away from the viewer, the end that is measured from below; the key comes from the rear.
Stations, spans and depths are those of `joints.sliding`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import box

from dovelayout.drawing.picture.joint_solid import Timber
from dovelayout.drawing.picture.solid import Cell, Vec, cell, fused, prism
from dovelayout.drawing.primitives import XY, trapezoid
from dovelayout.joints.corner import EDGE_MM
from dovelayout.joints.sliding import Cheek, SlidingJoint
from dovelayout.joints.spacing import Span

SHOWN_MM = 6.0  # of a taper, over the length of the joint
LEAST_NECK_SHARE = 0.55
"""A taper drawn steeper than it is leaves this much of the key's neck at its front; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideSolids:
    """Host and key of a sliding dovetail; `apart` is the direction in which the key is drawn away from the host's face."""

    host: Timber
    key: Timber
    apart: Vec


def taper_times(joint: SlidingJoint) -> int:
    """How much steeper a taper must be drawn to be seen: so that it runs in SHOWN_MM, or what the neck can spare."""
    if joint.spec.taper_ratio is None:
        return 1
    whole_mm = joint.length_mm / joint.spec.taper_ratio
    neck_mm = joint.tongue_at(joint.rear_mm, 0.0).width_mm
    return max(1, int(min(SHOWN_MM, neck_mm * (1 - LEAST_NECK_SHARE)) / whole_mm))


def slide_solids(joint: SlidingJoint, *, times: int = 1, stub_mm: float = 40.0) -> SlideSolids:
    """The two boards, cut off `stub_mm` beside the joint, the taper drawn `times` as steep as it is."""
    cut = _Slide(joint=joint, times=times, stub_mm=stub_mm)
    away: Vec = (-cut.side, 0.0, 0.0)
    host = Timber(
        part="HOST",
        end=joint.spec.host,
        solid=fused(cut.host_cells()),
        along=(0.0, 0.0, 1.0),
        wide=(0.0, 1.0, 0.0),
        through=(cut.side, 0.0, 0.0),
        corner=cut.place(0.0, 0.0, 0.0),
    )
    key = Timber(
        part="KEY",
        end=joint.spec.key,
        solid=fused(cut.key_cells()),
        along=away,
        wide=(0.0, 1.0, 0.0),
        through=(0.0, 0.0, 1.0),
        corner=cut.place(joint.key_lower_mm, 0.0, joint.spec.set_back_mm),
    )
    return SlideSolids(host=host, key=key, apart=away)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Slide:
    """A sliding dovetail to be cut: u runs up the host from its lower end, z into its face, s from its front edge."""

    joint: SlidingJoint
    times: int
    stub_mm: float

    @property
    def side(self) -> float:
        """The direction along x, 1 or -1, in which the host lies behind its face with the housing."""
        return 1.0 if self.joint.end_on_the_left else -1.0

    def place(self, u: float, z: float, s: float) -> Vec:
        """A point in space."""
        return (self.side * z, s, u)

    def _span(self, of: Callable[[float, float], Span], s: float, z: float) -> Span:
        """A span with its taper drawn steeper; the housing goes on at its own taper behind the key."""
        true = of(s, z)
        more_mm = (self.times - 1) * max(0.0, self.joint.taper_mm(s))
        if self.joint.taper_on is Cheek.LOWER:
            return Span(true.start_mm + more_mm, true.end_mm)
        return Span(true.start_mm, true.end_mm - more_mm)

    def _section(self, of: Callable[[float, float], Span], s: float, depth_mm: float) -> list[XY]:
        """The section (u, z) of a housing or a tongue at a station, round from its neck to that depth and back."""
        return trapezoid((self._span(of, s, 0.0), 0.0), (self._span(of, s, depth_mm), depth_mm))

    def _between(self, sections: Callable[[float], Sequence[XY]], start: float, end: float) -> Cell:
        """The cell between the sections at two stations."""
        one, other = ([self.place(u, z, s) for u, z in sections(s)] for s in (start, end))
        return cell(one, other)

    def host_cells(self) -> Iterator[Cell]:
        """The host, less its housing."""
        joint, host = self.joint, self.joint.host
        neck = joint.neck_at(joint.rear_mm)
        low = max(0.0, min(joint.key_lower_mm, neck.start_mm) - self.stub_mm)
        high = min(host.length_mm, max(joint.key_lower_mm + joint.key.thickness_mm, neck.end_mm) + self.stub_mm)
        thick = host.thickness_mm

        def section(s: float) -> list[XY]:
            neck_low, neck_high, floor_high, floor_low = self._section(joint.housing_at, s, joint.depth_mm)
            housing = (neck_low, floor_low, floor_high, neck_high)
            return [(low, 0.0), *housing, (high, 0.0), (high, thick), (low, thick)]

        stations = [joint.front_mm, joint.rear_mm, *([host.width_mm] if joint.rear_gap_mm > EDGE_MM else [])]
        for start, end in pairwise(stations):
            yield self._between(section, start, end)
        if joint.front_mm > EDGE_MM:
            yield prism(box(low, 0.0, high, thick), self.place, 0.0, joint.front_mm)

    def key_cells(self) -> Iterator[Cell]:
        """The key's body and its tongue."""
        joint, under = self.joint, self.joint.key_lower_mm
        body = box(under, -self.stub_mm, under + joint.key.thickness_mm, 0.0)
        yield prism(body, self.place, joint.spec.set_back_mm, joint.rear_mm)
        yield self._between(lambda s: self._section(joint.tongue_at, s, joint.tongue_mm), joint.front_mm, joint.rear_mm)
