"""Texts clear of lines, and the numbers of tails and pins: as large as goes on each piece, on no line.

Many places are tried in one query: a query of the spatial index costs the same for one place as for many.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from dovelayout.drawing.lettering import ASCENT, DESCENT, ascent, box, descent, width_mm
from dovelayout.drawing.primitives import Anchor, Text, text_at
from dovelayout.joints.spacing import Span

CLEAR_MM = 0.5
"""Room kept between a text and any line; ours."""

MOST_NUMBER_MM = 5.0
LEAST_NUMBER_MM = 1.8

_Try = tuple[int, float, float]
"""Which piece, at what size (mm), and how far off its middle (share of its height)."""


def are_clear(texts: Sequence[Text], obstacles: shapely.STRtree) -> NDArray[np.bool_]:
    """Which texts keep off all lines."""
    return _off_lines(np.array([box(text) for text in texts]).reshape(-1, 4), obstacles)


def _off_lines(boxes: NDArray[np.float64], obstacles: shapely.STRtree) -> NDArray[np.bool_]:
    """Which boxes, a row (x1, y1, x2, y2) each, keep off all lines."""
    clear = np.ones(len(boxes), dtype=bool)
    x1, y1, x2, y2 = boxes.T
    frames = shapely.box(x1 - CLEAR_MM, y1 - CLEAR_MM, x2 + CLEAR_MM, y2 + CLEAR_MM)
    clear[obstacles.query(frames, predicate="intersects")[0]] = False
    return clear


def piece_numbers(
    labels: Sequence[str], shapes: Sequence[Polygon], stretch: Span, obstacles: shapely.STRtree
) -> Iterator[Text]:
    """The label of each piece where it has room within a stretch of v, on its piece and clear of all lines: most at the
    middle, as large as goes; the others smaller or a little off it. Shapes are in template coordinates."""
    array = np.array(shapes, dtype=object)
    u_min, v_min, u_max, v_max = shapely.bounds(array).T
    middles = shapely.get_coordinates(shapely.centroid(array))
    largest_mm = np.minimum(MOST_NUMBER_MM, 0.6 * np.minimum(u_max - u_min, v_max - v_min)).tolist()

    def fitting(tries: Sequence[_Try]) -> dict[int, Text]:
        """For each piece its label at the first of the tries that has room."""
        if not tries:
            return {}
        of = np.array([number for number, _, _ in tries])
        size, off = np.array([(size, off) for _, size, off in tries]).T
        x = middles[of, 0]
        y = middles[of, 1] + off * (v_max - v_min)[of] - (ASCENT - DESCENT) * size / 2
        across, up, down = (
            size * np.array([measure(label) for label in labels])[of] for measure in (_share, ascent, descent)
        )
        boxes = np.column_stack((x - across / 2, y - down, x - across / 2 + across, y + up))
        good = (stretch.start_mm <= boxes[:, 1]) & (boxes[:, 3] <= stretch.end_mm)
        good &= shapely.contains(array[of], shapely.box(*boxes.T))
        left = good.nonzero()[0]
        found: dict[int, Text] = {}
        for index in left[_off_lines(boxes[left], obstacles)].tolist():
            number, size_mm, _ = tries[index]
            place = (float(x[index]), float(y[index]))
            found.setdefault(number, text_at(place, labels[number], size_mm, Anchor.MIDDLE))
        return found

    found = fitting([(number, size, 0.0) for number, size in enumerate(largest_mm) if size >= LEAST_NUMBER_MM])
    left = [number for number in range(len(labels)) if number not in found]
    offs = (0.0, -0.25, 0.25)
    found |= fitting([(number, size, off) for number in left for size in _sizes(largest_mm[number]) for off in offs])
    yield from (text for _, text in sorted(found.items()))


def _share(label: str) -> float:
    """Width of a label, share of its size."""
    return width_mm(label, 1.0)


def _sizes(largest_mm: float) -> Iterator[float]:
    size_mm = largest_mm
    while size_mm >= LEAST_NUMBER_MM:
        yield size_mm
        size_mm *= 0.85
