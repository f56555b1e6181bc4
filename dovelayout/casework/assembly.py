"""What is glued together: the corners of a job as rings and other chains of boards, seen from above.

Going round, a board's right end meets the next one's left, and each corner turns by a quarter. A board's heading counts
these quarters; its inward normal lies along y for an even heading and along x for an odd one. A dovetailed corner closes in
one way only: the tail board moves along its own inward normal on to the pins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.divider import Divider
from dovelayout.casework.equals import numbered
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.corner import CornerJoint

Seat = tuple[str, str]
"""One board among equal ones: its name and which of the pair it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One board in its place.

    `inside_mm`: its length between the corners it carries, from inside face to inside face; `outside_mm`: over the
    outside faces of the boards at its ends, proud ends planed flush.
    """

    board: Board
    instance: str
    heading: int
    inside_mm: float
    outside_mm: float

    @property
    def seat(self) -> Seat:
        """Its name, and which of a pair it is."""
        return (self.board.name, self.instance)

    @property
    def label(self) -> str:
        """As people call it: 'side (left)'."""
        return f"{self.board.name} ({self.instance})" if self.instance else self.board.name

    @property
    def axis(self) -> int:
        """0 where its inward normal lies along x, 1 along y."""
        return 0 if self.heading % 2 else 1

    @property
    def sign(self) -> int:
        """Which way along that axis its inside face looks."""
        return 1 if self.heading % 4 in (0, 3) else -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Boards that are joined to each other by corners; `ring`: four of them, closed."""

    name: str
    members: tuple[Member, ...]
    corners: tuple[CornerJoint, ...]
    ring: bool

    def member(self, end: BoardEnd) -> Member:
        """The board that an end belongs to."""
        return {member.seat: member for member in self.members}[seat_of(end)]

    def corners_of(self, member: Member) -> tuple[CornerJoint, ...]:
        """The corners at a board's ends."""
        return tuple(joint for joint in self.corners if member.seat in _seats(joint))

    def carries_tails(self, member: Member) -> bool:
        """Whether every corner of this board has its tails."""
        return all(seat_of(joint.spec.tails) == member.seat for joint in self.corners_of(member))

    def opposite(self, member: Member) -> Member | None:
        """The board across, looking the other way."""
        return next((other for other in self.members if (other.heading - member.heading) % 4 == 2), None)

    @property
    def grain_sides(self) -> tuple[Member, Member] | None:
        """Two neighbours of a ring, whose inside lengths are the inside of the box; the longer first."""
        if not self.ring:
            return None
        one = self.members[0]
        other = next(member for member in self.members if (member.heading - one.heading) % 2)
        first, second = sorted((one, other), key=lambda member: -member.inside_mm)
        return first, second


def seat_of(end: BoardEnd) -> Seat:
    """Which board an end belongs to."""
    return (end.board.name, end.instance)


def taken_mm(joint: CornerJoint, seat: Seat) -> float:
    """How much of that board's length the corner takes: to its baseline, and past a lip."""
    faces = joint.end_faces()[0 if seat_of(joint.spec.tails) == seat else 1]
    return faces.baseline_mm + (0.0 if faces.lip is None else faces.lip.overhang_mm)


def _mate(joint: CornerJoint, seat: Seat) -> Board:
    return joint.pin_board if seat_of(joint.spec.tails) == seat else joint.tail_board


def assemblies(joints: Sequence[CornerJoint]) -> tuple[Assembly, ...]:
    """Every set of boards that hangs together, in the order of the job; corners written one by one are followed from
    board to board, those of a box or a drawer belong to it."""
    groups: dict[tuple[str, str], list[CornerJoint]] = {}
    for joint in joints:
        table, name = joint.spec.origin
        groups.setdefault((table, "" if table == "corner" else joint.spec.piece or name), []).append(joint)
    return tuple(
        _assembly("" if table == "corner" else name, chain)
        for (table, name), group in groups.items()
        for chain in _chains(numbered(group) if table == "corner" else group)
    )


def _seats(joint: CornerJoint) -> set[Seat]:
    return {seat_of(joint.spec.tails), seat_of(joint.spec.pins)}


def _chains(joints: Sequence[CornerJoint]) -> Iterator[list[CornerJoint]]:
    """Corners that share boards, directly or through others; in a chain each shares a board with one before it."""
    left = list(joints)
    while left:
        chain = [left.pop(0)]
        seats = _seats(chain[0])
        while (near := next((joint for joint in left if seats & _seats(joint)), None)) is not None:
            chain.append(near)
            left.remove(near)
            seats |= _seats(near)
        yield chain


def _assembly(name: str, chain: Sequence[CornerJoint]) -> Assembly:
    headings: dict[Seat, int] = {seat_of(chain[0].spec.tails): 0}
    boards: dict[Seat, Board] = {}
    for joint in chain:
        for one, other in ((joint.spec.tails, joint.spec.pins), (joint.spec.pins, joint.spec.tails)):
            boards[seat_of(one)] = one.board
            if seat_of(one) in headings:
                turn = 1 if one.end is End.RIGHT else -1
                headings.setdefault(seat_of(other), headings[seat_of(one)] + turn)
    members = tuple(_member(boards[seat], seat, turn, chain) for seat, turn in headings.items())
    return Assembly(
        name=name or f"corner{'s' if len(chain) > 1 else ''} {', '.join(joint.name for joint in chain)}",
        members=members,
        corners=tuple(chain),
        ring=_is_ring(members, chain),
    )


def _member(board: Board, seat: Seat, heading: int, chain: Sequence[CornerJoint]) -> Member:
    own = [joint for joint in chain if seat in _seats(joint)]
    inside_mm = board.length_mm - math.fsum(taken_mm(joint, seat) for joint in own)
    return Member(
        board=board,
        instance=seat[1],
        heading=heading,
        inside_mm=inside_mm,
        outside_mm=inside_mm + math.fsum(_mate(joint, seat).thickness_mm for joint in own),
    )


def _is_ring(members: Sequence[Member], chain: Sequence[CornerJoint]) -> bool:
    ends = [(seat_of(end), end.end) for joint in chain for end in (joint.spec.tails, joint.spec.pins)]
    quarters = {member.heading % 4 for member in members}
    return len(members) == len(chain) == 4 and len(set(ends)) == 8 and len(quarters) == 4


def hosts_in(divider: Divider, assembly: Assembly) -> tuple[Member, ...]:
    """The boards of an assembly that a divider's housings lie in; both of a pair of equal boards count as two."""
    found: list[Member] = []
    for joint in divider.joints:
        for member in assembly.members:
            if member.board.name == joint.host.name and member not in found:
                found.append(member)
                break
    return tuple(found)
