"""Two lower bounds for the number of sheets that a set of pieces needs. Each piece must fit the room."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence

import numpy as np

from dovelayout.drawing.primitives import Size
from dovelayout.drawing.sheets.nesting import GAP_MM, Shape

_NEAR = 1e-9
_Shares = tuple[Size, ...]
"""The sizes of a piece as it stands and rotated, gap included, as shares of the sheet's sides."""


def area_bound(shapes: Sequence[Shape], room_mm: Size) -> int:
    """The area of the pieces with their gaps over that of a sheet, rounded up; long strips never reach it."""
    kinds = _kinds(shapes, room_mm)
    return math.ceil(math.fsum(n * min(wide * high for wide, high in sizes) for sizes, n in kinds.items()) - _NEAR)


def nesting_bound(shapes: Sequence[Shape], room_mm: Size) -> int:
    """What no arrangement of these rectangles can go below, rotated or not.

    It is the bound of dual feasible functions (Fekete and Schepers, 'New classes of fast lower bounds for bin packing
    problems', Mathematical Programming 91, 2001): sides are stretched so that what fitted still fits, and the area is
    taken again; of a piece that may be rotated the smaller area counts.
    """
    kinds = _kinds(shapes, room_mm)
    if not kinds:
        return 0
    count = np.array(list(kinds.values()), dtype=float)
    # a piece that may not be rotated counts with its one size twice: (kind, size, stretch) across and up
    both = [sizes if len(sizes) == 2 else (*sizes, *sizes) for sizes in kinds]
    across, up = (
        np.array([[[stretch(size[axis]) for stretch in STRETCHES] for size in sizes] for sizes in both])
        for axis in (0, 1)
    )
    best = max(float((count @ (across[:, :, [one]] * up).min(axis=1)).max()) for one in range(len(STRETCHES)))
    return math.ceil(best - _NEAR)


def _kinds(shapes: Sequence[Shape], room_mm: Size) -> Counter[_Shares]:
    full = (room_mm[0] + GAP_MM, room_mm[1] + GAP_MM)
    return Counter(
        tuple(
            ((wide + GAP_MM) / full[0], (high + GAP_MM) / full[1])
            for wide, high in shape.sizes
            if wide + GAP_MM <= full[0] + _NEAR and high + GAP_MM <= full[1] + _NEAR
        )
        for shape in shapes
    )


def _cut_off(limit: float) -> Callable[[float], float]:
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
    *(_cut_off(step / 40) for step in range(1, 21)),
)
