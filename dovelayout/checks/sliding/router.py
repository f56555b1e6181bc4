"""Sliding dovetails cut with a router: whether the bit fits the joint and lives through the wood."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dovelayout.checks.finding import COMMON_PRACTICE, Finding
from dovelayout.checks.remedy import by_varying, mm_text
from dovelayout.checks.rule import rule
from dovelayout.joints.sliding import Bit, SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop

WIDTH = rule("router-width", "housing's floor less the bit's diameter", unit="mm", stop=0.0)
ANGLE = rule("angle-mismatch", "gap at one cheek where key and bit lean differently", unit="mm", warn=0.15, below=False)
NECK = rule("router-neck", "slot that the bit leaves at the face", unit="mm", note=6.35, source=COMMON_PRACTICE)
PASS = rule(
    "router-pass",
    "side hardness of a host routed in a single full-depth pass",
    unit="N",
    warn=6000.0,
    below=False,
    source="hardness: Wood Handbook FPL-GTR-190, Table 5-3a; limit: ours",
)

PLOUGH_MM = 0.8
"""How much narrower and shallower than the slot the straight bit ploughs first (common practice, no source)."""


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
    place = Place(kind="divider", name=joint.name, part="bit for the housing", board=joint.spec.host.label)
    yield from _width(joint, bit, place)
    yield from _angle(joint, bit, place)
    yield from _neck(joint, bit, place)
    yield from _pass(joint, bit, place)


def _width(joint: SlidingJoint, bit: Bit, place: Place) -> Iterator[Finding]:
    floor_mm = joint.floor_at(joint.front_mm).width_mm
    if breach := WIDTH.breach(floor_mm - bit.diameter_mm):
        narrower = replace(bit, diameter_mm=int(floor_mm * 10) / 10)
        yield breach.finding(
            place,
            f"a bit of {bit.diameter_mm:g} mm is wider than the housing, whose floor is {floor_mm:.2f} mm at the front",
            fix="a narrower bit, or a thicker key",
            remedies=by_varying(joint, [{"bit": narrower}], f"a bit of {mm_text(narrower.diameter_mm)}"),
        )


def _angle(joint: SlidingJoint, bit: Bit, place: Place) -> Iterator[Finding]:
    gap_mm = abs(joint.slope.flare_mm(joint.depth_mm) - bit.slope.flare_mm(joint.depth_mm))
    if breach := ANGLE.breach(gap_mm):
        yield breach.finding(
            place,
            f"the joint leans {joint.slope.degrees:.1f}° and the bit {bit.slope.degrees:.1f}°: key and housing touch along "
            f"a line and gape by {gap_mm:.2f} mm at the other end of the cheek",
            fix=f"a bit of {joint.slope.degrees:.1f}°",
            remedies=by_varying(joint, [{"slope": bit.slope}], f"a joint as the bit leans, {bit.slope.words}"),
        )


def _neck(joint: SlidingJoint, bit: Bit, place: Place) -> Iterator[Finding]:
    neck_mm = bit.neck_mm(joint.depth_mm)
    if breach := NECK.breach(neck_mm):
        shallower = int(bit.slope.ratio * (bit.diameter_mm - (NECK.note or 0)) / 2 * 10) / 10
        yield breach.finding(
            place,
            f"at {joint.depth_mm:g} mm the bit's own neck is {neck_mm:.2f} mm, thinner than a 6.35 mm shank: it snaps. "
            f"{first_pass_words(bit, joint.depth_mm).capitalize()}",
            fix="a bit of smaller angle, or a wider one",
            remedies=by_varying(joint, [{"depth_mm": shallower}]),
        )


def _pass(joint: SlidingJoint, bit: Bit, place: Place) -> Iterator[Finding]:
    wood = joint.host.wood
    if bit.ploughed_first:
        return
    if wood.side_hardness_n is None:
        yield PASS.not_checked(place, f"the hardness of {wood.name} isn't known", "plough first")
    elif breach := PASS.breach(wood.side_hardness_n):
        plough = first_pass_words(bit, joint.depth_mm)
        yield breach.finding(
            place,
            f"carbide tips snap in a single full-depth pass through wood as hard as {wood.name}",
            fix=plough,
            remedies=by_varying(joint, [{"bit": replace(bit, ploughed_first=True)}], plough),
        )
