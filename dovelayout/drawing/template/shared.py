"""Templates that serve several drawers: ends that are the same in all that is cut are drawn once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Part

SHARING = frozenset({"drawer", "bank"})
"""Tables of a job whose corners may share templates; a corner that was named one by one keeps its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedEnd:
    """One end to draw, and the corners that its template serves: the first is its own."""

    joint: CornerJoint
    faces: EndFaces
    serves: tuple[str, ...]


def shared_ends(joints: Sequence[CornerJoint]) -> tuple[SharedEnd, ...]:
    """The ends of all joints, tails before pins, each kind of end once, in the order of the first of it.

    Two ends are the same when their joints agree in every line (kind, boards' widths, thicknesses and woods, tails,
    gauge settings, groove, lip) and they are the same end, left or right, of the same half of it: a left hand never
    serves a right one.
    """
    first: dict[object, tuple[CornerJoint, Part]] = {}
    serves: dict[object, list[str]] = {}
    for index, joint in enumerate(joints):
        for part in (Part.TAILS, Part.PINS):
            key: object = _key(joint, part) if joint.spec.origin[0] in SHARING else (index, part)
            first.setdefault(key, (joint, part))
            serves.setdefault(key, []).append(joint.name)
    faces: dict[int, tuple[EndFaces, EndFaces]] = {}
    ends = []
    for key, (joint, part) in first.items():
        if id(joint) not in faces:
            faces[id(joint)] = joint.end_faces()
        tails, pins = faces[id(joint)]
        ends.append(SharedEnd(joint=joint, faces=tails if part is Part.TAILS else pins, serves=tuple(serves[key])))
    return tuple(ends)


def _key(joint: CornerJoint, part: Part) -> tuple[object, ...]:
    spec = joint.spec
    end = spec.tails.end if part is Part.TAILS else spec.pins.end
    lines = [joint.covers.start_mm, joint.covers.end_mm, joint.pin_offset_mm, joint.slope.ratio, joint.lap_mm]
    lines += [
        edge for tail in joint.tails for edge in (tail.start_mm, tail.end_mm, tail.neck_start_mm, tail.neck_end_mm)
    ]
    lines += [spec.proud_tails_mm, spec.proud_pins_mm]
    return (
        joint.kind,
        part,
        end,
        _board(spec.tails.board),
        _board(spec.pins.board),
        tuple(round(value, 6) for value in lines),
        spec.groove,
        spec.lip,
        joint.saw_line_mm,
        joint.mitres,
    )


def _board(board: Board) -> tuple[object, ...]:
    return (board.wood.name, round(board.width_mm, 6), round(board.thickness_mm, 6))
