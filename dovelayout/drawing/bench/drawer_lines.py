"""What the bench sheet says about drawers: how each fits its opening, and its clearances over the year."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.drawing.bench.sheet import Figures, Number, figure, setting, titled
from dovelayout.texts import Texts
from dovelayout.units import Unit, format_both
from dovelayout.words import grouped

TEXTS = Texts("drawing", "bench")


def drawer_figures(drawers: Sequence[Drawer], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all drawers; those whose figures are all the same share one part of the sheet."""
    same = grouped((_figures(drawer, unit), drawer.name) for drawer in drawers)
    return tuple(titled("Drawer", names, figures, unit) for figures, names in same.items())


def _figures(drawer: Drawer, unit: Unit) -> Figures:
    opening, air, groove = drawer.spec.opening, drawer.clearances, drawer.groove
    grid = (
        ("opening, wide", figure(opening.clear_width_mm, unit)),
        ("opening, high", figure(opening.clear_height_mm, unit)),
        ("opening, deep", figure(opening.clear_depth_mm, unit)),
        ("air at each side", _clearance(air.side_mm, air.side_dampest_mm, air.side_driest_mm, unit)),
        ("air above", _clearance(air.top_mm, air.top_dampest_mm, air.top_driest_mm, unit)),
        ("air behind", _clearance(air.behind_mm, air.behind_dampest_mm, air.behind_driest_mm, unit)),
        ("groove, from the lower edge", figure(groove.from_edge_mm, unit)),
        ("groove, wide", figure(groove.width_mm, unit)),
        ("groove, deep", figure(groove.depth_mm, unit)),
    )
    about = f"{drawer.spec.style.value} front, {drawer.spec.fit.value} fit"
    return Figures(title="", about=(about,), grids=(grid,), lines=tuple(_lines(drawer, unit)))


def _clearance(now_mm: float, dampest_mm: float, driest_mm: float, unit: Unit) -> Number:
    """A clearance as fitted, with its extremes over the year below."""
    now = setting(now_mm, Unit.MM)
    year = f"damp {dampest_mm:.2f}, dry {driest_mm:.2f}"
    return Number(text=now.text, unit=now.unit if unit is Unit.IN else "", other=year)


def _lines(drawer: Drawer, unit: Unit) -> Iterator[str]:
    yield TEXTS("drawer.slips" if drawer.sizes.slips else "drawer.sides")
    yield from (TEXTS("drawer.sum", what=one.what, sum=one.words) for one in drawer.sums if not one.adds_up)
    if drawer.bottom.slot_mm:
        slot = format_both(drawer.bottom.slot_mm, unit=unit)
        grows_mm, shrinks_mm = drawer.bottom.grows_mm, drawer.bottom.shrinks_mm
        yield TEXTS("drawer.bottom", grows_mm=grows_mm, shrinks_mm=shrinks_mm, slot=slot)
