"""Half-blind corners: the lap, the depth of the sockets, and grain that turns."""

from __future__ import annotations

from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import Remedy, first_passing
from dovelayout.checks.rule import Measure, Rule
from dovelayout.joints.board import Grain
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place
from dovelayout.shop import Shop

CHECK_LAP = "lap"
CHECK_SOCKET = "socket-depth"
CHECK_GRAIN = "lap-grain"

LAP = Rule(
    check=CHECK_LAP,
    measures="lap over the ends of the tails",
    unit="mm",
    warn=3.0,
    stop=2.4,
    source=f"{COMMON_PRACTICE}; limits: {OURS}",
)
LAP_SHARE = Rule(
    check=CHECK_LAP,
    measures="lap as a share of the pin board's thickness",
    unit="share",
    warn=0.15,
    source=f"{COMMON_PRACTICE}; limit: {OURS}",
)
SOCKET = Rule(
    check=CHECK_SOCKET, measures="depth of the sockets", unit="mm", warn=8.0, source=f"{COMMON_PRACTICE}; limit: {OURS}"
)
FRONT = Rule(
    check=CHECK_SOCKET,
    measures="thickness of a half-blind pin board",
    unit="mm",
    warn=16.0,
    source=f"{COMMON_PRACTICE}; limit: {OURS}",
)
RULES = (LAP, LAP_SHARE, SOCKET, FRONT)


def measure_laps(joint: CornerJoint) -> Iterator[Measure]:
    """The lap rules' measures of a half-blind corner."""
    if joint.lap_mm:
        yield Measure(rule=LAP, value=joint.lap_mm)
        yield Measure(rule=LAP_SHARE, value=joint.lap_mm / joint.pin_board.thickness_mm)
        yield Measure(rule=SOCKET, value=joint.depth_mm)
        yield Measure(rule=FRONT, value=joint.pin_board.thickness_mm)


def check_laps(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Everything that a lap brings with it; nothing for a joint without one."""
    if joint.lap_mm == 0:
        return
    yield from _lap(joint)
    yield from _socket(joint)
    yield from _grain(joint)


def _lap_level(joint: CornerJoint) -> tuple[Level, float | None, float, Rule]:
    level, limit = LAP.judge(joint.lap_mm)
    if level is Level.OK:
        share = joint.lap_mm / joint.pin_board.thickness_mm
        return (*LAP_SHARE.judge(share), share, LAP_SHARE)
    return level, limit, joint.lap_mm, LAP


def _sound(joint: CornerJoint) -> bool:
    return _lap_level(joint)[0] is Level.OK and SOCKET.judge(joint.depth_mm)[0] is Level.OK


def _other_lap(joint: CornerJoint) -> Remedy | None:
    """The nearest lap, by tenths of a mm up to half the board, that is neither thin nor leaves a shallow socket."""
    most = int(joint.pin_board.thickness_mm * 5)
    laps = sorted((step / 10 for step in range(24, most + 1)), key=lambda lap: abs(lap - joint.lap_mm))
    return first_passing(joint, ({"lap_mm": lap} for lap in laps), _sound)


def _lap(joint: CornerJoint) -> Iterator[Finding]:
    level, limit, measured, rule = _lap_level(joint)
    if level is Level.OK:
        return
    remedy = _other_lap(joint)
    yield Finding(
        check=CHECK_LAP,
        level=level,
        place=Place(kind="corner", name=joint.name, part=f"lap on {joint.pin_board.name}"),
        measured=round(measured, 4),
        limit=limit,
        unit=rule.unit,
        message=f"{joint.lap_mm:g} mm of lap in {joint.pin_board.thickness_mm:g} mm stock: a mallet blow goes through it",
        fix=remedy.words if remedy else "no lap passes in a board this thin: take a thicker one for the pins",
        source=rule.source,
        changes=remedy.changes if remedy else (),
    )


def _socket(joint: CornerJoint) -> Iterator[Finding]:
    place = Place(kind="corner", name=joint.name, part=f"sockets on {joint.pin_board.name}")
    level, limit = SOCKET.judge(joint.depth_mm)
    if level is not Level.OK:
        remedy = _other_lap(joint)
        yield Finding(
            check=CHECK_SOCKET,
            level=level,
            place=place,
            measured=round(joint.depth_mm, 3),
            limit=limit,
            unit=SOCKET.unit,
            message=f"sockets {joint.depth_mm:.1f} mm deep give the tails little to hold by",
            fix=remedy.words if remedy else "a thicker pin board: 11 mm leaves 8 mm of socket under a 3 mm lap",
            source=SOCKET.source,
            changes=remedy.changes if remedy else (),
        )
    level, limit = FRONT.judge(joint.pin_board.thickness_mm)
    if level is not Level.OK:
        yield Finding(
            check=CHECK_SOCKET,
            level=level,
            place=place,
            measured=round(joint.pin_board.thickness_mm, 3),
            limit=limit,
            unit="mm thick",
            message=f"{joint.pin_board.thickness_mm:g} mm is thin for a half-blind front: lap and socket share what there is",
            fix=f"a front of {limit:g} mm or more, or a through joint",
            source=FRONT.source,
        )


def _grain(joint: CornerJoint) -> Iterator[Finding]:
    board = joint.pin_board
    if board.grain is Grain.STRAIGHT:
        return
    yield Finding(
        check=CHECK_GRAIN,
        level=Level.WARN,
        place=Place(kind="corner", name=joint.name, part=f"lap on {board.name}"),
        measured=round(joint.lap_mm, 3),
        unit="mm",
        message=f"the grain of {board.name} is {board.grain.value}: laps as thick as 6 mm have blown out at the last cut "
        "along such grain, so the thickness alone is no promise. Clamp the front flat on a backing block under the lap, "
        "pare up to the chop line and never past it",
        fix="a backing block under the lap, and light cuts; or a straight-grained board for the front",
        source=COMMON_PRACTICE,
    )
