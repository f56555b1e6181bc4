"""Which corners can close, when, and what holds them apart.

Boards that are joined already move as one. Where a corner closes, the tail board has to move on to the pins along its own
inward normal and not across it. On each axis that is an order of the moving bodies; where the order goes round in a circle
the corners can't close in that go: a front and two sides glued first leave no way in for the back's pins.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from graphlib import CycleError, TopologicalSorter

from dovelayout.casework.assembly import Assembly, Seat, seat_of
from dovelayout.joints.corner import CornerJoint
from dovelayout.words import grouped

Groups = tuple[tuple[CornerJoint, ...], ...]
"""Corners that close together, one group after the other."""

MOST_SHUFFLED = 4
"""Corners or tail boards of one go that are tried in every order and grouping: a ring has no more corners; ours."""

Tie = tuple[Seat, Seat]
"""Two boards that something else already holds to each other, such as a dovetailed divider between them."""


def can_close(
    assembly: Assembly, *, closed: Collection[CornerJoint], closing: Collection[CornerJoint], ties: Sequence[Tie] = ()
) -> bool:
    """Whether these corners can all close in one go, once those others are closed."""
    together = [(seat_of(joint.spec.tails), seat_of(joint.spec.pins)) for joint in closed] + list(ties)
    for axis in (0, 1):
        body = {member.seat: member.seat for member in assembly.members}
        moves: list[tuple[Seat, Seat]] = []
        joined = list(together)
        for joint in closing:
            tails, pins = seat_of(joint.spec.tails), seat_of(joint.spec.pins)
            member = assembly.member(joint.spec.tails)
            if member.axis != axis:
                joined.append((tails, pins))
            else:
                moves.append((pins, tails) if member.sign > 0 else (tails, pins))
        for one, other in joined:
            old, new = body[one], body[other]
            body = {seat: new if now == old else now for seat, now in body.items()}
        if not _in_order([(body[slow], body[fast]) for slow, fast in moves]):
            return False
    return True


def _in_order(moves: Sequence[tuple[Seat, Seat]]) -> bool:
    """Whether 'the second moves further than the first' can hold for all pairs."""
    if any(slow == fast for slow, fast in moves):
        return False
    order: TopologicalSorter[Seat] = TopologicalSorter()
    for slow, fast in moves:
        order.add(fast, slow)
    try:
        order.prepare()
    except CycleError:
        return False
    return True


def sequence(
    assembly: Assembly, *, closed: Collection[CornerJoint], closing: Sequence[CornerJoint], ties: Sequence[Tie] = ()
) -> tuple[tuple[CornerJoint, ...], ...] | None:
    """The corners of one go in the groups they close in, one after the other; None where they can't.

    One tail board at a time where that goes, in the order of the job; else the first grouping that does.
    """
    for groups in (*_by_tail_board(closing), *_groupings(closing)):
        done = list(closed)
        for group in groups:
            if not can_close(assembly, closed=done, closing=group, ties=ties):
                break
            done += group
        else:
            return groups
    return None


def _by_tail_board(closing: Sequence[CornerJoint]) -> Iterator[Groups]:
    boards = grouped((seat_of(joint.spec.tails), joint) for joint in closing)
    if len(boards) <= MOST_SHUFFLED:
        yield from itertools.permutations(tuple(group) for group in boards.values())
    else:
        yield tuple(tuple(group) for group in boards.values())


def _groupings(closing: Sequence[CornerJoint]) -> Iterator[Groups]:
    """Ordered groupings, those of most groups first; only of the four corners of a ring and fewer."""
    if len(closing) > MOST_SHUFFLED:
        yield (tuple(closing),)
        return
    options: list[Groups] = []
    for places in itertools.product(range(len(closing)), repeat=len(closing)):
        used = sorted(set(places))
        if used == list(range(len(used))):
            options.append(
                tuple(tuple(one for one, at in zip(closing, places, strict=True) if at == step) for step in used)
            )
    yield from sorted(options, key=lambda groups: -len(groups))


def smaller_groups(groups: Groups) -> Iterator[tuple[tuple[str, ...], ...]]:
    """Names of the corners of one go in two goes and more, fewest first; whether each can close is still to be seen."""
    units = [tuple(joint.name for joint in group) for group in groups]
    for count in range(2, len(units) + 1):
        for cuts in itertools.combinations(range(1, len(units)), count - 1):
            edges = (0, *cuts, len(units))
            yield tuple(sum(units[start:end], ()) for start, end in itertools.pairwise(edges))
    corners = tuple(joint for group in groups for joint in group)
    if len(corners) <= MOST_SHUFFLED:
        for options in sorted(_groupings(corners), key=len):
            if len(options) > 1:
                yield tuple(tuple(joint.name for joint in group) for group in options)
