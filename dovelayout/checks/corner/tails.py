"""Tails: necks too narrow, tails too wide, and a wide board's free edge."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import first_passing, mm_text, other_counts
from dovelayout.checks.rule import Measure, Rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.spacing import LEAST_NECK_MM, Spacing
from dovelayout.place import Place
from dovelayout.shop import Shop

CHECK_NECK = "tail-neck"
CHECK_WIDE = "wide-tail"
CHECK_EDGE_PITCH = "edge-pitch"

NECK_SHARE = Rule(
    check=CHECK_NECK,
    measures="tail's neck as a share of the tail board's thickness",
    unit="share",
    warn=0.6,
    source=f"{COMMON_PRACTICE}; limit: {OURS}",
)
NECK = Rule(check=CHECK_NECK, measures="tail's neck at the baseline", unit="mm", stop=LEAST_NECK_MM, source=OURS)
WIDE_SHARE = Rule(
    check=CHECK_WIDE,
    measures="tail's width over the tail board's thickness",
    unit="x thickness",
    warn=3.0,
    below=False,
    source=f"{COMMON_PRACTICE}; limit: {OURS}",
)
WIDE = Rule(
    check=CHECK_WIDE,
    measures="tail's width",
    unit="mm",
    warn=65.0,
    below=False,
    source=f"{COMMON_PRACTICE}; limit: {OURS}",
)
RULES = (NECK_SHARE, NECK, WIDE_SHARE, WIDE)

WIDE_CARCASE_MM = 300.0
"""From this width on a board is treated as a wide carcase side, whose free edge cups; ours."""


def measure_tails(joint: CornerJoint) -> Iterator[Measure]:
    """The tail rules' measures of a corner."""
    thickness_mm = joint.tail_board.thickness_mm
    neck_mm = min(tail.neck_mm for tail in joint.tails)
    width_mm = max(tail.width_mm for tail in joint.tails)
    yield Measure(rule=NECK, value=neck_mm)
    if joint.flares:
        yield Measure(rule=NECK_SHARE, value=neck_mm / thickness_mm)
    yield Measure(rule=WIDE, value=width_mm)
    yield Measure(rule=WIDE_SHARE, value=width_mm / thickness_mm)


def check_tails(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Narrow necks and wide tails, each with a count that passes."""
    yield from _necks(joint)
    yield from _wide(joint)
    yield from _free_edge(joint)


def _neck_level(joint: CornerJoint) -> tuple[Level, float | None, float, Rule]:
    neck_mm = min(tail.neck_mm for tail in joint.tails)
    level, limit = NECK.judge(neck_mm)
    if level is not Level.OK or not joint.flares:  # what has no neck is as strong as it is wide
        return level, limit, neck_mm, NECK
    share = neck_mm / joint.tail_board.thickness_mm
    return (*NECK_SHARE.judge(share), share, NECK_SHARE)


def _necks(joint: CornerJoint) -> Iterator[Finding]:
    level, limit, measured, rule = _neck_level(joint)
    if level is Level.OK:
        return
    narrowest = min(joint.tails, key=lambda tail: round(tail.neck_mm, 6))
    remedy = first_passing(joint, other_counts(joint, fewer=True), lambda varied: _neck_level(varied)[0] is Level.OK)
    least_mm = max(LEAST_NECK_MM, (NECK_SHARE.warn or 0) * joint.tail_board.thickness_mm)
    yield Finding(
        check=CHECK_NECK,
        level=level,
        place=Place(kind="corner", name=joint.name, part="tail", number=joint.tails.index(narrowest) + 1),
        measured=round(measured, 4),
        limit=limit,
        unit=rule.unit,
        message=f"its neck is {narrowest.neck_mm:.1f} mm in {joint.tail_board.thickness_mm:g} mm stock: it breaks off "
        "along the short grain at the baseline",
        fix=remedy.words
        if remedy
        else f"make every tail at least {mm_text(least_mm + 2 * joint.flare_mm)} wide at its end",
        source=rule.source,
        changes=remedy.changes if remedy else (),
    )


def _wide_level(joint: CornerJoint) -> tuple[Level, float | None, float, Rule]:
    width_mm = max(tail.width_mm for tail in joint.tails)
    level, limit = WIDE.judge(width_mm)
    if level is not Level.OK:
        return level, limit, width_mm, WIDE
    share = width_mm / joint.tail_board.thickness_mm
    return (*WIDE_SHARE.judge(share), share, WIDE_SHARE)


def _wide(joint: CornerJoint) -> Iterator[Finding]:
    level, limit, measured, rule = _wide_level(joint)
    if level is Level.OK:
        return
    widest = max(joint.tails, key=lambda tail: round(tail.width_mm, 6))
    remedy = first_passing(joint, other_counts(joint, fewer=False), lambda varied: _wide_level(varied)[0] is Level.OK)
    most_mm = min(WIDE.warn or 0, (WIDE_SHARE.warn or 0) * joint.tail_board.thickness_mm)
    yield Finding(
        check=CHECK_WIDE,
        level=level,
        place=Place(kind="corner", name=joint.name, part="tail", number=joint.tails.index(widest) + 1),
        measured=round(measured, 3),
        limit=limit,
        unit=rule.unit,
        message=f"{widest.width_mm:.1f} mm wide in {joint.tail_board.thickness_mm:g} mm stock, over {limit:g} "
        f"{rule.unit}: a wide tail cups and lets the corner rack",
        fix=remedy.words if remedy else f"keep every tail to {mm_text(most_mm)} or less",
        source=rule.source,
        changes=remedy.changes if remedy else (),
    )


def _pitches_mm(joint: CornerJoint) -> tuple[float, ...]:
    """From the middle of each pin to the middle of the next, the edges of the joint counted as middles."""
    middles = [pin.start_mm / 2 + pin.end_mm / 2 for pin in joint.full_pins]
    stops = [joint.covers.start_mm, *middles, joint.covers.end_mm]
    return tuple(right - left for left, right in itertools.pairwise(stops))


def _edge_is_wider(joint: CornerJoint) -> tuple[float, float] | None:
    """Widest edge pitch and the mean of the inner ones, when the edge is wider than the rest."""
    pitches = _pitches_mm(joint)
    if "spacing" in joint.settles or joint.covers.width_mm < WIDE_CARCASE_MM or len(pitches) < 4:
        return None
    edge_mm = max(pitches[0], pitches[-1])
    inner_mm = math.fsum(pitches[1:-1]) / len(pitches[1:-1])
    return (edge_mm, inner_mm) if edge_mm > inner_mm * 1.02 else None


def _free_edge(joint: CornerJoint) -> Iterator[Finding]:
    wider = _edge_is_wider(joint)
    if wider is None:
        return
    edge_mm, inner_mm = wider
    candidates = () if joint.spec.tails_at is not None else ({"spacing": Spacing.CLOSER_AT_EDGES},)
    remedy = first_passing(joint, candidates, lambda varied: _edge_is_wider(varied) is None)
    yield Finding(
        check=CHECK_EDGE_PITCH,
        level=Level.NOTE,
        place=Place(kind="corner", name=joint.name, part="edges"),
        measured=round(edge_mm, 2),
        limit=round(inner_mm, 2),
        unit="mm",
        message=f"the tails stand {edge_mm:.0f} mm apart at the edge and {inner_mm:.0f} mm elsewhere: cup and racking "
        "work hardest at a wide board's free edge, and many set the first tails closer there",
        fix=f'spacing "{Spacing.CLOSER_AT_EDGES}"' if remedy else "set the first and last tails closer",
        source=COMMON_PRACTICE,
        changes=remedy.changes if remedy else (),
    )
