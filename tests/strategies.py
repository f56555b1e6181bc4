"""Strategies for valid inputs, one section a kind of joint; a new feature joins them here.

Sizes come in hundredths of a millimetre, as measured with a caliper, so that examples read well and edges of parts
coincide often. Layouts are built up from what must be positive (necks, pins), so nothing has to be filtered out. The
small strategies are cached: making one costs more than drawing from it.
"""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import cache

from hypothesis import strategies as st

from dovelayout.joints.board import Board, BoardEnd, End, Groove, Lip, Rings
from dovelayout.joints.cant import SQUARE, Cant
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.kinds.comb import CombJoint
from dovelayout.joints.kinds.half_blind import HalfBlindJoint
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import (
    LEAST_NECK_MM,
    Spacing,
    Span,
    proposed_half_pin_mm,
    proposed_pin_mm,
    weights,
)
from dovelayout.wood.species import Wood, find_wood

WOODS = ("black cherry", "white oak", "eastern white pine", "yellow poplar", "teak")
MOST_TAILS_DRAWN = 7

# --- lengths, boards, slopes ---


@cache
def lengths(low_mm: float, high_mm: float) -> st.SearchStrategy[float]:
    """A length between two, in hundredths of a mm."""
    return st.integers(round(low_mm * 100), round(high_mm * 100)).map(lambda n: n / 100)


@cache
def _or_none_mm(low_mm: float, high_mm: float) -> st.SearchStrategy[float]:
    """0, or a length between two."""
    return st.just(0.0) | lengths(low_mm, high_mm)


@cache
def woods() -> st.SearchStrategy[Wood]:
    """One of a few woods, hard and soft."""
    return st.sampled_from(WOODS).map(find_wood)


@cache
def thicknesses() -> st.SearchStrategy[float]:
    """From a small box's side to a bench's."""
    return st.one_of(st.sampled_from((12.0, 19.0)), lengths(4, 45))


@cache
def slopes() -> st.SearchStrategy[Slope]:
    """From steep (1:3) to fine (1:14)."""
    return st.one_of(st.sampled_from((6.0, 7.0, 8.0)), lengths(3, 14)).map(Slope)


@cache
def _stock() -> st.SearchStrategy[tuple[str, float, Rings, float | None]]:
    """Wood, length, rings and run-out in one draw: they don't touch the geometry."""
    return st.sampled_from(tuple(itertools.product(WOODS, (180.0, 612.5), Rings, (None, 14.0))))


@st.composite
def boards(
    draw: st.DrawFn, *, name: str = "side", width_mm: float | None = None, thickness_mm: float | None = None
) -> Board:
    """A board; width and thickness are drawn unless given."""
    wood_name, length_mm, rings, runout_ratio = draw(_stock())
    return Board(
        name=name,
        wood=find_wood(wood_name),
        length_mm=length_mm,
        width_mm=draw(lengths(20, 500)) if width_mm is None else width_mm,
        thickness_mm=draw(thicknesses()) if thickness_mm is None else thickness_mm,
        rings=rings,
        runout_ratio=runout_ratio,
    )


# --- through joints ---


@st.composite
def _even_or_closer(draw: st.DrawFn, flare_mm: float, thinner_mm: float) -> tuple[float, dict[str, object]]:
    """Room and keys of a layout given by count, pins and spacing; pins may be left to the tool."""
    count = draw(st.integers(1, MOST_TAILS_DRAWN))
    spacing = draw(st.sampled_from(Spacing))
    keys: dict[str, object] = {"tail_count": count, "spacing": spacing}
    pin_mm = proposed_pin_mm(thickness_mm=thinner_mm)
    half_mm = proposed_half_pin_mm(pin_mm=pin_mm)
    if draw(st.booleans()):
        pin_mm = keys["pin_mm"] = draw(lengths(0.5, 20))
        half_mm = keys["half_pin_mm"] = draw(lengths(0.5, 25) if count == 1 else _or_none_mm(0.5, 25))
    shares = weights(count, spacing)
    neck_mm = draw(lengths(0.5, 40))
    tails_mm = (neck_mm + 2 * flare_mm) / min(shares) * sum(shares)
    return 2 * half_mm + (count - 1) * pin_mm + tails_mm, keys


