"""Sums that check a drawer's cut list."""

from __future__ import annotations

from dataclasses import replace

from dovelayout.casework.drawer.measures import DrawerSizes, Measures
from dovelayout.casework.sums import Override, Sum, Term
from dovelayout.errors import LayoutError

SMALLEST_GAP_MM = 0.05
"""No drawer runs with less at each side (common practice, no source: the closest piston fit)."""

BACK_TOLERANCE_MM = 0.3
"""A back that differs more from the front draws the sides together or apart; ours."""


def drawer_sums(sizes: DrawerSizes, measures: Measures) -> tuple[Sum, ...]:
    """Across, up and into the opening; the back; the bottom."""
    return (*_in_the_opening(sizes, measures), *_back(sizes, measures), *_bottom(sizes, measures))


def _in_the_opening(sizes: DrawerSizes, m: Measures) -> tuple[Sum, ...]:
    spec, lip, opening = sizes.spec, sizes.lip, sizes.spec.opening
    across, into = [Term(what="front", value_mm=m.front_width_mm)], [Term(what="side", value_mm=m.side_length_mm)]
    if lip is not None:
        across.append(Term(what="lip", value_mm=-lip.overhang_mm, times=2))
    elif not sizes.dovetailed:
        across.append(Term(what="side", value_mm=spec.side.thickness_mm, times=2))
    if sizes.dovetailed:
        into.insert(0, Term(what="lap", value_mm=sizes.lap_mm))
    return (
        Sum(
            what="across the opening",
            terms=tuple(across),
            room="side gaps",
            into="opening",
            into_mm=opening.clear_width_mm,
            least_mm=2 * SMALLEST_GAP_MM,
            override=_override(sizes, "front_width") or _side_gap(sizes),
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
            override=_override(sizes, "front_height"),
        ),
        Sum(
            what="into the opening",
            terms=(*into, Term(what="bottom past the back", value_mm=m.overhang_mm)),
            room="air behind",
            into="opening" if lip is None else "opening and lip",
            into_mm=opening.clear_depth_mm + (0.0 if lip is None else lip.thickness_mm),
            override=_override(sizes, "side_length"),
        ),
    )


def _back(sizes: DrawerSizes, m: Measures) -> tuple[Sum, ...]:
    return (
        Sum(
            what="the back, across",
            terms=(Term(what="back", value_mm=m.back_width_mm),),
            room="room",
            into="drawer" if sizes.dovetailed else "between the sides",
            into_mm=m.between_mm,
            least_mm=-BACK_TOLERANCE_MM,
            most_mm=BACK_TOLERANCE_MM,
            override=_override(sizes, "back_width"),
        ),
        Sum(
            what="the back, up",
            terms=(
                Term(what="up to the groove's top", value_mm=m.groove.far_mm),
                Term(what="back", value_mm=m.back_height_mm),
            ),
            room="air over the back",
            into="side",
            into_mm=m.height_mm,
            override=_override(sizes, "back_height"),
        ),
    )


def _bottom(sizes: DrawerSizes, m: Measures) -> tuple[Sum, ...]:
    panels = Term(what="bottom", value_mm=m.bottom_width_mm, times=m.panels)
    muntin = Term(what="muntin between its grooves", value_mm=m.floors_mm - m.panel_room_mm)
    return (
        Sum(
            what="the bottom, side to side",
            terms=(panels, muntin) if sizes.spec.muntin else (panels,),
            room="play",
            into="from groove floor to groove floor",
            into_mm=m.floors_mm,
            # pushed home in one groove, the other end has to stay in by two thirds of its depth
            most_mm=4 / 3 * m.groove.depth_mm,
            override=_override(sizes, "bottom_width"),
        ),
        Sum(
            what="the bottom, front to back",
            terms=(
                Term(what="front's groove", value_mm=m.groove.depth_mm),
                Term(what="inside", value_mm=m.inside_length_mm),
                Term(what="back", value_mm=sizes.spec.back.thickness_mm),
            ),
            room="past the back",
            into="bottom",
            into_mm=m.bottom_depth_mm,
            least_mm=sizes.bottom.shrinks_share * m.bottom_depth_mm,
            override=_override(sizes, "bottom_depth"),
        ),
    )


def _override(sizes: DrawerSizes, key: str) -> Override | None:
    """What the job overrides, None where it leaves the key out or where there is no drawer at all without it."""
    if getattr(sizes.spec.sizes, f"{key}_mm") is None:
        return None
    try:
        return Override(key=key, right_mm=sizes.right_mm(f"{key}_mm"))
    except LayoutError:
        return None


def _side_gap(sizes: DrawerSizes) -> Override | None:
    """The gap at each side where the job gives it, and the fit's own."""
    if sizes.spec.side_gap_mm is None:
        return None
    free = replace(sizes, spec=replace(sizes.spec, side_gap_mm=None))
    width_mm = free.measures(replace(free.spec.sizes, front_width_mm=None)).width_mm
    return Override(key="side_gap", right_mm=round((sizes.spec.opening.clear_width_mm - width_mm) / 2, 6))
