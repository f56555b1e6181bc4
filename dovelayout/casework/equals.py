"""Numbering equal boards: a job may write two sides of a drawer as one board with count = 2.

Corners of a box say which of a pair they mean. Corners written one by one don't; where they close into a ring of four there
is one way to share the equal boards out, since a board can't meet both ends of its neighbour.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from dovelayout.joints.board import BoardEnd
from dovelayout.joints.corner import CornerJoint

Round = tuple[tuple[CornerJoint, int], ...]
"""Corners in the order of going round, and which of its ends each is left by: 0 for the tails, 1 for the pins."""


def numbered(joints: Sequence[CornerJoint]) -> tuple[CornerJoint, ...]:
    """The corners with equal boards numbered, '1' and '2', in their ends; those without equal boards as they are."""
    if not any(end.board.count > 1 for joint in joints for end in _ends(joint)):
        return tuple(joints)
    count: Counter[str] = Counter()
    numbers: dict[tuple[str, int], str] = {}  # (corner, end) -> which of the equal boards
    left = list(joints)
    while (ring := _ring(left)) is not None:
        for (one, leaves), (other, other_leaves) in zip(ring, (*ring[1:], ring[0]), strict=True):
            board = _ends(one)[leaves].board
            count[board.name] += 1
            if board.count > 1:
                numbers[one.name, leaves] = numbers[other.name, 1 - other_leaves] = str(count[board.name])
        done = {corner.name for corner, _ in ring}
        left = [joint for joint in left if joint.name not in done]
    several = _several(left)
    for joint in left:
        for which, end in enumerate(_ends(joint)):
            if end.board.name in several:
                count[end.board.name] += 1
                numbers[joint.name, which] = str(count[end.board.name])
    return tuple(_renamed(joint, numbers) for joint in joints)


def _ends(joint: CornerJoint) -> tuple[BoardEnd, BoardEnd]:
    return joint.spec.tails, joint.spec.pins


def _several(joints: Sequence[CornerJoint]) -> set[str]:
    """Equal boards that, without a ring, have to be another one at every corner: an end is used twice, or both ends meet
    the same neighbour."""
    uses: dict[str, list[tuple[str, str]]] = {}
    for joint in joints:
        for end, mate in (_ends(joint), _ends(joint)[::-1]):
            if end.board.count > 1:
                uses.setdefault(end.board.name, []).append((end.end.value, mate.board.name))
    return {
        name for name, rows in uses.items() if any(len(set(column)) < len(rows) for column in zip(*rows, strict=True))
    }


def _ring(joints: Sequence[CornerJoint]) -> Round | None:
    """Four corners that close: each board is left by the end opposite to the one it was reached by."""

    def closed(path: Round) -> Round | None:
        joint, leaves = path[-1]
        end = _ends(joint)[leaves]
        next_end = (end.board.name, end.end.opposite)
        if len(path) == 4:
            first = _ends(path[0][0])[1 - path[0][1]]
            return path if (first.board.name, first.end) == next_end else None
        rings = (
            closed((*path, (other, other_leaves)))
            for other in joints
            if all(other is not corner for corner, _ in path)
            for other_leaves, reached in enumerate(reversed(_ends(other)))
            if (reached.board.name, reached.end) == next_end
        )
        return next((ring for ring in rings if ring is not None), None)

    return next((ring for joint in joints if (ring := closed(((joint, 0),))) is not None), None)


def _renamed(joint: CornerJoint, numbers: dict[tuple[str, int], str]) -> CornerJoint:
    tails, pins = (
        replace(end, instance=numbers.get((joint.name, which), end.instance)) for which, end in enumerate(_ends(joint))
    )
    return replace(joint, spec=replace(joint.spec, tails=tails, pins=pins))
