"""Joints: boards, spacing and slope become exact polygons, one joint a file.

`KINDS` maps the name a job uses to what builds the joint; nothing else lists the kinds.
"""

from __future__ import annotations

from collections.abc import Callable

from dovelayout.joints import through
from dovelayout.joints.through import ThroughJoint, ThroughSpec

KINDS: dict[str, Callable[[ThroughSpec], ThroughJoint]] = {through.KIND: through.build_through}
