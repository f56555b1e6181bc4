"""Slope and short grain: what the slope leaves of the wood's strength at a tail's corner.

The fibres leave the wood at a tail's corner at the slope's angle plus the run-out on the worse side. How much of the
straight-grained strength is left there is the Wood Handbook's fit to its table of strength against slope of grain.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from dovelayout.checks.corner.parts import part_of
from dovelayout.checks.finding import OURS, WOOD_HANDBOOK_5_2, Finding
from dovelayout.checks.remedy import Fields, by_varying
from dovelayout.checks.rule import Breach, Measure, rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.units import format_slope
from dovelayout.wood.species import Wood
from dovelayout.wood.strength import bending_share, impact_share

_CURVE = f"curve: {WOOD_HANDBOOK_5_2}"
_MOR = f"{_CURVE}, MOR: its Tables 5-3 and 5-5; limits: {OURS}"

SHARE_LEFT = rule(
    "short-grain",
    "share of straight-grain bending strength left at a tail's corner",
    unit="share",
    warn=0.50,
    stop=0.33,
    layout=True,
    source=f"{_CURVE}; limits: {OURS}",
)
CORNER_STRENGTH = rule(
    "short-grain",
    "bending strength left at a tail's corner",
    unit="MPa",
    warn=28.0,
    stop=15.0,
    layout=True,
    source=_MOR,
)
BLOWOUT = rule(
    "corner-blowout",
    "impact strength left at a tail's corner",
    unit="MPa",
    note=25.0,
    warn=18.0,
    layout=True,
    source=f"{_CURVE} with Q/P = 0.05; limits: {OURS}",
)
HOLD = rule("little-hold", "n of the slope 1:n", unit="1:n", warn=12.0, below=False, layout=True)

HOLD_DISPUTED = (
    "Makers disagree: one rule goes by species (1:6 soft, 1:8 hard), one by the job, an old one the other way round, "
    "and once the joint is glued the evidence for any of them is weak."
)


def fibre_angle_deg(slope: Slope, runout_deg: float) -> float:
    """Angle at which the fibres leave the wood at a tail's corner, worse side; at most 90."""
    return min(90.0, slope.degrees + runout_deg)


def hold_note_ratio(wood: Wood) -> float | None:
    """n above which a slope 1:n has little to hold by in this wood: 4 sqrt(compression across the grain, MPa); ours."""
    return None if wood.comp_perp_mpa is None else 4.0 * math.sqrt(wood.comp_perp_mpa)


def measure_grain(joint: CornerJoint) -> Iterator[Measure]:
    """The grain rules' measures of a corner; rules whose figures aren't known are left out."""
    return _measured(joint.slope, joint.tail_board.wood, joint.tail_board.runout_deg)


def _measured(slope: Slope, wood: Wood, runout_deg: float) -> Iterator[Measure]:
    angle_deg = fibre_angle_deg(slope, runout_deg)
    yield Measure(rule=SHARE_LEFT, value=bending_share(angle_deg))
    if not slope.is_straight:
        note_ratio = hold_note_ratio(wood)
        hold = HOLD if note_ratio is None else HOLD.limited(note=note_ratio)
        yield Measure(rule=hold, value=slope.ratio)
    if wood.mor_mpa is not None:
        yield Measure(rule=CORNER_STRENGTH, value=wood.mor_mpa * bending_share(angle_deg))
        yield Measure(rule=BLOWOUT, value=wood.mor_mpa * impact_share(angle_deg))


