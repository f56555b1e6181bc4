"""Pins: what breaks them sideways, and what still goes in beside them.

A pin is taken as a short cantilever as long as the tail board is thick, its root section a trapezoid: the narrow side
on the outside face, the wide side on the inside. A load at its tip along the board's width bends it there.
"""

from __future__ import annotations

from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, not_checked
from dovelayout.checks.remedy import Remedy, first_passing, wider_half_pins, wider_pins
from dovelayout.checks.rule import Measure, Rule
from dovelayout.joints.corner import CornerJoint, Pin
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.strength import bending_share

CHECK_THIN_PIN = "thin-pin"
CHECK_HALF_PIN = "half-pin"
CHECK_EDGE_TAIL = "edge-tail"
CHECK_KNIFE = "knife-access"

STRENGTH_SOURCE = "bending of a cantilever; MOR: Wood Handbook Tables 5-3 and 5-5; limits: ours"

PIN_LOAD = Rule(
    check=CHECK_THIN_PIN,
    measures="sideways load at a pin's tip that breaks it",
    unit="N",
    warn=250.0,
    stop=60.0,
    source=STRENGTH_SOURCE,
)
HALF_PIN_LOAD = Rule(
    check=CHECK_HALF_PIN,
    measures="sideways load at a half pin's tip that breaks it",
    unit="N",
    warn=250.0,
    stop=100.0,
    source=STRENGTH_SOURCE,
)
HALF_PIN_SHARE = Rule(
    check=CHECK_HALF_PIN,
    measures="half pin's narrow width as a share of a full pin's",
    unit="share",
    warn=1 / 3,
    source=COMMON_PRACTICE,
)
RULES = (PIN_LOAD, HALF_PIN_LOAD, HALF_PIN_SHARE)


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
    """The pin rules' measures of a corner, the weakest pin's each."""
    weakest = _weakest(joint, joint.full_pins)
    if weakest is not None:
        yield Measure(rule=PIN_LOAD, value=weakest[1])
    weakest_half = _weakest(joint, joint.half_pins)
    if weakest_half is not None:
        yield Measure(rule=HALF_PIN_LOAD, value=weakest_half[1])
    if joint.full_pins and joint.half_pins:
        narrow_mm = min(pin.width_mm for pin in joint.half_pins)
        yield Measure(rule=HALF_PIN_SHARE, value=narrow_mm / min(pin.width_mm for pin in joint.full_pins))


