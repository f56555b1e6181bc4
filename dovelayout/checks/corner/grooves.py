"""Grooves: where one shows, what it takes from a half pin, and lines that land in the air over it.

In a through corner a groove inside one tail is cut away with the socket on the pin board, so it may run out there; on
the tail board it would show in the tail's end and has to stop short. A groove that crosses a pin shows on both.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from dovelayout.checks.corner.parts import part_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import Fields, Remedies, by_varying, in_turn, mm_text, wider_half_pins
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.faces import own_groove
from dovelayout.joints.spacing import Span
from dovelayout.shop import Shop

DEPTH = rule(
    "groove-depth",
    "depth of the groove as a share of the board",
    unit="share",
    warn=0.40,
    stop=0.50,
    below=False,
    source=f"{COMMON_PRACTICE}; limits: {OURS}",
)
THIN = rule("groove-depth", "thickness of a grooved board", unit="mm", note=10.0, source=COMMON_PRACTICE)
HALF_PIN_TAKEN = rule(
    "groove-shows",
    "share of a half pin's width that the groove takes",
    unit="share",
    stop=0.5,
    below=False,
    layout=True,
)
LINE_IN_AIR = rule("groove-shows", "layout line over a groove that is already ploughed", unit="mm", layout=True)
RUNS_OUT = rule(
    "groove-shows", "how much of the groove runs out through pins", unit="mm", layout=True, source=COMMON_PRACTICE
)
STOPPED = rule("stopped-groove", "whether a groove runs into a tail's end", layout=True, source=COMMON_PRACTICE)

HALF_PINS_TRIED_MM = tuple(step / 2 for step in range(6, 41))
"""Half pins that are tried to hide a groove: 3 to 20 mm; ours."""


def check_grooves(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Everything a groove does to a corner; nothing when there is none."""
    groove = joint.spec.groove
    if groove is None:
        return
    yield from _shows(joint, groove)
    yield from _depth(joint, groove)


def _span(groove: Groove) -> Span:
    return Span(groove.from_edge_mm, groove.far_mm)


def _hidden(joint: CornerJoint, span: Span) -> bool:
    """Whether the groove lies wholly inside one tail's neck, or clear of the joint."""
    if any(mitre.holds(span) for mitre in joint.mitres):
        return True  # both boards are mitred there, and the groove stays inside
    clear = span.overlap_mm(joint.covers) == 0 and all(span.overlap_mm(mitre) == 0 for mitre in joint.mitres)
    return clear or any(tail.neck.holds(span) for tail in joint.tails)


def _lines_in_air(joint: CornerJoint, span: Span) -> Iterator[float]:
    """Places where a cheek's line on the inside face would run over the groove, at the end of the board."""
    for mitre in joint.mitres:
        yield from (edge for edge in (mitre.start_mm, mitre.end_mm) if span.start_mm + 1e-6 < edge < span.end_mm - 1e-6)
    for tail in joint.tails:
        for at_mm, neck_mm in ((tail.start_mm, tail.neck_start_mm), (tail.end_mm, tail.neck_end_mm)):
            line = Span(min(at_mm, neck_mm), max(at_mm, neck_mm))
            crosses = line.start_mm < span.end_mm - 1e-6 and line.end_mm > span.start_mm + 1e-6
            # square at the very edge of the joint there is no cheek; the straight ones of a comb are lines too
            if crosses and (line.width_mm > 0 or joint.covers.start_mm < at_mm < joint.covers.end_mm):
                yield at_mm


def _shows(joint: CornerJoint, groove: Groove) -> Iterator[Finding]:
    place, span, across = part_of(joint, "groove"), _span(groove), joint.across()
    if _hidden(across, span):
        if joint.lap_mm == 0 and span.overlap_mm(across.covers) > 0:
            yield STOPPED.said(
                Level.NOTE,
                place,
                f"the groove runs into a tail of {joint.tail_board.name}: stop it short of the end there, or it shows in "
                f"the tail's end grain; on {joint.pin_board.name} it can run through into the socket",
            )
        return
    remedies = in_turn(by_varying(joint, _moved_layouts), *_moved_grooves(joint, groove))
    fix = f"fewer tails: none is wide enough to take in a groove of {mm_text(groove.width_mm)}"
    taken = max((pin.root.overlap_mm(span) / pin.root_mm for pin in across.half_pins), default=0.0)
    if breach := HALF_PIN_TAKEN.breach(taken):
        message = f"the groove takes {taken:.0%} of a half pin's width and leaves it to break"
        yield breach.finding(place, message, fix=fix, remedies=remedies)
    elif groove.ploughed_first and (air := list(_lines_in_air(across, span))):
        yield LINE_IN_AIR.said(
            Level.STOP,
            place,
            f"a layout line lands in the groove (tail line at {air[0]:.1f} mm): over a groove that is already ploughed "
            "there is only air to knife in",
            measured=air[0],
            fix=f"{fix}; or the groove ploughed after the joint is cut",
            remedies=remedies,
        )
    else:
        pins = [pin for pin in across.pins if pin.root.overlap_mm(span) > 0]
        named = ", ".join(f"{pin.root_start_mm:.1f}-{pin.root_end_mm:.1f} mm" for pin in pins)
        yield RUNS_OUT.said(
            Level.WARN,
            place,
            f"the groove runs out through {f'a pin ({named})' if pins else 'the edge of the joint'} and leaves a hole at "
            "the corner",
            measured=math.fsum(pin.root.overlap_mm(span) for pin in pins),
            limit=0.0,
            fix=fix,
            remedies=remedies,
        )


