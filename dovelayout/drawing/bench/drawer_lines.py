"""What the bench sheet says of drawers: how each fits its opening, and what it has over the year."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.drawing.bench.sheet import Figures, Number, figure, setting, titled
from dovelayout.drawing.prose import sentence
from dovelayout.units import Unit, format_both
from dovelayout.words import grouped


def drawer_figures(drawers: Sequence[Drawer], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all drawers; those whose figures are all the same share one part of the sheet."""
    same = grouped((_figures(drawer, unit), drawer.name) for drawer in drawers)
    return tuple(titled("Drawer", names, figures, unit) for figures, names in same.items())


def _figures(drawer: Drawer, unit: Unit) -> Figures:
    opening, air, groove = drawer.spec.opening, drawer.clearances, drawer.groove
    lengths_mm = {
        "opening, wide": opening.clear_width_mm,
        "opening, high": opening.clear_height_mm,
        "opening, deep": opening.clear_depth_mm,
    }
    grooves_mm = {
        "groove, from the lower edge": groove.from_edge_mm,
        "groove, wide": groove.width_mm,
        "groove, deep": groove.depth_mm,
    }
    over_the_year = {
        "air at each side": (air.side_mm, air.side_dampest_mm, air.side_driest_mm),
        "air above": (air.top_mm, air.top_dampest_mm, air.top_driest_mm),
        "air behind": (air.behind_mm, air.behind_least_mm, None),
    }
    return Figures(
        title="",
        about=(f"{drawer.spec.style.value} front, {drawer.spec.fit.value} fit",),
        grids=(
            (
                *((name, figure(value_mm, unit)) for name, value_mm in lengths_mm.items()),
                *((name, _clearance(*values_mm, unit)) for name, values_mm in over_the_year.items()),
                *((name, figure(value_mm, unit)) for name, value_mm in grooves_mm.items()),
            ),
        ),
        lines=tuple(_lines(drawer, unit)),
    )


def _clearance(now_mm: float, dampest_mm: float, driest_mm: float | None, unit: Unit) -> Number:
    """A clearance as fitted, and what the year makes of it."""
    now = setting(now_mm, Unit.MM)
    year = f"damp {dampest_mm:.2f}" + ("" if driest_mm is None else f", dry {driest_mm:.2f}")
    return Number(text=now.text, unit=now.unit if unit is Unit.IN else "", other=year)


def _lines(drawer: Drawer, unit: Unit) -> Iterator[str]:
    bottom = drawer.bottom
    yield sentence("bench.drawer.slips" if drawer.slips else "bench.drawer.sides")
    for one in drawer.sums:
        if not one.adds_up:
            yield sentence("bench.drawer.sum", what=one.what, words=one.words)
    if bottom.slot_mm:
        slot = format_both(bottom.slot_mm, unit=unit)
        yield sentence("bench.drawer.bottom", grows=bottom.grows_mm, shrinks=bottom.shrinks_mm, slot=slot)
