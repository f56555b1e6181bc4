"""groove = { ... }, lip = { ... } and lid = { ... }: small tables of corners, boxes and drawers."""

from __future__ import annotations

from typing import Literal

from dovelayout.job.tables.fields import Across, Position, Small, Table, Thick
from dovelayout.joints.board import Groove, Lip
from dovelayout.joints.lid import LidCut


class GrooveTable(Table):
    """groove = { ... }"""

    from_edge: Position
    width: Across
    depth: Thick
    ploughed: Literal["before", "after"] = "before"

    def groove(self) -> Groove:
        """The groove it says."""
        return Groove(
            from_edge_mm=self.from_edge,
            width_mm=self.width,
            depth_mm=self.depth,
            ploughed_first=self.ploughed == "before",
        )


class LipTable(Table):
    """lip = { overhang = ..., thickness = ... }"""

    overhang: Across
    thickness: Thick

    def lip(self) -> Lip:
        """The lip it says."""
        return Lip(overhang_mm=self.overhang, thickness_mm=self.thickness)


class LidTable(Table):
    """lid = { at = ..., kerf = ..., clean_up = ... }"""

    at: Position
    kerf: Small = 1.0
    clean_up: Small = 1.0

    def cut(self) -> LidCut:
        """The cut it says."""
        return LidCut(at_mm=self.at, kerf_mm=self.kerf, clean_up_mm=self.clean_up)
