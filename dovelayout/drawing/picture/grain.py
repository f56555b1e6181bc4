"""Grain on the faces of a board: growth rings on end grain, sparse broken lines along the fibres on the others.

A pattern to tell the two apart in black and white, not the rings of the very board. Darker woods have closer lines.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from enum import Enum
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from dovelayout.drawing.picture.joint_solid import Timber
from dovelayout.drawing.picture.solid import Array, PlaneFace, Vec
from dovelayout.drawing.primitives import XY
from dovelayout.joints.board import Board, Rings
from dovelayout.wood.species import Wood, WoodKind

LineStrings = NDArray[np.object_]

END_GRAIN = 0.6
"""A face is end grain when the fibres run into it at 37 degrees or more (this is the sine): mitres are, cheeks aren't."""

EDGE_ON = 0.05
"""A face that is seen flatter than this (the sine) has no room for lines."""

_GOLDEN = (math.sqrt(5) - 1) / 2  # steps that never fall into step


class Tone(Enum):
    """How dark a wood looks: how far apart on the paper its lines stand, along the fibres and on end grain, mm."""

    LIGHT = (6.0, 2.3)
    MIDDLE = (4.0, 1.7)
    DARK = (2.6, 1.25)


# usual colours of heartwood; common knowledge of the trade, no source
_DARK = {"walnut", "wenge", "ebony", "rosewood", "bubinga", "padauk", "ipe", "jatoba", "purpleheart"}
_LIGHT = {"maple", "pine", "fir", "spruce", "ash", "birch", "basswood", "poplar", "aspen", "holly", "cottonwood"}
_LIGHT |= {"hemlock", "buckeye", "sycamore", "beech", "ramin", "obeche", "balsa", "lime", "cativo", "plywood"}


def tone(wood: Wood) -> Tone:
    """How dark a wood is drawn; one that isn't known is in the middle."""
    words = set(re.findall(r"\w+", wood.name.partition(" (")[0].casefold()))
    if words & _DARK:
        return Tone.DARK
    return Tone.LIGHT if words & _LIGHT else Tone.MIDDLE


def grain_marks(timber: Timber, *, scale: float, towards: Vec) -> tuple[tuple[Vec, Vec], ...]:
    """Strokes on the faces of a board that look `towards` the viewer; `scale`: mm on paper for a mm of wood."""
    along_mm, end_mm = (pitch / scale for pitch in tone(timber.end.board.wood).value)
    marks: list[tuple[Vec, Vec]] = []
    for face in timber.solid.faces:
        if float(np.dot(face.normal, towards)) < EDGE_ON:
            continue
        if abs(float(np.dot(face.normal, timber.along))) > END_GRAIN:
            marks.extend(_end_grain(timber, face, end_mm))
        else:
            marks.extend(_long_grain(timber, face, along_mm, 9.0 / scale))
    return tuple(marks)


def _flat(face: PlaneFace, corner: Array, axes: Array) -> Polygon:
    """A face in two coordinates, counted from a corner along the axes."""
    outer, *holes = ((np.array(ring) - corner) @ axes.T for ring in face.rings)
    return Polygon(outer, holes)


def _end_grain(timber: Timber, face: PlaneFace, pitch_mm: float) -> Iterator[tuple[Vec, Vec]]:
    """Rings run along the fibres through the board: they are drawn across its width and thickness, and carried along
    the fibres to the face."""
    corner, normal, fibres = np.array(timber.corner), np.array(face.normal), np.array(timber.along)
    axes = np.array((timber.wide, timber.through))
    shape = _flat(face, corner, axes)
    offset = float(normal @ (np.array(face.ring[0]) - corner))

    def lifted(points: Array) -> Array:
        flat = corner + points @ axes
        return np.asarray(flat + np.outer(offset - (flat - corner) @ normal, fibres) / float(normal @ fibres))

    yield from _clipped(_ring_lines(timber.end.board, shape, pitch_mm), shape, lifted)


