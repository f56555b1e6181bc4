"""Joints: boards, spacing and slope become exact polygons. `KINDS` holds every kind of corner."""

from __future__ import annotations

from dovelayout.joints import kinds
from dovelayout.joints.corner import KINDS

__all__ = ["KINDS", "kinds"]
