"""What a repair takes from a job: one corner, and the board that broke."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dovelayout.cli.repair_shown import chosen, length

if TYPE_CHECKING:
    from dovelayout.job.reader import Job
    from dovelayout.joints.board import Rings
    from dovelayout.joints.corner import CornerJoint
    from dovelayout.joints.slope import Slope
    from dovelayout.repair.trace import Trace
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


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenBoard:
    """The board that broke, and at which hand as seen from outside with the end up. With a job: `label`, which end it is,
    and `trace`, the joint's lines there."""

    wood: Wood
    thickness_mm: float
    width_mm: float | None
    hand: str
    label: str = ""
    trace: Trace | None = None


def typed_board(typed: Mapping[str, str | None]) -> BrokenBoard:
    """The board of the options --thickness, --species, --board-width and --hand. Raises LayoutError, UnitsError."""
    from dovelayout.wood.species import find_wood

    species, thickness = typed["--species"], typed["--thickness"]
    if species is None or thickness is None:
        raise missing("a broken corner", "--species and --thickness, or --job", "the patch is made for them")
    return BrokenBoard(
        wood=find_wood(species),
        thickness_mm=length("--thickness", thickness, 3, 100),
        width_mm=length("--board-width", typed["--board-width"], 5, 2000),
        hand=chosen("--hand", typed["--hand"] or "left", ("left", "right")),
    )


def board_of(joint: CornerJoint, part: str, edge: str) -> BrokenBoard:
    """The board whose end carries the tails, or the pins. Raises LayoutError for a lipped front, whose paper is another."""
    from dovelayout.errors import LayoutError
    from dovelayout.joints.face import Part
    from dovelayout.repair.trace import trace_of

    tails, pins = joint.end_faces()
    faces = tails if chosen("--part", part, Part) is Part.TAILS else pins
    if faces.lip is not None:
        problem = f"corner {joint.name}: a lipped front's end isn't flat"
        raise LayoutError(problem, remedy="give --thickness and the rest yourself")
    trace = trace_of(faces, far_edge=chosen("--edge", edge, ("face", "far")) == "far")
    board = faces.end.board
    return BrokenBoard(
        wood=board.wood,
        thickness_mm=board.thickness_mm,
        width_mm=board.width_mm,
        hand="left" if trace.on_the_left else "right",
        label=f", {faces.end.label}",
        trace=trace,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class GapBoard:
    """What a job says of a gap in one of its corners: the pin board, whose thickness moves, and how far a gap can go in."""

    wood: Wood | None = None
    thickness_mm: float | None = None
    rings: Rings | None = None
    slope: Slope | None = None
    depth_mm: float | None = None
    kerf_mm: float | None = None


def gap_board_of(path: Path | None, name: str | None) -> GapBoard:
    """What a job says, nothing without one. Raises JobError, LayoutError."""
    if path is None:
        return GapBoard()
    job, joint = corner_of(path, name)
    return GapBoard(
        wood=joint.pin_board.wood,
        thickness_mm=joint.pin_board.thickness_mm,
        rings=joint.pin_board.rings,
        slope=joint.slope,
        depth_mm=joint.tail_board.thickness_mm,
        kerf_mm=job.shop.kerf_mm,
    )


def missing(option: str, needs: str, because: str) -> Exception:
    """An option that says nothing without others."""
    from dovelayout.errors import LayoutError

    return LayoutError(f"{option} needs {needs} too: {because}")
