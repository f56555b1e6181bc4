"""The comb joint: straight fingers of one width on both boards, no slope, both show. Nothing but glue holds it together.

With n fingers on the board named under `tails`, its mate has one more and stands at both edges: a finger is the width
of the joint over 2 n + 1. Gauges and faces are those of a through dovetail whose cheeks don't lean.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from dovelayout.errors import LayoutError
from dovelayout.joints.cant import Shifts
from dovelayout.joints.corner import CornerJoint, TailRow, corner_kind
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.slope import STRAIGHT, Slope
from dovelayout.joints.spacing import LEAST_NECK_MM, Span, proposed_fingers
from dovelayout.joints.spec import CornerSpec

_EQUAL = "its fingers are all of one width; tail_count sets it"


@corner_kind
@dataclass(frozen=True, slots=True, kw_only=True)
class CombJoint(ThroughJoint):
    """A corner of straight fingers; a job's own `tails_at` may make them unequal."""

    kind: ClassVar[str] = "comb"
    called: ClassVar[str] = "comb joint"
    explained: ClassVar[str] = "Comb: straight fingers."
    tail: ClassVar[str] = "finger"
    pin: ClassVar[str] = "between fingers"
    half_pin: ClassVar[str] = "at the edges"
    gauged: ClassVar[tuple[str, str]] = ("ends", "ends")
    usual_slope: ClassVar[Slope] = STRAIGHT
    settles: ClassVar[Mapping[str, str]] = {
        **ThroughJoint.settles,
        "slope": "its cheeks are straight",
        "pin_mm": _EQUAL,
        "half_pin_mm": _EQUAL,
        "spacing": _EQUAL,
    }

    @classmethod
    def lay_out(cls, spec: CornerSpec, covers: Span, shifts: Shifts) -> TailRow:
        """Equal fingers; their count is proposed where it was left open."""
        if spec.tails_at is not None:
            return CornerJoint.lay_out(spec, covers, shifts)
        lost_mm, least = (0.0, 1) if spec.lid is None else (spec.lid.lost_mm, 2)
        room_mm = covers.width_mm - lost_mm
        count = spec.tail_count
        if count is None:
            count = proposed_fingers(room_mm=room_mm, thickness_mm=spec.thinner_mm, least=least)
        finger_mm = room_mm / (2 * count + 1)
        if finger_mm < LEAST_NECK_MM - 1e-9:
            most = int((room_mm / LEAST_NECK_MM - 1) / 2 + 1e-9)
            raise LayoutError(
                f"{count} fingers of {room_mm:.1f} mm are {finger_mm:.1f} mm wide, under the {LEAST_NECK_MM:g} mm "
                "that can still be sawn and chopped",
                remedy=f"{most} would do" if most else "a wider board would do",
            )
        equal = replace(spec, tail_count=count, pin_mm=finger_mm, half_pin_mm=finger_mm)
        proposed: dict[str, float] = {"tail_count": count} if spec.tail_count is None else {}
        return CornerJoint.lay_out(equal, covers, shifts)._replace(proposed=proposed)
