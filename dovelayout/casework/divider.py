"""A divider: a shelf, rail or partition whose ends slide into housings of one host or of a pair."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dovelayout.errors import LayoutError
from dovelayout.joints.board import BoardEnd, End
from dovelayout.joints.sliding import SlidingJoint, SlidingSpec, build_sliding

PAIR_TOLERANCE_MM = 0.5
"""Hosts of one divider whose housings lie further apart than this hold it crooked; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance:
    """One distance to set out, and from where to where."""

    what: str
    value_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Divider:
    """A divider worked out: one sliding dovetail for each host, alike but for host and end of the key."""

    name: str
    joints: tuple[SlidingJoint, ...]

    @property
    def joint(self) -> SlidingJoint:
        """The first of its joints: its numbers are those of all."""
        return self.joints[0]

    @property
    def rear_gap_mm(self) -> float:
        """The least room behind the key."""
        return min(joint.rear_gap_mm for joint in self.joints)

    @property
    def glue_zone_mm(self) -> float:
        """How far behind the tongue's front glue is spread: the whole tongue where the job says nothing."""
        zone_mm = self.joint.spec.glue_zone_mm
        return self.joint.length_mm if zone_mm is None else min(zone_mm, self.joint.length_mm)


def build_divider(spec: SlidingSpec, *, hosts: Sequence[BoardEnd], key_ends: Sequence[End]) -> Divider:
    """The divider of a spec in one host or two; the spec's own host and key end are replaced. Raises LayoutError."""
    if not 1 <= len(hosts) <= 2 or len(hosts) != len(key_ends):
        raise LayoutError(f"a divider stands in one host or between two, not in {len(hosts)}", remedy="name one or two")
    if len(set(key_ends)) != len(key_ends):
        raise LayoutError(
            f"both hosts can't take the {key_ends[0]} end of the key", remedy="leave the end out, one takes each"
        )
    joints = tuple(
        build_sliding(replace(spec, host=host, key=BoardEnd(board=spec.key.board, end=end)))
        for host, end in zip(hosts, key_ends, strict=True)
    )
    gaps = [joint.rear_gap_mm for joint in joints]
    if max(gaps) - min(gaps) > PAIR_TOLERANCE_MM:
        widths = " and ".join(f"{joint.host.name} {joint.host.width_mm:g} mm" for joint in joints)
        raise LayoutError(f"the hosts of one divider differ in depth: {widths}", remedy="make them equal")
    return Divider(name=spec.name, joints=joints)


def setting_out(joint: SlidingJoint) -> tuple[Distance, ...]:
    """What is measured and marked on the host, in the order of the work."""
    end = joint.spec.host.label
    rear, front = joint.neck_at(joint.rear_mm), joint.neck_at(joint.front_mm)
    rows = [
        (f"end of {end} to the housing's lower side, at the rear", rear.start_mm),
        (f"end of {end} to its upper side, at the rear", rear.end_mm),
    ]
    if joint.tapered:
        rows.append((f"end of {end} to its lower side, at the front", front.start_mm))
        rows.append((f"end of {end} to its upper side, at the front", front.end_mm))
    if joint.front_mm > 0:
        rows.append(("front edge of the host to the stop", joint.front_mm))
    if joint.notch_mm > 0:
        rows.append(("notch in the tongue, from the key's front edge", joint.notch_mm))
    rows.append(("depth of the housing, gauged from the host's face", joint.depth_mm))
    rows.append(("height of the tongue, gauged from the key's end", joint.tongue_mm))
    rows.append(("free behind the key, to the host's back edge", joint.rear_gap_mm))
    return tuple(Distance(what=what, value_mm=value_mm) for what, value_mm in rows)
