"""The kinds of corner, one a file; each registers itself in `corner.KINDS` when it is imported here."""

from __future__ import annotations

from dovelayout.joints.kinds import comb, half_blind, through

__all__ = ["comb", "half_blind", "through"]
