"""The through dovetail: tails and pins both show. See `corner` for the layout and its conventions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from dovelayout.joints.corner import CornerJoint, corner_kind
from dovelayout.joints.face import EndFaces, FaceName
from dovelayout.joints.faces import board_at, face, pin_end, pin_rows, pin_width_mm, tail_end


@corner_kind
@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughJoint(CornerJoint):
    """A through corner: the tails reach through the whole pin board."""

    kind: ClassVar[str] = "through"
    called: ClassVar[str] = "through dovetail"
    explained: ClassVar[str] = "Through: tails and pins both show."
    settles: ClassVar[Mapping[str, str]] = {
        "lap_mm": 'its tails go right through; joint = "half_blind" has one',
        "lip": 'its tails go right through; joint = "half_blind" takes one',
    }

    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""
        narrow, roots = pin_rows(self)
        # mitred stretches stay on the outside face alone
        outside = tuple(sorted((*narrow, *(("", span) for span in self.mitres)), key=lambda row: row[1].start_mm))
        spans = tuple(span for _, span in outside)
        width_mm, depth_mm = pin_width_mm(self), self.pin_baseline_mm
        whole = board_at(width_mm)
        behind = board_at(width_mm, self.spec.cant.lean * self.pin_board.thickness_mm)
        return tail_end(self), pin_end(
            self,
            outside=face(FaceName.OUTSIDE, edges=(whole, whole), depth_mm=depth_mm, near=outside, far=spans),
            end_grain=face(
                FaceName.END, edges=(whole, behind), depth_mm=self.pin_board.thickness_mm, near=narrow, far=roots
            ),
        )
