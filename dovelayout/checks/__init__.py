"""Checks: a corner and the shop go in, findings come out.

`CHECKS` maps a theme to its function; every theme has a file of its own, with its rules. A finding's remedies are proposals
that nothing has been tried on; `verdict` tries them, on one corner (`dovelayout.check_joint`) or on a whole job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from dovelayout.checks.corner import fit, grain, grooves, laps, pins, stock, tails, tools
from dovelayout.checks.finding import Finding, worst_first
from dovelayout.checks.rule import Measure
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop

CHECKS: dict[str, Callable[[CornerJoint, Shop], Iterable[Finding]]] = {
    "grain": grain.check_grain,
    "pins": pins.check_pins,
    "tails": tails.check_tails,
    "grooves": grooves.check_grooves,
    "laps": laps.check_laps,
    "stock": stock.check_stock,
    "tools": tools.check_tools,
    "fit": fit.check_fit,
}

MEASURES = (grain.measure_grain, pins.measure_pins, tails.measure_tails, laps.measure_laps)
"""What the checks of themes measure whose limits layouts are compared by."""


def measure_joint(joint: CornerJoint, shop: Shop) -> tuple[Measure, ...]:
    """What the rules measure on a corner, without findings: cheap enough for whole grids of layouts."""
    return tuple(_measured(joint, shop))


def measures_clean(joint: CornerJoint, shop: Shop) -> bool:
    """Whether no rule that `measure_joint` measures by warns or stops; measures no further than the first that does."""
    return all(measure.clean for measure in _measured(joint, shop))


def _measured(joint: CornerJoint, shop: Shop) -> Iterator[Measure]:
    for measures in MEASURES:
        yield from measures(joint)
    yield from fit.measure_fit(joint, shop)


def corner_findings(joint: CornerJoint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one corner, worst first, their remedies not yet tried."""
    return worst_first(finding for check in CHECKS.values() for finding in check(joint, shop))