@st.composite
def _counts_left_open(draw: st.DrawFn, flare_mm: float, thinner_mm: float) -> tuple[float, dict[str, object]]:
    """Room for at least one tail, and no keys at all."""
    half_mm = proposed_half_pin_mm(pin_mm=proposed_pin_mm(thickness_mm=thinner_mm))
    return 2 * half_mm + 2 * flare_mm + LEAST_NECK_MM + draw(lengths(0.01, 300)), {}


@st.composite
def _tails_at(draw: st.DrawFn, flare_mm: float, start_mm: float) -> tuple[float, dict[str, object]]:
    """Tails wherever the maker wants them; the first and the last may stand at the edge, square on that side."""
    count = draw(st.integers(1, MOST_TAILS_DRAWN))
    at_start, at_end = draw(st.booleans()), draw(st.booleans())
    at_end = at_end and not (at_start and count == 1)  # that would leave no pin
    at_mm = start_mm if at_start else start_mm + draw(lengths(0.5, 25))
    spans = []
    for number in range(count):
        end_mm = at_mm + draw(lengths(0.5, 60)) + 2 * flare_mm
        spans.append(Span(at_mm, end_mm))
        at_mm = end_mm + (draw(lengths(0.5, 25)) if number < count - 1 else 0.0)
    room_mm = at_mm - start_mm + (0.0 if at_end else draw(lengths(0.5, 25)))
    return room_mm, {"tails_at": tuple(spans)}


@st.composite
def grooves(draw: st.DrawFn, *, width_mm: float, thickness_mm: float) -> Groove:
    """A groove anywhere on a board of that width, less deep than that thickness."""
    wide_mm = draw(lengths(0.5, min(8.0, width_mm - 0.02)))
    return Groove(
        from_edge_mm=draw(lengths(0, width_mm - wide_mm - 0.01)),
        width_mm=wide_mm,
        depth_mm=draw(lengths(1, thickness_mm - 1)),
        ploughed_first=draw(st.booleans()),
    )


def _proud_limit_mm(slope: Slope, keys: dict[str, object], thinner_mm: float, room_mm: float, start_mm: float) -> float:
    """How far tails may stand proud before their flare eats the narrowest pin."""
    if "tails_at" in keys:
        spans: tuple[Span, ...] = keys["tails_at"]  # type: ignore[assignment]
        full = [b.start_mm - a.end_mm for a, b in itertools.pairwise(spans)]
        half = [spans[0].start_mm - start_mm, start_mm + room_mm - spans[-1].end_mm]
    else:
        pin_mm = keys.get("pin_mm", proposed_pin_mm(thickness_mm=thinner_mm))
        full = [pin_mm]  # type: ignore[list-item]
        half = [keys.get("half_pin_mm", proposed_half_pin_mm(pin_mm=pin_mm))]  # type: ignore[list-item,arg-type]
    narrowest = min([width / 2 for width in full] + [width for width in half if width > 0.1], default=100.0)
    return min(3.0, 0.9 * slope.ratio * narrowest)


