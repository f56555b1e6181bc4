"""The limits that movement is judged by, with their sources: data only."""

from __future__ import annotations

from dovelayout.checks.finding import COMMON_PRACTICE, OURS
from dovelayout.checks.rule import Rule
from dovelayout.checks.sliding.housing import GAP, TRAVEL, ZONE

HANDBOOK = "movement: Wood Handbook FPL-GTR-190, Eq 4-5, 13-2 and 13-3; limit: ours"

CHECK_CONFLICT = "cross-grain"
CHECK_SLOT = "slot-play"
CHECK_ROOM = "runner-length"
CHECK_PUSH = "runner-push"
CHECK_NEIGHBOURS = "two-woods"
CHECK_TONGUE = "thin-breadboard"
CHECK_GLUED = "panel-glued"
CHECK_JAM = "panel-jam"
CHECK_HOLD = "panel-hold"
CHECK_FIT = "groove-fit"
CHECK_PLAY = "panel-play"
CHECK_THIN = "thin-wide"
CHECK_PIECE = "wide-piece"
CHECK_STEP = "thickness-step"
CHECK_WET = "stock-moisture"
CHECK_AIR = "shop-air"

WET_FACE_MM = (0.1, 0.2)
"""What one face that PVA wets takes in a groove, at least and to be sure: it swells, and the film of glue has its own
thickness (common practice, no source)."""


def _conflict(check: str, measures: str) -> Rule:
    return Rule(check=check, measures=measures, unit="mm", note=1.0, warn=1.5, stop=2.5, below=False, source=HANDBOOK)


CONFLICT = _conflict(CHECK_CONFLICT, "movement over the length that holds, less what it lets go")
SLOT = _conflict(CHECK_SLOT, "movement at a slot less its play")
PUSH = _conflict(CHECK_PUSH, "how far what holds a part pushes its front end against what it meets")
PANEL_GLUED = _conflict(CHECK_GLUED, "movement of a panel that is glued all round")
RIGID = Rule(
    check=CHECK_CONFLICT,
    measures="length of a rigid fixing across the grain",
    unit="mm",
    warn=150.0,
    below=False,
    source=OURS,
)
MIDDLE = Rule(
    check=ZONE.check,
    measures="glued stretch in the middle of a support",
    unit="mm",
    note=50.0,
    below=False,
    source=COMMON_PRACTICE,
)
ROOM = Rule(
    check=CHECK_ROOM,
    measures="room left behind a runner or a rail in the driest month",
    unit="mm",
    warn=0.0,
    stop=-1.0,
    source=HANDBOOK,
)
NEIGHBOURS = Rule(
    check=CHECK_NEIGHBOURS,
    measures="difference of two woods over the width that they share",
    unit="mm",
    warn=1.5,
    below=False,
    source=HANDBOOK,
)
TONGUE = Rule(
    check=CHECK_TONGUE,
    measures="width of a breadboard end on one continuous tongue",
    unit="mm",
    warn=75.0,
    source=OURS,
)
JAM = Rule(
    check=CHECK_JAM,
    measures="play left in a panel's grooves in the dampest month",
    unit="mm",
    note=0.5,
    warn=0.0,
    stop=-1.0,
    source=HANDBOOK,
)
HOLD = Rule(
    check=CHECK_HOLD,
    measures="how far a panel still reaches into its groove in the driest month",
    unit="mm",
    warn=1.5,
    stop=0.0,
    source=HANDBOOK,
)
FIT_DRY = Rule(
    check=CHECK_FIT,
    measures="clearance in a groove less what the panel grows in thickness",
    unit="mm",
    warn=0.0,
    source=HANDBOOK,
)
FIT_WET = Rule(
    check=CHECK_FIT,
    measures="clearance in a groove less growth, for each face that glue wets, as for one that swells like PVA",
    unit="mm a wet face",
    warn=WET_FACE_MM[1],
    stop=WET_FACE_MM[0],
    source=COMMON_PRACTICE,
)
THIN = Rule(
    check=CHECK_THIN,
    measures="width of a plain-sawn lid or panel, times its thickness",
    unit="times",
    warn=20.0,
    below=False,
    source=OURS,
)
PIECE = Rule(
    check=CHECK_PIECE,
    measures="width of one plain-sawn board in a lid or a top",
    unit="mm",
    warn=127.0,
    below=False,
    source=COMMON_PRACTICE,
)
STEP = Rule(
    check=CHECK_STEP,
    measures="change of a board's thickness that shows at its corners",
    unit="mm",
    note=0.15,
    warn=0.5,
    below=False,
    source=HANDBOOK,
)
WET = Rule(
    check=CHECK_WET,
    measures="moisture content of the stock outside what its home will make of it",
    unit="points",
    note=0.5,
    warn=2.0,
    below=False,
    source=HANDBOOK,
)
AIR = Rule(
    check=CHECK_AIR,
    measures="moisture content that the shop's air gives, outside what the home's will",
    unit="points",
    note=0.5,
    warn=2.0,
    below=False,
    source=HANDBOOK,
)
RULES = (
    CONFLICT,
    SLOT,
    PUSH,
    PANEL_GLUED,
    RIGID,
    MIDDLE,
    ROOM,
    NEIGHBOURS,
    TONGUE,
    JAM,
    HOLD,
    FIT_DRY,
    FIT_WET,
    THIN,
    PIECE,
    STEP,
    WET,
    AIR,
)

MOVEMENT_CHECKS = frozenset({*(rule.check for rule in RULES), CHECK_PLAY, GAP.check, ZONE.check, TRAVEL.check})
"""The checks that a season's report repeats, those of dividers among them."""

MARGIN_MM = 1.0
"""What a slot, a gap or a length is given beyond the computed movement (common practice, no source)."""

PLAY_MARGIN_MM = 0.5
"""What a panel's play is given beyond its growth; ours."""

NARROW_MM = 4 * 25.4
"""Boards of at most 4 in stay flat best in a panel (common practice, no source)."""
