"""What the seasons do to a job: every cross-grain fixing, panel and piece of stock in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.across import Across
from dovelayout.casework.panel import Panel
from dovelayout.checks.finding import Finding, worst_first
from dovelayout.checks.movement import acclimatised, across, neighbours, panels
from dovelayout.checks.movement.acclimatised import check_air, check_moisture, check_steps
from dovelayout.checks.movement.across import check_across
from dovelayout.checks.movement.neighbours import check_corner_woods, check_slide_woods
from dovelayout.checks.movement.panels import check_panel
from dovelayout.checks.rule import Rule
from dovelayout.checks.sliding.housing import GAP, TRAVEL, ZONE
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.shop import Shop

_RULES = (rule for room in (acclimatised, across, neighbours, panels) for rule in vars(room).values())

MOVEMENT_CHECKS = frozenset(rule.check for rule in (*_RULES, GAP, ZONE, TRAVEL) if isinstance(rule, Rule))
"""The checks that a season's report repeats, those of dividers among them."""


def check_movement(
    shop: Shop,
    *,
    boards: Sequence[Board] = (),
    joints: Sequence[CornerJoint] = (),
    across: Sequence[Across] = (),
    panels: Sequence[Panel] = (),
    slides: Sequence[SlidingJoint] = (),
) -> tuple[Finding, ...]:
    """All findings about movement, worst first; a divider's gap and travel are checked with its joints (`sliding`)."""

    def every() -> Iterator[Finding]:
        for part in across:
            yield from check_across(part, shop)
        braced = [part.host for part in across if not part.along]  # what lies across their grain keeps them flat
        for panel in panels:
            yield from check_panel(panel, shop, braced)
        for board in boards:
            yield from check_moisture(board, shop)
        yield from check_corner_woods(joints, shop)
        yield from check_slide_woods(slides, shop)
        at_corners = dict.fromkeys(board for joint in joints for board in (joint.tail_board, joint.pin_board))
        yield from check_steps(at_corners, shop)
        yield from check_air(shop, boards)

    return worst_first(every())
