"""Small tables of corners, boxes and drawers: groove = { ... }, lip, lid, mitre and proud."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo

from dovelayout.job.tables.fields import Across, Inline, Position, Proud, Small, Table, Thick, length_between
from dovelayout.joints.board import Groove, Lip, When
from dovelayout.joints.lid import LidCut


class GrooveTable(Inline):
    """groove = { from_edge = ..., width = ..., depth = ... }"""

    from_edge: Position
    width: Across
    depth: Thick
    ploughed: When = When.BEFORE

    def value(self) -> Groove:
        """The groove."""
        return Groove(
            from_edge_mm=self.from_edge,
            width_mm=self.width,
            depth_mm=self.depth,
            ploughed_first=self.ploughed is When.BEFORE,
        )


class LipTable(Inline):
    """lip = { overhang = ..., thickness = ... }"""

    overhang: Across
    thickness: Thick

    def value(self) -> Lip:
        """The lip."""
        return Lip(overhang_mm=self.overhang, thickness_mm=self.thickness)


class LidTable(Inline):
    """lid = { at = ..., kerf = ..., clean_up = ... }"""

    at: Position
    kerf: Small = 1.0
    clean_up: Small = 1.0

    def value(self) -> LidCut:
        """The cut."""
        return LidCut(at_mm=self.at, kerf_mm=self.kerf, clean_up_mm=self.clean_up)


class MitreTable(Table):
    """mitre = { face_edge = ..., far_edge = ... }"""

    face_edge: Position = 0.0
    far_edge: Position = 0.0


class ProudTable(Table):
    """proud = { tails = ..., pins = ... }"""

    tails: Proud = 0.0
    pins: Proud = 0.0


def _both_alike(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, dict):
        return value
    both_mm = length_between(-10.0, 10.0)(value, info)
    # already mm: handed on whole, so that it is not read as inches a second time
    return ProudTable.model_construct(tails=both_mm, pins=both_mm)


ProudOfBoth = Annotated[ProudTable, BeforeValidator(_both_alike)]
"""One length for tails and pins, or a table."""
