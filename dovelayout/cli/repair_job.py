"""What a repair takes from a job: one corner, and the board that broke."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dovelayout.cli.repair_shown import chosen

if TYPE_CHECKING:
    from dovelayout.job.reader import Job
    from dovelayout.joints.board import Rings
    from dovelayout.joints.corner import CornerJoint
    from dovelayout.joints.face import EndFaces
    from dovelayout.joints.slope import Slope
    from dovelayout.wood.species import Wood


def corner_of(path: Path, name: str | None) -> tuple[Job, CornerJoint]:
    """The job and the corner of that name; the only one where none is named. Raises JobError, LayoutError."""
    from dovelayout.errors import LayoutError
    from dovelayout.job.reader import read_job

    job = read_job(path)
    known = {joint.name: joint for joint in job.joints}
    if not known:
        raise LayoutError(f"{path} has no dovetailed corner", remedy="give the sizes themselves")
    if name is None and len(known) == 1:
        return job, next(iter(known.values()))
    if name not in known:
        raise LayoutError(f"--corner {name or ''!r} is not in {path}", remedy=f"one of {', '.join(known)}")
    return job, known[name]


def end_of(joint: CornerJoint, part: str) -> EndFaces:
    """The end that carries the tails, or the pins. Raises LayoutError for a lipped front, whose paper is another."""
    from dovelayout.errors import LayoutError
    from dovelayout.joints.face import Part

    wanted = chosen("--part", part, Part)
    tails, pins = joint.end_faces()
    faces = tails if wanted is Part.TAILS else pins
    if faces.lip is not None:
        raise LayoutError(
            f"corner {joint.name}: a lipped front's end isn't flat", remedy="give --thickness and the rest yourself"
        )
    return faces


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What a job says of a gap in one of its corners: the pin board, whose thickness moves, and how far a gap can go in."""

    wood: Wood | None = None
    thickness_mm: float | None = None
    rings: Rings | None = None
    slope: Slope | None = None
    depth_mm: float | None = None
    kerf_mm: float | None = None


def known_of(path: Path | None, name: str | None) -> Known:
    """What a job says, nothing without one. Raises JobError, LayoutError."""
    if path is None:
        return Known()
    job, joint = corner_of(path, name)
    return Known(
        wood=joint.pin_board.wood,
        thickness_mm=joint.pin_board.thickness_mm,
        rings=joint.pin_board.rings,
        slope=joint.slope,
        depth_mm=joint.tail_board.thickness_mm,
        kerf_mm=job.shop.kerf_mm,
    )