def _ring_lines(board: Board, shape: Polygon, pitch_mm: float) -> LineStrings:
    """The lines of the rings over the section of a board, where a shape of it lies."""
    wide, thick = board.width_mm, board.thickness_mm
    if board.wood.kind is WoodKind.PLYWOOD:
        count = max(3, 2 * round(thick / pitch_mm / 2) + 1)
        heights = (thick * k / count for k in range(1, count))
        return np.asarray(shapely.linestrings([((-wide, at), (2 * wide, at)) for at in heights]))
    centre = {
        Rings.FLAT: (0.45 * wide, -max(0.7 * wide, 2.0 * thick)),  # well outside of the board, a little off its middle
        Rings.QUARTER: (-4.0 * wide, 0.4 * thick),
        Rings.RIFT: (-2.0 * wide, -2.0 * wide),
    }[board.rings]
    corners = [math.dist(centre, point) for point in shape.exterior.coords]
    near = min(*corners, shape.distance(shapely.Point(centre)))
    angles = [math.atan2(y - centre[1], x - centre[0]) for x, y in shape.exterior.coords]
    start, end = min(angles) - 1e-3, max(angles) + 1e-3
    points: list[XY] = []
    of_line: list[int] = []
    numbers = range(math.ceil(near / pitch_mm - 0.5), math.floor(max(corners) / pitch_mm + 0.5) + 1)
    for line, number in enumerate(numbers):
        radius = (number + 0.3 * ((number * _GOLDEN) % 1.0 - 0.5)) * pitch_mm
        steps = max(2, math.ceil((end - start) * radius / max(pitch_mm, radius * 0.05)))
        turns = (start + (end - start) * step / steps for step in range(steps + 1))
        points += [(centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in turns]
        of_line += [line] * (steps + 1)
    return np.asarray(shapely.linestrings(np.array(points).reshape(-1, 2), indices=np.array(of_line, dtype=int)))


def _long_grain(timber: Timber, face: PlaneFace, pitch_mm: float, dash_mm: float) -> Iterator[tuple[Vec, Vec]]:
    corner, normal, fibres = np.array(timber.corner), np.array(face.normal), np.array(timber.along)
    along = fibres - float(fibres @ normal) * normal
    along /= np.linalg.norm(along)
    axes = np.array((along, np.cross(normal, along)))
    shape = _flat(face, corner, axes)  # from the board's corner, so that lines keep off its arrises
    low_x, low_y, high_x, high_y = shape.bounds
    offset = float(normal @ (np.array(face.ring[0]) - corner))

    def lifted(points: Array) -> Array:
        return np.asarray(corner + points @ axes + normal * offset)

    rows = []
    for number in range(math.floor(low_y / pitch_mm) - 1, math.ceil(high_y / pitch_mm) + 1):
        loose = (number * _GOLDEN) % 1.0
        y = (number + 0.5 + 0.6 * (loose - 0.5)) * pitch_mm
        if not low_y < y < high_y:
            continue
        x = low_x - dash_mm * 3 * ((number * number * _GOLDEN) % 1.0)
        step = 0
        while x < high_x:
            length = dash_mm * (0.8 + 2.2 * (((number * 7 + step * 5) * _GOLDEN) % 1.0))
            rows.append((x, y, x + length, y))
            x += length + dash_mm * (0.3 + 0.5 * loose)
            step += 1
    yield from _clipped(np.asarray(shapely.linestrings(np.array(rows).reshape(-1, 2, 2))), shape, lifted)


def _clipped(lines: LineStrings, shape: Polygon, lifted: Callable[[Array], Array]) -> Iterator[tuple[Vec, Vec]]:
    """The parts of the lines inside the shape, lifted into space."""
    if len(lines) == 0 or not shape.is_valid:
        return
    inside = shapely.get_parts(shapely.intersection(lines, shape))
    points, part = shapely.get_coordinates(inside, return_index=True)
    rows = [(x, y, z) for x, y, z in lifted(points).tolist()]
    for (a, b), same in zip(pairwise(rows), part[1:] == part[:-1], strict=True):
        if same:
            yield a, b
