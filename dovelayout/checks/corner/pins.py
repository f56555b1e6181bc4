"""Pins: what breaks them sideways, and what still goes in beside them.

A pin is taken as a short cantilever as long as the tail board is thick, its root section a trapezoid: the narrow side
on the outside face, the wide side on the inside. A load at its tip along the board's width bends it there.
"""

from __future__ import annotations

from collections.abc import Iterator

from dovelayout.checks.corner.parts import part_of, place_of
from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.remedy import by_varying, wider_half_pins, wider_pins
from dovelayout.checks.rule import Breach, Measure, rule
from dovelayout.joints.corner import CornerJoint, Pin
from dovelayout.shop import Shop
from dovelayout.wood.strength import bending_share

STRENGTH_SOURCE = "bending of a cantilever; MOR: Wood Handbook Tables 5-3 and 5-5; limits: ours"

PIN_LOAD = rule(
    "thin-pin",
    "sideways load at a pin's tip that breaks it",
    unit="N",
    warn=250.0,
    stop=60.0,
    layout=True,
    source=STRENGTH_SOURCE,
)
CHISEL_GAP = rule(
    "thin-pin", "room for the smallest chisel at the pins' narrow side", unit="mm", layout=True, source=COMMON_PRACTICE
)
HALF_PIN_LOAD = rule(
    "half-pin",
    "sideways load at a half pin's tip that breaks it",
    unit="N",
    warn=250.0,
    stop=100.0,
    layout=True,
    source=STRENGTH_SOURCE,
)
HALF_PIN_SHARE = rule(
    "half-pin",
    "half pin's narrow width as a share of a full pin's",
    unit="share",
    warn=1 / 3,
    layout=True,
    source=COMMON_PRACTICE,
)
EDGE_TAIL = rule(
    "edge-tail", "whether a tail stands at an edge of the joint", unit="mm", layout=True, source=COMMON_PRACTICE
)
KNIFE_GAP = rule("knife-access", "room for the knife between the tails", unit="mm", layout=True, source=COMMON_PRACTICE)
KERF_PIN = rule("kerf-pin", "pins too fine for the shop's knife", unit="mm", layout=True, source=COMMON_PRACTICE)


def trapezoid_moment_mm4(*, narrow_mm: float, wide_mm: float, height_mm: float) -> float:
    """Second moment of area of a symmetrical trapezoid for bending across its parallel sides, about its axis of
    symmetry: I = h (a + b)(a^2 + b^2) / 48 (elementary mechanics)."""
    return height_mm * (narrow_mm + wide_mm) * (narrow_mm**2 + wide_mm**2) / 48


def trapezoid_modulus_mm3(*, narrow_mm: float, wide_mm: float, height_mm: float) -> float:
    """Section modulus of that trapezoid, S = I / (wide / 2). A half pin, whose outer side is square, is taken as a
    symmetrical one of the same widths (ours): up to an eighth too strong."""
    moment_mm4 = trapezoid_moment_mm4(narrow_mm=narrow_mm, wide_mm=wide_mm, height_mm=height_mm)
    return moment_mm4 / (wide_mm / 2)


def tip_load_n(*, pin: Pin, thickness_mm: float, length_mm: float, mor_mpa: float, runout_deg: float) -> float:
    """Load in N at the tip that breaks a pin: MOR x share left by the run-out x S / L.

    `thickness_mm` is how much of the pin board the pin stands in (its thickness, less the lap of a half-blind joint),
    `length_mm` the tail board's thickness.
    """
    modulus = trapezoid_modulus_mm3(narrow_mm=pin.width_mm, wide_mm=pin.root_mm, height_mm=thickness_mm)
    return mor_mpa * bending_share(min(90.0, runout_deg)) * modulus / length_mm


def pin_load_n(joint: CornerJoint, pin: Pin) -> float | None:
    """The breaking load of one pin of a corner, None where the wood's strength is not known."""
    board = joint.pin_board
    if board.wood.mor_mpa is None:
        return None
    return tip_load_n(
        pin=pin,
        thickness_mm=joint.depth_mm,
        length_mm=joint.tail_board.thickness_mm,
        mor_mpa=board.wood.mor_mpa,
        runout_deg=board.runout_deg,
    )


