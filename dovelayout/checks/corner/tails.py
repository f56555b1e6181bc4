"""Tails: necks too narrow, tails too wide, and a wide board's free edge."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from dovelayout.checks.corner.parts import part_of, place_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import by_varying, fewer_tails, mm_text, more_tails
from dovelayout.checks.rule import Breach, Measure, rule
from dovelayout.joints.corner import CornerJoint, Tail
from dovelayout.joints.spacing import LEAST_NECK_MM, Spacing
from dovelayout.shop import Shop

_PRACTICE = f"{COMMON_PRACTICE}; limit: {OURS}"

NECK = rule("tail-neck", "tail's neck at the baseline", unit="mm", stop=LEAST_NECK_MM, layout=True)
NECK_SHARE = rule(
    "tail-neck",
    "tail's neck as a share of the tail board's thickness",
    unit="share",
    warn=0.6,
    layout=True,
    source=_PRACTICE,
)
WIDE = rule("wide-tail", "tail's width", unit="mm", warn=65.0, below=False, layout=True, source=_PRACTICE)
WIDE_SHARE = rule(
    "wide-tail",
    "tail's width over the tail board's thickness",
    unit="x thickness",
    warn=3.0,
    below=False,
    layout=True,
    source=_PRACTICE,
)
EDGE_PITCH = rule(
    "edge-pitch",
    "pitch of the tails at an edge of a wide board, against the pitch elsewhere",
    unit="mm",
    below=False,
    layout=True,
    source=COMMON_PRACTICE,
)

WIDE_CARCASE_MM = 300.0
"""From this width on a board is treated as a wide carcase side, whose free edge cups; ours."""

PITCH_TOLERANCE = 1.02
"""An edge pitch up to so many times the others is the same to the eye; ours."""


def measure_tails(joint: CornerJoint) -> Iterator[Measure]:
    """The tail rules' measures of a corner."""
    thickness_mm = joint.tail_board.thickness_mm
    narrowest = min(joint.tails, key=lambda tail: round(tail.neck_mm, 6))
    widest = max(joint.tails, key=lambda tail: round(tail.width_mm, 6))
    yield Measure(rule=NECK, value=narrowest.neck_mm, part=narrowest)
    if joint.flares:  # a straight finger has no neck: it is as strong as it is wide
        yield Measure(rule=NECK_SHARE, value=narrowest.neck_mm / thickness_mm, part=narrowest)
    yield Measure(rule=WIDE, value=widest.width_mm, part=widest)
    yield Measure(rule=WIDE_SHARE, value=widest.width_mm / thickness_mm, part=widest)


def check_tails(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Narrow necks and wide tails, each with counts that may pass."""
    reported: set[str] = set()
    for measure in measure_tails(joint):
        if measure.rule.check not in reported and (breach := measure.breach):  # of two limits the first says it all
            reported.add(measure.rule.check)
            yield _neck(joint, measure.part, breach) if breach.rule.below else _wide(joint, measure.part, breach)
    yield from _free_edge(joint)


def _neck(joint: CornerJoint, tail: Tail, breach: Breach) -> Finding:
    least_mm = max(LEAST_NECK_MM, (NECK_SHARE.warn or 0) * joint.tail_board.thickness_mm)
    return breach.finding(
        place_of(joint, tail),
        f"its neck is {tail.neck_mm:.1f} mm in {joint.tail_board.thickness_mm:g} mm stock: it breaks off along the short "
        "grain at the baseline",
        fix=f"every tail at least {mm_text(least_mm + 2 * joint.flare_mm)} wide at its end",
        remedies=by_varying(joint, fewer_tails),
    )


def _wide(joint: CornerJoint, tail: Tail, breach: Breach) -> Finding:
    most_mm = min(WIDE.warn or 0, (WIDE_SHARE.warn or 0) * joint.tail_board.thickness_mm)
    return breach.finding(
        place_of(joint, tail),
        f"{tail.width_mm:.1f} mm wide in {joint.tail_board.thickness_mm:g} mm stock, over {breach.limit:g} "
        f"{breach.rule.unit}: a wide tail cups and lets the corner rack",
        fix=f"every tail {mm_text(most_mm)} wide or less",
        remedies=by_varying(joint, more_tails),
    )


def _pitches_mm(joint: CornerJoint) -> tuple[float, ...]:
    """From the middle of each pin to the middle of the next, the edges of the joint counted as middles."""
    middles = [pin.start_mm / 2 + pin.end_mm / 2 for pin in joint.full_pins]
    stops = [joint.covers.start_mm, *middles, joint.covers.end_mm]
    return tuple(right - left for left, right in itertools.pairwise(stops))


def _free_edge(joint: CornerJoint) -> Iterator[Finding]:
    pitches = _pitches_mm(joint)
    if "spacing" in joint.settles or joint.covers.width_mm < WIDE_CARCASE_MM or len(pitches) < 4:
        return
    edge_mm = max(pitches[0], pitches[-1])
    inner_mm = math.fsum(pitches[1:-1]) / len(pitches[1:-1])
    if edge_mm > inner_mm * PITCH_TOLERANCE:
        closer = [] if joint.spec.tails_at is not None else [{"spacing": Spacing.CLOSER_AT_EDGES}]
        yield EDGE_PITCH.said(
            Level.NOTE,
            part_of(joint, "edges"),
            f"the tails stand {edge_mm:.0f} mm apart at the edge and {inner_mm:.0f} mm elsewhere: cup and racking work "
            "hardest at a wide board's free edge, and many set the first tails closer there",
            measured=round(edge_mm, 2),
            limit=round(inner_mm, 2),
            fix="first and last tail set closer",
            remedies=by_varying(joint, closer),
        )