def check_grain(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Short grain and blow-out at the corners of the tails, and a slope too fine to hold."""
    board = joint.tail_board
    for finding in _found(joint.slope, board.wood, board.runout_deg, part_of(joint, "tails")):
        slopes = partial(_slopes, finding.check)
        yield finding if finding.measured is None else replace(finding, remedies=by_varying(joint, slopes))


def slope_findings(slope: Slope, wood: Wood, runout_deg: float, place: Place) -> tuple[Finding, ...]:
    """The verdict on a slope in a wood, before any layout; the fix is the nearest slope that passes."""
    return tuple(
        replace(finding, fix=_nearest(finding, slope, wood, runout_deg) or finding.fix)
        for finding in _found(slope, wood, runout_deg, place)
    )


def _found(slope: Slope, wood: Wood, runout_deg: float, place: Place) -> Iterator[Finding]:
    for measure in _measured(slope, wood, runout_deg):
        if breach := measure.breach:
            yield breach.finding(
                place, _message(breach, slope, wood, runout_deg), fix=_no_slope_helps(breach, slope, runout_deg)
            )
    if wood.mor_mpa is None:
        because = f"the bending strength of {wood.name} is not known"
        fix = f"its strength among the woods of your own, or the layout tried in an offcut of {wood.name} first"
        yield SHARE_LEFT.not_checked(place, because, fix)
        yield BLOWOUT.not_checked(place, because, fix)
    if slope.is_straight:
        because = "straight cheeks have no slope to hold by: glue alone keeps the corner together"
        yield HOLD.not_checked(
            place, because, "glue on every cheek; where the shape has to hold too, a through dovetail"
        )
    elif hold_note_ratio(wood) is None and not HOLD.breach(slope.ratio):
        yield HOLD.not_checked(place, f"compression across the grain is not known for {wood.name}")


def _message(breach: Breach, slope: Slope, wood: Wood, runout_deg: float) -> str:
    measured, limit, lean = breach.measured, breach.limit or 0.0, f"1:{slope.ratio:g}"
    match breach.rule.check, breach.rule.unit:
        case "short-grain", "share":
            return (
                f"{_lean(slope, runout_deg)} the corners of the tails {measured:.0%} of the wood's bending strength, "
                f"under {limit:.0%}"
            )
        case "short-grain", _:
            return (
                f"{wood.name} is weak stock for this: {_lean(slope, runout_deg)} {measured:.0f} MPa of bending strength at "
                f"the corners of the tails, under {limit:g} MPa"
            )
        case "corner-blowout", _:
            return (
                f"a chisel blow can break the corners out: {wood.name} keeps {measured:.0f} MPa against impact there, "
                f"under {limit:g} MPa. Chop from both faces and back the board up"
            )
    if limit == HOLD.warn:
        return (
            f"little hold: at {format_slope(slope.ratio)} the cheeks are all but straight, and only glue keeps the tails "
            f"from pulling out. {HOLD_DISPUTED}"
        )
    return f"{lean} gives {wood.name} little wedge to hold by (1:{limit:.1f} or steeper would). {HOLD_DISPUTED}"


def _lean(slope: Slope, runout_deg: float) -> str:
    """What turns the fibres out of a tail's corner, with its verb."""
    if slope.is_straight:
        return f"the run-out {runout_deg:.1f}° leaves" if runout_deg else "it keeps"
    if runout_deg:
        return f"the slope {format_slope(slope.ratio)} and the run-out {runout_deg:.1f}° leave"
    return f"the slope {format_slope(slope.ratio)} leaves"


def _slopes(check: str, joint: CornerJoint) -> Iterator[Fields]:
    return ({"slope": slope} for slope in _slopes_instead(check, joint.slope))


def _slopes_instead(check: str, slope: Slope) -> Iterator[Slope]:
    """Slopes to try, nearest first, by halves of n: steeper to 1:5 for want of hold, finer to 1:12 for short grain;
    none where no cheek leans."""
    if slope.is_straight:
        return
    steps = range(int(slope.ratio * 2) + 1, 25)
    if check == HOLD.check:
        steps = range(math.ceil(slope.ratio * 2) - 1, 9, -1)
    for step in steps:
        yield Slope(step / 2)


def _nearest(finding: Finding, slope: Slope, wood: Wood, runout_deg: float) -> str | None:
    """The nearest slope at which the same rule says nothing."""
    if finding.measured is None:
        return None
    for other in _slopes_instead(finding.check, slope):
        measures = (m for m in _measured(other, wood, runout_deg) if m.rule.measures == finding.measures)
        if not any(measure.breach for measure in measures):
            return f"slope {format_slope(other.ratio)}"
    return None


def _no_slope_helps(breach: Breach, slope: Slope, runout_deg: float) -> str:
    if breach.rule.check == HOLD.check:
        return "no slope of 1:5 or finer passes in this wood; rely on glue and a good fit"
    board = "a board with straighter grain for the tails" if runout_deg else "a stronger wood for the tails"
    return board if slope.is_straight else f"no slope up to 1:12 passes here: {board}"
