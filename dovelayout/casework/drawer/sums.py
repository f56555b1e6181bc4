"""The sums that a drawer's cut list has to come out at."""

from __future__ import annotations

from dataclasses import replace

from dovelayout.casework.drawer.measures import Maker, Measures
from dovelayout.casework.sums import Override, Sum, Term
from dovelayout.errors import LayoutError

SMALLEST_GAP_MM = 0.05
"""No drawer runs with less at each side (common practice, no source: the closest piston fit)."""

BACK_TOLERANCE_MM = 0.3
"""A back that differs more from the front draws the sides together or apart; ours."""


def drawer_sums(maker: Maker, measures: Measures) -> tuple[Sum, ...]:
    """Across, up and into the opening; the back; the bottom."""
    spec, m = maker.spec, measures
    opening, lip, groove = spec.opening, maker.lip, m.groove
    butted = (
        () if maker.dovetailed or lip is not None else (Term(what="side", value_mm=spec.side.thickness_mm, times=2),)
    )
    lips = () if lip is None else (Term(what="lip", value_mm=-lip.overhang_mm, times=2),)
    muntin_mm = m.floors_mm - m.panel_room_mm
    return (
        Sum(
            what="across the opening",
            terms=(Term(what="front", value_mm=m.front_width_mm), *butted, *lips),
            room="side gaps",
            into="opening",
            into_mm=opening.clear_width_mm,
            least_mm=2 * SMALLEST_GAP_MM,
            override=_override(maker, "front_width") or _gap(maker),
        ),
        Sum(
            what="up the opening",
            terms=(
                Term(what="runner", value_mm=spec.runner_mm),
                Term(what="front" if lip is None else "side", value_mm=m.height_mm),
            ),
            room="air above",
            into="opening",
            into_mm=opening.clear_height_mm,
            override=_override(maker, "front_height"),
        ),
        Sum(
            what="into the opening",
            terms=(
                *((Term(what="lap", value_mm=maker.lap_mm),) if maker.dovetailed else ()),
                Term(what="side", value_mm=m.side_length_mm),
                Term(what="bottom past the back", value_mm=m.overhang_mm),
            ),
            room="air behind",
            into="opening" if lip is None else "opening and lip",
            into_mm=opening.clear_depth_mm + (0.0 if lip is None else lip.thickness_mm),
            override=_override(maker, "side_length"),
        ),
        Sum(
            what="the back, across",
            terms=(Term(what="back", value_mm=m.back_width_mm),),
            room="room",
            into="drawer" if maker.dovetailed else "between the sides",
            into_mm=m.between_mm,
            least_mm=-BACK_TOLERANCE_MM,
            most_mm=BACK_TOLERANCE_MM,
            override=_override(maker, "back_width"),
        ),
        Sum(
            what="the back, up",
            terms=(
                Term(what="up to the groove's top", value_mm=groove.far_mm),
                Term(what="back", value_mm=m.back_height_mm),
            ),
            room="air over the back",
            into="side",
            into_mm=m.height_mm,
            override=_override(maker, "back_height"),
        ),
        Sum(
            what="the bottom, side to side",
            terms=(
                Term(what="bottom", value_mm=m.bottom_width_mm, times=m.panels),
                *((Term(what="muntin between its grooves", value_mm=muntin_mm),) if spec.muntin else ()),
            ),
            room="play",
            into="from groove floor to groove floor",
            into_mm=m.floors_mm,
            # pushed home in one groove, the other end has to stay in by two thirds of its depth
            most_mm=4 / 3 * groove.depth_mm,
            override=_override(maker, "bottom_width"),
        ),
        Sum(
            what="the bottom, front to back",
            terms=(
                Term(what="front's groove", value_mm=groove.depth_mm),
                Term(what="inside", value_mm=m.inside_length_mm),
                Term(what="back", value_mm=spec.back.thickness_mm),
            ),
            room="past the back",
            into="bottom",
            into_mm=m.bottom_depth_mm,
            least_mm=maker.bottom_swing.shrinks * m.bottom_depth_mm,
            override=_override(maker, "bottom_depth"),
        ),
    )


def _override(maker: Maker, key: str) -> Override | None:
    """What the job overrides, None where it leaves the key out or where there is no drawer at all without it."""
    if getattr(maker.spec.sizes, f"{key}_mm") is None:
        return None
    try:
        return Override(key=key, right_mm=maker.right_mm(f"{key}_mm"))
    except LayoutError:
        return None


def _gap(maker: Maker) -> Override | None:
    """The gap at each side where the job gives it, and the fit's own."""
    if maker.spec.side_gap_mm is None:
        return None
    free = Maker(replace(maker.spec, side_gap_mm=None), maker.year)
    width_mm = free.measures(replace(free.spec.sizes, front_width_mm=None)).width_mm
    return Override(key="side_gap", right_mm=round((maker.spec.opening.clear_width_mm - width_mm) / 2, 6))
