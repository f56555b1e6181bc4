"""Bars to measure a print by, ticked in cm on one side and in inches on the other."""

from __future__ import annotations

from collections.abc import Iterable

from dovelayout.drawing.primitives import XY, Item, Items, Lines, Role, Stroke, placed, strokes, turned_left

MM_PER_INCH = 25.4


def bar(length_mm: float) -> Lines:
    """A bar from (0, 0) to the right: cm above the line, inches below it, long ticks at its ends."""
    segments: list[Stroke] = [(0.0, 0.0, length_mm, 0.0), (0.0, -2.5, 0.0, 5.0), (length_mm, -2.5, length_mm, 5.0)]
    for cm in range(1, int(length_mm // 10)):
        segments.append((cm * 10.0, 0.0, cm * 10.0, 3.0 if cm % 5 == 0 else 1.8))
    for inch in range(1, int(length_mm // MM_PER_INCH) + 1):
        segments.append((inch * MM_PER_INCH, 0.0, inch * MM_PER_INCH, -2.0))
    return strokes(Role.BAR, segments)


def set_along(items: Iterable[Item], at: XY, *, upwards: bool) -> Items:
    """A drawing that runs from (0, 0) to the right, set at a point: as it is, or rotated so that it runs upwards."""
    return placed(map(turned_left, items) if upwards else items, *at)
