"""Many pieces on few sheets: which piece goes where; rotated only where rotation is allowed.

Pieces come as sizes only, so that templates, sections and cards nest alike. A sheet begins with the first piece that has
no place yet and is filled from the pieces next in order, so that the first sheets hold the first corners. The fullest
filling is found by a beam search over maximal free rectangles. Lengths are counted in hundredths of a mm, so that nothing
is lost to rounding.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from dovelayout.drawing.primitives import Size
from dovelayout.errors import PrintError

GAP_MM = 3.0
"""Room between two pieces, for the scissors; ours."""

AHEAD = 64
"""How far ahead in the order of work a sheet may reach for a piece: eight boxes of four corners. Ours: twice as far saves
one sheet in a hundred, and scatters a drawer's templates over twice as many."""

BEAM = 8
"""Partial fillings of a sheet that are followed at once; twice as many save a sheet in a hundred in twice the time. Ours."""

BRANCHES = 4
_PER_MM = 100

_Kind = tuple[tuple[int, int, bool], ...]
"""Pieces of one size: width and height with the gap, in hundredths of a mm, and whether rotated, as far as they fit."""

_Spot = tuple[int, int, bool, int, int]
"""Where a piece stands: left, bottom, whether rotated, width and height with the gap, in hundredths of a mm."""

_Free = tuple[int, int, int, int]
"""A free rectangle: left, bottom, right, top, in hundredths of a mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The size of a piece as it stands, mm, and rotated a quarter turn left (None: it may not be rotated)."""

    upright: Size
    turned: Size | None = None

    @property
    def sizes(self) -> tuple[Size, ...]:
        """Its size as it stands, then rotated."""
        return (self.upright,) if self.turned is None else (self.upright, self.turned)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where a piece (by its number in the list) stands: its lower left corner, mm, and whether it is rotated."""

    piece: int
    x_mm: float
    y_mm: float
    turned: bool


Nest = tuple[tuple[Placement, ...], ...]
"""The placements on each sheet."""


def too_large(what: str, size_mm: Size, room_mm: Size) -> PrintError:
    """The error for a thing that the sheet has no room for."""
    return PrintError(
        f"{what} is {size_mm[0]:.0f} x {size_mm[1]:.0f} mm and the sheet has {room_mm[0]:.0f} x {room_mm[1]:.0f} mm of room",
        remedy="larger paper would do",
    )


def fits(shape: Shape, room_mm: Size) -> bool:
    """Whether a piece goes on an empty sheet."""
    return bool(_kind(shape, _counted(room_mm)))


def nested(shapes: Sequence[Shape], room_mm: Size) -> Nest:
    """The places of all pieces, sheet by sheet, each piece once. Raises PrintError for one larger than the sheet."""
    room, kinds = _counted(room_mm), _kinds(shapes, room_mm)
    left = list(range(len(shapes)))
    sheets: list[tuple[Placement, ...]] = []
    while left:
        ahead = [number for number in left[:AHEAD] if number < left[0] + AHEAD]
        filled = _filled(kinds[left[0]], Counter(kinds[number] for number in ahead), room)
        placements: list[Placement] = []
        for kind, spot in filled:
            number = next(number for number in ahead if kinds[number] == kind)
            ahead.remove(number)
            placements.append(_placement(number, spot))
        done = {placement.piece for placement in placements}
        left[:AHEAD] = [number for number in left[:AHEAD] if number not in done]
        sheets.append(tuple(sorted(placements, key=lambda placement: placement.piece)))
    return tuple(sheets)


def strip(shapes: Sequence[Shape], room_mm: Size) -> Nest:
    """Places on a roll: as short as bottom-left placing makes it, the longest pieces first; a further length is begun
    where one would grow longer than the room is high. Raises PrintError for a piece larger than the room."""
    room, kinds = _counted(room_mm), _kinds(shapes, room_mm)
    lengths: list[tuple[Placement, ...]] = []
    left = sorted(range(len(shapes)), key=lambda number: -max(kinds[number][0][:2]))
    while left:
        free, placements, later = [(0, 0, *room)], [], []
        for number in left:
            spots = [
                (y1 + high, x1, turned, y1, wide, high)
                for wide, high, turned in kinds[number]
                for x1, y1, x2, y2 in free
                if x1 + wide <= x2 and y1 + high <= y2
            ]
            if not spots:
                later.append(number)
                continue
            _, x, turned, y, wide, high = min(spots)
            free = _without(free, (x, y, x + wide, y + high))
            placements.append(_placement(number, (x, y, turned, wide, high)))
        lengths.append(tuple(sorted(placements, key=lambda placement: placement.piece)))
        left = later
    return tuple(lengths)


def _placement(number: int, spot: _Spot) -> Placement:
    x, y, turned, _, _ = spot
    return Placement(piece=number, x_mm=x / _PER_MM, y_mm=y / _PER_MM, turned=turned)


def _counted(room_mm: Size) -> tuple[int, int]:
    """The room in hundredths, one gap larger: the last piece of a row needs none beside it."""
    return (math.floor((room_mm[0] + GAP_MM) * _PER_MM + 1e-6), math.floor((room_mm[1] + GAP_MM) * _PER_MM + 1e-6))


def _kinds(shapes: Sequence[Shape], room_mm: Size) -> list[_Kind]:
    """The kind of each piece. Raises PrintError for one that doesn't fit."""
    kinds = [_kind(shape, _counted(room_mm)) for shape in shapes]
    for shape, kind in zip(shapes, kinds, strict=True):
        if not kind:
            raise too_large("a piece", shape.upright, room_mm)
    return kinds


