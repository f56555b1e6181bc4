"""Joints: boards, spacing and slope become exact polygons, one joint a file.

`KINDS` maps the name a job uses to what builds the joint; nothing else lists the kinds.
"""

from __future__ import annotations

from collections.abc import Callable

from dovelayout.joints.comb import CombJoint, build_comb
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.half_blind import HalfBlindJoint, build_half_blind
from dovelayout.joints.through import ThroughJoint, build_through

KINDS: dict[str, Callable[[CornerSpec], CornerJoint]] = {
    ThroughJoint.kind: build_through,
    HalfBlindJoint.kind: build_half_blind,
    CombJoint.kind: build_comb,
}
