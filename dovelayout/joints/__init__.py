"""Joints: boards, spacing and slope become exact polygons; the kinds of corner that there are stand in `KINDS`."""

from __future__ import annotations

from dovelayout.joints import kinds
from dovelayout.joints.corner import KINDS

__all__ = ["KINDS", "kinds"]
