"""A drawing: an immutable list of strokes and texts, each with a role, in full-size mm, y upwards."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from importlib.resources import files
from itertools import pairwise

from dovelayout.joints.spacing import Span

XY = tuple[float, float]
"""A point, mm."""

Size = tuple[float, float]
"""Width and height, mm."""

Stroke = tuple[float, float, float, float]
"""A straight stroke: x1, y1, x2, y2 in mm."""

Outline = tuple[XY, ...]
"""A closed ring of points; the first isn't repeated at the end."""


class Role(StrEnum):
    """What a stroke or a text is for; the renderers map it to a pen, and DXF to a layer."""

    KNIFE = "knife"
    BASELINE = "baseline"
    FOLD = "fold"
    OUTLINE = "outline"
    HATCH = "hatch"
    GROOVE = "groove"
    SAW = "saw"
    MATCH = "match"
    BAR = "bar"
    MARK = "mark"
    PICTURE = "picture"
    PICTURE_EDGE = "picture-edge"
    GRAIN = "grain"
    PATH = "path"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Pen:
    """Width of a stroke and its dashes (empty: solid), mm."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()


_PENS = tomllib.loads((files("dovelayout.drawing") / "data" / "pens.toml").read_text(encoding="utf-8"))
PENS = {Role(role): Pen(width_mm, tuple(dashes)) for role, (width_mm, *dashes) in _PENS.items()}
"""The pen of each role."""


class Anchor(StrEnum):
    """Which point of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Strokes of one role."""

    role: Role
    segments: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; (x, y) is on its base line. Horizontal, or rotated a quarter turn left (`upwards`)."""

    x_mm: float
    y_mm: float
    text: str
    size_mm: float
    anchor: Anchor = Anchor.START
    upwards: bool = False
    role: Role = Role.NOTE


Item = Lines | Text
Items = tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of paper, or one free-standing drawing, at full size. (0, 0) is its lower left corner."""

    width_mm: float
    height_mm: float
    items: Items
    title: str
    description: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A part of a sheet: what is drawn and its size, mm; its lower left is (0, 0)."""

    items: Items
    width_mm: float
    height_mm: float


def strokes(role: Role, segments: Iterable[Stroke]) -> Lines:
    """Strokes of one role."""
    return Lines(role=role, segments=tuple(segments))


def text_at(at: XY, text: str, size_mm: float, anchor: Anchor = Anchor.START, *, upwards: bool = False) -> Text:
    """A text of the role NOTE with its anchor at a point."""
    return Text(x_mm=at[0], y_mm=at[1], text=text, size_mm=size_mm, anchor=anchor, upwards=upwards)


def path(points: Sequence[XY]) -> tuple[Stroke, ...]:
    """Strokes from each point to the next."""
    return tuple((*one, *other) for one, other in pairwise(points))


def closed(points: Sequence[XY]) -> tuple[Stroke, ...]:
    """Strokes from each point to the next, and from the last to the first."""
    return path((*points, points[0]))


def rectangle(x1: float, y1: float, x2: float, y2: float) -> tuple[Stroke, ...]:
    """Its four sides, counter-clockwise from the lower one."""
    return closed(((x1, y1), (x2, y1), (x2, y2), (x1, y2)))


def trapezoid(one: tuple[Span, float], other: tuple[Span, float], left: float = 0.0) -> list[XY]:
    """Its corners: the ends of two spans, each at its height; x is counted from `left`."""
    (first, y1), (second, y2) = one, other
    ends = ((first.start_mm, y1), (first.end_mm, y1), (second.end_mm, y2), (second.start_mm, y2))
    return [(x - left, y) for x, y in ends]


def moved(item: Item, dx_mm: float, dy_mm: float) -> Item:
    """The same item elsewhere."""
    if isinstance(item, Lines):
        # a list in between: a tuple of a generator takes half as long again, and every stroke comes through here
        return Lines(
            role=item.role,
            segments=tuple([(x1 + dx_mm, y1 + dy_mm, x2 + dx_mm, y2 + dy_mm) for x1, y1, x2, y2 in item.segments]),
        )
    return replace(item, x_mm=item.x_mm + dx_mm, y_mm=item.y_mm + dy_mm)


def placed(items: Iterable[Item], dx_mm: float, dy_mm: float) -> Items:
    """All items moved alike."""
    return tuple([moved(item, dx_mm, dy_mm) for item in items])


def turned_left(item: Item) -> Item:
    """The same item rotated a quarter turn left about (0, 0). Raises ValueError for a text that already runs upwards."""
    if isinstance(item, Lines):
        return strokes(item.role, ((-y1, x1, -y2, x2) for x1, y1, x2, y2 in item.segments))
    if item.upwards:
        raise ValueError("a text that runs upwards would stand on its head")
    return replace(item, x_mm=-item.y_mm, y_mm=item.x_mm, upwards=True)


def mirrored(items: Iterable[Lines], width_mm: float) -> tuple[Lines, ...]:
    """Strokes of a drawing of that width mirrored left to right."""
    return tuple(
        strokes(item.role, ((width_mm - x1, y1, width_mm - x2, y2) for x1, y1, x2, y2 in item.segments))
        for item in items
    )
