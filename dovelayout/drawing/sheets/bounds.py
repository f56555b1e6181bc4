"""How few sheets a set of pieces could do with at all: two yardsticks for the nesting. The pieces each fit the room."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np

from dovelayout.drawing.sheets.nesting import GAP_MM, Shape, Size

_NEAR = 1e-9
_Shares = tuple[tuple[float, float], ...]  # the ways of a piece, gap and all, as shares of the sheet's sides


def area_bound(shapes: Sequence[Shape], room_mm: Size) -> int:
    """The area of the pieces and of the gap beside each over the sheet's, as if paper could be poured; long strips
    never reach it."""
    kinds = _kinds(shapes, room_mm)
    return math.ceil(math.fsum(n * min(wide * high for wide, high in ways) for ways, n in kinds.items()) - _NEAR)


def nesting_bound(shapes: Sequence[Shape], room_mm: Size) -> int:
    """What no arrangement of these rectangles can go below, turned or not.

    It is the bound of dual feasible functions (Fekete and Schepers, 'New classes of fast lower bounds for bin packing
    problems', Mathematical Programming 91, 2001): sides are stretched so that what fitted still fits, and the area is
    taken again; of a piece that may be turned the smaller area counts.
    """
    kinds = _kinds(shapes, room_mm)
    if not kinds:
        return 0
    count = np.array(list(kinds.values()), dtype=float)
    # a piece of one way is taken twice: (kind, way, stretch) across and up
    both = [ways if len(ways) == 2 else (*ways, *ways) for ways in kinds]
    across, up = (
        np.array([[[stretch(way[axis]) for stretch in STRETCHES] for way in ways] for ways in both]) for axis in (0, 1)
    )
    best = max(float((count @ (across[:, :, [one]] * up).min(axis=1)).max()) for one in range(len(STRETCHES)))
    return math.ceil(best - _NEAR)


def _kinds(shapes: Sequence[Shape], room_mm: Size) -> Counter[_Shares]:
    full = (room_mm[0] + GAP_MM, room_mm[1] + GAP_MM)
    return Counter(
        tuple(
            ((wide + GAP_MM) / full[0], (high + GAP_MM) / full[1])
            for wide, high in shape.ways
            if wide + GAP_MM <= full[0] + _NEAR and high + GAP_MM <= full[1] + _NEAR
        )
        for shape in shapes
    )


def _thrown(limit: float) -> Callable[[float], float]:
    """Sides over 1 - limit count as the whole side, sides under the limit as nothing."""

    def stretch(share: float) -> float:
        if share > 1.0 - limit + _NEAR:
            return 1.0
        return 0.0 if share < limit - _NEAR else share

    return stretch


def _stepped(parts: int) -> Callable[[float], float]:
    """Sides in steps: of those just over 1/(parts + 1) no more than `parts` lie in a row."""

    def stretch(share: float) -> float:
        times = share * (parts + 1)
        if abs(times - round(times)) < _NEAR:
            return share
        return math.floor(times) / parts

    return stretch


STRETCHES: tuple[Callable[[float], float], ...] = (
    lambda share: share,
    *(_stepped(parts) for parts in range(1, 8)),
    *(_thrown(step / 40) for step in range(1, 21)),
)
