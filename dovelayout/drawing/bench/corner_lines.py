"""What the bench sheet says about corners: gauge settings, layout, chisels, fit, and notes for each kind of corner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from dovelayout.checks.corner.fit import fullest_fit_mm
from dovelayout.checks.corner.tools import clearings
from dovelayout.drawing.bench.settings import slope_number
from dovelayout.drawing.bench.sheet import MOST_NAMES, Figures, Number, figure, fine_figure, setting, titled
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from dovelayout.shop import Shop
from dovelayout.texts import Texts
from dovelayout.units import Unit, format_both
from dovelayout.words import grouped, listed_by_kind

TEXTS = Texts("drawing", "bench")

NO_SHOP = Shop()
SAME_MM = 0.05
"""Tails that differ by less are of one width (ours)."""

_Named = Iterator[tuple[str, Number]]


def corner_figures(joints: Sequence[CornerJoint], unit: Unit, shop: Shop = NO_SHOP) -> tuple[Figures, ...]:
    """Key figures of all corners; those whose figures are all the same share one part of the sheet."""
    groups = grouped((_figures(joint, unit, shop), joint) for joint in joints)
    return tuple(
        titled("Corner", [joint.name for joint in same], replace(figures, about=_about(same)), unit)
        for figures, same in groups.items()
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
    key = (*_settings(tails, pins, unit), *_layout(joint, unit), *_chisels(joint, shop, unit), *_fit(joint, shop))
    edges = tuple(
        (f"{joint.tail} {count} from face edge", _span(one.start_mm, one.end_mm, unit))
        for count, one in enumerate(joint.tails, 1)
    )
    lines = (*_canted(joint, unit), *_sockets(pins, unit), *_mitres(joint), *_lid(joint, unit))
    return Figures(title="", grids=(key, edges), lines=lines)


def _settings(tails: EndFaces, pins: EndFaces, unit: Unit) -> _Named:
    yield "gauge, tails", fine_figure(tails.baseline_mm, unit)
    if pins.end_gauge_mm is None:
        yield "gauge, pins", fine_figure(pins.baseline_mm, unit)
        return
    yield "gauge, pins, inside face", fine_figure(pins.baseline_mm, unit)
    yield "gauge, sockets, end grain", fine_figure(pins.end_gauge_mm, unit)
    yield "lap", figure(pins.end.board.thickness_mm - pins.end_gauge_mm, unit)


def _layout(joint: CornerJoint, unit: Unit) -> _Named:
    """Slope, count, widths of tails and pins."""
    tail = joint.tail
    yield "slope", slope_number(joint.slope.ratio) if joint.flares else Number(text="none", other=joint.slope.words)
    yield f"{tail}s", Number(text=str(len(joint.tails)))
    narrow, wide = (choose(t.width_mm for t in joint.tails) for choose in (min, max))
    if wide - narrow > SAME_MM:
        yield f"{tail}, narrowest", figure(narrow, unit)
        yield f"{tail}, widest", figure(wide, unit)
    else:
        yield f"{tail}, at its end" if joint.flares else tail, figure(wide, unit)
    if joint.flares:
        yield f"{tail}, least neck", figure(min(t.neck_mm for t in joint.tails), unit)
    for what, pins in ((joint.pin, joint.full_pins), (joint.half_pin, joint.half_pins)):
        if pins:
            least = min(pins, key=lambda pin: pin.width_mm)
            yield f"{what}, narrow side" if joint.flares else what, figure(least.width_mm, unit)
            if joint.flares:
                yield f"{what}, wide side", figure(least.root_mm, unit)
    if joint.saw_line_mm is not None:
        yield "lid: saw line", figure(joint.saw_line_mm, unit)


def _chisels(joint: CornerJoint, shop: Shop, unit: Unit) -> _Named:
    """The widest of the shop's chisels that goes in; the room it has, where the shop has none."""
    for row in clearings(joint, shop):
        room = figure(row.room_mm, unit)
        if row.chisel_mm is None:
            yield f"chisel, {row.what}: under", room
        else:
            chisel = figure(row.chisel_mm, unit)
            yield f"chisel, {row.what}", Number(text=chisel.text, other=f"room {room.text}")


def _fit(joint: CornerJoint, shop: Shop) -> _Named:
    """How much fuller than its socket a cheek is cut at most, where that is known of the shop's glue."""
    fullest_mm = None if shop.glue is None else fullest_fit_mm(joint, shop.glue)
    if fullest_mm is not None:
        yield "dry fit, full a cheek, at most", replace(setting(max(0.0, fullest_mm), Unit.MM), other="with its glue")


def _span(start_mm: float, end_mm: float, unit: Unit) -> Number:
    first, last = figure(start_mm, unit), figure(end_mm, unit)
    in_mm = f"{_plain(first.other).removesuffix(' mm')} to {_plain(last.other)}" if unit is Unit.IN else ""
    return Number(text=f"{_plain(first.text)} to {_plain(last.text)}", other=in_mm)


def _plain(text: str) -> str:
    return text.removeprefix("≈ ")


def _mitres(joint: CornerJoint) -> Iterator[str]:
    groove = joint.spec.groove
    for mitre in joint.mitres:
        hides = groove is not None and mitre.start_mm <= groove.from_edge_mm and groove.far_mm <= mitre.end_mm
        beside = TEXTS("mitre_groove" if hides else "mitre_plain")
        yield TEXTS("mitre", start_mm=mitre.start_mm, end_mm=mitre.end_mm, groove=beside)


def _lid(joint: CornerJoint, unit: Unit) -> Iterator[str]:
    if joint.saw_line_mm is not None and joint.spec.lid is not None:
        lost = format_both(joint.spec.lid.lost_mm, unit=unit)
        yield TEXTS("lid", line=format_both(joint.saw_line_mm, unit=unit), lost=lost)


def _canted(joint: CornerJoint, unit: Unit) -> tuple[str, ...]:
    """Notes for a canted corner: the angle, the bevelled edges, and two settings of the bevel."""
    cant = joint.spec.cant
    if cant.is_square:
        return ()
    near, far = (
        f"{abs(degrees):.1f}° {'away from' if degrees >= 0 else 'towards'} the face edge"
        for degrees in cant.cheek_deg(joint.slope)
    )
    back = TEXTS("lean_back" if cant.lean_deg > 0 else "lean_forward")
    values = {"long": format_both(joint.end_width_mm, unit=unit), "lean_deg": abs(cant.lean_deg), "back": back}
    boards = {"tails": joint.tail_board.name, "pins": joint.pin_board.name}
    return TEXTS.rows("canted", angle_deg=cant.angle_deg, near=near, far=far, **boards, **values)


def _sockets(pins: EndFaces, unit: Unit) -> Iterator[str]:
    """Notes for a half-blind corner: its lip, and the floors of its sockets."""
    if pins.end_gauge_mm is None:
        return
    if pins.lip is not None:
        long, thick = (format_both(mm, unit=unit) for mm in (pins.lip.overhang_mm, pins.lip.thickness_mm))
        yield TEXTS("lip", long=long, thick=thick)
    yield TEXTS("sockets")
