"""Sliding dovetails: the housing, the slide home, and what the weather does to them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, worst_first
from dovelayout.checks.remedy import by_setting, by_varying, mm_text
from dovelayout.checks.rule import rule
from dovelayout.checks.sliding.router import check_router
from dovelayout.joints.moving import Axis, swing, unknown
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.species import WoodKind
from dovelayout.words import capital

SHALLOW = rule("housing-depth", "share of the host that the key reaches in", unit="of the host", note=0.20)
DEEP = rule(
    "housing-depth", "share of the host that the housing takes", unit="of the host", warn=0.50, stop=0.60, below=False
)
END = rule("housing-end", "wood between the housing and the host's end", unit="mm", warn=10.0, source=COMMON_PRACTICE)
LONG = rule(
    "long-slide",
    "length of a straight tongue with a water-based glue on it",
    unit="mm",
    warn=200.0,
    stop=300.0,
    below=False,
)
TRAVEL = rule(
    "taper-travel",
    "travel that tightens a dried key again, share of its length",
    unit="of its length",
    stop=1.0,
    below=False,
)
CUP = rule(
    "cupped-key",
    "cup of a straight key beyond what both clearances let through",
    unit="mm",
    warn=0.05,
    stop=0.2,
    below=False,
)
PLYWOOD = rule("plywood-housing", "whether a housing is cut in plywood", source=COMMON_PRACTICE)
GAP = rule(
    "rear-gap",
    "room behind the key less what the host shrinks by",
    unit="mm",
    warn=1.0,
    source="movement: Wood Handbook FPL-GTR-190, Eq 4-5 and 13-2; limit: ours",
)
ZONE = rule(
    "glue-zone",
    "glued stretch of a key glued at the front alone",
    unit="mm",
    note=76.0,
    below=False,
    source=COMMON_PRACTICE,
)

USUAL_TAPER = 320.0
"""1:320, 0.8 mm over 250 (common practice, no source)."""

TAPERS_TRIED = (320.0, 250.0, 200.0, 150.0, 100.0, 64.0)
"""From the usual taper to the coarsest that makers call fierce (common practice, no source)."""

FRONT_ONLY_MM = 76.0
"""Glue on the front 3 in alone (common practice, no source)."""


def sliding_findings(joint: SlidingJoint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one sliding dovetail, worst first, their remedies not yet tried."""
    return worst_first(finding for check in SLIDING_CHECKS.values() for finding in check(joint, shop))


def divider_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings on all joints of one divider, worst first; what they all say is said once."""
    found: dict[tuple[str, Level, str, str], Finding] = {}
    for finding in findings:
        key = (finding.check, finding.level, finding.message, finding.fix)
        both = replace(finding.place, part="both ends", board="")
        found[key] = replace(found[key], place=both) if key in found else finding
    return worst_first(found.values())


def _place(joint: SlidingJoint, part: str) -> Place:
    return Place(kind="divider", name=joint.name, part=part)


def _housing(joint: SlidingJoint) -> Place:
    return replace(_place(joint, "housing"), board=joint.spec.host.label)


def _depth(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    thickness_mm = joint.host.thickness_mm
    share = joint.depth_mm / thickness_mm
    message = f"the housing takes {joint.depth_mm:g} mm of {thickness_mm:g} ({share:.0%}):"
    # to the nearest tenth on the right side of the limit; where that can't be built, nothing beyond it can
    if breach := DEEP.breach(share):
        yield breach.finding(
            _housing(joint),
            f"{message} what is left under it splits off along the grain when the key is driven. Makers go from a third to "
            "a half",
            fix="a thicker host",
            remedies=by_varying(joint, [{"depth_mm": int((DEEP.warn or 0) * thickness_mm * 10) / 10}]),
        )
    if breach := SHALLOW.breach(share):
        yield breach.finding(
            _housing(joint),
            f"{message} the key has little hold. Makers go from a third to a half",
            fix="a thicker key, which bears a deeper housing",
            remedies=by_varying(joint, [{"depth_mm": int((SHALLOW.note or 0) * thickness_mm * 10 + 1) / 10}]),
        )


def _end(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    spans = [span for s in (joint.front_mm, joint.host.width_mm) for span in (joint.floor_at(s), joint.neck_at(s))]
    low, high = min(span.start_mm for span in spans), max(span.end_mm for span in spans)
    wood_mm = min(low, joint.host.length_mm - high)
    if breach := END.breach(wood_mm):
        at_mm, step_mm = joint.spec.at_mm, int((END.warn or 0) - wood_mm) + 1.0
        yield breach.finding(
            _housing(joint),
            f"{wood_mm:.1f} mm of short grain stands between the housing and the end of {joint.host.name}: it shears off",
            fix="further from the end, or a longer host cut to length after the joint is made",
            remedies=by_varying(joint, [{"at_mm": round(at, 3)} for at in (at_mm + step_mm, at_mm - step_mm)]),
        )


def _wet_mm(joint: SlidingJoint) -> float:
    """How much of the tongue's length carries glue."""
    zone_mm = joint.spec.glue_zone_mm
    return joint.length_mm if zone_mm is None else min(zone_mm, joint.length_mm)