def _moved_layouts(joint: CornerJoint) -> Iterator[Fields]:
    """Moves the layout, not the maker's groove: other half pins first, then the tail under the groove by itself."""
    if joint.spec.tails_at is not None:
        yield from wider_half_pins(joint)
        yield from _stretched(joint)
        return
    now_mm = joint.tails[0].start_mm - joint.covers.start_mm
    nearest = sorted(HALF_PINS_TRIED_MM, key=lambda half_mm: abs(half_mm - now_mm))
    yield from ({"half_pin_mm": half_mm} for half_mm in nearest)
    for count in range(len(joint.tails), 0, -1):
        yield from ({"half_pin_mm": half_mm, "tail_count": count} for half_mm in nearest)


def _stretched(joint: CornerJoint) -> Iterator[Fields]:
    """The nearest tail of an explicit layout widened until its neck takes the groove in."""
    groove = joint.spec.groove
    if groove is None:
        return
    stretch, flare_mm = joint.spec.cant.stretch, joint.flare_mm
    span = Span(groove.from_edge_mm * stretch, groove.far_mm * stretch)  # along the end, as the tails are
    for index, tail in enumerate(joint.tails):
        wide = Span(min(tail.start_mm, span.start_mm - flare_mm - 0.5), max(tail.end_mm, span.end_mm + flare_mm + 0.5))
        spans = [Span(t.start_mm, t.end_mm) for t in joint.tails]
        spans[index] = wide
        yield {"tails_at": tuple(spans)}


def _moved_grooves(joint: CornerJoint, groove: Groove) -> Iterator[Remedies]:
    """The groove itself moved into a tail of the layout as it stands, the nearest first, by tenths of a mm inwards."""
    rows = []
    for tail in joint.across().tails:
        low = math.ceil((tail.neck_start_mm - 1e-9) * 10) / 10
        high = math.floor((tail.neck_end_mm - groove.width_mm + 1e-9) * 10) / 10
        if low <= high:
            rows.append((min(max(groove.from_edge_mm, low), high), low, high))
    for at_mm, low, high in sorted(rows, key=lambda row: abs(row[0] - groove.from_edge_mm)):
        words = f"the groove moved to {at_mm:.1f} mm from the face edge ({low:.1f} to {high:.1f} mm hides it)"
        yield by_varying(joint, [{"groove": replace(groove, from_edge_mm=at_mm)}], words)


def _depth(joint: CornerJoint, groove: Groove) -> Iterator[Finding]:
    grooved = [joint.tail_board]
    if own_groove(joint) is not None:
        grooved.append(joint.pin_board)  # a drawer back that stops above the groove has none
    thinner_mm = min(joint.tail_board.thickness_mm, joint.pin_board.thickness_mm)
    depth_mm = int((DEPTH.warn or 0) * thinner_mm * 10) / 10
    for board in grooved:
        place = part_of(joint, "groove", board=board.name)
        if breach := DEPTH.breach(groove.depth_mm / board.thickness_mm):
            yield breach.finding(
                place,
                f"{groove.depth_mm:g} mm deep in {board.thickness_mm:g} mm leaves "
                f"{board.thickness_mm - groove.depth_mm:.1f} mm of the board",
                fix="a shallower groove, or a thicker board",
                remedies=by_varying(
                    joint, [{"groove": replace(groove, depth_mm=depth_mm)}], f"a groove {mm_text(depth_mm)} deep"
                ),
            )
        if breach := THIN.breach(board.thickness_mm):
            yield breach.finding(
                place,
                f"{board.thickness_mm:g} mm is thin for a groove: glue grooved slips to the inside instead and leave the "
                "side whole",
            )
