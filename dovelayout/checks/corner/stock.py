"""The boards themselves: ends out of square, plywood, and thicknesses that look like a slip."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Change, Finding, Level
from dovelayout.checks.remedy import first_passing, mm_text, wider_pins
from dovelayout.checks.rule import Rule
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.units import Unit, format_both, format_inches
from dovelayout.wood.species import WoodKind

CHECK_SQUARE = "squareness"
CHECK_PLYWOOD = "plywood"
CHECK_NOMINAL = "nominal"
CHECK_WIDTHS = "widths"

SAME_WIDTH_MM = 0.1
"""Boards that differ by less are planed flush without a thought; ours."""

OUT_OF_SQUARE = Rule(
    check=CHECK_SQUARE,
    measures="lean of a board's end over 100 mm of width",
    unit="mm/100 mm",
    warn=0.1,
    stop=1.0,
    below=False,
    source=OURS,
)
PLYWOOD_PIN = Rule(check=CHECK_PLYWOOD, measures="narrow width of a pin in plywood", unit="mm", stop=6.0, source=OURS)
RULES = (OUT_OF_SQUARE, PLYWOOD_PIN)

ROUGH_IN = (1.0, 1.25, 1.5, 2.0)
"""Nominal thicknesses of rough hardwood, inches; a planed board is thinner (common practice, no source)."""


def check_stock(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """What is wrong with the two boards of a corner before any line is drawn."""
    for board in dict.fromkeys((joint.tail_board, joint.pin_board)):
        yield from _square(joint, board)
        yield from _nominal(joint, board)
    yield from _widths(joint)
    yield from _plywood(joint)


def _square(joint: CornerJoint, board: Board) -> Iterator[Finding]:
    lean = board.out_of_square_mm / board.width_mm * 100
    level, limit = OUT_OF_SQUARE.judge(lean)
    if level is Level.OK:
        return
    allowed_mm = int((OUT_OF_SQUARE.warn or 0) * board.width_mm) / 100
    yield Finding(
        check=CHECK_SQUARE,
        level=level,
        place=Place(kind="corner", name=joint.name, part=f"board {board.name}"),
        measured=round(lean, 4),
        limit=limit,
        unit=OUT_OF_SQUARE.unit,
        message=f"its end leans {board.out_of_square_mm:g} mm over {board.width_mm:g} mm, and every gauge line and tail "
        "leans with it: the case comes out of square or in wind",
        fix=f"shoot the end square, to within {mm_text(allowed_mm)} over the width",
        source=OUT_OF_SQUARE.source,
        changes=(Change(table="board", name=board.name, values={"out_of_square": mm_text(allowed_mm)}),),
    )


def _nominal(joint: CornerJoint, board: Board) -> Iterator[Finding]:
    thickness_mm = board.thickness_mm
    both = format_both(thickness_mm, unit=Unit.MM)
    because = ""
    if thickness_mm > 100:
        because = f"{both} is a beam, not a board: a number in mm read as inches?"
    elif thickness_mm < 3:
        because = f"{both} is veneer, not a board: a number in inches read as mm?"
    elif any(abs(thickness_mm - rough * 25.4) < 0.02 for rough in ROUGH_IN):
        rough = format_inches(thickness_mm)
        because = f"{both}: {rough} is the name of a rough-sawn size, and such a board planed is thinner"
    if because:
        yield Finding(
            check=CHECK_NOMINAL,
            level=Level.NOTE,
            place=Place(kind="corner", name=joint.name, part=f"board {board.name}, thickness"),
            measured=round(thickness_mm, 3),
            unit="mm",
            message=f"{because}. Measure the board itself: the baseline and the fold depend on it",
            fix="write the thickness as the caliper gives it",
            source=COMMON_PRACTICE,
        )


def _widths(joint: CornerJoint) -> Iterator[Finding]:
    """Boards of two widths are meant so only if the job says how much of them the joint covers."""
    widths = (joint.tail_board.width_mm, joint.pin_board.width_mm)
    if joint.spec.covers is not None or not joint.spec.cant.is_square or abs(widths[0] - widths[1]) <= SAME_WIDTH_MM:
        return
    table, name = joint.spec.origin
    least_mm = math.floor(min(widths) * 1000) / 1000
    covers = ["0 mm", mm_text(least_mm)]
    yield Finding(
        check=CHECK_WIDTHS,
        level=Level.WARN,
        place=Place(kind="corner", name=joint.name, part="widths"),
        measured=round(abs(widths[0] - widths[1]), 3),
        limit=SAME_WIDTH_MM,
        unit="mm",
        message=f"{joint.tail_board.name} is {widths[0]:g} mm wide and {joint.pin_board.name} {widths[1]:g} mm, and "
        "nothing says that they are meant to differ: a slip of the rule?",
        fix=f"measure again, or say how much the joint covers: covers = [0, {least_mm:g} mm]",
        source=OURS,
        changes=(Change(table=table, name=name, values={"covers": covers}),),
    )


def _plywood(joint: CornerJoint) -> Iterator[Finding]:
    plies = [b for b in (joint.tail_board, joint.pin_board) if b.wood.kind is WoodKind.PLYWOOD]
    if not plies or not joint.pins:
        return
    narrowest_mm = min(pin.width_mm for pin in joint.pins)
    level, limit = PLYWOOD_PIN.judge(narrowest_mm)
    if level is Level.OK:
        return

    def passes(varied: CornerJoint) -> bool:
        return PLYWOOD_PIN.judge(min(pin.width_mm for pin in varied.pins))[0] is Level.OK

    candidates = [
        {**row, "half_pin_mm": max(6.0, joint.half_pins[0].width_mm if joint.half_pins else 6.0)}
        for row in wider_pins(joint)
        if "tails_at" not in row
    ]
    remedy = first_passing(joint, candidates, passes)
    yield Finding(
        check=CHECK_PLYWOOD,
        level=level,
        place=Place(kind="corner", name=joint.name, part=f"{plies[0].name}"),
        measured=round(narrowest_mm, 3),
        limit=limit,
        unit="mm",
        message=f"pins {narrowest_mm:.1f} mm wide part between the plies, and little long grain is left to glue. Makers "
        "disagree whether plywood is worth dovetailing at all",
        fix=remedy.words if remedy else "pins and half pins of 6 mm or more, or another joint",
        source=PLYWOOD_PIN.source,
        changes=remedy.changes if remedy else (),
    )
