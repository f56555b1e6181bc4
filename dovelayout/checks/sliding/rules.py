"""The limits that sliding dovetails are judged by, with their sources: data only."""

from __future__ import annotations

from dovelayout.checks.finding import COMMON_PRACTICE, OURS
from dovelayout.checks.rule import Rule

CHECK_DEPTH = "housing-depth"
CHECK_END = "housing-end"
CHECK_LONG = "long-slide"
CHECK_TRAVEL = "taper-travel"
CHECK_ANGLE = "angle-mismatch"
CHECK_NECK = "router-neck"
CHECK_WIDTH = "router-width"
CHECK_PASS = "router-pass"
CHECK_CUP = "cupped-key"
CHECK_PLYWOOD = "plywood-housing"
CHECK_GAP = "rear-gap"
CHECK_ZONE = "glue-zone"

SHALLOW = Rule(
    check=CHECK_DEPTH, measures="depth of the housing, share of the host", unit="of the host", note=0.20, source=OURS
)
DEEP = Rule(
    check=CHECK_DEPTH,
    measures="depth of the housing, share of the host",
    unit="of the host",
    warn=0.50,
    stop=0.60,
    below=False,
    source=OURS,
)
END = Rule(
    check=CHECK_END,
    measures="wood between the housing and the host's end",
    unit="mm",
    warn=10.0,
    source=COMMON_PRACTICE,
)
LONG = Rule(
    check=CHECK_LONG,
    measures="length of a straight tongue with a water-based glue on it",
    unit="mm",
    warn=200.0,
    stop=300.0,
    below=False,
    source=OURS,
)
TRAVEL = Rule(
    check=CHECK_TRAVEL,
    measures="travel that tightens a dried key again, share of its length",
    unit="of its length",
    stop=1.0,
    below=False,
    source=OURS,
)
ANGLE = Rule(
    check=CHECK_ANGLE,
    measures="gap at one cheek where key and bit lean differently",
    unit="mm",
    warn=0.15,
    below=False,
    source=OURS,
)
NECK = Rule(
    check=CHECK_NECK, measures="slot that the bit leaves at the face", unit="mm", note=6.35, source=COMMON_PRACTICE
)
WIDTH = Rule(check=CHECK_WIDTH, measures="housing's floor less the bit's diameter", unit="mm", stop=0.0, source=OURS)
PASS = Rule(
    check=CHECK_PASS,
    measures="side hardness of a host routed in a single full-depth pass",
    unit="N",
    warn=6000.0,
    below=False,
    source="hardness: Wood Handbook FPL-GTR-190, Table 5-3a; limit: ours",
)
CUP = Rule(
    check=CHECK_CUP,
    measures="cup of a straight key beyond what both clearances let through",
    unit="mm",
    warn=0.05,
    stop=0.2,
    below=False,
    source=OURS,
)
GAP = Rule(
    check=CHECK_GAP,
    measures="room behind the key less what the host shrinks by",
    unit="mm",
    warn=1.0,
    source="movement: Wood Handbook FPL-GTR-190, Eq 4-5 and 13-2; limit: ours",
)
ZONE = Rule(
    check=CHECK_ZONE,
    measures="glued stretch of a key glued at the front alone",
    unit="mm",
    note=76.0,
    below=False,
    source=COMMON_PRACTICE,
)
RULES = (SHALLOW, DEEP, END, LONG, TRAVEL, ANGLE, NECK, WIDTH, PASS, CUP, GAP, ZONE)

USUAL_TAPER = 320.0
"""1:320, 0.8 mm over 250 (common practice, no source)."""

FRONT_ONLY_MM = 76.0
"""Glue on the front 3 in alone (common practice, no source)."""

PLOUGH_MM = 0.8
"""How much narrower and shallower than the slot the straight bit ploughs first (common practice, no source)."""
