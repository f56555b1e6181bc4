"""Sliding dovetails: the housing, the slide home, and what the weather does to them. The limits: `sliding_rules`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, not_checked, worst_first
from dovelayout.checks.rule import Rule
from dovelayout.checks.sliding.remedy import changed, first_that
from dovelayout.checks.sliding.router import check_router
from dovelayout.checks.sliding.rules import (
    CHECK_CUP,
    CHECK_DEPTH,
    CHECK_END,
    CHECK_GAP,
    CHECK_LONG,
    CHECK_PLYWOOD,
    CHECK_TRAVEL,
    CHECK_ZONE,
    CUP,
    DEEP,
    END,
    FRONT_ONLY_MM,
    GAP,
    LONG,
    SHALLOW,
    TRAVEL,
    USUAL_TAPER,
    ZONE,
)
from dovelayout.joints.moving import Axis, swing, unknown
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.species import WoodKind


def check_sliding(joint: SlidingJoint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one sliding dovetail, worst first."""
    return worst_first(finding for check in SLIDING_CHECKS.values() for finding in check(joint, shop))


def check_divider(joints: Iterable[SlidingJoint], shop: Shop) -> tuple[Finding, ...]:
    """All findings on the joints of one divider, worst first; what they all say is said once."""
    joints = tuple(joints)
    found: dict[tuple[str, Level, str, str], Finding] = {}
    for joint in joints:
        for finding in check_sliding(joint, shop):
            key = (finding.check, finding.level, finding.message, finding.fix)
            known = found.get(key)
            found[key] = (
                finding
                if known is None
                else replace(known, place=Place(kind="divider", name=joint.name, part="both ends"))
            )
    return worst_first(found.values())


def place(joint: SlidingJoint, what: str = "") -> Place:
    """The place of a finding: 'divider shelf, housing in side.left'."""
    return Place(kind="divider", name=joint.name, part=what or f"housing in {joint.spec.host.label}")


