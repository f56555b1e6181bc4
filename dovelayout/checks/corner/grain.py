"""Slope and short grain: what the slope leaves of the wood's strength at a tail's corner.

The fibres leave the wood at a tail's corner at the slope's angle plus the run-out on the worse side. How much of the
straight-grained strength is left there is the Wood Handbook's fit to its table of strength against slope of grain.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, WOOD_HANDBOOK_5_2, Finding, Level, not_checked
from dovelayout.checks.remedy import first_passing
from dovelayout.checks.rule import Measure, Rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.units import format_slope
from dovelayout.wood.species import Wood
from dovelayout.wood.strength import bending_share, impact_share

CHECK_SHORT_GRAIN = "short-grain"
CHECK_BLOWOUT = "corner-blowout"
CHECK_LITTLE_HOLD = "little-hold"

SHARE_LEFT = Rule(
    check=CHECK_SHORT_GRAIN,
    measures="share of straight-grain bending strength left at a tail's corner",
    unit="share",
    warn=0.50,
    stop=0.33,
    source=f"curve: {WOOD_HANDBOOK_5_2}; limits: {OURS}",
)
CORNER_STRENGTH = Rule(
    check=CHECK_SHORT_GRAIN,
    measures="bending strength left at a tail's corner",
    unit="MPa",
    warn=28.0,
    stop=15.0,
    source=f"curve: {WOOD_HANDBOOK_5_2}, MOR: its Tables 5-3 and 5-5; limits: {OURS}",
)
BLOWOUT = Rule(
    check=CHECK_BLOWOUT,
    measures="impact strength left at a tail's corner",
    unit="MPa",
    note=25.0,
    warn=18.0,
    source=f"curve: {WOOD_HANDBOOK_5_2} with Q/P = 0.05; limits: {OURS}",
)
HOLD = Rule(
    check=CHECK_LITTLE_HOLD,
    measures="n of the slope 1:n",
    unit="1:n",
    warn=12.0,
    below=False,
    source=OURS,
)
RULES = (SHARE_LEFT, CORNER_STRENGTH, BLOWOUT, HOLD)

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


def slope_findings(slope: Slope, wood: Wood, runout_deg: float, place: Place) -> tuple[Finding, ...]:
    """The verdict on a slope in a wood, before any layout; without fixes."""
    return (*_short_grain(slope, wood, runout_deg, place), *_little_hold(slope, wood, place))


def measure_grain(joint: CornerJoint) -> Iterator[Measure]:
    """The grain rules' measures of a corner; rules whose figures aren't known are left out."""
    board = joint.tail_board
    angle_deg = fibre_angle_deg(joint.slope, board.runout_deg)
    yield Measure(rule=SHARE_LEFT, value=bending_share(angle_deg))
    if CHECK_LITTLE_HOLD not in joint.unchecked:
        yield Measure(rule=HOLD, value=joint.slope.ratio)
    if board.wood.mor_mpa is not None:
        yield Measure(rule=CORNER_STRENGTH, value=board.wood.mor_mpa * bending_share(angle_deg))
        yield Measure(rule=BLOWOUT, value=board.wood.mor_mpa * impact_share(angle_deg))


def check_grain(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Short grain and blow-out at the corners of the tails, and a slope too fine to hold."""
    board = joint.tail_board
    place = Place(kind="corner", name=joint.name, part="tails")
    findings = [*_short_grain(joint.slope, board.wood, board.runout_deg, place)]
    if CHECK_LITTLE_HOLD in joint.unchecked:
        findings.append(not_checked(CHECK_LITTLE_HOLD, place, *joint.unchecked[CHECK_LITTLE_HOLD]))
    else:
        findings += _little_hold(joint.slope, board.wood, place)
    yield from (_with_fix(joint, finding) for finding in findings)


def _short_grain(slope: Slope, wood: Wood, runout_deg: float, place: Place) -> Iterator[Finding]:
    angle_deg = fibre_angle_deg(slope, runout_deg)
    share = bending_share(angle_deg)
    level, limit = SHARE_LEFT.judge(share)
    at = "" if slope.is_straight else f" at {format_slope(slope.ratio)}"
    run = f"{' and' if at else ' at'} the run-out {runout_deg:.1f}°" if runout_deg else ""
    if level is not Level.OK:
        yield Finding(
            check=CHECK_SHORT_GRAIN,
            level=level,
            place=place,
            measured=round(share, 4),
            limit=limit,
            unit=SHARE_LEFT.unit,
            message=f"{_lean(slope, runout_deg)} the corners of the tails {share:.0%} of the wood's "
            f"bending strength, under {limit:.0%}",
            source=SHARE_LEFT.source,
        )
    if wood.mor_mpa is None:
        because = f"the bending strength of {wood.name} is not known"
        fix = f"give mor_mpa for it in a [[wood]] table, or try the layout in an offcut of {wood.name} first"
        yield not_checked(CHECK_SHORT_GRAIN, place, because, fix)
        yield not_checked(CHECK_BLOWOUT, place, because, fix)
        return
    strength_mpa = wood.mor_mpa * share
    level, limit = CORNER_STRENGTH.judge(strength_mpa)
    if level is not Level.OK:
        yield Finding(
            check=CHECK_SHORT_GRAIN,
            level=level,
            place=place,
            measured=round(strength_mpa, 2),
            limit=limit,
            unit=CORNER_STRENGTH.unit,
            message=f"{wood.name} is weak stock for this: it keeps {strength_mpa:.0f} MPa of bending strength at the "
            f"corners of the tails{at}{run}, under {limit:g} MPa",
            source=CORNER_STRENGTH.source,
        )
    impact_mpa = wood.mor_mpa * impact_share(angle_deg)
    level, limit = BLOWOUT.judge(impact_mpa)
    if level is not Level.OK:
        yield Finding(
            check=CHECK_BLOWOUT,
            level=level,
            place=place,
            measured=round(impact_mpa, 2),
            limit=limit,
            unit=BLOWOUT.unit,
            message=f"a chisel blow can break the corners out: {wood.name} keeps {impact_mpa:.0f} MPa against impact "
            f"there, under {limit:g} MPa. Chop from both faces and back the board up",
            source=BLOWOUT.source,
        )


