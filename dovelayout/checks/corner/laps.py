"""Half-blind corners: the lap, the depth of the sockets, and grain that turns."""

from __future__ import annotations

from collections.abc import Iterator

from dovelayout.checks.corner.parts import part_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import Fields, by_varying
from dovelayout.checks.rule import Measure, rule
from dovelayout.joints.board import Grain
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop

_PRACTICE = f"{COMMON_PRACTICE}; limits: {OURS}"

LAP = rule("lap", "lap over the ends of the tails", unit="mm", warn=3.0, stop=2.4, source=_PRACTICE)
LAP_SHARE = rule("lap", "lap as a share of the pin board's thickness", unit="share", warn=0.15, source=_PRACTICE)
SOCKET = rule("socket-depth", "depth of the sockets", unit="mm", warn=8.0, source=_PRACTICE)
FRONT = rule("socket-depth", "thickness of a half-blind pin board", unit="mm thick", warn=16.0, source=_PRACTICE)
TURNING = rule("lap-grain", "lap under grain that turns", unit="mm", source=COMMON_PRACTICE)


def measure_laps(joint: CornerJoint) -> Iterator[Measure]:
    """The lap rules' measures of a half-blind corner."""
    if joint.lap_mm:
        yield Measure(rule=LAP, value=joint.lap_mm)
        yield Measure(rule=LAP_SHARE, value=joint.lap_mm / joint.pin_board.thickness_mm)
        yield Measure(rule=SOCKET, value=joint.depth_mm)
        yield Measure(rule=FRONT, value=joint.pin_board.thickness_mm)


def check_laps(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Everything that a lap brings with it; nothing for a joint without one."""
    board = joint.pin_board
    lap, sockets = (part_of(joint, part, board=board.name) for part in ("lap", "sockets"))
    broken = {measure.rule: breach for measure in measure_laps(joint) if (breach := measure.breach)}
    if breach := broken.get(LAP) or broken.get(LAP_SHARE):
        yield breach.finding(
            lap,
            f"{joint.lap_mm:g} mm of lap in {board.thickness_mm:g} mm stock: a mallet blow goes through it",
            fix="a thicker board for the pins",
            remedies=by_varying(joint, _other_laps),
        )
    if breach := broken.get(SOCKET):
        yield breach.finding(
            sockets,
            f"sockets {joint.depth_mm:.1f} mm deep give the tails little to hold by",
            fix="a thicker pin board: 11 mm leaves 8 mm of socket under a 3 mm lap",
            remedies=by_varying(joint, _other_laps),
        )
    if breach := broken.get(FRONT):
        yield breach.finding(
            sockets,
            f"{board.thickness_mm:g} mm is thin for a half-blind front: lap and socket share what there is",
            fix=f"a front of {breach.limit:g} mm or more, or a through joint",
        )
    if joint.lap_mm and board.grain is not Grain.STRAIGHT:
        yield TURNING.said(
            Level.WARN,
            lap,
            f"the grain of {board.name} is {board.grain.value}: laps as thick as 6 mm have blown out at the last cut along "
            "such grain, so the thickness alone is no promise. Clamp the front flat on a backing block under the lap, pare "
            "up to the chop line and never past it",
            measured=joint.lap_mm,
            fix="a backing block under the lap, and light cuts; or a straight-grained board for the front",
        )


def _other_laps(joint: CornerJoint) -> Iterator[Fields]:
    """Other laps, nearest first, by tenths of a mm up to half the board."""
    most = int(joint.pin_board.thickness_mm * 5)
    laps = sorted((step / 10 for step in range(24, most + 1)), key=lambda lap: abs(lap - joint.lap_mm))
    return ({"lap_mm": lap} for lap in laps)
