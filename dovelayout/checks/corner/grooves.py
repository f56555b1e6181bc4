"""Grooves: where one shows, what it takes from a half pin, and lines that land in the air over it.

In a through corner a groove inside one tail is cut away with the socket on the pin board, so it may run out there; on
the tail board it would show in the tail's end and has to stop short. A groove that crosses a pin shows on both.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Change, Finding, Level
from dovelayout.checks.remedy import Remedy, first_passing, mm_text, wider_half_pins
from dovelayout.checks.rule import Rule
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.faces import own_groove
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.shop import Shop

CHECK_SHOWS = "groove-shows"
CHECK_DEPTH = "groove-depth"
CHECK_STOPPED = "stopped-groove"

DEPTH = Rule(
    check=CHECK_DEPTH,
    measures="depth of the groove as a share of the board",
    unit="share",
    warn=0.40,
    stop=0.50,
    below=False,
    source=f"{COMMON_PRACTICE}; limits: {OURS}",
)
HALF_PIN_TAKEN = Rule(
    check=CHECK_SHOWS,
    measures="share of a half pin's width that the groove takes",
    unit="share",
    stop=0.5,
    below=False,
    source=OURS,
)
RULES = (DEPTH, HALF_PIN_TAKEN)

SLIPS_UNDER_MM = 10.0
"""A grooved side thinner than this is better served by slips (common practice, no source)."""


def check_grooves(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Everything a groove does to a corner; nothing when there is none."""
    groove = joint.spec.groove
    if groove is None:
        return
    yield from _shows(joint, groove)
    yield from _depth(joint, groove)


def _span(groove: Groove) -> Span:
    return Span(groove.from_edge_mm, groove.far_mm)


def _hidden(joint: CornerJoint) -> bool:
    """Whether the groove lies wholly inside one tail's neck, or clear of the joint."""
    groove, joint = joint.spec.groove, joint.across()
    if groove is None:
        return True
    span = _span(groove)
    if any(mitre.holds(span) for mitre in joint.mitres):
        return True  # both boards are mitred there, and the groove stays inside
    clear = span.overlap_mm(joint.covers) == 0 and all(span.overlap_mm(mitre) == 0 for mitre in joint.mitres)
    return clear or any(tail.neck.holds(span) for tail in joint.tails)


def _lines_in_air(joint: CornerJoint, groove: Groove) -> list[float]:
    """Places where a cheek's line on the inside face would run over the groove, at the end of the board."""
    span, joint = _span(groove), joint.across()
    places: list[float] = []
    for mitre in joint.mitres:
        places.extend(
            edge for edge in (mitre.start_mm, mitre.end_mm) if span.start_mm + 1e-6 < edge < span.end_mm - 1e-6
        )
    for tail in joint.tails:
        for at_mm, neck_mm in ((tail.start_mm, tail.neck_start_mm), (tail.end_mm, tail.neck_end_mm)):
            line = Span(min(at_mm, neck_mm), max(at_mm, neck_mm))
            crosses = line.start_mm < span.end_mm - 1e-6 and line.end_mm > span.start_mm + 1e-6
            # square at the very edge of the joint there is no cheek; the straight ones of a comb are lines too
            if crosses and (line.width_mm > 0 or joint.covers.start_mm < at_mm < joint.covers.end_mm):
                places.append(at_mm)
    return places


def _half_pin_share_taken(joint: CornerJoint, groove: Groove) -> float:
    span, joint = _span(groove), joint.across()
    return max((pin.root.overlap_mm(span) / pin.root_mm for pin in joint.half_pins), default=0.0)


def _shows(joint: CornerJoint, groove: Groove) -> Iterator[Finding]:
    place = Place(kind="corner", name=joint.name, part=f"groove {groove.from_edge_mm:g}-{groove.far_mm:g} mm")
    if _hidden(joint):
        if joint.lap_mm == 0 and _span(groove).overlap_mm(joint.across().covers) > 0:
            yield Finding(
                check=CHECK_STOPPED,
                level=Level.NOTE,
                place=place,
                message=f"the groove runs into a tail of {joint.tail_board.name}: stop it short of the end there, or it "
                f"shows in the tail's end grain; on {joint.pin_board.name} it can run through into the socket",
                source=COMMON_PRACTICE,
            )
        return
    remedy = _hiding(joint)
    fix, changes = (remedy.words, remedy.changes) if remedy else _no_hiding(joint, groove)
    taken = _half_pin_share_taken(joint, groove)
    level, limit = HALF_PIN_TAKEN.judge(taken)
    air = _lines_in_air(joint, groove) if groove.ploughed_first else []
    if level is not Level.OK:
        yield Finding(
            check=CHECK_SHOWS,
            level=level,
            place=place,
            measured=round(taken, 3),
            limit=limit,
            unit=HALF_PIN_TAKEN.unit,
            message=f"the groove takes {taken:.0%} of a half pin's width and leaves it to break",
            fix=fix,
            source=HALF_PIN_TAKEN.source,
            changes=changes,
        )
    elif air:
        yield Finding(
            check=CHECK_SHOWS,
            level=Level.STOP,
            place=place,
            measured=round(air[0], 2),
            unit="mm",
            message=f"a layout line lands in the groove (tail line at {air[0]:.1f} mm): over a groove that is already "
            "ploughed there is only air to knife in",
            fix=f'{fix}; or plough after the joint is cut and say ploughed = "after" in the groove',
            source=OURS,
            changes=changes,
        )
    else:
        pins = [pin for pin in joint.across().pins if pin.root.overlap_mm(_span(groove)) > 0]
        named = ", ".join(f"{pin.root_start_mm:.1f}-{pin.root_end_mm:.1f} mm" for pin in pins)
        through = f"a pin ({named})" if pins else "the edge of the joint"
        yield Finding(
            check=CHECK_SHOWS,
            level=Level.WARN,
            place=place,
            measured=round(math.fsum(pin.root.overlap_mm(_span(groove)) for pin in pins), 2),
            limit=0.0,
            unit="mm",
            message=f"the groove runs out through {through} and leaves a hole at the corner",
            fix=fix,
            source=COMMON_PRACTICE,
            changes=changes,
        )


