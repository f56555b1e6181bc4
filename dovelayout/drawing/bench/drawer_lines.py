"""What the bench sheet says of drawers: how each fits its opening, and what it has over the year."""

from __future__ import annotations

from collections.abc import Sequence

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.drawing.bench.sheet import Figures, Number, figure, setting, titled
from dovelayout.units import Unit, format_both


def drawers_alike(drawers: Sequence[Drawer], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all drawers; those whose figures are all the same are told once."""
    alike: dict[Figures, list[str]] = {}
    for drawer in drawers:
        alike.setdefault(_figures(drawer, unit), []).append(drawer.name)
    return tuple(titled("Drawer", names, figures, unit) for figures, names in alike.items())


def _figures(drawer: Drawer, unit: Unit) -> Figures:
    opening, air, groove, bottom = drawer.spec.opening, drawer.clearances, drawer.groove, drawer.bottom

    def over_the_year(now_mm: float, dampest_mm: float, driest_mm: float) -> Number:
        """A clearance as fitted, and what the year makes of it."""
        said = setting(now_mm, Unit.MM)
        year = f"damp {dampest_mm:.2f}, dry {driest_mm:.2f}"
        return Number(text=said.text, unit=said.unit if unit is Unit.IN else "", other=year)

    where = "in slips and front; sides left whole" if drawer.sizes.slips else "in sides and front"
    lines = [f"Groove {where}."]
    lines += [f"{one.what}, mm: {one.words}: DOES NOT ADD UP." for one in drawer.sums if not one.adds_up]
    if bottom.slot_mm:
        lines.append(
            f"Bottom: grain from side to side; it grows {bottom.grows_mm:.1f} mm and shrinks {bottom.shrinks_mm:.1f} mm over "
            f"the year, backwards: one screw up into the back through a slot {format_both(bottom.slot_mm, unit=unit)} long "
            "from its rear edge, glue at the front edge alone or none."
        )
    return Figures(
        title="",
        about=(f"{drawer.spec.style.value} front, {drawer.spec.fit.value} fit",),
        grids=(
            (
                ("opening, wide", figure(opening.clear_width_mm, unit)),
                ("opening, high", figure(opening.clear_height_mm, unit)),
                ("opening, deep", figure(opening.clear_depth_mm, unit)),
                ("air at each side", over_the_year(air.side_mm, air.side_dampest_mm, air.side_driest_mm)),
                ("air above", over_the_year(air.top_mm, air.top_dampest_mm, air.top_driest_mm)),
                ("air behind", over_the_year(air.behind_mm, air.behind_dampest_mm, air.behind_driest_mm)),
                ("groove, from the lower edge", figure(groove.from_edge_mm, unit)),
                ("groove, wide", figure(groove.width_mm, unit)),
                ("groove, deep", figure(groove.depth_mm, unit)),
            ),
        ),
        lines=tuple(lines),
    )
