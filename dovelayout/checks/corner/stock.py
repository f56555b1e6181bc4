"""The boards themselves: ends out of square, plywood, and thicknesses that look like a slip."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dovelayout.checks.corner.parts import part_of
from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.remedy import Fields, by_setting, by_varying, mm_text, wider_pins
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.spacing import Span
from dovelayout.shop import Shop
from dovelayout.units import Unit, format_both, format_inches
from dovelayout.wood.species import WoodKind

OUT_OF_SQUARE = rule(
    "squareness", "lean of a board's end over 100 mm of width", unit="mm/100 mm", warn=0.1, stop=1.0, below=False
)
PLYWOOD_PIN = rule("plywood", "narrow width of a pin in plywood", unit="mm", stop=6.0, layout=True)
NOMINAL = rule("nominal", "thickness that looks like a slip or a rough size", unit="mm", source=COMMON_PRACTICE)
WIDTHS = rule("widths", "difference of the boards' widths where none is meant", unit="mm", warn=0.1, below=False)

ROUGH_IN = (1.0, 1.25, 1.5, 2.0)
"""Nominal thicknesses of rough hardwood, inches; a planed board is thinner (common practice, no source)."""

VENEER_MM, BEAM_MM = 3.0, 100.0
"""Thinner or thicker than these is no board, but a number in another unit; ours."""


def check_stock(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """What is wrong with the two boards of a corner before any line is drawn."""
    for board in dict.fromkeys((joint.tail_board, joint.pin_board)):
        yield from _square(joint, board)
        yield from _nominal(joint, board)
    yield from _widths(joint)
    yield from _plywood(joint)


def _square(joint: CornerJoint, board: Board) -> Iterator[Finding]:
    if breach := OUT_OF_SQUARE.breach(board.out_of_square_mm / board.width_mm * 100):
        allowed_mm = int((OUT_OF_SQUARE.warn or 0) * board.width_mm) / 100
        yield breach.finding(
            part_of(joint, "end", board=board.name),
            f"its end leans {board.out_of_square_mm:g} mm over {board.width_mm:g} mm, and every gauge line and tail leans "
            "with it: the case comes out of square or in wind",
            remedies=by_setting(
                "board",
                board.name,
                {"out_of_square": mm_text(allowed_mm)},
                f"the end shot square, to within {mm_text(allowed_mm)} over the width",
            ),
        )


def _nominal(joint: CornerJoint, board: Board) -> Iterator[Finding]:
    thickness_mm = board.thickness_mm
    both = format_both(thickness_mm, unit=Unit.MM)
    because = ""
    if thickness_mm > BEAM_MM:
        because = f"{both} is a beam, not a board: a number in mm read as inches?"
    elif thickness_mm < VENEER_MM:
        because = f"{both} is veneer, not a board: a number in inches read as mm?"
    elif any(abs(thickness_mm - rough * 25.4) < 0.02 for rough in ROUGH_IN):
        rough = format_inches(thickness_mm)
        because = f"{both}: {rough} is the name of a rough-sawn size, and such a board planed is thinner"
    if because:
        yield NOMINAL.said(
            Level.NOTE,
            part_of(joint, "thickness", board=board.name),
            f"{because}. Measure the board itself: the baseline and the fold depend on it",
            measured=thickness_mm,
            fix="the thickness as the caliper gives it",
        )


def _widths(joint: CornerJoint) -> Iterator[Finding]:
    """Boards of two widths are meant so only if the job says how much of them the joint covers."""
    one, other = joint.tail_board, joint.pin_board
    breach = WIDTHS.breach(abs(one.width_mm - other.width_mm))
    if breach and joint.spec.covers is None and joint.spec.cant.is_square:
        least_mm = math.floor(min(one.width_mm, other.width_mm) * 1000) / 1000
        yield breach.finding(
            part_of(joint, "widths"),
            f"{one.name} is {one.width_mm:g} mm wide and {other.name} {other.width_mm:g} mm, and nothing says that they are "
            "meant to differ: a slip of the rule?",
            fix="both widths measured again",
            remedies=by_varying(
                joint,
                [{"covers": Span(0.0, least_mm)}],
                f"a joint that covers 0 to {least_mm:g} mm, where they are to differ",
            ),
            beside=True,
        )


def _plywood(joint: CornerJoint) -> Iterator[Finding]:
    plies = [b for b in (joint.tail_board, joint.pin_board) if b.wood.kind is WoodKind.PLYWOOD]
    if not plies or not joint.pins:
        return
    narrowest_mm = min(pin.width_mm for pin in joint.pins)
    if breach := PLYWOOD_PIN.breach(narrowest_mm):
        yield breach.finding(
            part_of(joint, "pins", board=plies[0].name),
            f"pins {narrowest_mm:.1f} mm wide part between the plies, and little long grain is left to glue. Makers "
            "disagree whether plywood is worth dovetailing at all",
            fix="pins and half pins of 6 mm or more, or another joint",
            remedies=by_varying(joint, _all_wider),
        )


def _all_wider(joint: CornerJoint) -> Iterator[Fields]:
    """Pins as they are widened elsewhere, with half pins as wide as plywood wants them."""
    half_mm = max(PLYWOOD_PIN.stop or 0.0, joint.half_pins[0].width_mm if joint.half_pins else 0.0)
    return ({**row, "half_pin_mm": half_mm} for row in wider_pins(joint) if "tails_at" not in row)
