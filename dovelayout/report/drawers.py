"""Drawers in the commands: their JSON, their tables for people, the cut list as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import fields
from typing import Any

from dovelayout.casework.drawer.cut_list import CutRow, cut_list
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.casework.sums import Sum
from dovelayout.checks.finding import Finding
from dovelayout.everyday import spacer_words
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import assumption, moisture_or_assumed
from dovelayout.report.findings import findings_json
from dovelayout.report.numbers import lengths, mm
from dovelayout.units import Unit, format_inches, format_slope
from dovelayout.words import grouped, listed


def drawer_json(drawer: Drawer, findings: Sequence[Finding]) -> dict[str, Any]:
    """One of `drawers` in `check --json`: clearances below 0 are jams."""
    opening, air, bottom, groove = drawer.spec.opening, drawer.clearances, drawer.bottom, drawer.groove
    front = next((joint for joint in drawer.joints if joint.lap_mm), None)
    back = next((joint for joint in drawer.joints if not joint.lap_mm), None)
    return {
        "name": drawer.name,
        "opening": {f"{side}_mm": mm(getattr(opening, f"clear_{side}_mm")) for side in ("width", "height", "depth")},
        "front": drawer.spec.style.value,
        "fit": drawer.spec.fit.value,
        "moisture_pct": _moisture_json(drawer),
        "case": {"wood": drawer.spec.case.wood.name, "named": drawer.spec.case_named},
        "size": lengths(drawer.measures, ("width_mm", "height_mm", "length_mm")),
        "clearances": lengths(air, [*(field.name for field in fields(air)), "behind_least_mm"]),
        "bottom": lengths(bottom, ("overhang_mm", "grows_mm", "shrinks_mm", "moves_mm", "slot_mm", "in_groove_mm")),
        "groove": {**lengths(groove, ("from_edge_mm", "width_mm", "depth_mm")), "in_slips": drawer.sizes.slips},
        "gauge": {
            "socket_mm": None if front is None else mm(front.depth_mm),
            "front_inside_mm": None if front is None else mm(front.end_faces()[1].baseline_mm),
            "side_back_mm": None if back is None else mm(back.end_faces()[0].baseline_mm),
            "back_mm": None if back is None else mm(back.end_faces()[1].baseline_mm),
        },
        "arithmetic": [_sum_json(one) for one in drawer.sums],
        "adds_up": drawer.adds_up,
        "parts": [part.board.name for part in drawer.parts],
        "corners": [joint.name for joint in drawer.joints],
        "findings": findings_json(findings),
    }


def _sum_json(one: Sum) -> dict[str, Any]:
    return {
        "what": one.what,
        "terms": [{"what": term.what, "mm": mm(term.value_mm), "times": term.times} for term in one.terms],
        "room": {"what": one.room, "mm": mm(one.room_mm)},
        "into": {"what": one.into, "mm": mm(one.into_mm)},
        "adds_up": one.adds_up,
    }


def _moisture_json(drawer: Drawer) -> dict[str, Any]:
    """`built` is the first of `fitted`, which are all that it may have. `assumed`: nothing is said of the home's air."""
    shop = drawer.sizes.shop
    at = moisture_or_assumed(drawer.spec.side, shop)
    return {
        "driest": round(at.driest_pct, 2),
        "built": round(at.fitted_pct[0], 2),
        "fitted": [round(pct, 2) for pct in at.fitted_pct],
        "dampest": round(at.dampest_pct, 2),
        "assumed": shop.home_humidity_pct is None,
        "assumption": assumption(shop),
    }


COLUMNS = ("", "opening", "sides", "front", "air: sides", "above", "behind", "worst month", "adds up")


def drawer_rows(drawers: Sequence[Drawer], unit: Unit) -> list[tuple[str, ...]]:
    """A row for each drawer, under `COLUMNS`."""

    def cells(drawer: Drawer) -> tuple[str, ...]:
        opening, air, side, front = drawer.spec.opening, drawer.clearances, drawer.board("side"), drawer.board("front")
        sizes_mm = (
            (opening.clear_width_mm, opening.clear_height_mm, opening.clear_depth_mm),
            (side.length_mm, side.width_mm),
            (front.length_mm, front.width_mm),
        )
        return (
            drawer.name,
            *(" × ".join(_short(side_mm, unit) for side_mm in sides_mm) for sides_mm in sizes_mm),
            f"{air.side_mm:.2f} mm",
            f"{air.top_mm:.1f} mm",
            f"{air.behind_mm:.1f} mm",
            f"{air.side_dampest_mm:.2f}, {air.top_dampest_mm:.1f}, {air.behind_least_mm:.1f}",
            "yes" if drawer.adds_up else "NO",
        )

    return [cells(drawer) for drawer in drawers]


