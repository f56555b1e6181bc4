"""The numbers of corners for the bench: gauge settings, and key figures of each kind of corner, told once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from dovelayout.casework.divider import Divider
from dovelayout.checks.corner.fit import fullest_fit_mm
from dovelayout.checks.corner.tools import clearings
from dovelayout.drawing.bench.advice import how_to_use
from dovelayout.drawing.bench.sheet import (
    MOST_NAMES,
    BenchSheet,
    Figures,
    Gauge,
    Number,
    figure,
    fine,
    said_once,
    setting,
    titled,
)
from dovelayout.drawing.bench.slide_advice import divider_figures, divider_gauges
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.shop import Shop
from dovelayout.units import Unit, format_both, format_slope
from dovelayout.words import listed_by_kind

NO_SHOP = Shop()
SAME_MM = 0.05
"""Tails that differ by less are of one width (ours)."""


def bench_of(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> BenchSheet:
    """What joints alone can say; a whole job says more."""
    return BenchSheet(
        gauges=all_settings(joints, dividers, unit),
        parts=(*said_once((*corners_alike(joints, unit), *dividers_alike(dividers, unit))), *how_to_use()),
    )


def all_settings(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> tuple[Gauge, ...]:
    """Every setting of a marking gauge once, and which ends it scribes, settings of most ends first; then the bevel's."""
    return (*_gauges(joints, dividers, unit), *_bevels(joints, dividers))


def _bevels(joints: Sequence[CornerJoint], dividers: Sequence[Divider]) -> Iterable[Gauge]:
    found: dict[float, dict[str, list[str]]] = {}
    for joint in joints:
        if joint.flares and joint.spec.cant.is_square:
            found.setdefault(joint.slope.ratio, {}).setdefault("corner", []).append(joint.name)
    for divider in dividers:
        found.setdefault(divider.joint.slope.ratio, {}).setdefault("divider", []).append(divider.name)
    for ratio, whose in found.items():
        if len(found) == 1 and not dividers:
            yield Gauge(setting=_slope(ratio), scribes=("bevel: all corners",))
            return
        said = [f"{what}{'s' if len(names) > 1 else ''} {listed_by_kind(names)}" for what, names in whose.items()]
        yield Gauge(setting=_slope(ratio), scribes=(f"bevel: {'; '.join(said)}",))


def _slope(ratio: float) -> Number:
    said, _, degrees = format_slope(ratio).partition(" (")
    return Number(text=said, other=degrees.removesuffix(")"))


def _gauges(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> tuple[Gauge, ...]:
    found: dict[float, dict[str, dict[str, None]]] = {}
    counts: dict[float, int] = {}

    def scribe(value_mm: float, where: str, board: str) -> None:
        key = round(value_mm, 3)
        found.setdefault(key, {}).setdefault(where, {})[board] = None
        counts[key] = counts.get(key, 0) + 1

    for joint in joints:
        tails, pins = joint.end_faces()
        scribe(tails.baseline_mm, joint.gauged[0], joint.tail_board.name)
        scribe(pins.baseline_mm, joint.gauged[1], joint.pin_board.name)
        if pins.end_gauge_mm is not None:
            scribe(pins.end_gauge_mm, "sockets, on the end grain", joint.pin_board.name)
    for value_mm, where, board in divider_gauges(dividers):
        scribe(value_mm, where, board)
    return tuple(
        Gauge(
            setting=setting(value_mm, unit),
            scribes=tuple(f"{where}: {listed_by_kind(boards)}" for where, boards in found[value_mm].items()),
        )
        for value_mm in sorted(found, key=lambda key: -counts[key])
    )


def corners_alike(joints: Sequence[CornerJoint], unit: Unit, shop: Shop = NO_SHOP) -> tuple[Figures, ...]:
    """Key figures of all corners; those whose figures are all the same are told once."""
    alike: dict[Figures, list[CornerJoint]] = {}
    for joint in joints:
        alike.setdefault(_figures(joint, unit, shop), []).append(joint)
    return tuple(
        titled("Corner", [joint.name for joint in same], replace(figures, about=_about(same)), unit)
        for figures, same in alike.items()
    )


def _about(joints: Sequence[CornerJoint]) -> tuple[str, ...]:
    """Which ends meet: every corner of a few, the boards of many."""
    if len(joints) <= MOST_NAMES:
        return tuple(
            f"{joint.name}: {joint.spec.tails.label} (tails) to {joint.spec.pins.label} (pins)" for joint in joints
        )
    tails = listed_by_kind(dict.fromkeys(joint.tail_board.name for joint in joints))
    pins = listed_by_kind(dict.fromkeys(joint.pin_board.name for joint in joints))
    return (f"tails on {tails}; pins on {pins}",)


def _figures(joint: CornerJoint, unit: Unit, shop: Shop) -> Figures:
    """One corner's figures, without its name."""
    tails, pins = joint.end_faces()

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=unit)

    return Figures(
        title="",
        grids=(
            (
                *_settings(tails, pins, unit),
                *_layout(joint, unit),
                *_chisels(joint, shop, unit),
                *_fit(joint, shop),
            ),
            tuple(
                (f"{joint.tail} {count} from face edge", _span(tail.start_mm, tail.end_mm, unit))
                for count, tail in enumerate(joint.tails, 1)
            ),
        ),
        lines=(*_canted(joint, both), *_sockets(pins, both), *_mitres(joint), *_lid(joint, both)),
    )


