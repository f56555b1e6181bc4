"""The lines of a joint as they fall at one corner of a board, in the coordinates of a patch (see `patch`)."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import shapely
from shapely import Polygon

from dovelayout.joints.board import End
from dovelayout.joints.face import EndFaces, Face, Segment
from dovelayout.repair.patch import Break, break_on

_SLACK_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """What a joint takes away near one corner: polygons in (x, y), and in (x, z) on the end, x inward from the edge."""

    outside: tuple[Polygon, ...]
    end: tuple[Polygon, ...]
    inside: tuple[Polygon, ...]
    thickness_mm: float
    on_the_left: bool

    def lines(self, face: str) -> tuple[Segment, ...]:
        """Sides of what goes on a face ('outside', 'end', 'inside'), those on the board's own arrises left out."""
        arrises = (0.0, self.thickness_mm) if face == "end" else (0.0,)
        return tuple(
            (one, other)
            for polygon in getattr(self, face)
            for one, other in itertools.pairwise(polygon.exterior.coords)
            if max(abs(one[0]), abs(other[0])) >= _SLACK_MM
            and not any(max(abs(one[1] - at), abs(other[1] - at)) < _SLACK_MM for at in arrises)
        )

    def cuts_away(self, lost: Break) -> bool:
        """Whether all of a break lies in wood that the joint takes away anyway."""
        return all(
            shapely.union_all(getattr(self, face)).buffer(_SLACK_MM).covers(where)
            for face in ("outside", "end", "inside")
            if not (where := break_on(lost, face, self.thickness_mm)).is_empty
        )


def trace_of(faces: EndFaces, *, far_edge: bool = False) -> Trace:
    """The joint at the face edge's corner of a board's end, or at that of the far edge.

    Seen from outside with the end up, the face edge of a left end is on the left.
    """
    width_mm = faces.end.board.width_mm

    def from_the_edge(face: Face) -> tuple[Polygon, ...]:
        if not far_edge:
            return face.waste
        return tuple(Polygon([(width_mm - x, y) for x, y in polygon.exterior.coords]) for polygon in face.waste)

    return Trace(
        outside=from_the_edge(faces.outside),
        end=from_the_edge(faces.end_grain),
        inside=from_the_edge(faces.inside),
        thickness_mm=faces.end.board.thickness_mm,
        on_the_left=(faces.end.end is End.LEFT) is not far_edge,
    )