@st.composite
def through_specs(draw: st.DrawFn, *, whole_width: bool = False) -> CornerSpec:
    """A through corner that can be: any spacing, edge tails, partial cover, boards of two widths, proud or shy ends.

    `whole_width`: both boards are of one width and the joint takes all of it.
    """
    slope = draw(slopes())
    tail_t, pin_t = draw(thicknesses()), draw(thicknesses())
    thinner_mm, flare_mm = min(tail_t, pin_t), slope.flare_mm(pin_t)
    kind = "whole" if whole_width else draw(st.sampled_from(("whole", "one wider", "partial")))
    start_mm = draw(_or_none_mm(1, 60)) if kind == "partial" else 0.0
    room_mm, keys = draw(
        st.one_of(
            _even_or_closer(flare_mm, thinner_mm),
            _counts_left_open(flare_mm, thinner_mm),
            _tails_at(flare_mm, start_mm),
        )
    )
    tail_w = pin_w = end_mm = start_mm + room_mm
    covers = None
    match kind:
        case "one wider":
            wider_mm = end_mm + draw(lengths(1, 80))
            tail_w, pin_w = draw(st.sampled_from(((tail_w, wider_mm), (wider_mm, pin_w))))
        case "partial":
            covers = Span(start_mm, end_mm)
            tail_w += draw(_or_none_mm(1, 60))
            pin_w = draw(st.sampled_from((room_mm, end_mm, end_mm + draw(lengths(1, 120)))))
    end = draw(st.sampled_from(End))
    pins_name = draw(st.sampled_from(("front", "ÉTAGÈRE, façade")))
    most_mm = _proud_limit_mm(slope, keys, thinner_mm, room_mm, start_mm)
    return CornerSpec(
        name=draw(st.sampled_from(("A", "Ä", "left back"))),
        tails=BoardEnd(board=draw(boards(name="side", width_mm=tail_w, thickness_mm=tail_t)), end=end),
        pins=BoardEnd(board=draw(boards(name=pins_name, width_mm=pin_w, thickness_mm=pin_t)), end=end.opposite),
        slope=slope,
        covers=covers,
        proud_tails_mm=draw(_or_none_mm(-min(2.0, pin_t / 2), most_mm)),
        proud_pins_mm=draw(_or_none_mm(-min(2.0, tail_t / 2), 3.0)),
        groove=draw(st.none() | grooves(width_mm=tail_w, thickness_mm=thinner_mm)),
        **keys,  # type: ignore[arg-type]
    )


def through_joints(*, whole_width: bool = False) -> st.SearchStrategy[ThroughJoint]:
    """A through corner, worked out."""
    return through_specs(whole_width=whole_width).map(ThroughJoint.worked_out)


@st.composite
def half_blind_joints(draw: st.DrawFn) -> HalfBlindJoint:
    """A half-blind corner, with or without a lip, worked out: a through one whose tails stop short of the outside."""
    spec = draw(through_specs())
    thickness_mm = spec.pins.board.thickness_mm
    lap_mm = thickness_mm * draw(st.floats(0.1, 0.4))
    lip = draw(st.none() | st.floats(0.4, 1.0))
    return HalfBlindJoint.worked_out(
        replace(
            spec,
            lap_mm=lap_mm,
            lip=None if lip is None else Lip(overhang_mm=draw(lengths(3, 20)), thickness_mm=lap_mm * lip),
            proud_tails_mm=max(-0.3 * thickness_mm, min(0.0, spec.proud_tails_mm)),
        )
    )


@st.composite
def mitred_joints(draw: st.DrawFn) -> ThroughJoint:
    """A through corner on boards that are wider by a mitre at one edge or at both."""
    spec = draw(through_specs(whole_width=True))
    near_mm, far_mm = draw(lengths(2, 30)), draw(_or_none_mm(2, 30))
    width_mm = spec.tails.board.width_mm + near_mm + far_mm
    spans = spec.tails_at
    if spans is not None:
        spans = tuple(Span(span.start_mm + near_mm, span.end_mm + near_mm) for span in spans)
    return ThroughJoint.worked_out(
        replace(
            spec,
            tails=replace(spec.tails, board=replace(spec.tails.board, width_mm=width_mm)),
            pins=replace(spec.pins, board=replace(spec.pins.board, width_mm=width_mm)),
            tails_at=spans,
            mitre_face_edge_mm=near_mm,
            mitre_far_edge_mm=far_mm,
            proud_tails_mm=0.0,
            proud_pins_mm=0.0,
        )
    )


