"""Commented starter jobs for `dovelayout new`."""

from __future__ import annotations

_HEAD = """# A job for dovelayout. Measure the boards in front of you; bare numbers are in `units`,
# a text may carry its own: "3/4 in", "19 mm", "1 3/4\\"".
title = "{title}"
units = "mm"                 # or "in", "cm"

[shop]                       # all optional
chisels = [3, 6, 9, 12, 18]
knife = 1.2                  # thickness of the marking knife
# glue = "pva"               # 'dovelayout fit' says how full to cut the cheeks for it
# fit = 0.02                 # how much fuller than its socket a cheek is cut, dry

[paper]
size = "A4"                  # A5 to A0, Letter, Legal, Tabloid
margin = 8                   # what the printer can't reach

[[board]]
name = "side"
species = "black cherry"     # 'dovelayout species' lists the woods
length = 560
width = 240
thickness = 19
rings = "flat"               # flat | quarter | rift: how the growth rings meet the face
# runout = "1:18"            # grain run-out along the face
# out_of_square = 0.2        # how far the worse end leans over the whole width

[[board]]
name = "end"
species = "black cherry"
length = 320
width = 240
thickness = 19
"""

_DRAWER = """# Drawers for dovelayout, from their openings. Measure each opening; bare numbers are in `units`,
# a text may carry its own: "3/4 in", "19 mm", "1 3/4\\"".
title = "{title}"
units = "mm"                 # or "in", "cm"

[shop]
humidity = [35, 65]          # where it will stand: driest and dampest month, percent
built_at = 50                # and in the shop while you fit it
chisels = [3, 6, 9, 12]

[drawers]                    # what all drawers have in common; each may say otherwise
species = "red maple"        # 'dovelayout species' lists the woods
front_species = "black cherry"
bottom = "plywood"           # or "solid": grain from side to side, one slotted screw behind
fit = "good"                 # piston | good | workaday: what is left at the sides in the dampest month
front_thickness = 20
side_thickness = 12
# side_rings = "quarter"     # flat | quarter | rift: also front_rings, back_rings, bottom_rings, case_rings
# back_thickness = 10
# bottom_thickness = 6
# lap = 6                    # what stays of the front over the ends of the tails
# groove = {{ from_edge = 10, width = 6, depth = 4.5 }}

[[drawer]]
name = "top"
width = 400                  # of the opening, not of the drawer
height = 100
depth = 420
# width2 = 399.8             # measured a second time, at the back: the smaller counts
# front = "lipped"           # or "inset"
# runner = 0.5               # how far the runners stand proud of the rail
# tail_count = 3             # leave out tail_count, pin and half_pin and they are proposed
# pin = 5                    # narrow width, at the side's face
# half_pin = 5
# centre_guide = true        # for a drawer wider than one and a half times its length

[[bank]]                     # a stack of drawers, their heights shared out by a rule
name = "lower"
width = 400
depth = 420
height = 440                 # of all openings and the rails between them
count = 3
rule = "geometric"           # equal | arithmetic | geometric
grows = 1.8                  # the lowest opening over the topmost
rail = 20
"""

_LAYOUT = """slope = "1:7"                # or "8 deg"
tail_count = 6               # leave out tail_count, pin or half_pin and they are proposed
pin = 6                      # narrow width, at the pin board's outside face
half_pin = 8
# spacing = "closer at edges"
# proud = 0.4                # or {{ tails = 0.4, pins = 0.2 }}; negative: shy
# groove = {{ from_edge = 12, width = 6, depth = 6, ploughed = "after" }}
"""

_KINDS = {
    "corner": (
        "One corner",
        """
[[corner]]
name = "A"
joint = "through"
tails = "side.left"          # which board, which end, seen from outside with the face edge down
pins = "end.right"           # a left end meets a right end
""",
    ),
    "box": (
        "A box",
        """
[[box]]                      # four boards, four corners A to D
name = "box"
joint = "through"
tails = "side"               # the pair that carries the tails, or ["left side", "right side"]
pins = "end"                 # the pair that carries the pins, or ["front", "back"]
""",
    ),
    "press": (
        "A press that moves with the seasons",
        """
[[board]]
name = "runner"
species = "hard maple"
length = 170                 # across the grain of the side it lies on
width = 30
thickness = 15

[[board]]
name = "bottom"
species = "yellow poplar"
length = 500
width = 292                  # its width moves, its length hardly does
thickness = 9

[home]                       # the air it goes to: driest and dampest, or twelve months from January on
humidity = [35, 60]

[[across]]                   # runner | rail | support | batten | moulding | breadboard | neighbour
name = "runner"
kind = "runner"
part = "runner"
host = "side"
from = 50                    # all places along the side's width, from its face edge
glue = [[50, 110]]           # short, at the front
slots = [{ at = 200, play = 4 }]

[[panel]]                    # in grooves; leave 'groove' out for a lid or a top that lies free
name = "bottom"
board = "bottom"
groove = 8
play = 5                     # room to grow in both grooves together, as it is fitted
glued = "middle"             # no | middle | one edge | all round

[[box]]                      # 'dovelayout season' says how far each part moves
name = "case"
joint = "through"
tails = "side"
pins = "end"
""",
    ),
}

KINDS = (*_KINDS, "drawer")


def starter(kind: str) -> str:
    """The text of a starter job. KeyError for a kind not in KINDS."""
    if kind == "drawer":
        return _DRAWER.format(title="Drawers")
    title, table = _KINDS[kind]
    return _HEAD.format(title=title) + table + _LAYOUT.format()
