"""What is printed beside the templates: how to print, glue, fold and cut them, and the usual cautions.

All of it common practice of the trade, no published source; where it touches safety it defers to the makers of tools
and glues.
"""

from __future__ import annotations

from dovelayout.drawing.flow import Line, heading, item

PRINTING = (
    'Print at 100 % ("actual size"), never "fit to page", one sided, on the paper this file was made for.',
    "On every sheet lay a steel rule along both bars. Within 0.5 mm on 150 mm (0.3 %) the sheet is good; else don't use "
    'it: look for a scaling setting in the print dialogue first. 96 or 97 % is "fit to page".',
    "A template that takes several sheets is joined at its match lines: crosses on crosses. Every number is measured "
    "from the face edge, so errors at the seams don't add up; allow 0.3 mm a seam.",
)

GLUING = (
    "Cut the template out along its dashed outline. Crease both fold lines (dash and dot) with the back of a knife.",
    "Never put water-based glue under the whole face: wet paper grows 2 to 3 % across its grain, 4 to 6 mm on 200. Use "
    "repositionable spray on the paper, rubber cement, or tape the wood first and glue to the tape.",
    "Fold it over the end of the board: the face edge of the paper on the face edge of the board, the fold lines on "
    "the arrises. The bend eats 0.1 to 0.3 mm: trust the fold at the outside face.",
)

CUTTING = (
    "Knife and gauge, not the paper, rule the baseline: set the gauge to the figure on the sheet and scribe it. Prick or "
    "knife the template's lines through at their ends and join them with square, bevel and gauge.",
    "Hatched is waste, on all faces. Saw in the hatching with the kerf just touching the line. Chop from both faces and "
    "back the board up.",
    "Cut the tails first, then scribe the pins from the real tails where you can: the pin template shows where they "
    "will come, and is the check that nothing was turned round.",
    "Left and right ends, outside and inside faces are different sheets. Don't turn one over to use it for the other.",
)

CAUTIONS = (
    "Chisels and knives: work clamped, both hands behind the edge, pare away from the body; wear eye protection when "
    "chopping.",
    "Spray and rubber cement give off vapour: air the room, no flame. Sanding and sawing dust is harmful, some woods "
    "more than others: extract it and wear a mask.",
    "The makers of your tools, glues and finishes, local rules and qualified people come before anything printed here. "
    "Nothing here is a structural design: don't rely on it to hold people or loads overhead.",
)


def how_to_use() -> tuple[Line, ...]:
    """The page that comes before the templates."""
    rows: list[Line] = []
    for title, lines in (
        ("Print", PRINTING),
        ("Glue and fold", GLUING),
        ("Mark and cut", CUTTING),
        ("Take care", CAUTIONS),
    ):
        rows.append(heading(title))
        rows.extend(item(line) for line in lines)
    return tuple(rows)
