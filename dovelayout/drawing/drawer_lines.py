"""What the first sheets say of the drawers: the cut list, and how each fits its opening."""

from __future__ import annotations

from collections.abc import Sequence

from dovelayout.casework.cut_list import CutRow, all_add_up, cut_list
from dovelayout.casework.drawer import Drawer
from dovelayout.drawing.flow import Line, heading, item
from dovelayout.units import Unit, format_both, format_inches
from dovelayout.words import listed


def drawer_lines(drawers: Sequence[Drawer], unit: Unit) -> tuple[Line, ...]:
    """Cut list and numbers of a job's drawers; nothing when it has none."""
    if not drawers:
        return ()
    rows = [heading("Cut list: lengths along the grain × widths × thicknesses")]
    rows.extend(item(cut_words(row, unit)) for row in cut_list(drawers))
    rows.append(item(all_add_up(drawers)))
    alike: dict[tuple[str, ...], list[str]] = {}
    for drawer in drawers:
        alike.setdefault(_numbers(drawer, unit), []).append(drawer.name)
    for numbers, names in alike.items():
        rows.append(heading(f"{'Drawer' if len(names) == 1 else 'Drawers'} {listed(names)}"))
        rows.extend(item(words) for words in numbers)
    return tuple(rows)


def cut_words(row: CutRow, unit: Unit) -> str:
    """'6 × side: 380 × 98.5 × 12 mm, white oak, quarter-sawn; for ribbons 1 to 3'."""
    board = row.board
    sizes = (board.length_mm, board.width_mm, board.thickness_mm)
    said = " × ".join(f"{size_mm:.1f}".removesuffix(".0") for size_mm in sizes) + " mm"
    if unit is Unit.IN:
        said = " × ".join(format_inches(size_mm).removesuffix(" in") for size_mm in sizes) + f" in ({said})"
    return f"{row.count} × {row.role}: {said}, {board.wood.name}, {board.rings.value}; for {listed(row.drawers)}"


def _numbers(drawer: Drawer, unit: Unit) -> tuple[str, ...]:
    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=unit)

    opening, air, bottom = drawer.spec.opening, drawer.clearances, drawer.bottom
    lines = [
        f"opening {both(opening.clear_width_mm)} wide, {both(opening.clear_height_mm)} high, "
        f"{both(opening.clear_depth_mm)} deep; {drawer.spec.style.value} front, {drawer.spec.fit.value} fit",
        f"air as fitted: {air.side_mm:.2f} mm at each side, {air.top_mm:.1f} mm above, {air.behind_mm:.1f} mm behind; "
        f"dampest month: {air.side_dampest_mm:.2f} and {air.top_dampest_mm:.1f} mm; driest: {air.side_driest_mm:.2f} and "
        f"{air.top_driest_mm:.1f} mm; behind in the worst month {air.behind_least_mm:.1f} mm",
        *(f"{one.what}, mm: {one.words}{'' if one.adds_up else ': DOES NOT ADD UP'}" for one in drawer.sums),
        f"groove {both(drawer.groove.from_edge_mm)} from the lower edge, {both(drawer.groove.width_mm)} wide, "
        f"{both(drawer.groove.depth_mm)} deep" + (", in slips and front; sides left whole" if drawer.slips else ""),
    ]
    if bottom.slot_mm:
        lines.append(
            f"bottom: grain from side to side; it grows {bottom.grows_mm:.1f} mm and shrinks {bottom.shrinks_mm:.1f} mm over "
            f"the year, backwards: one screw up into the back through a slot {both(bottom.slot_mm)} long from its rear edge, "
            "glue at the front edge alone or none"
        )
    return tuple(lines)
