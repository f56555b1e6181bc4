"""Telling equal boards apart: a job may write two sides of a drawer as one board with count = 2.

Corners of a box say which of a pair they mean. Corners written one by one don't; where they close into a ring of four there
is one way to share the equal boards out, since a board can't meet both ends of its neighbour.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from dovelayout.joints.board import BoardEnd
from dovelayout.joints.corner import CornerJoint

Way = tuple[tuple[CornerJoint, bool], ...]
"""Corners round a ring, and whether each is left by its pin board."""


def told_apart(joints: Sequence[CornerJoint]) -> tuple[CornerJoint, ...]:
    """The corners with equal boards numbered, '1' and '2', in their ends; those without equal boards as they are."""
    if not any(end.board.count > 1 for joint in joints for end in _ends(joint)):
        return tuple(joints)
    number: Counter[str] = Counter()
    named: dict[tuple[str, bool], str] = {}  # (corner, whether its pins) -> which of the equal boards
    left = list(joints)
    while left:
        way = _ring(left)
        if way is None:
            break
        for (one, by_pins), (other, other_by_pins) in zip(way, (*way[1:], way[0]), strict=True):
            board = _end(one, pins=by_pins).board
            number[board.name] += 1
            if board.count > 1:
                named[one.name, by_pins] = named[other.name, not other_by_pins] = str(number[board.name])
        done = {corner.name for corner, _ in way}
        left = [joint for joint in left if joint.name not in done]
    several = _several(left)
    for joint in left:
        for pins in (False, True):
            board = _end(joint, pins=pins).board
            if board.name in several:
                number[board.name] += 1
                named[joint.name, pins] = str(number[board.name])
    return tuple(_renamed(joint, named) for joint in joints)


def _several(joints: Sequence[CornerJoint]) -> set[str]:
    """Equal boards that, without a ring, have to be another one at every corner: an end is used twice, or both ends meet
    the same neighbour."""
    uses: dict[str, list[tuple[str, str]]] = {}
    for joint in joints:
        for end, mate in (_ends(joint), _ends(joint)[::-1]):
            if end.board.count > 1:
                uses.setdefault(end.board.name, []).append((end.end.value, mate.board.name))
    return {
        name
        for name, rows in uses.items()
        if len({end for end, _ in rows}) < len(rows) or len({mate for _, mate in rows}) < len(rows)
    }


def _ends(joint: CornerJoint) -> tuple[BoardEnd, BoardEnd]:
    return joint.spec.tails, joint.spec.pins


def _end(joint: CornerJoint, *, pins: bool) -> BoardEnd:
    return joint.spec.pins if pins else joint.spec.tails


def _ring(joints: Sequence[CornerJoint]) -> Way | None:
    """Four corners that close: each board is left by the end opposite to the one it was reached by."""

    def goes_on(way: Way) -> Way | None:
        leaves = _end(way[-1][0], pins=way[-1][1])
        if len(way) == 4:
            first = _end(way[0][0], pins=not way[0][1])
            return way if (first.board.name, first.end) == (leaves.board.name, leaves.end.opposite) else None
        for joint in joints:
            for by_pins in (False, True):
                reached = _end(joint, pins=not by_pins)
                meets = (reached.board.name, reached.end) == (leaves.board.name, leaves.end.opposite)
                if meets and all(joint is not corner for corner, _ in way):
                    found = goes_on((*way, (joint, by_pins)))
                    if found is not None:
                        return found
        return None

    return next((way for joint in joints if (way := goes_on(((joint, False),))) is not None), None)


def _renamed(joint: CornerJoint, named: dict[tuple[str, bool], str]) -> CornerJoint:
    spec = joint.spec
    tails, pins = named.get((joint.name, False), ""), named.get((joint.name, True), "")
    if not tails and not pins:
        return joint
    return replace(
        joint,
        spec=replace(
            spec,
            tails=replace(spec.tails, instance=tails or spec.tails.instance),
            pins=replace(spec.pins, instance=pins or spec.pins.instance),
        ),
    )
