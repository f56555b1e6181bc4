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
from dovelayout.joints.corner import CornerJoint, CornerSpec, Laid
from dovelayout.joints.slope import STRAIGHT
from dovelayout.joints.spacing import LEAST_NECK_MM, Span, proposed_fingers
from dovelayout.joints.through import ThroughJoint

_EQUAL = "its fingers are all of one width; tail_count sets it"


@dataclass(frozen=True, slots=True, kw_only=True)
class CombJoint(ThroughJoint):
    """A corner of straight fingers; the maker's own `tails_at` may make them unequal."""

    kind: ClassVar[str] = "comb"
    settles: ClassVar[Mapping[str, str]] = {
        "slope": "its cheeks are straight",
        "pin_mm": _EQUAL,
        "half_pin_mm": _EQUAL,
        "spacing": _EQUAL,
    }

    @classmethod
    def check_spec(cls, spec: CornerSpec) -> None:
        """Neither a lap nor a lip has a place in a comb joint: its fingers go through."""
        for key, value in (("lap", spec.lap_mm), ("lip", spec.lip)):
            if value is not None:
                raise LayoutError(f"a comb joint has no {key}", remedy=f'leave {key} out, or say joint = "half_blind"')

    @classmethod
    def settled(cls, spec: CornerSpec) -> CornerSpec:
        """Straight cheeks."""
        return replace(spec, slope=STRAIGHT, slope_given=True)

    @classmethod
    def lay_out(cls, spec: CornerSpec, covers: Span, shifts: Shifts) -> Laid:
        """Equal fingers; their count is proposed where it was left open."""
        if spec.tails_at is not None:
            return CornerJoint.lay_out(spec, covers, shifts)
        room_mm = covers.width_mm - (0.0 if spec.lid is None else spec.lid.lost_mm)
        thinner_mm = min(spec.tails.board.thickness_mm, spec.pins.board.thickness_mm)
        count = proposed_fingers(room_mm=room_mm, thickness_mm=thinner_mm, least=1 if spec.lid is None else 2)
        if spec.tail_count is not None:
            count = spec.tail_count
        finger_mm = room_mm / (2 * count + 1)
        if finger_mm < LEAST_NECK_MM - 1e-9:
            most = int((room_mm / LEAST_NECK_MM - 1) / 2 + 1e-9)
            fit = f"{most} would do" if most else "a wider board would do"
            raise LayoutError(
                f"{count} fingers of {room_mm:.1f} mm are {finger_mm:.1f} mm wide, under the {LEAST_NECK_MM:g} mm "
                "that can still be sawn and chopped",
                remedy=f"{fit}",
            )
        asked = replace(spec, tail_count=count, pin_mm=finger_mm, half_pin_mm=finger_mm)
        spans, saw_line_mm, _ = CornerJoint.lay_out(asked, covers, shifts)
        return spans, saw_line_mm, {} if spec.tail_count is not None else {"tail_count": count}


def build_comb(spec: CornerSpec) -> CombJoint:
    """Works a comb corner out. Raises LayoutError."""
    return CombJoint.worked_out(spec)
