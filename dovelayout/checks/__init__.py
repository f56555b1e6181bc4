"""Checks: a corner and the shop go in, findings come out.

`CHECKS` maps a theme to its function; every theme has a file of its own with its limits (`RULES`) and their sources.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from dovelayout.checks import grain, grooves, pins, stock, tails, tools
from dovelayout.checks.finding import Finding, Rule, worst_first
from dovelayout.joints.through import ThroughJoint
from dovelayout.shop import Shop

CHECKS: dict[str, Callable[[ThroughJoint, Shop], Iterable[Finding]]] = {
    "grain": grain.check_grain,
    "pins": pins.check_pins,
    "tails": tails.check_tails,
    "grooves": grooves.check_grooves,
    "stock": stock.check_stock,
    "tools": tools.check_tools,
}

RULES: tuple[Rule, ...] = (*grain.RULES, *pins.RULES, *tails.RULES, *grooves.RULES, *stock.RULES, *tools.RULES)


def check_joint(joint: ThroughJoint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one corner, worst first."""
    return worst_first(finding for check in CHECKS.values() for finding in check(joint, shop))
