"""groove = { ... } and lip = { ... }: small tables that corners, boxes and drawers share."""

from __future__ import annotations

from typing import Literal

from dovelayout.job.fields import Across, Place, Table, Thick
from dovelayout.joints.board import Groove, Lip


class GrooveTable(Table):
    """groove = { ... }"""

    from_edge: Place
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
