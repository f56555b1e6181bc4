"""A commented job made of a table of openings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from dovelayout.checks.drawer_rules import TWICE
from dovelayout.job.described import toml_text
from dovelayout.job.openings import OpeningRow, Openings
from dovelayout.job.starter import filled, part_text
from dovelayout.units import Unit, length_mm

USUAL_WOOD = "hard maple"
"""Where no wood is named: of the usual drawer woods the one that moves most, so that no drawer comes out too tight."""


def job_text(openings: Openings, *, title: str, source: str, common: Mapping[str, Any]) -> str:
    """The job as TOML, one [[drawer]] a row, openings measured twice with both measures."""
    head = filled(
        part_text("openings"),
        source="".join(ch if ch.isprintable() else " " for ch in source),
        title=toml_text(title),
        unit=openings.unit.value,
        common="\n".join(f"{key} = {toml_text(value)}" for key, value in common.items()),
    )
    return head + "".join(_drawer(row, openings.unit) for row in openings.rows)


def _drawer(row: OpeningRow, unit: Unit) -> str:
    lines = ["", "[[drawer]]", *(f"# {remark}" for remark in _remarks(row, unit))]
    lines.extend(f"{key} = {toml_text(value)}" for key, value in row.values.items())
    return "\n".join(lines) + "\n"


def _remarks(row: OpeningRow, unit: Unit) -> Iterator[str]:
    """What the maker should look at again: two measurements that differ."""
    for key in ("width", "height", "depth"):
        if f"{key}2" not in row.values:
            continue
        first, second = (float(length_mm(row.values[name], unit=unit)) for name in (key, f"{key}2"))
        if abs(first - second) > (TWICE.warn or 0.0):
            yield f"row {row.line}: its {key} was measured twice, {abs(first - second):.2f} mm apart: the smaller counts"
