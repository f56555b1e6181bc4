"""The half-blind (lapped) dovetail: the tails stop short of the pin board's outside face, which shows nothing.

The tails are as long as the sockets are deep: the pin board's thickness less the lap. Two gauge settings: the socket's
depth (for the tail board's baseline, and from the inside face across the pin board's end), and the tail board's
thickness (for the pin board's inside face). Socket floors lie level or fall inward, never rise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from shapely import box

from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint, corner_kind
from dovelayout.joints.face import EndFaces, Face, FaceName, Piece, Segment
from dovelayout.joints.faces import board_at, face, pin_end, pin_rows, pin_width_mm, polygon, tail_end
from dovelayout.joints.spec import EDGE_MM, CornerSpec


@corner_kind
@dataclass(frozen=True, slots=True, kw_only=True)
class HalfBlindJoint(CornerJoint):
    """A half-blind corner: `lap_mm` of the pin board covers the ends of the tails."""

    kind: ClassVar[str] = "half_blind"
    called: ClassVar[str] = "half-blind dovetail"
    explained: ClassVar[str] = "Half-blind: the front keeps a lap over the tails."
    gauged: ClassVar[tuple[str, str]] = ("tails", "pins, inside face")
    settles: ClassVar[Mapping[str, str]] = dict.fromkeys(
        ("mitre_face_edge_mm", "mitre_far_edge_mm"), 'a mitred shoulder goes with joint = "through"'
    )

    @classmethod
    def check_spec(cls, spec: CornerSpec) -> None:
        """Requires a lap that leaves a socket, and tails no longer than the socket is deep."""
        thickness_mm = spec.pins.board.thickness_mm
        fifth_mm = round(thickness_mm / 5, 1)
        if spec.lap_mm is None:
            remedy = f"lap = {fifth_mm:g} mm is a fifth of {thickness_mm:g} mm"
            raise LayoutError("a half-blind joint needs a lap", remedy=remedy)
        if not 0 < spec.lap_mm < thickness_mm:
            problem = (
                f"a lap of {spec.lap_mm:g} mm leaves no socket in {spec.pins.board.name}, {thickness_mm:g} mm thick"
            )
            raise LayoutError(problem, remedy=f"{fifth_mm:g} mm is a fifth of it")
        if spec.proud_tails_mm > 0:
            problem = f"tails {spec.proud_tails_mm:g} mm longer than their sockets can't go home"
            raise LayoutError(problem, remedy="leave proud out for the tails")
        lip_mm = 0.0 if spec.lip is None else spec.lip.thickness_mm
        if lip_mm > spec.lap_mm + EDGE_MM:
            problem = f"a lip {lip_mm:g} mm thick reaches past the lap of {spec.lap_mm:g} mm into the sockets"
            raise LayoutError(problem, remedy=f"lap = {lip_mm:g} mm or more would do")

    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""
        lip = self.spec.lip
        name, reach_mm = FaceName.OUTSIDE, self.pin_baseline_mm
        if lip is not None:
            name, reach_mm = FaceName.LIP, lip.overhang_mm
        whole = Piece(label="", polygon=box(0.0, 0.0, pin_width_mm(self), reach_mm))
        return tail_end(self), pin_end(
            self,
            outside=Face(name=name, keep=(whole,), waste=(), cheeks=()),
            end_grain=self._end_grain(),
            outside_is_blank=True,
            end_gauge_mm=self.depth_mm,
            lip=lip,
        )

    def _end_grain(self) -> Face:
        """Sockets from the lap to the inside face; their floors are knife lines too. Under a lip, z counts from it."""
        narrow, roots = pin_rows(self)
        width_mm, lean = pin_width_mm(self), self.spec.cant.lean
        start_mm = 0.0 if self.spec.lip is None else self.spec.lip.thickness_mm
        lap_mm = self.lap_mm - start_mm
        depth_mm = self.pin_board.thickness_mm - start_mm
        at_lap = board_at(width_mm, lean * lap_mm)
        sockets = face(
            FaceName.END,
            edges=(at_lap, board_at(width_mm, lean * depth_mm)),
            depth_mm=depth_mm,
            from_mm=lap_mm,
            near=narrow,
            far=roots,
        )
        if lap_mm <= EDGE_MM:  # the sockets' floors lie on the rebate itself
            return sockets
        corners = ((0.0, 0.0), (width_mm, 0.0), (at_lap.end_mm, lap_mm), (at_lap.start_mm, lap_mm))
        lap = Piece(label="", polygon=polygon(corners))
        return replace(sockets, keep=(lap, *sockets.keep), cheeks=(*sockets.cheeks, *self._floors(sockets, lap_mm)))

    def _floors(self, sockets: Face, lap_mm: float) -> tuple[Segment, ...]:
        floors: list[Segment] = []
        for waste in sockets.waste:
            xs = sorted(x for x, z in waste.exterior.coords if abs(z - lap_mm) < EDGE_MM)
            if xs and xs[-1] - xs[0] > EDGE_MM:
                floors.append(((xs[0], lap_mm), (xs[-1], lap_mm)))
        return tuple(floors)