def _hiding(joint: CornerJoint) -> Remedy | None:
    """Moves the layout, not the maker's groove: another half pin of 3 to 20 mm first, then the tail under the groove
    by itself."""
    if joint.spec.tails_at is None:
        steps = []
        for fewer in range(len(joint.tails)):
            for half_mm in (step / 2 for step in range(6, 41)):
                steps.append({"half_pin_mm": half_mm, "tail_count": len(joint.tails) - fewer})
        now_mm = joint.tails[0].start_mm - joint.covers.start_mm
        steps.sort(key=lambda row: (len(joint.tails) - row["tail_count"], abs(row["half_pin_mm"] - now_mm)))
        plain = [{"half_pin_mm": row["half_pin_mm"]} for row in steps if row["tail_count"] == len(joint.tails)]
        candidates = [*plain, *steps]
    else:
        candidates = list(wider_half_pins(joint)) + list(_stretched(joint))
    return first_passing(joint, candidates, _hidden_and_sound)


def _hidden_and_sound(joint: CornerJoint) -> bool:
    return _hidden(joint) and min(tail.neck_mm for tail in joint.tails) >= 0.6 * joint.tail_board.thickness_mm


def _stretched(joint: CornerJoint) -> Iterator[dict[str, tuple[Span, ...]]]:
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


def _no_hiding(joint: CornerJoint, groove: Groove) -> tuple[str, tuple[Change, ...]]:
    """The nearest place for the groove in the layout as it stands, rounded inwards to tenths of a mm."""
    places = []
    for tail in joint.across().tails:
        low = math.ceil((tail.neck_start_mm - 1e-9) * 10) / 10
        high = math.floor((tail.neck_end_mm - groove.width_mm + 1e-9) * 10) / 10
        if low <= high:
            places.append((low, high))
    if not places:
        return f"no tail is wide enough to take in a {mm_text(groove.width_mm)} groove; fewer tails would be", ()
    low, high = min(places, key=lambda row: abs(min(max(groove.from_edge_mm, row[0]), row[1]) - groove.from_edge_mm))
    place_mm = min(max(groove.from_edge_mm, low), high)
    table, name = joint.spec.origin
    return (
        f"move the groove to {place_mm:.1f} mm from the face edge ({low:.1f} to {high:.1f} hides it)",
        (groove_change(table, name, replace(groove, from_edge_mm=place_mm)),),
    )


def _depth(joint: CornerJoint, groove: Groove) -> Iterator[Finding]:
    grooved = [joint.tail_board]
    if own_groove(joint) is not None:
        grooved.append(joint.pin_board)  # a drawer back that stops above the groove has none
    for board in grooved:
        share = groove.depth_mm / board.thickness_mm
        level, limit = DEPTH.judge(share)
        place = Place(kind="corner", name=joint.name, part=f"groove in {board.name}")
        if level is not Level.OK:
            table, name = joint.spec.origin
            depth_mm = (
                int((DEPTH.warn or 0) * min(joint.tail_board.thickness_mm, joint.pin_board.thickness_mm) * 10) / 10
            )
            fixed = replace(groove, depth_mm=depth_mm)
            yield Finding(
                check=CHECK_DEPTH,
                level=level,
                place=place,
                measured=round(share, 4),
                limit=limit,
                unit=DEPTH.unit,
                message=f"{groove.depth_mm:g} mm deep in {board.thickness_mm:g} mm leaves "
                f"{board.thickness_mm - groove.depth_mm:.1f} mm of the board",
                fix=f"a groove {mm_text(depth_mm)} deep",
                source=DEPTH.source,
                changes=(groove_change(table, name, fixed),),
            )
        if board.thickness_mm < SLIPS_UNDER_MM:
            yield Finding(
                check=CHECK_DEPTH,
                level=Level.NOTE,
                place=place,
                measured=board.thickness_mm,
                limit=SLIPS_UNDER_MM,
                unit="mm",
                message=f"{board.thickness_mm:g} mm is thin for a groove: glue grooved slips to the inside instead and "
                "leave the side whole",
                source=COMMON_PRACTICE,
            )


def groove_change(table: str, name: str, groove: Groove) -> Change:
    """A change of the job that sets the whole groove."""
    value = {
        "from_edge": mm_text(groove.from_edge_mm),
        "width": mm_text(groove.width_mm),
        "depth": mm_text(groove.depth_mm),
        "ploughed": "before" if groove.ploughed_first else "after",
    }
    return Change(table=table, name=name, values={"groove": value})