def _depth(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    thickness_mm = joint.host.thickness_mm
    share = joint.depth_mm / thickness_mm
    for rule in (DEEP, SHALLOW):
        level, limit = rule.judge(share)
        if level is Level.OK:
            continue
        # to the nearest tenth on the right side of the limit; where that can't be built, nothing beyond it can
        edge_mm = int((rule.warn or 0) * thickness_mm * 10) / 10
        if rule is SHALLOW:
            edge_mm = int((rule.note or 0) * thickness_mm * 10 + 1) / 10
        remedy = first_that(joint, [{"depth_mm": edge_mm}], _passes(rule, lambda j: j.depth_mm / j.host.thickness_mm))
        why = (
            "what is left under it splits off along the grain when the key is driven"
            if rule is DEEP
            else "the key has little hold"
        )
        yield Finding(
            check=CHECK_DEPTH,
            level=level,
            place=place(joint),
            measured=round(share, 4),
            limit=limit,
            unit=rule.unit,
            message=f"the housing takes {joint.depth_mm:g} mm of {thickness_mm:g} ({share:.0%}): {why}. Makers go from a "
            "third to a half",
            fix=remedy.words
            if remedy
            else "a thicker host"
            if rule is DEEP
            else "a thicker key, which bears a deeper one",
            source=rule.source,
            changes=remedy.changes if remedy else (),
        )


def _end_wood_mm(joint: SlidingJoint) -> float:
    spans = [span for s in (joint.front_mm, joint.host.width_mm) for span in (joint.floor_at(s), joint.neck_at(s))]
    low, high = min(span.start_mm for span in spans), max(span.end_mm for span in spans)
    return min(low, joint.host.length_mm - high)


def _end(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    wood_mm = _end_wood_mm(joint)
    level, limit = END.judge(wood_mm)
    if level is Level.OK:
        return
    at_mm = joint.spec.at_mm
    step_mm = int((END.warn or 0) - wood_mm) + 1.0
    candidates = ({"at_mm": round(at, 3)} for at in (at_mm + step_mm, at_mm - step_mm))
    remedy = first_that(joint, candidates, _passes(END, _end_wood_mm))
    yield Finding(
        check=CHECK_END,
        level=level,
        place=place(joint),
        measured=round(wood_mm, 3),
        limit=limit,
        unit=END.unit,
        message=f"{wood_mm:.1f} mm of short grain stands between the housing and the end of {joint.host.name}: it shears off",
        fix=remedy.words if remedy else "further from the end, or a longer host cut to length after the joint is made",
        source=END.source,
        changes=remedy.changes if remedy else (),
    )


def _wet_mm(joint: SlidingJoint) -> float:
    """How much of the tongue's length carries glue."""
    zone_mm = joint.spec.glue_zone_mm
    return joint.length_mm if zone_mm is None else min(zone_mm, joint.length_mm)


def _long(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    level, limit = LONG.judge(_wet_mm(joint))
    glue = shop.glue
    if joint.tapered or level is Level.OK or (glue is not None and not glue.has_water):
        return
    if glue is None:
        yield not_checked(
            CHECK_LONG,
            place(joint),
            f"the job names no glue, and a straight tongue with {_wet_mm(joint):.0f} mm of water-based glue on it may seize",
            'name it: [shop] glue = "pva"',
        )
        return
    eased = ""
    if glue.slippery:
        # it lubricates while it swells: hard going, yet not the one that is sure to seize
        level, limit = Level.WARN, LONG.warn
        eased = f". {glue.name[:1].upper()}{glue.name[1:]} eases it, as long as it stays warm and moving"
    tries = [
        {"taper_ratio": USUAL_TAPER},
        {"glue_zone_mm": FRONT_ONLY_MM},
    ]
    remedy = first_that(joint, tries, lambda j: j.tapered or LONG.judge(_wet_mm(j))[0] is Level.OK)
    others = "or glue on the front 76 mm alone, or a glue without water, such as polyurethane"
    yield Finding(
        check=CHECK_LONG,
        level=level,
        place=place(joint),
        measured=round(_wet_mm(joint), 2),
        limit=limit,
        unit=LONG.unit,
        message=f"a straight tongue with {_wet_mm(joint):.0f} mm of {glue.name} on it swells while it slides: such joints "
        f"have seized half way, for good{eased}. Makers disagree how far a straight one can go",
        fix=f"{remedy.words}, {others}" if remedy else others.removeprefix("or "),
        source=LONG.source,
        changes=remedy.changes if remedy else (),
    )


def _travel(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    ratio = joint.spec.taper_ratio
    if ratio is None:
        return
    swings = swing(joint.key, shop, Axis.THICKNESS)
    if swings is None:
        yield not_checked(CHECK_TRAVEL, place(joint), *unknown(joint.key, shop))
        return
    lost_mm = joint.tongue_at(joint.rear_mm, joint.tongue_mm).width_mm * swings.shrinks_share

    def used(varied: SlidingJoint) -> float:
        return lost_mm * (varied.spec.taper_ratio or 0.0) / varied.length_mm

    level, limit = TRAVEL.judge(used(joint))
    if level is Level.OK:
        return
    coarsest = joint.length_mm / lost_mm
    tries = ({"taper_ratio": n} for n in (320.0, 250.0, 200.0, 150.0, 100.0, 64.0) if n < coarsest)
    remedy = first_that(joint, tries, _passes(TRAVEL, used))
    yield Finding(
        check=CHECK_TRAVEL,
        level=level,
        place=place(joint),
        measured=round(used(joint), 3),
        limit=limit,
        unit=TRAVEL.unit,
        message=f"the key loses {lost_mm:.2f} mm of its {joint.wide_mm:g} by the time it is driest, and at "
        f"1:{ratio:g} it would have to travel {lost_mm * ratio:.0f} mm to be tight again, of {joint.length_mm:.0f}",
        fix=remedy.words if remedy else "a thinner key, or one glued at the front",
        source=TRAVEL.source,
        changes=remedy.changes if remedy else (),
    )


def _stuck_mm(joint: SlidingJoint) -> float:
    return max(0.0, joint.spec.cup_mm - 2 * joint.spec.clearance_mm)


def _cup(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    level, limit = CUP.judge(_stuck_mm(joint))
    if joint.tapered or level is Level.OK:
        return
    remedy = first_that(joint, [{"taper_ratio": USUAL_TAPER}], lambda j: j.tapered)
    yield Finding(
        check=CHECK_CUP,
        level=level,
        place=place(joint, f"key {joint.key.name}"),
        measured=round(_stuck_mm(joint), 3),
        limit=limit,
        unit=CUP.unit,
        message=f"{joint.key.name} is hollow by {joint.spec.cup_mm:g} mm over its {joint.key.width_mm:g} mm, and both "
        f"cheeks together let {2 * joint.spec.clearance_mm:g} mm through: "
        "a bowed tongue binds in a straight housing after a short way",
        fix=f"{remedy.words if remedy else 'a taper'}, or plane the key flat before its tongue is cut",
        source=CUP.source,
        changes=remedy.changes if remedy else (),
    )


def _plywood(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    if joint.host.wood.kind is WoodKind.PLYWOOD:
        yield Finding(
            check=CHECK_PLYWOOD,
            level=Level.WARN,
            place=place(joint),
            message=f"the cheeks of a housing in plywood chip and part between the plies, and {joint.host.name} is plywood",
            fix="a plain square housing, glued, or a solid host",
            source=COMMON_PRACTICE,
        )


def _gap(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    swings = swing(joint.host, shop)
    if swings is None:
        yield not_checked(CHECK_GAP, place(joint, "rear"), *unknown(joint.host, shop))
        return
    shrinks_mm = joint.host.width_mm * swings.shrinks_share
    level, limit = GAP.judge(joint.rear_gap_mm - shrinks_mm)
    if level is Level.OK:
        return
    wanted_mm = int((shrinks_mm + 1.0) * 10 + 1) / 10
    host, key = joint.host, joint.key
    widest_mm = host.width_mm - joint.spec.set_back_mm - wanted_mm
    alike = swing(key, shop)
    along = ""
    if alike is not None and shrinks_mm - key.width_mm * alike.shrinks_share <= joint.rear_gap_mm + 1e-9:
        # the key's own width shrinks as much: it stays inside as long as it dries as fast
        level = Level.NOTE
        along = f"; {key.name} shrinks along with it, as long as it dries as fast"
    yield Finding(
        check=CHECK_GAP,
        level=level,
        place=place(joint, "rear"),
        measured=round(joint.rear_gap_mm - shrinks_mm, 3),
        limit=limit,
        unit=GAP.unit,
        message=f"{host.name} shrinks by {shrinks_mm:.1f} mm over its {host.width_mm:g} and {joint.rear_gap_mm:g} mm are "
        f"free behind {key.name}, which may push the back off{along}",
        fix=f"{key.name} no wider than {widest_mm:.1f} mm, which leaves {wanted_mm:.1f} mm behind it",
        source=GAP.source,
        changes=(changed(key, "width", widest_mm),),
    )


def _zone(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    zone_mm = joint.spec.glue_zone_mm
    if zone_mm is None:
        return
    level, limit = ZONE.judge(_wet_mm(joint))
    if level is Level.OK:
        return
    remedy = first_that(joint, [{"glue_zone_mm": FRONT_ONLY_MM}], _passes(ZONE, _wet_mm))
    yield Finding(
        check=CHECK_ZONE,
        level=level,
        place=place(joint, f"key {joint.key.name}"),
        measured=round(_wet_mm(joint), 2),
        limit=limit,
        unit=ZONE.unit,
        message=f"glue over {_wet_mm(joint):.0f} mm is more than the front of the key: what is glued can't follow the host",
        fix=remedy.words if remedy else f"glue on {FRONT_ONLY_MM:g} mm or less",
        source=ZONE.source,
        changes=remedy.changes if remedy else (),
    )


def _passes(rule: Rule, measure: Callable[[SlidingJoint], float]) -> Callable[[SlidingJoint], bool]:
    return lambda joint: rule.judge(measure(joint))[0] is Level.OK


SLIDING_CHECKS: dict[str, Callable[[SlidingJoint, Shop], Iterator[Finding]]] = {
    "depth": _depth,
    "end": _end,
    "long": _long,
    "travel": _travel,
    "cup": _cup,
    "plywood": _plywood,
    "gap": _gap,
    "zone": _zone,
    "router": check_router,
}