def spacer_lines(drawers: Sequence[Drawer]) -> list[str]:
    """What holds each drawer in the middle of its air while it is fitted, a line for all with the same air."""
    airs = ((drawer.clearances, drawer.name) for drawer in drawers)
    same = grouped(((spacer_words(air.side_mm), spacer_words(air.top_mm)), name) for air, name in airs)
    return [
        f"To try {listed(names)} in the opening: at each side, {sides}; above, {above}."
        for (sides, above), names in same.items()
    ]


CUT_COLUMNS = ("part", "count", "length", "width", "thickness", "wood", "rings", "for")


def cut_rows(drawers: Sequence[Drawer], unit: Unit) -> list[tuple[str, ...]]:
    """The cut list for people, under `CUT_COLUMNS`; lengths along the grain."""
    return [
        (
            row.role,
            str(row.count),
            *(_short(size_mm, unit) for size_mm in _sizes(row)),
            row.board.wood.name,
            row.board.rings.value,
            listed(row.drawers),
        )
        for row in cut_list(drawers)
    ]


CORNER_COLUMNS = ("corners", "tails", "pin, narrow", "half pin", "slope", "gauge: side", "gauge: front or back", "of")


def corner_rows(drawers: Sequence[Drawer], unit: Unit) -> list[tuple[str, ...]]:
    """The corners of drawers under `CORNER_COLUMNS`: left and right are the same, and so may be those of many drawers."""
    corners = ((drawer, joint) for drawer in drawers for joint in drawer.joints[:1] + drawer.joints[2:3])
    same = grouped((_corner_cells(joint, unit), drawer.name) for drawer, joint in corners)
    return [(*cells, listed(names)) for cells, names in same.items()]


def _corner_cells(joint: CornerJoint, unit: Unit) -> tuple[str, ...]:
    tails, pins = joint.end_faces()
    return (
        "back, through" if joint.spec.key_prefix else "front, half-blind",
        str(len(joint.tails)),
        *(
            _short(min(pin.width_mm for pin in row), unit) if row else "none"
            for row in (joint.full_pins, joint.half_pins)
        ),
        format_slope(joint.slope.ratio),
        _short(tails.baseline_mm, unit),
        _short(pins.baseline_mm, unit),
    )


def cut_csv(drawers: Sequence[Drawer]) -> str:
    """The cut list as CSV: a row for each part of each drawer; no cell can be taken for a formula."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    head = ("drawer", "part", "count", "length_mm", "width_mm", "thickness_mm", "length_in", "width_in", "thickness_in")
    writer.writerow((*head, "wood", "rings"))
    for row in (row for drawer in drawers for row in cut_list([drawer])):
        sizes = _sizes(row)
        writer.writerow(
            (
                inert(row.drawers[0]),
                row.role,
                row.count,
                *(f"{size_mm:.2f}" for size_mm in sizes),
                *(format_inches(size_mm).removeprefix("≈ ").removesuffix(" in") for size_mm in sizes),
                inert(row.board.wood.name),
                row.board.rings.value,
            )
        )
    return out.getvalue()


def inert(text: str) -> str:
    """A cell that no spreadsheet takes for a formula, and that holds no control characters."""
    plain = "".join(ch if ch.isprintable() else " " for ch in text)
    return f"'{plain}" if plain.lstrip(" ").startswith(("=", "+", "-", "@", "＝", "＋", "－", "＠")) else plain


def _short(value_mm: float, unit: Unit) -> str:
    """A length in the job's unit alone, for tables whose title says it."""
    return format_inches(value_mm).removesuffix(" in") if unit is Unit.IN else f"{value_mm:.1f}".removesuffix(".0")


def _sizes(row: CutRow) -> tuple[float, float, float]:
    return (row.board.length_mm, row.board.width_mm, row.board.thickness_mm)
