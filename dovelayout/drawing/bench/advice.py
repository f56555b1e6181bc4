"""What stands last on the bench sheet: how to print, glue, fold and cut the templates, and the usual cautions.

All of it common practice of the trade, no published source; where it touches safety it defers to the makers of tools
and glues.
"""

from __future__ import annotations

from dovelayout.drawing.bench.sheet import Section

PRINTING = (
    'Print at 100 % ("actual size"), never "fit to page", one sided. Lay a steel rule along both bars of every sheet: more '
    "than 0.5 mm off in 150, don't use it.",
    "Templates of several sheets join at their match lines, crosses on crosses: 0.3 mm a seam; all is measured from the "
    "face edge.",
)

GLUING = (
    "Cut out along the short dashes, crease both folds with the back of a knife, fold over the end: face edge on face edge, "
    "folds on the arrises. The bend eats 0.1 to 0.3 mm: trust the fold at the outside face.",
    "No water-based glue under the whole face: wet paper grows 2 to 3 % across its grain, 4 to 6 mm on 200. Spray the "
    "paper, or tape the wood first and glue to the tape.",
)

CUTTING = (
    "Knife and gauge rule the baseline, not the paper. Hatched is waste on all faces: saw in it, the kerf just touching the "
    "line; chop from both faces, backed up.",
    "Tails first; then scribe the pins from the real tails where you can. The pin template is the check that nothing was "
    "turned round: left and right, outside and inside are different sheets.",
)

CAUTIONS = (
    "Chisels and knives: work clamped, both hands behind the edge, eye protection when chopping.",
    "Spray and cement give off vapour: air the room, no flame. Dust is harmful, some woods' more: extract it, wear a mask.",
    "The makers of your tools, glues and finishes, local rules and qualified people come before anything printed here. "
    "Nothing here is a structural design: don't rely on it to hold people or loads overhead.",
)


def how_to_use() -> tuple[Section, ...]:
    """What holds for every job."""
    return (
        Section(title="The templates", lines=(*PRINTING, *GLUING, *CUTTING)),
        Section(title="Take care", lines=CAUTIONS),
    )
