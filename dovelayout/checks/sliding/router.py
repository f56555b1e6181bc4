"""Sliding dovetails cut with a router: whether the bit fits the joint and lives through the wood."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.sliding.remedy import first_that
from dovelayout.checks.sliding.rules import (
    ANGLE,
    CHECK_ANGLE,
    CHECK_NECK,
    CHECK_PASS,
    CHECK_WIDTH,
    NECK,
    PASS,
    PLOUGH_MM,
    WIDTH,
)
from dovelayout.joints.sliding import Bit, SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPass:
    """What a straight bit ploughs before the dovetail bit, mm; None where the slot has no room for one."""

    wide_mm: float
    deep_mm: float


def first_pass(bit: Bit, depth_mm: float) -> FirstPass | None:
    """Narrower than the slot's neck and shallower than its floor by 0.8 mm, so that no mark of it is left."""
    wide_mm, deep_mm = bit.neck_mm(depth_mm) - PLOUGH_MM, depth_mm - PLOUGH_MM
    return FirstPass(wide_mm=wide_mm, deep_mm=deep_mm) if wide_mm > 0 and deep_mm > 0 else None


def first_pass_words(bit: Bit, depth_mm: float) -> str:
    """The first pass in words."""
    plough = first_pass(bit, depth_mm)
    if plough is None:
        return "the slot is too narrow for a straight bit to plough it first"
    return f"plough first with a straight bit, at most {plough.wide_mm:.1f} mm wide and {plough.deep_mm:.1f} mm deep"


def check_router(joint: SlidingJoint, shop: Shop) -> Iterator[Finding]:
    """Findings on the bit that the job names; nothing where it names none."""
    bit = joint.spec.bit
    if bit is None:
        return
    yield from _width(joint, bit)
    yield from _angle(joint, bit)
    yield from _neck(joint, bit)
    yield from _pass(joint, bit)


def _where(joint: SlidingJoint) -> Place:
    return Place(kind="divider", name=joint.name, part=f"bit for {joint.spec.host.label}")


def _spare_mm(joint: SlidingJoint) -> float:
    """The narrowest floor of the housing less the bit's diameter."""
    bit = joint.spec.bit
    return joint.floor_at(joint.front_mm).width_mm - (0.0 if bit is None else bit.diameter_mm)


def _width(joint: SlidingJoint, bit: Bit) -> Iterator[Finding]:
    level, limit = WIDTH.judge(_spare_mm(joint))
    if level is Level.OK:
        return
    floor_mm = bit.diameter_mm + _spare_mm(joint)
    narrower = replace(bit, diameter_mm=int(floor_mm * 10) / 10)
    remedy = first_that(joint, [{"bit": narrower}], lambda j: WIDTH.judge(_spare_mm(j))[0] is Level.OK)
    yield Finding(
        check=CHECK_WIDTH,
        level=level,
        place=_where(joint),
        measured=round(_spare_mm(joint), 3),
        limit=limit,
        unit=WIDTH.unit,
        message=f"a bit of {bit.diameter_mm:g} mm is wider than the housing, whose floor is {floor_mm:.2f} mm at the front",
        fix=remedy.words if remedy else "a narrower bit, or a thicker key",
        source=WIDTH.source,
        changes=remedy.changes if remedy else (),
    )


def _angle(joint: SlidingJoint, bit: Bit) -> Iterator[Finding]:
    def gap_mm(varied: SlidingJoint) -> float:
        return abs(varied.slope.flare_mm(varied.depth_mm) - bit.slope.flare_mm(varied.depth_mm))

    level, limit = ANGLE.judge(gap_mm(joint))
    if level is Level.OK:
        return
    remedy = first_that(joint, [{"slope": bit.slope}], lambda j: ANGLE.judge(gap_mm(j))[0] is Level.OK)
    yield Finding(
        check=CHECK_ANGLE,
        level=level,
        place=_where(joint),
        measured=round(gap_mm(joint), 3),
        limit=limit,
        unit=ANGLE.unit,
        message=f"the joint leans {joint.slope.degrees:.1f}° and the bit {bit.slope.degrees:.1f}°: key and housing touch "
        f"along a line and gape by {gap_mm(joint):.2f} mm at the other end of the cheek",
        fix=remedy.words if remedy else f"a bit of {joint.slope.degrees:.1f}°",
        source=ANGLE.source,
        changes=remedy.changes if remedy else (),
    )


def _neck(joint: SlidingJoint, bit: Bit) -> Iterator[Finding]:
    neck_mm = bit.neck_mm(joint.depth_mm)
    level, limit = NECK.judge(neck_mm)
    if level is Level.OK:
        return
    shallower = {"depth_mm": int(bit.slope.ratio * (bit.diameter_mm - (NECK.note or 0)) / 2 * 10) / 10}
    remedy = first_that(joint, [shallower], lambda j: NECK.judge(bit.neck_mm(j.depth_mm))[0] is Level.OK)
    yield Finding(
        check=CHECK_NECK,
        level=level,
        place=_where(joint),
        measured=round(neck_mm, 3),
        limit=limit,
        unit=NECK.unit,
        message=f"at {joint.depth_mm:g} mm the bit's own neck is {neck_mm:.2f} mm, thinner than a 6.35 mm shank: it snaps. "
        f"{first_pass_words(bit, joint.depth_mm).capitalize()}",
        fix=remedy.words if remedy else "a bit of smaller angle, or a wider one",
        source=NECK.source,
        changes=remedy.changes if remedy else (),
    )


def _pass(joint: SlidingJoint, bit: Bit) -> Iterator[Finding]:
    if bit.ploughed_first:
        return
    hardness_n = joint.host.wood.side_hardness_n
    if hardness_n is None:
        yield not_checked(
            CHECK_PASS, _where(joint), f"the hardness of {joint.host.wood.name} isn't known", "plough first"
        )
        return
    level, limit = PASS.judge(hardness_n)
    if level is Level.OK:
        return
    ploughed = replace(bit, ploughed_first=True)
    remedy = first_that(joint, [{"bit": ploughed}], lambda j: j.spec.bit is not None and j.spec.bit.ploughed_first)
    yield Finding(
        check=CHECK_PASS,
        level=level,
        place=_where(joint),
        measured=hardness_n,
        limit=limit,
        unit=PASS.unit,
        message=f"carbide tips snap in a single full-depth pass through wood as hard as {joint.host.wood.name}",
        fix=first_pass_words(bit, joint.depth_mm),
        source=PASS.source,
        changes=remedy.changes if remedy else (),
    )
