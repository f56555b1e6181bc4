"""Many pieces on few sheets: which piece goes where, never turned unless that way of it was offered.

Pieces come as sizes only, so that templates, sections and cards nest alike. A sheet begins with the first piece that has
no place yet and is filled from the pieces next in order, so that the first sheets hold the first corners. What fills it
best is looked for along several ways at once (a beam search over maximal free rectangles). Everything is counted in
hundredths of a mm, so that nothing is lost to rounding.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from dovelayout.errors import PrintError

GAP_MM = 3.0
"""Room between two pieces, for the scissors; ours."""

AHEAD = 64
"""How far ahead in the order of work a sheet may reach for a piece: eight boxes of four corners. Ours: twice as far saves
one sheet in a hundred, and scatters a drawer's templates over twice as many."""

WAYS = 8
"""Ways of filling a sheet that are followed at once; twice as many save a sheet in a hundred in twice the time. Ours."""

BRANCHES = 4
_PER_MM = 100

Size = tuple[float, float]  # width and height in mm
_Whole = tuple[int, int]  # the same with its gap, in hundredths of a mm
_Free = tuple[int, int, int, int]  # a free rectangle: left, bottom, right, top


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The room that a piece takes as it stands and, where it may be turned, a quarter to the left (None: it may not)."""

    upright: Size
    turned: Size | None = None

    @property
    def ways(self) -> tuple[Size, ...]:
        """All its sizes."""
        return (self.upright,) if self.turned is None else (self.upright, self.turned)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a piece (by its number in the list) stands: its lower left corner, and whether it was turned."""

    piece: int
    x_mm: float
    y_mm: float
    turned: bool


def fits(shape: Shape, room_mm: Size) -> bool:
    """Whether a piece goes on an empty sheet, one way or the other."""
    return bool(_ways(shape, _whole(room_mm)))


def nested(shapes: Sequence[Shape], room_mm: Size) -> tuple[tuple[Place, ...], ...]:
    """The places of all pieces, sheet by sheet, each piece once. Raises PrintError for one larger than the sheet."""
    room = _whole(room_mm)
    ways = [_ways(shape, room) for shape in shapes]
    for shape, possible in zip(shapes, ways, strict=True):
        if not possible:
            raise PrintError(
                f"a piece of {shape.upright[0]:.0f} x {shape.upright[1]:.0f} mm doesn't fit {room_mm[0]:.0f} x "
                f"{room_mm[1]:.0f} mm of room",
                remedy="larger paper would do",
            )
    left = list(range(len(shapes)))
    sheets: list[tuple[Place, ...]] = []
    while left:
        ahead = [number for number in left[:AHEAD] if number < left[0] + AHEAD]
        filled = _filled(ways[left[0]], Counter(ways[number] for number in ahead), room)
        places: list[Place] = []
        for kind, (x, y, turned) in filled:
            number = next(number for number in ahead if ways[number] == kind)
            ahead.remove(number)
            places.append(Place(piece=number, x_mm=x / _PER_MM, y_mm=y / _PER_MM, turned=turned))
        taken = {place.piece for place in places}
        left[:AHEAD] = [number for number in left[:AHEAD] if number not in taken]
        sheets.append(tuple(sorted(places, key=lambda place: place.piece)))
    return tuple(sheets)


def strip(shapes: Sequence[Shape], wide_mm: float, most_mm: float) -> tuple[tuple[Place, ...], ...]:
    """Places on a roll: as short as bottom-left placing makes it, the longest pieces first; a further length is begun
    where one would grow longer than `most_mm`. Raises PrintError for a piece wider than the roll."""
    room = _whole((wide_mm, most_mm))
    ways = [_ways(shape, room) for shape in shapes]
    if not all(ways):
        width, height = next(shape.upright for shape, possible in zip(shapes, ways, strict=True) if not possible)
        raise PrintError(f"a piece of {width:.0f} x {height:.0f} mm doesn't fit a roll of {wide_mm:.0f} mm of room")
    lengths: list[tuple[Place, ...]] = []
    left = sorted(range(len(shapes)), key=lambda number: -max(ways[number][0][:2]))
    while left:
        free, places, over = [(0, 0, *room)], [], []
        for number in left:
            spots = [
                (y1 + high, x1, turned, y1, wide, high)
                for wide, high, turned in ways[number]
                for x1, y1, x2, y2 in free
                if x1 + wide <= x2 and y1 + high <= y2
            ]
            if not spots:
                over.append(number)
                continue
            _, x, turned, y, wide, high = min(spots)
            free = _without(free, (x, y, x + wide, y + high))
            places.append(Place(piece=number, x_mm=x / _PER_MM, y_mm=y / _PER_MM, turned=turned))
        lengths.append(tuple(sorted(places, key=lambda place: place.piece)))
        left = over
    return tuple(lengths)


