"""The through dovetail: tails and pins both show. See `corner` for the layout and its conventions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.face import EndFaces, FaceName, Part
from dovelayout.joints.faces import (
    board_at,
    cut_places,
    face,
    own_groove,
    pin_inside,
    pin_rows,
    pin_width_mm,
    saw_lines,
    tail_end,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughJoint(CornerJoint):
    """A through corner: the tails reach through the whole pin board."""

    kind: ClassVar[str] = "through"

    @classmethod
    def check_spec(cls, spec: CornerSpec) -> None:
        """Neither a lap nor a lip has a place in a through joint."""
        for key, value in (("lap", spec.lap_mm), ("lip", spec.lip)):
            if value is not None:
                raise LayoutError(
                    f"a through joint has no {key}", remedy=f'leave {key} out, or say joint = "half_blind"'
                )

    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""
        return (tail_end(self), self._pin_end())

    def _pin_end(self) -> EndFaces:
        spec, board = self.spec, self.pin_board
        baseline_mm = self.tail_board.thickness_mm + spec.proud_pins_mm
        narrow, roots = pin_rows(self)
        # mitred stretches stay on the outside face alone
        outside = tuple(sorted((*narrow, *(("", span) for span in self.mitres)), key=lambda row: row[1].start_mm))
        outside_spans = tuple(span for _, span in outside)
        width_mm, lean = pin_width_mm(self), spec.cant.lean
        whole = board_at(width_mm)
        behind = board_at(width_mm, lean * board.thickness_mm)
        return EndFaces(
            end=spec.pins,
            part=Part.PINS,
            baseline_mm=baseline_mm,
            proud_mm=spec.proud_pins_mm,
            outside=face(FaceName.OUTSIDE, edges=(whole, whole), depth_mm=baseline_mm, near=outside, far=outside_spans),
            end_grain=face(FaceName.END, edges=(whole, behind), depth_mm=board.thickness_mm, near=narrow, far=roots),
            inside=pin_inside(self, baseline_mm),
            groove=own_groove(self),
            cut_places_mm=cut_places(self, offset_mm=self.pin_offset_mm, width_mm=width_mm),
            saw_lines_mm=saw_lines(self, offset_mm=self.pin_offset_mm),
            stretch=width_mm / board.width_mm,
            end_lean=lean,
        )


def build_through(spec: CornerSpec) -> ThroughJoint:
    """Works a through corner out. Raises LayoutError."""
    return ThroughJoint.worked_out(spec)