def _lean(slope: Slope, runout_deg: float) -> str:
    """What turns the fibres out of a tail's corner, with its verb."""
    if slope.is_straight:
        return f"the run-out {runout_deg:.1f}° leaves"
    if runout_deg:
        return f"the slope {format_slope(slope.ratio)} and the run-out {runout_deg:.1f}° leave"
    return f"the slope {format_slope(slope.ratio)} leaves"


def _little_hold(slope: Slope, wood: Wood, place: Place) -> Iterator[Finding]:
    level, limit = HOLD.judge(slope.ratio)
    if level is not Level.OK:
        yield Finding(
            check=CHECK_LITTLE_HOLD,
            level=level,
            place=place,
            measured=round(slope.ratio, 3),
            limit=limit,
            unit=HOLD.unit,
            message=f"little hold: at {format_slope(slope.ratio)} the cheeks are all but straight, and only glue "
            f"keeps the tails from pulling out. {HOLD_DISPUTED}",
            source=HOLD.source,
        )
        return
    note_ratio = hold_note_ratio(wood)
    if note_ratio is None:
        yield not_checked(CHECK_LITTLE_HOLD, place, f"compression across the grain is not known for {wood.name}")
    elif slope.ratio > note_ratio + 1e-9:
        yield Finding(
            check=CHECK_LITTLE_HOLD,
            level=Level.NOTE,
            place=place,
            measured=round(slope.ratio, 3),
            limit=round(note_ratio, 3),
            unit=HOLD.unit,
            message=f"{format_slope(slope.ratio)} gives {wood.name} little wedge to hold by (1:{note_ratio:.1f} or "
            f"steeper would). {HOLD_DISPUTED}",
            source=f"{OURS}; {COMMON_PRACTICE}",
        )


def _slopes_instead(finding: Finding, slope: Slope) -> Iterator[Slope]:
    """Slopes to try, nearest first, by halves of n: steeper to 1:5 for want of hold, finer to 1:12 for short grain;
    none where no cheek leans."""
    if slope.is_straight:
        return
    steps = range(int(slope.ratio * 2) + 1, 25)
    if finding.check == CHECK_LITTLE_HOLD:
        steps = range(math.ceil(slope.ratio * 2) - 1, 9, -1)
    for step in steps:
        yield Slope(step / 2)


def _quiet_at(finding: Finding, slope: Slope, wood: Wood, runout_deg: float) -> bool:
    """Whether the same rule has nothing to say at another slope."""
    again = slope_findings(slope, wood, runout_deg, finding.place)
    return not any(
        other.check == finding.check and other.unit == finding.unit and other.measured is not None for other in again
    )


def _no_slope_helps(finding: Finding, slope: Slope, runout_deg: float) -> str:
    if slope.is_straight:
        return (
            "take a board with straighter grain for the tails" if runout_deg else "take a stronger wood for the tails"
        )
    if finding.check == CHECK_LITTLE_HOLD:
        return "no slope of 1:5 or finer passes in this wood; rely on glue and a good fit"
    if runout_deg:
        return "no slope up to 1:12 passes with this run-out: take a board with straighter grain for the tails"
    return "no slope up to 1:12 passes in this wood: take a stronger one for the tail board"


def with_other_slope(finding: Finding, slope: Slope, wood: Wood, runout_deg: float) -> Finding:
    """A finding on a bare slope, with the nearest slope that passes as its fix."""
    if finding.measured is None:
        return finding
    for other in _slopes_instead(finding, slope):
        if _quiet_at(finding, other, wood, runout_deg):
            return replace(finding, fix=f"slope {format_slope(other.ratio)}")
    return replace(finding, fix=_no_slope_helps(finding, slope, runout_deg))


def _with_fix(joint: CornerJoint, finding: Finding) -> Finding:
    """The nearest slope that passes and with which the corner can still be laid out, as a change of the job."""
    if finding.measured is None:
        return finding
    wood, runout_deg = joint.tail_board.wood, joint.tail_board.runout_deg
    remedy = first_passing(
        joint,
        ({"slope": other} for other in _slopes_instead(finding, joint.slope)),
        lambda varied: _quiet_at(finding, varied.slope, wood, runout_deg),
    )
    if remedy is None:
        return replace(finding, fix=_no_slope_helps(finding, joint.slope, runout_deg))
    return replace(finding, fix=remedy.words, changes=remedy.changes)
