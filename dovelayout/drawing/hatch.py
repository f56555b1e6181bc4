"""Section hatching: thin continuous lines at 45 degrees (in the manner of ISO 128), as explicit strokes.

No pattern fills: some viewers drop them. All polygons are hatched in one pass of a scan-line over their edges.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon

from dovelayout.drawing.primitives import Stroke


def hatch(polygons: Sequence[Polygon], *, pitch_mm: float = 2.0, angle_deg: float = 45.0) -> tuple[Stroke, ...]:
    """Hatch lines inside the polygons, `pitch_mm` apart, all in step with each other.

    The polygons must not overlap. Lines sit half a pitch off the origin, so that they miss edges at round numbers.
    """
    if not polygons:
        return ()
    rings, polygon_of_ring = shapely.get_rings(np.asarray(polygons, dtype=object), return_index=True)
    points, ring_of_point = shapely.get_coordinates(rings, return_index=True)
    along = math.radians(angle_deg)
    cos, sin = math.cos(along), math.sin(along)
    x, y = points.T
    # hatch lines are now v = constant; element by element, so that equal corners stay equal to the last bit
    turned = np.column_stack((x * cos + y * sin, y * cos - x * sin))

    same_ring = ring_of_point[1:] == ring_of_point[:-1]
    u1, v1 = turned[:-1][same_ring].T
    u2, v2 = turned[1:][same_ring].T
    owner = polygon_of_ring[ring_of_point[:-1][same_ring]]

    # every hatch line k (v = (k + 1/2) pitch) that an edge crosses, half open so that a corner counts once
    low = np.ceil(np.minimum(v1, v2) / pitch_mm - 0.5).astype(int)
    high = np.ceil(np.maximum(v1, v2) / pitch_mm - 0.5).astype(int)
    crossings = high - low
    edge = np.repeat(np.arange(len(u1)), crossings)
    if len(edge) == 0:
        return ()
    first = np.repeat(np.cumsum(crossings) - crossings, crossings)
    line = low[edge] + (np.arange(len(edge)) - first)
    v = (line + 0.5) * pitch_mm
    u = u1[edge] + (v - v1[edge]) * (u2[edge] - u1[edge]) / (v2[edge] - v1[edge])

    order = np.lexsort((u, line, owner[edge]))
    starts, ends = order[0::2], order[1::2]
    back = np.array([[cos, sin], [-sin, cos]])
    xy1 = np.column_stack((u[starts], v[starts])) @ back
    xy2 = np.column_stack((u[ends], v[ends])) @ back
    long_enough = np.hypot(*(xy2 - xy1).T) > 1e-6
    return tuple(map(tuple, np.hstack((xy1, xy2))[long_enough].tolist()))
