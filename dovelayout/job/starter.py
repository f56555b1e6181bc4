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

KINDS = tuple(_KINDS)


def starter(kind: str) -> str:
    """The text of a starter job. KeyError for a kind not in KINDS."""
    title, table = _KINDS[kind]
    return _HEAD.format(title=title) + table + _LAYOUT.format()
