"""A commented job made of a table of openings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.checks.drawer_rules import TWICE
from dovelayout.job.openings import OpeningRow, Openings
from dovelayout.units import Unit, length_mm

USUAL_WOOD = "hard maple"
"""Where no wood is named: of the usual drawer woods the one that moves most, so that no drawer comes out too tight."""

_HEAD = """# Drawers for the openings of {source}; bare numbers are in `units`, a text may carry its own: "3/4 in", "19 mm".
# Check the job, then draw it:  dovelayout check FILE,  dovelayout draw FILE
title = {title}
units = "{unit}"

[shop]
# humidity = [35, 65]        # the air where the drawers will stand: driest and dampest month, percent
# built_at = 45              # and where they are fitted, now
# chisels = [3, 6, 9, 12]

[drawers]                    # what all have in common; a [[drawer]] may say otherwise
{common}
"""

_OFFERED = """# front = "lipped"           # or "inset"
# bottom = "plywood"         # or "solid": grain from side to side, one slotted screw behind
# side_rings = "quarter"     # flat | quarter | rift; also front_rings, back_rings, bottom_rings, case_rings
# lap = 4.5                  # what stays of the front over the ends of the tails
# pin = 5                    # one family: the same pins and half pins in every drawer
# half_pin = 5
"""


def job_text(openings: Openings, *, title: str, source: str, common: Mapping[str, Any]) -> str:
    """The job as TOML, one [[drawer]] a row, openings measured twice with both measures."""
    lines = [f"{key} = {_toml(value)}" for key, value in common.items()]
    plain = "".join(ch if ch.isprintable() else " " for ch in source)
    head = _HEAD.format(
        source=plain,
        title=_toml(title),
        unit=openings.unit.value,
        common="\n".join(lines) + "\n" + _OFFERED.rstrip("\n"),
    )
    return head + "".join(_drawer(row, openings.unit) for row in openings.rows)


def _drawer(row: OpeningRow, unit: Unit) -> str:
    said = ["", "[[drawer]]"]
    said.extend(f"# {words}" for words in _apart(row, unit))
    said.extend(f"{key} = {_toml(value)}" for key, value in row.values.items())
    return "\n".join(said) + "\n"


def _apart(row: OpeningRow, unit: Unit) -> list[str]:
    """What the maker should look at again: two measurements that differ."""
    words = []
    for key in ("width", "height", "depth"):
        if f"{key}2" not in row.values:
            continue
        first, second = (float(length_mm(row.values[name], unit=unit)) for name in (key, f"{key}2"))
        if abs(first - second) > (TWICE.warn or 0.0):
            words.append(
                f"row {row.line}: its {key} was measured twice, {abs(first - second):.2f} mm apart: the smaller counts"
            )
    return words


def _toml(value: Any) -> str:
    import tomlkit

    return str(tomlkit.item(value).as_string())