def measure_pins(joint: CornerJoint) -> Iterator[Measure]:
    """The pin rules' measures of a corner: of its weakest pin, and of each half pin."""
    # equal pins differ in the last bit; the first of them is named, and the only one worked out
    unlike = {(round(pin.width_mm, 9), round(pin.root_mm, 9)): pin for pin in reversed(joint.full_pins)}
    loads = [(pin, load_n) for pin in reversed(unlike.values()) if (load_n := pin_load_n(joint, pin)) is not None]
    if loads:
        pin, load_n = min(loads, key=lambda row: round(row[1], 6))
        yield Measure(rule=PIN_LOAD, value=load_n, part=pin)
    full_mm = min((pin.width_mm for pin in joint.full_pins), default=0.0)
    for pin in joint.half_pins:
        half_load_n = pin_load_n(joint, pin)
        if half_load_n is not None:
            yield Measure(rule=HALF_PIN_LOAD, value=half_load_n, part=pin)
        if full_mm:
            yield Measure(rule=HALF_PIN_SHARE, value=pin.width_mm / full_mm, part=pin)


def check_pins(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Thin pins, weak half pins, tails at the edge, and gaps that no knife enters."""
    if joint.pin_board.wood.mor_mpa is None:
        because = f"the bending strength of {joint.pin_board.wood.name} is not known"
        for load, what, pins in ((PIN_LOAD, "pins", joint.full_pins), (HALF_PIN_LOAD, "half pins", joint.half_pins)):
            if pins:
                yield load.not_checked(part_of(joint, what, board=joint.spec.pins.label), because)
    for measure in measure_pins(joint):
        if breach := measure.breach:
            yield _weak(joint, measure.part, breach)
    yield from _access(joint, shop)
    yield from _edge_tails(joint)


def _weak(joint: CornerJoint, pin: Pin, breach: Breach) -> Finding:
    message = (
        f"{pin.width_mm:.1f} mm at its narrow side in {joint.pin_board.wood.name}: about {breach.measured:.0f} N at the tip "
        "breaks it, and a round hand or a glancing mallet knock is taken as 250 N"
    )
    if breach.rule is HALF_PIN_SHARE:
        message = (
            f"{pin.width_mm:.1f} mm is {breach.measured:.2f} of a full pin; end pins under about a third tend to break"
        )
    return breach.finding(
        place_of(joint, pin),
        message,
        fix="fewer tails, stronger wood for the pins, or a thicker or wider board",
        remedies=by_varying(joint, wider_half_pins if pin.half else wider_pins),
    )


def _access(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Whether knife and smallest chisel go in where the pins are narrowest."""
    if not joint.full_pins:
        return
    pin = min(joint.full_pins, key=lambda pin: round(pin.width_mm, 6))
    place, gap_mm, wider = place_of(joint, pin), pin.width_mm, by_varying(joint, wider_pins)
    if breach := KNIFE_GAP.limited(warn=shop.knife_mm).breach(gap_mm):
        yield breach.finding(
            place,
            f"a {shop.knife_mm:g} mm knife doesn't go into the {gap_mm:.2f} mm between the tails: the pins can't be knifed "
            "from them. Mark them with the saw itself, in the kerf",
            fix=f"a knife thinner than {gap_mm:.1f} mm, or the saw laid in the kerf",
            remedies=wider,
        )
        yield KERF_PIN.said(
            Level.NOTE,
            place,
            "whether pins as fine as a saw kerf last is disputed: some masters say they break, old drawers have kept them "
            "for generations. What the wood beside them bears decides",
            measured=gap_mm,
            limit=shop.knife_mm,
        )
    if shop.chisels_mm and (breach := CHISEL_GAP.limited(note=min(shop.chisels_mm)).breach(gap_mm)):
        yield breach.finding(
            place,
            f"saw and knife only at the narrow side: {gap_mm:.1f} mm is under the smallest chisel, {breach.limit:g} mm",
            fix="a narrower chisel, or the saw",
            remedies=wider,
        )


def _edge_tails(joint: CornerJoint) -> Iterator[Finding]:
    edges = (
        ("face edge", joint.tails[0].start_mm - joint.covers.start_mm),
        ("far edge", joint.covers.end_mm - joint.tails[-1].end_mm),
    )
    for edge, gap_mm in edges:
        if gap_mm <= 1e-6:
            yield EDGE_TAIL.said(
                Level.WARN,
                part_of(joint, edge),
                f"a tail, not a half pin, stands at the {edge}: nothing holds the tail board's corner against cupping, the "
                "tail is short-grained there, and a groove has to sit higher. Half pins at the edge are traditional rather "
                "than compulsory",
                measured=0.0,
                fix="a half pin first, for instance by moving the layout half a pitch",
                remedies=by_varying(joint, wider_half_pins),
            )