def _settings(tails: EndFaces, pins: EndFaces, unit: Unit) -> Iterable[tuple[str, Number]]:
    yield "gauge, tails", fine(tails.baseline_mm, unit)
    if pins.end_gauge_mm is None:
        yield "gauge, pins", fine(pins.baseline_mm, unit)
        return
    yield "gauge, pins, inside face", fine(pins.baseline_mm, unit)
    yield "gauge, sockets, end grain", fine(pins.end_gauge_mm, unit)
    yield "lap", figure(pins.end.board.thickness_mm - pins.end_gauge_mm, unit)


def _layout(joint: CornerJoint, unit: Unit) -> Iterable[tuple[str, Number]]:
    """Slope, count, widths of tails and pins."""
    tail = joint.tail
    yield "slope", _slope(joint.slope.ratio) if joint.flares else Number(text="none", other=joint.slope.words)
    yield f"{tail}s", Number(text=str(len(joint.tails)))
    narrow, wide = (choose(t.width_mm for t in joint.tails) for choose in (min, max))
    if wide - narrow > SAME_MM:
        yield f"{tail}, narrowest", figure(narrow, unit)
        yield f"{tail}, widest", figure(wide, unit)
    else:
        yield f"{tail}, at its end" if joint.flares else tail, figure(wide, unit)
    if joint.flares:
        yield f"{tail}, least neck", figure(min(t.neck_mm for t in joint.tails), unit)
    for what, these in ((joint.pin, joint.full_pins), (joint.half_pin, joint.half_pins)):
        if not these:
            continue
        least = min(these, key=lambda pin: pin.width_mm)
        yield f"{what}, narrow side" if joint.flares else what, figure(least.width_mm, unit)
        if joint.flares:
            yield f"{what}, wide side", figure(least.root_mm, unit)
    if joint.saw_line_mm is not None:
        yield "lid: saw line", figure(joint.saw_line_mm, unit)


def _chisels(joint: CornerJoint, shop: Shop, unit: Unit) -> Iterable[tuple[str, Number]]:
    """The widest of the shop's chisels that goes in; the room it has, where the shop has none."""
    for row in clearings(joint, shop):
        room = figure(row.room_mm, unit)
        if row.chisel_mm is not None:
            chisel = figure(row.chisel_mm, unit)
            yield (
                f"chisel, {row.what}",
                Number(text=chisel.text, other=f"room {room.text}"),
            )
        else:
            yield f"chisel, {row.what}: under", room