def _kind(shape: Shape, room: tuple[int, int]) -> _Kind:
    sizes = [
        (math.ceil((wide + GAP_MM) * _PER_MM - 1e-6), math.ceil((high + GAP_MM) * _PER_MM - 1e-6), bool(turned))
        for turned, (wide, high) in enumerate(shape.sizes)
    ]
    return tuple(size for size in sizes if size[0] <= room[0] and size[1] <= room[1])


@dataclass(frozen=True, slots=True)
class _State:
    """A sheet being filled: area covered, what is free, what is placed, what is left to choose from."""

    covered: int
    free: list[_Free]
    placed: tuple[tuple[_Kind, _Spot], ...]
    left: Mapping[_Kind, int]

    def with_one(self, kind: _Kind, spot: _Spot) -> _State:
        """The sheet with one more piece."""
        x, y, _, wide, high = spot
        return _State(
            self.covered + wide * high,
            _without(self.free, (x, y, x + wide, y + high)),
            (*self.placed, (kind, spot)),
            {**self.left, kind: self.left[kind] - 1},
        )


def _filled(first: _Kind, kinds: Mapping[_Kind, int], room: tuple[int, int]) -> tuple[tuple[_Kind, _Spot], ...]:
    """The best filling found of one sheet that holds a piece of the first kind."""
    empty = _State(0, [(0, 0, *room)], (), kinds)
    beam = [empty.with_one(first, (0, 0, turned, wide, high)) for wide, high, turned in first]
    best = max(beam, key=lambda state: state.covered)
    while beam:
        further: dict[tuple[_Kind, ...], _State] = {}
        for state in beam:
            for kind, spot in _candidates(state):
                bag = tuple(sorted((*(placed for placed, _ in state.placed), kind)))
                if bag not in further:  # the same pieces, set in another order
                    further[bag] = state.with_one(kind, spot)
        beam = sorted(further.values(), key=lambda state: -state.covered)[:BEAM]
        if beam and beam[0].covered > best.covered:
            best = beam[0]
    return best.placed


def _candidates(state: _State) -> list[tuple[_Kind, _Spot]]:
    """The kinds that leave least slack in a free rectangle (on its shorter side), and the largest that goes in."""
    found: list[tuple[tuple[int, int, bool], _Kind, _Spot]] = []
    for kind, number in state.left.items():
        if not number:
            continue
        spots = []
        for wide, high, turned in kind:
            for x1, y1, x2, y2 in state.free:
                across, up = x2 - x1 - wide, y2 - y1 - high
                if across >= 0 and up >= 0:  # plain comparisons: this is asked some hundred times for every piece
                    slack = (across, up, turned) if across <= up else (up, across, turned)
                    spots.append((slack, kind, (x1, y1, turned, wide, high)))
        if spots:
            found.append(min(spots))
    found.sort()
    chosen = found[:BRANCHES]
    if len(found) > BRANCHES:
        largest = max(found, key=lambda one: one[2][3] * one[2][4])
        if largest not in chosen:
            chosen.append(largest)
    return [(kind, spot) for _, kind, spot in chosen]


def _without(free: Sequence[_Free], gone: _Free) -> list[_Free]:
    """The maximal free rectangles that are left when one is taken away."""
    left, bottom, right, top = gone
    parts: dict[_Free, None] = {}
    for rectangle in free:
        x1, y1, x2, y2 = rectangle
        if left >= x2 or right <= x1 or bottom >= y2 or top <= y1:
            parts[rectangle] = None
            continue
        if left > x1:
            parts[(x1, y1, left, y2)] = None
        if right < x2:
            parts[(right, y1, x2, y2)] = None
        if bottom > y1:
            parts[(x1, y1, x2, bottom)] = None
        if top < y2:
            parts[(x1, top, x2, y2)] = None
    return [one for one in parts if not _is_inside_another(one, parts)]


def _is_inside_another(inner: _Free, parts: Iterable[_Free]) -> bool:
    """Whether another of the rectangles, which are all different, contains this one."""
    x1, y1, x2, y2 = inner
    for outer in parts:
        left, bottom, right, top = outer
        if left <= x1 and bottom <= y1 and right >= x2 and top >= y2 and outer != inner:
            return True
    return False