def check_pins(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Thin pins, weak half pins, tails at the edge, and gaps that no knife enters."""
    yield from _full_pins(joint, shop)
    yield from _half_pins(joint)
    yield from _edge_tails(joint)


def _weakest(joint: CornerJoint, pins: tuple[Pin, ...]) -> tuple[Pin, float] | None:
    # equal pins differ in the last bit; the first of them is named, and the only one worked out
    unlike = {(round(pin.width_mm, 9), round(pin.root_mm, 9)): pin for pin in reversed(pins)}
    loads = [(pin, load) for pin in reversed(unlike.values()) if (load := pin_load_n(joint, pin)) is not None]
    return min(loads, key=lambda row: round(row[1], 6)) if loads else None


def _full_pins(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    if not joint.full_pins:
        return
    weakest = _weakest(joint, joint.full_pins)
    if weakest is None:
        because = f"the bending strength of {joint.pin_board.wood.name} is not known"
        yield not_checked(
            CHECK_THIN_PIN, Place(kind="corner", name=joint.name, part=f"pins on {joint.spec.pins.label}"), because
        )
    else:
        pin, load_n = weakest
        level, limit = PIN_LOAD.judge(load_n)
        if level is not Level.OK:
            yield _load_finding(joint, pin, load_n, level, limit, PIN_LOAD, _stronger_pins(joint))
    narrowest = min(joint.full_pins, key=lambda pin: round(pin.width_mm, 6))
    yield from _access(joint, narrowest, shop)


def _stronger_pins(joint: CornerJoint) -> Remedy | None:
    def passes(varied: CornerJoint) -> bool:
        weakest = _weakest(varied, varied.full_pins)
        return weakest is not None and PIN_LOAD.judge(weakest[1])[0] is Level.OK

    return first_passing(joint, wider_pins(joint), passes)


def _stronger_half_pins(joint: CornerJoint) -> Remedy | None:
    def passes(varied: CornerJoint) -> bool:
        return len(varied.half_pins) == 2 and not list(_half_pin_faults(varied))

    return first_passing(joint, wider_half_pins(joint), passes)


def _load_finding(
    joint: CornerJoint,
    pin: Pin,
    load_n: float,
    level: Level,
    limit: float | None,
    rule: Rule,
    remedy: Remedy | None,
) -> Finding:
    thicker = "no width that fits passes: take stronger wood for the pin board, or a thicker one"
    return Finding(
        check=rule.check,
        level=level,
        place=Place(kind="corner", name=joint.name, part=f"{pin_name(joint, pin)}"),
        measured=round(load_n, 1),
        limit=limit,
        unit=rule.unit,
        message=f"{pin.width_mm:.1f} mm at its narrow side in {joint.pin_board.wood.name}: about {load_n:.0f} N at "
        f"the tip, a round hand or a glancing mallet knock is taken as 250 N, breaks it",
        fix=remedy.words if remedy else thicker,
        source=rule.source,
        changes=remedy.changes if remedy else (),
    )


def _access(joint: CornerJoint, pin: Pin, shop: Shop) -> Iterator[Finding]:
    place = Place(kind="corner", name=joint.name, part=f"{pin_name(joint, pin)}")
    gap_mm = pin.width_mm

    def wide_enough(least_mm: float) -> Remedy | None:
        return first_passing(
            joint,
            wider_pins(joint),
            lambda varied: min(p.width_mm for p in varied.full_pins) >= least_mm if varied.full_pins else False,
        )

    if gap_mm < shop.knife_mm - 1e-9:
        remedy = wide_enough(shop.knife_mm)
        yield Finding(
            check=CHECK_KNIFE,
            level=Level.WARN,
            place=place,
            measured=round(gap_mm, 3),
            limit=shop.knife_mm,
            unit="mm",
            message=f"a {shop.knife_mm:g} mm knife doesn't go into the {gap_mm:.2f} mm between the tails: the pins can't "
            "be knifed from them. Mark them with the saw itself, in the kerf",
            fix=remedy.words if remedy else f"a knife thinner than {gap_mm:.1f} mm, or the saw laid in the kerf",
            source=COMMON_PRACTICE,
            changes=remedy.changes if remedy else (),
        )
        yield Finding(
            check="kerf-pin",
            level=Level.NOTE,
            place=place,
            measured=round(gap_mm, 3),
            limit=shop.knife_mm,
            unit="mm",
            message="whether pins as fine as a saw kerf last is disputed: some masters say they break, old drawers "
            "have kept them for generations. What the wood beside them bears decides",
            source=COMMON_PRACTICE,
        )
    smallest = min(shop.chisels_mm, default=None)
    if smallest is not None and gap_mm < smallest - 1e-9:
        remedy = wide_enough(smallest)
        yield Finding(
            check=CHECK_THIN_PIN,
            level=Level.NOTE,
            place=place,
            measured=round(gap_mm, 3),
            limit=smallest,
            unit="mm",
            message=f"saw and knife only at the narrow side: {gap_mm:.1f} mm is under the smallest chisel, {smallest:g} mm",
            fix=remedy.words if remedy else "clear it with the saw and a narrower chisel",
            source=COMMON_PRACTICE,
            changes=remedy.changes if remedy else (),
        )


def _half_pin_faults(joint: CornerJoint) -> Iterator[tuple[Pin, float, Level, float | None, Rule]]:
    """Every half pin that is too weak or too thin, by either rule."""
    full_mm = min((pin.width_mm for pin in joint.full_pins), default=None)
    for pin in joint.half_pins:
        load_n = pin_load_n(joint, pin)
        if load_n is not None:
            level, limit = HALF_PIN_LOAD.judge(load_n)
            if level is not Level.OK:
                yield pin, load_n, level, limit, HALF_PIN_LOAD
        if full_mm:
            level, limit = HALF_PIN_SHARE.judge(pin.width_mm / full_mm)
            if level is not Level.OK:
                yield pin, pin.width_mm / full_mm, level, limit, HALF_PIN_SHARE


def _half_pins(joint: CornerJoint) -> Iterator[Finding]:
    if joint.half_pins and joint.pin_board.wood.mor_mpa is None:
        because = f"the bending strength of {joint.pin_board.wood.name} is not known"
        yield not_checked(
            CHECK_HALF_PIN, Place(kind="corner", name=joint.name, part=f"half pins on {joint.spec.pins.label}"), because
        )
    faults = list(_half_pin_faults(joint))
    if not faults:
        return
    remedy = _stronger_half_pins(joint)
    for pin, measured, level, limit, rule in faults:
        if rule is HALF_PIN_LOAD:
            yield _load_finding(joint, pin, measured, level, limit, rule, remedy)
            continue
        yield Finding(
            check=CHECK_HALF_PIN,
            level=level,
            place=Place(kind="corner", name=joint.name, part=f"{pin_name(joint, pin)}"),
            measured=round(measured, 4),
            limit=limit,
            unit=rule.unit,
            message=f"{pin.width_mm:.1f} mm is {measured:.2f} of a full pin; end pins under about a third tend to break",
            fix=remedy.words if remedy else "no half pin that fits passes: fewer tails or a wider board",
            source=rule.source,
            changes=remedy.changes if remedy else (),
        )


def _edge_tails(joint: CornerJoint) -> Iterator[Finding]:
    edges = (
        ("face edge", joint.tails[0].start_mm - joint.covers.start_mm),
        ("far edge", joint.covers.end_mm - joint.tails[-1].end_mm),
    )
    bare = [edge for edge, gap_mm in edges if gap_mm <= 1e-6]
    if not bare:
        return
    # not any half pin, but one that its own limits pass
    remedy = _stronger_half_pins(joint)
    for edge in bare:
        yield Finding(
            check=CHECK_EDGE_TAIL,
            level=Level.WARN,
            place=Place(kind="corner", name=joint.name, part=f"{edge}"),
            measured=0.0,
            limit=None,
            unit="mm",
            message=f"a tail, not a half pin, stands at the {edge}: nothing holds the tail board's corner against "
            "cupping, the tail is short-grained there, and a groove has to sit higher. Half pins at the edge are "
            "traditional rather than compulsory",
            fix=remedy.words if remedy else "start with a half pin, for instance by moving the layout half a pitch",
            source=COMMON_PRACTICE,
            changes=remedy.changes if remedy else (),
        )


def pin_name(joint: CornerJoint, pin: Pin) -> str:
    """'pin 2', or 'half pin at the face edge': as the sheets number them."""
    if not pin.half:
        return f"pin {joint.full_pins.index(pin) + 1}"
    return "half pin at the face edge" if pin is joint.pins[0] else "half pin at the far edge"
