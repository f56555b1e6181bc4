"""Tools: which of the shop's chisels clears the waste."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.corner.parts import part_of
from dovelayout.checks.finding import COMMON_PRACTICE, Finding
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop

CHISEL = rule(
    "chisel", "room for a chisel in the waste at the baseline", unit="mm", layout=True, source=COMMON_PRACTICE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearing:
    """One kind of waste, the room a chisel has at the baseline, and the widest of the shop's chisels that goes in."""

    what: str
    room_mm: float
    chisel_mm: float | None


def clearings(joint: CornerJoint, shop: Shop) -> tuple[Clearing, ...]:
    """Waste between the tails (chopped at the baseline, where it is widest) and the sockets between the pins (chopped
    from both faces, so the narrower, inside one rules), each with the widest chisel that clears the narrowest."""
    rows = []
    if joint.full_pins:
        rows.append(("between the tails", min(pin.root_mm for pin in joint.full_pins)))
    rows.append(("between the pins", min(tail.neck_mm for tail in joint.tails)))
    return tuple(
        Clearing(
            what=what,
            room_mm=room_mm,
            chisel_mm=max((c for c in shop.chisels_mm if c <= room_mm + 1e-9), default=None),
        )
        for what, room_mm in rows
    )


def check_tools(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """A note for every waste that none of the shop's chisels clears."""
    if not shop.chisels_mm:
        return
    smallest = CHISEL.limited(note=min(shop.chisels_mm))
    for clearing in clearings(joint, shop):
        if breach := smallest.breach(clearing.room_mm):
            yield breach.finding(
                part_of(joint, clearing.what),
                f"none of the shop's chisels clears the waste {clearing.what}: {clearing.room_mm:.1f} mm of room, the "
                f"narrowest chisel is {breach.limit:g} mm",
                fix=f"a chisel of {mm_text(int(clearing.room_mm * 2) / 2)} or less, or the saw, and a knife to pare with",
            )
