"""Texts clear of lines, and the numbers of tails and pins: as large as goes on each piece, on no line.

Places are tried many at once: each question to the library of shapes has its price, whatever it holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from dovelayout.drawing.lettering import ASCENT, DESCENT, ascent, box, descent, width_mm
from dovelayout.drawing.primitives import Anchor, Text
from dovelayout.joints.spacing import Span

CLEAR_MM = 0.5
"""Room kept between a text and any line; ours."""

MOST_NUMBER_MM = 5.0
LEAST_NUMBER_MM = 1.8


def are_clear(texts: Sequence[Text], obstacles: shapely.STRtree) -> NDArray[np.bool_]:
    """Which texts keep off all lines."""
    clear = np.ones(len(texts), dtype=bool)
    if texts:
        x1, y1, x2, y2 = np.array([box(text) for text in texts]).T
        frames = shapely.box(x1 - CLEAR_MM, y1 - CLEAR_MM, x2 + CLEAR_MM, y2 + CLEAR_MM)
        clear[obstacles.query(frames, predicate="intersects")[0]] = False
    return clear


_Try = tuple[int, float, float]  # which piece, at what size, and how far off its middle, share of its height


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled:
    """The pieces of a face that have a number, as arrays."""

    labels: Sequence[str]
    shapes: NDArray[np.object_]
    middles: NDArray[np.float64]
    highs_mm: NDArray[np.float64]
    largest_mm: NDArray[np.float64]  # a number as large as goes

    @classmethod
    def of(cls, labels: Sequence[str], shapes: Sequence[Polygon]) -> Labelled:
        array = np.array(shapes, dtype=object)
        u_min, v_min, u_max, v_max = shapely.bounds(array).T
        return cls(
            labels=labels,
            shapes=array,
            middles=shapely.get_coordinates(shapely.centroid(array)),
            highs_mm=v_max - v_min,
            largest_mm=np.minimum(MOST_NUMBER_MM, 0.6 * np.minimum(u_max - u_min, v_max - v_min)),
        )

    def numbers(self, stretch: Span, obstacles: shapely.STRtree) -> Iterator[Text]:
        """Each number where it has room: most at the middle, as large as goes; the others smaller or a little off it."""
        sizes = self.largest_mm.tolist()
        found = self._first(
            [(n, size, 0.0) for n, size in enumerate(sizes) if size >= LEAST_NUMBER_MM], stretch, obstacles
        )
        rest = [
            (number, size, off)
            for number, largest in enumerate(sizes)
            if number not in found
            for size in _sizes(largest)
            for off in (0.0, -0.25, 0.25)
        ]
        found |= self._first(rest, stretch, obstacles)
        for number in sorted(found):
            x, y, size = found[number]
            yield Text(x_mm=x, y_mm=y, text=self.labels[number], size_mm=size, anchor=Anchor.MIDDLE)

    def _first(
        self, tries: Sequence[_Try], stretch: Span, obstacles: shapely.STRtree
    ) -> dict[int, tuple[float, float, float]]:
        """Of each piece the first try that has room, on its piece and clear of all lines: x, y and the size."""
        if not tries:
            return {}
        of = np.array([number for number, _, _ in tries])
        size, off = np.array([(size, off) for _, size, off in tries]).T
        x = self.middles[of, 0]
        y = self.middles[of, 1] + off * self.highs_mm[of] - (ASCENT - DESCENT) * size / 2
        across, up, down = (
            size * np.array([measure(label) for label in self.labels])[of] for measure in (_share, ascent, descent)
        )
        x1, y1, x2, y2 = x - across / 2, y - down, x - across / 2 + across, y + up
        good = (stretch.start_mm <= y1) & (y2 <= stretch.end_mm)
        good &= shapely.contains(self.shapes[of], shapely.box(x1, y1, x2, y2))
        left = good.nonzero()[0]
        frames = shapely.box(x1[left] - CLEAR_MM, y1[left] - CLEAR_MM, x2[left] + CLEAR_MM, y2[left] + CLEAR_MM)
        good[left[obstacles.query(frames, predicate="intersects")[0]]] = False
        found: dict[int, tuple[float, float, float]] = {}
        for index in good.nonzero()[0].tolist():
            found.setdefault(tries[index][0], (float(x[index]), float(y[index]), tries[index][1]))
        return found


def _share(label: str) -> float:
    """Width of a label, share of its size."""
    return width_mm(label, 1.0)


def _sizes(largest_mm: float) -> Iterator[float]:
    size_mm = largest_mm
    while size_mm >= LEAST_NUMBER_MM:
        yield size_mm
        size_mm *= 0.85