def _long(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    wet_mm, glue = _wet_mm(joint), shop.glue
    breach = LONG.breach(wet_mm)
    if joint.tapered or breach is None or (glue is not None and not glue.has_water):
        return
    if glue is None:
        because = (
            f"the job names no glue, and a straight tongue with {wet_mm:.0f} mm of water-based glue on it may seize"
        )
        yield LONG.not_checked(_housing(joint), because, "the glue named")
        return
    helps = ""
    if glue.slippery:
        # it lubricates while it swells: hard going, yet not the one that is sure to seize
        breach = replace(breach, level=Level.WARN, limit=LONG.warn)
        helps = f". {capital(glue.name)} helps it home, as long as it stays warm and moving"
    yield breach.finding(
        _housing(joint),
        f"a straight tongue with {wet_mm:.0f} mm of {glue.name} on it swells while it slides: such joints have seized half "
        f"way, for good{helps}. Makers disagree how far a straight one can go",
        fix=f"glue on the front {FRONT_ONLY_MM:g} mm alone, or a glue without water, such as polyurethane",
        remedies=by_varying(joint, [{"taper_ratio": USUAL_TAPER}, {"glue_zone_mm": FRONT_ONLY_MM}]),
        beside=True,
    )


def _travel(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    ratio = joint.spec.taper_ratio
    if ratio is None:
        return
    swings = swing(joint.key, shop, Axis.THICKNESS)
    if swings is None:
        yield TRAVEL.not_checked(_housing(joint), *unknown(joint.key, shop))
        return
    lost_mm = joint.tongue_at(joint.rear_mm, joint.tongue_mm).width_mm * swings.shrinks_share
    if breach := TRAVEL.breach(lost_mm * ratio / joint.length_mm):
        tapers = [{"taper_ratio": n} for n in TAPERS_TRIED if n < joint.length_mm / lost_mm]
        yield breach.finding(
            _housing(joint),
            f"the key loses {lost_mm:.2f} mm of its {joint.wide_mm:g} by the time it is driest, and at 1:{ratio:g} it would "
            f"have to travel {lost_mm * ratio:.0f} mm to be tight again, of {joint.length_mm:.0f}",
            fix="a thinner key, or one glued at the front",
            remedies=by_varying(joint, tapers),
        )


def _cup(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    breach = CUP.breach(max(0.0, joint.spec.cup_mm - 2 * joint.spec.clearance_mm))
    if breach and not joint.tapered:
        yield breach.finding(
            _place(joint, "key"),
            f"{joint.key.name} is hollow by {joint.spec.cup_mm:g} mm over its {joint.key.width_mm:g} mm, and both cheeks "
            f"together let {2 * joint.spec.clearance_mm:g} mm through: a bowed tongue binds in a straight housing after a "
            "short way",
            fix="the key planed flat before its tongue is cut",
            remedies=by_varying(joint, [{"taper_ratio": USUAL_TAPER}]),
            beside=True,
        )


def _plywood(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    if joint.host.wood.kind is WoodKind.PLYWOOD:
        message = (
            f"the cheeks of a housing in plywood chip and part between the plies, and {joint.host.name} is plywood"
        )
        yield PLYWOOD.said(Level.WARN, _housing(joint), message, fix="a plain square housing, glued, or a solid host")


def _gap(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    host, key, place, swings = joint.host, joint.key, _place(joint, "rear"), swing(joint.host, shop)
    if swings is None:
        yield GAP.not_checked(place, *unknown(host, shop))
        return
    shrinks_mm = host.width_mm * swings.shrinks_share
    breach = GAP.breach(joint.rear_gap_mm - shrinks_mm)
    if breach is None:
        return
    wanted_mm = int((shrinks_mm + 1.0) * 10 + 1) / 10
    widest_mm = host.width_mm - joint.spec.set_back_mm - wanted_mm
    both_dry, along = swing(key, shop), ""
    if both_dry is not None and shrinks_mm - key.width_mm * both_dry.shrinks_share <= joint.rear_gap_mm + 1e-9:
        # the key's own width shrinks as much: it stays inside as long as it dries as fast
        breach = replace(breach, level=Level.NOTE)
        along = f"; {key.name} shrinks along with it, as long as it dries as fast"
    yield breach.finding(
        place,
        f"{host.name} shrinks by {shrinks_mm:.1f} mm over its {host.width_mm:g} and {joint.rear_gap_mm:g} mm are free "
        f"behind {key.name}, which may push the back off{along}",
        fix="a narrower key",
        remedies=by_setting(
            "board",
            key.name,
            {"width": mm_text(widest_mm)},
            f"{key.name} no wider than {widest_mm:.1f} mm, which leaves {wanted_mm:.1f} mm behind it",
        ),
    )


def _zone(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    wet_mm = _wet_mm(joint)
    if joint.spec.glue_zone_mm is not None and (breach := ZONE.breach(wet_mm)):
        yield breach.finding(
            _place(joint, "key"),
            f"glue over {wet_mm:.0f} mm is more than the front of the key: what is glued can't follow the host",
            fix=f"glue on {FRONT_ONLY_MM:g} mm or less",
            remedies=by_varying(joint, [{"glue_zone_mm": FRONT_ONLY_MM}]),
        )


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