@st.composite
def canted_joints(draw: st.DrawFn) -> CornerJoint:
    """A corner whose pin board leans, through or half-blind, worked out; the pins fill what the tails leave."""
    cant = Cant(draw(st.sampled_from((75.0, 80.0, 97.5, 105.0)) | lengths(75, 105)))
    slope = draw(slopes())
    tail_t, pin_t = draw(thicknesses()), draw(thicknesses())
    lap_mm = draw(st.none() | st.floats(0.1, 0.4).map(lambda share: share * pin_t))
    shifts = cant.shifts(slope, pin_t - (lap_mm or 0.0))
    count, spacing = draw(st.integers(1, MOST_TAILS_DRAWN)), draw(st.sampled_from(Spacing))
    pin_mm, half_pin_mm = draw(lengths(0.5, 20)), draw(lengths(0.5, 25))
    shares = weights(count, spacing)
    tails_mm = (draw(lengths(0.5, 40)) + 2 * shifts.flare_mm) / min(shares) * sum(shares)
    end_mm = 2 * half_pin_mm + (count - 1) * pin_mm + tails_mm
    width_mm = end_mm / cant.stretch
    end = draw(st.sampled_from(End))
    return (ThroughJoint.worked_out if lap_mm is None else HalfBlindJoint.worked_out)(
        CornerSpec(
            name="A",
            tails=BoardEnd(board=draw(boards(name="side", width_mm=width_mm, thickness_mm=tail_t)), end=end),
            pins=BoardEnd(board=draw(boards(name="front", width_mm=end_mm, thickness_mm=pin_t)), end=end.opposite),
            slope=slope,
            cant=cant,
            tail_count=count,
            spacing=spacing,
            pin_mm=pin_mm,
            half_pin_mm=half_pin_mm,
            lap_mm=lap_mm,
            groove=draw(st.none() | grooves(width_mm=width_mm, thickness_mm=min(tail_t, pin_t))),
        )
    )


@st.composite
def comb_joints(draw: st.DrawFn) -> CombJoint:
    """A comb, worked out: fingers of one width, their count given or not, or where the maker wants them; proud or shy,
    over part of the width, canted or mitred at the face edge."""
    cant = draw(st.just(SQUARE) | st.sampled_from((75.0, 97.5, 105.0)).map(Cant))
    tail_t, pin_t = draw(thicknesses()), draw(thicknesses())
    keys: dict[str, object] = {}
    if draw(st.booleans()):
        room_mm, keys = draw(_tails_at(0.0, 0.0))
    else:
        count = draw(st.integers(1, MOST_TAILS_DRAWN))
        room_mm = (2 * count + 1) * draw(lengths(LEAST_NECK_MM, 40))
        keys = {"tail_count": draw(st.none() | st.just(count))}
    mitre_mm = draw(_or_none_mm(2, 30)) if cant.is_square and "tails_at" not in keys else 0.0
    start_mm = draw(_or_none_mm(1, 60)) if cant.is_square and not mitre_mm and "tails_at" not in keys else 0.0
    beyond_mm = draw(_or_none_mm(1, 60)) if start_mm else 0.0
    proud = cant.is_square and not mitre_mm
    width_mm = start_mm + room_mm + beyond_mm + mitre_mm
    tail_w = width_mm / cant.stretch
    end = draw(st.sampled_from(End))
    return CombJoint.worked_out(
        CornerSpec(
            name="A",
            tails=BoardEnd(board=draw(boards(name="side", width_mm=tail_w, thickness_mm=tail_t)), end=end),
            pins=BoardEnd(board=draw(boards(name="end", width_mm=width_mm, thickness_mm=pin_t)), end=end.opposite),
            covers=Span(start_mm, start_mm + room_mm) if start_mm else None,
            mitre_face_edge_mm=mitre_mm,
            cant=cant,
            proud_tails_mm=draw(_or_none_mm(-min(2.0, pin_t / 2), 3.0)) if proud else 0.0,
            proud_pins_mm=draw(_or_none_mm(-min(2.0, tail_t / 2), 3.0)) if proud else 0.0,
            groove=draw(st.none() | grooves(width_mm=tail_w, thickness_mm=min(tail_t, pin_t))),
            **keys,  # type: ignore[arg-type]
        )
    )


def corner_joints() -> st.SearchStrategy[CornerJoint]:
    """A dovetailed corner of any kind, worked out."""
    return st.one_of(through_joints(), half_blind_joints(), mitred_joints(), canted_joints(), comb_joints())