_Ways = tuple[tuple[int, int, bool], ...]  # width and height with the gap, and whether it is the turned way


def _whole(room_mm: Size) -> _Whole:
    """The room in hundredths, one gap larger: the last piece of a row needs none beside it."""
    return (math.floor((room_mm[0] + GAP_MM) * _PER_MM + 1e-6), math.floor((room_mm[1] + GAP_MM) * _PER_MM + 1e-6))


def _ways(shape: Shape, room: _Whole) -> _Ways:
    """The ways in which a piece goes on an empty sheet, its gap included, rounded up."""
    sizes = [
        (math.ceil((wide + GAP_MM) * _PER_MM - 1e-6), math.ceil((high + GAP_MM) * _PER_MM - 1e-6), bool(turned))
        for turned, (wide, high) in enumerate(shape.ways)
    ]
    return tuple(size for size in sizes if size[0] <= room[0] and size[1] <= room[1])


@dataclass(frozen=True, slots=True)
class _State:
    """A sheet being filled: area covered, what is free, what is placed, what is left to choose from."""

    covered: int
    free: list[_Free]
    placed: tuple[tuple[_Ways, tuple[int, int, bool]], ...]
    left: Mapping[_Ways, int]


def _filled(first: _Ways, kinds: Mapping[_Ways, int], room: _Whole) -> tuple[tuple[_Ways, tuple[int, int, bool]], ...]:
    """The best filling found of one sheet that holds a piece of the first kind: pieces of one size are one kind."""
    empty = _State(0, [(0, 0, *room)], (), kinds)
    ways = [_with(empty, first, (0, 0, turned), wide, high) for wide, high, turned in first]
    best = max(ways, key=lambda state: state.covered)
    while ways:
        further: dict[tuple[_Ways, ...], _State] = {}
        for state in ways:
            for kind, at, wide, high in _candidates(state):
                bag = tuple(sorted((*(placed for placed, _ in state.placed), kind)))
                if bag not in further:  # the same pieces, set in another order
                    further[bag] = _with(state, kind, at, wide, high)
        ways = sorted(further.values(), key=lambda state: -state.covered)[:WAYS]
        if ways and ways[0].covered > best.covered:
            best = ways[0]
    return best.placed


def _candidates(state: _State) -> list[tuple[_Ways, tuple[int, int, bool], int, int]]:
    """The kinds that lie snuggest in a free rectangle (least slack on its shorter side), and the largest that goes in."""
    found: list[tuple[tuple[int, int, bool], _Ways, tuple[int, int, bool], int, int]] = []
    for kind, number in state.left.items():
        if not number:
            continue
        spots = []
        for wide, high, turned in kind:
            for x1, y1, x2, y2 in state.free:
                across, up = x2 - x1 - wide, y2 - y1 - high
                if across >= 0 and up >= 0:  # plain comparisons: this is asked some hundred times for every piece
                    slack = (across, up, turned) if across <= up else (up, across, turned)
                    spots.append((slack, kind, (x1, y1, turned), wide, high))
        if spots:
            found.append(min(spots))
    found.sort()
    chosen = found[:BRANCHES]
    if len(found) > BRANCHES:
        largest = max(found, key=lambda spot: spot[3] * spot[4])
        if largest not in chosen:
            chosen.append(largest)
    return [(kind, at, wide, high) for _, kind, at, wide, high in chosen]


def _with(state: _State, kind: _Ways, at: tuple[int, int, bool], wide: int, high: int) -> _State:
    x, y, _ = at
    return _State(
        state.covered + wide * high,
        _without(state.free, (x, y, x + wide, y + high)),
        (*state.placed, (kind, at)),
        {**state.left, kind: state.left[kind] - 1},
    )


def _without(free: Sequence[_Free], taken: _Free) -> list[_Free]:
    """The maximal free rectangles that are left when one is taken away."""
    left, bottom, right, top = taken
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
    return [one for one in parts if not _held(one, parts)]


def _held(inner: _Free, parts: Iterable[_Free]) -> bool:
    """Whether another of the parts, which are all different, holds this one."""
    x1, y1, x2, y2 = inner
    for outer in parts:
        left, bottom, right, top = outer
        if left <= x1 and bottom <= y1 and right >= x2 and top >= y2 and outer != inner:
            return True
    return False