def _fit(joint: CornerJoint, shop: Shop) -> Iterable[tuple[str, Number]]:
    """How much fuller than its socket a cheek is cut at most, where it can be reckoned with the shop's glue."""
    if shop.glue is None:
        return
    fullest_mm = fullest_fit_mm(joint, shop.glue)
    if fullest_mm is not None:
        said = setting(max(0.0, fullest_mm), Unit.MM)
        yield "dry fit, full a cheek, at most", Number(text=said.text, unit=said.unit, other="with its glue")


def _span(start_mm: float, end_mm: float, unit: Unit) -> Number:
    first, last = figure(start_mm, unit), figure(end_mm, unit)
    in_mm = f"{_plain(first.other).removesuffix(' mm')} to {_plain(last.other)}" if unit is Unit.IN else ""
    return Number(text=f"{_plain(first.text)} to {_plain(last.text)}", other=in_mm)


def _plain(text: str) -> str:
    return text.removeprefix("≈ ")


def _mitres(joint: CornerJoint) -> Iterable[str]:
    groove = joint.spec.groove
    for mitre in joint.mitres:
        hides = groove is not None and mitre.start_mm <= groove.from_edge_mm and groove.far_mm <= mitre.end_mm
        yield (
            f"Mitred shoulder from {mitre.start_mm:g} to {mitre.end_mm:g} mm of the width: saw from the outer arris to the "
            f"inner baseline, on both boards, {'the groove inside it' if hides else 'square shoulder beside it'}."
        )


def _lid(joint: CornerJoint, both: Callable[[float], str]) -> Iterable[str]:
    if joint.saw_line_mm is not None and joint.spec.lid is not None:
        yield (
            f"The lid is sawn off after the glue-up, {both(joint.saw_line_mm)} from the face edge: between the dotted lines "
            f"{both(joint.spec.lid.lost_mm)} go to kerf and planing."
        )


def _canted(joint: CornerJoint, both: Callable[[float], str]) -> tuple[str, ...]:
    """What a canted corner needs besides: the angle, the bevelled edges, and two settings of the bevel."""
    cant = joint.spec.cant
    if cant.is_square:
        return ()
    near, far = cant.cheek_deg(joint.slope)

    def towards(degrees: float) -> str:
        return f"{abs(degrees):.1f}° {'away from' if degrees >= 0 else 'towards'} the face edge"

    back = "back, away from its face edge" if cant.lean_deg > 0 else "forward, over its face edge"
    return (
        f"Canted: the end of {joint.tail_board.name} is cut at {cant.angle_deg:g}° to its face edge, "
        f"{both(joint.end_width_mm)} long; {joint.pin_board.name} leans {abs(cant.lean_deg):g}° {back}, is as wide as that "
        f"end is long, and its edges are bevelled {abs(cant.lean_deg):g}°. Cut and bevel before you set out.",
        "The tails follow the long edge, not the canted end, or their points would be short-grained: from a line square to "
        f"the end, set the bevel {towards(near)} for the cheeks nearer that edge and {towards(far)} for the others.",
    )


def _sockets(pins: EndFaces, both: Callable[[float], str]) -> Iterable[str]:
    """What a half-blind corner needs besides: a lip, and floors that don't rise."""
    if pins.end_gauge_mm is None:
        return
    if pins.lip is not None:
        yield (
            f"Lip {both(pins.lip.overhang_mm)} long, {both(pins.lip.thickness_mm)} thick: cut the rebate first; the sockets "
            "are measured from its shoulder, and the side stands that much in from the front's end."
        )
    yield (
        "Gauge the sockets on the end grain, from the inside face. Their floors lie level or fall inward; one that rises "
        "keeps its tail out and opens a gap at the lap. Back the lap up while you chop: a mallet blow goes through it."
    )


def dividers_alike(dividers: Sequence[Divider], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all dividers; those whose figures are all the same are told once."""
    alike: dict[Figures, list[str]] = {}
    for divider in dividers:
        alike.setdefault(divider_figures(divider, unit), []).append(divider.name)
    return tuple(titled("Divider", names, figures, unit) for figures, names in alike.items())
