"""The limits that drawers are judged by, with their sources: data only."""

from __future__ import annotations

from dovelayout.checks.finding import COMMON_PRACTICE, OURS
from dovelayout.checks.rule import Rule

CHECK_CUT_LIST = "cut-list"
CHECK_TOP = "top-gap"
CHECK_REVEAL = "reveal"
CHECK_SIDE = "side-gap"
CHECK_LIP = "lip-cover"
CHECK_BEHIND = "behind-gap"
CHECK_RUNNER = "runner-length"
CHECK_RACK = "racking"
CHECK_BOTTOM_SPAN = "wide-bottom"
CHECK_BOTTOM_HELD = "bottom-held"
CHECK_TWICE = "measured-twice"
CHECK_AIR = "seasons"
CHECK_CORNERS = "butted"

WOOD_MOVES = "movement: Wood Handbook, Eq 4-5 and 13-2"

CUT_LIST = Rule(
    check=CHECK_CUT_LIST,
    measures="what parts are too large or too small by",
    unit="mm",
    stop=0.0,
    below=False,
    source=OURS,
)
TOP = Rule(
    check=CHECK_TOP,
    measures="air over the drawer in the dampest month",
    unit="mm",
    warn=0.3,
    # a stroke or two of the plane: less than the doubt in any coefficient
    stop=-0.25,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
REVEAL = Rule(
    check=CHECK_REVEAL,
    measures="gap over an inset front in the driest month",
    unit="mm",
    note=3.2,
    below=False,
    source=f"{WOOD_MOVES}; limit: {OURS}",
)
SIDE_FITTED = Rule(
    check=CHECK_SIDE,
    measures="gap at each side as fitted",
    unit="mm",
    note=0.25,
    source=f"{COMMON_PRACTICE}: 0.18 mm was too tight in use, 0.25 good",
)
SIDE_DAMPEST = Rule(
    check=CHECK_SIDE,
    measures="gap at each side in the dampest month",
    unit="mm",
    warn=0.05,
    stop=0.0,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
SIDE_LOOSE = Rule(
    check=CHECK_SIDE, measures="gap at each side as fitted", unit="mm", warn=2.0, below=False, source=OURS
)
LIP_PLAY = Rule(
    check=CHECK_LIP,
    measures="side play behind a lip, both sides",
    unit="mm",
    warn=1.6,
    below=False,
    source=COMMON_PRACTICE,
)
LIP_COVER = Rule(
    check=CHECK_LIP,
    measures="lip over the edge of the opening in the driest month",
    unit="mm",
    warn=2.0,
    stop=0.0,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
BEHIND = Rule(
    check=CHECK_BEHIND,
    measures="air behind the drawer in the worst month",
    unit="mm",
    warn=1.0,
    stop=0.0,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
RUNNER = Rule(
    check=CHECK_RUNNER,
    measures="air at the end of a runner in the driest month",
    unit="mm",
    warn=1.0,
    stop=0.0,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
RACK = Rule(
    check=CHECK_RACK,
    measures="width of the drawer over its length",
    unit="x",
    warn=1.5,
    below=False,
    source=COMMON_PRACTICE,
)
BOTTOM_SPAN = Rule(
    check=CHECK_BOTTOM_SPAN,
    measures="span of a bottom without a muntin",
    unit="mm",
    note=600.0,
    below=False,
    source=COMMON_PRACTICE,
)
BOTTOM_HELD = Rule(
    check=CHECK_BOTTOM_HELD,
    measures="movement of a bottom that is held all round, over the year",
    unit="mm",
    note=1.0,
    warn=1.5,
    stop=2.5,
    below=False,
    source=f"{WOOD_MOVES}; limits: {OURS}",
)
TWICE = Rule(
    check=CHECK_TWICE,
    measures="difference between two measurements of an opening",
    unit="mm",
    warn=0.5,
    stop=3.0,
    below=False,
    source=OURS,
)

RULES: tuple[Rule, ...] = (
    CUT_LIST,
    TOP,
    REVEAL,
    SIDE_FITTED,
    SIDE_DAMPEST,
    SIDE_LOOSE,
    LIP_PLAY,
    LIP_COVER,
    BEHIND,
    RUNNER,
    RACK,
    BOTTOM_SPAN,
    BOTTOM_HELD,
    TWICE,
)
