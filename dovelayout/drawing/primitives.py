"""A drawing: an immutable list of strokes and texts, each with a role, in full-size mm, y upwards."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

Segment = tuple[float, float, float, float]  # x1, y1, x2, y2 in mm


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


PENS: dict[Role, Pen] = {
    Role.KNIFE: Pen(0.1),
    Role.BASELINE: Pen(0.13, (5.0, 1.2)),
    Role.FOLD: Pen(0.13, (4.0, 1.0, 0.4, 1.0)),
    Role.OUTLINE: Pen(0.1, (1.2, 1.2)),
    Role.HATCH: Pen(0.1),
    Role.GROOVE: Pen(0.13, (2.0, 1.0)),
    Role.SAW: Pen(0.13, (0.6, 0.8)),
    Role.MATCH: Pen(0.13, (8.0, 1.5, 1.5, 1.5)),
    Role.BAR: Pen(0.18),
    Role.MARK: Pen(0.3),
    Role.PICTURE: Pen(0.35),
    Role.PICTURE_EDGE: Pen(0.18),
    Role.GRAIN: Pen(0.09),
    Role.PATH: Pen(0.13, (1.6, 1.0)),
    Role.NOTE: Pen(0.1),
}


class Anchor(StrEnum):
    """Which point of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Strokes of one role."""

    role: Role
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; (x, y) is on its base line. Set upright, or turned a quarter left (`upwards`)."""

    x_mm: float
    y_mm: float
    text: str
    size_mm: float
    anchor: Anchor = Anchor.START
    upwards: bool = False
    role: Role = Role.NOTE


Item = Lines | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of paper, or one free-standing drawing, at full size. (0, 0) is its lower left corner."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    title: str
    description: str = ""


def moved(item: Item, dx_mm: float, dy_mm: float) -> Item:
    """The same item elsewhere."""
    if isinstance(item, Lines):
        # a list in between: a tuple of a generator takes half as long again, and every stroke comes through here
        return Lines(
            role=item.role,
            segments=tuple([(x1 + dx_mm, y1 + dy_mm, x2 + dx_mm, y2 + dy_mm) for x1, y1, x2, y2 in item.segments]),
        )
    return Text(
        x_mm=item.x_mm + dx_mm,
        y_mm=item.y_mm + dy_mm,
        text=item.text,
        size_mm=item.size_mm,
        anchor=item.anchor,
        upwards=item.upwards,
        role=item.role,
    )


def turned_left(item: Item) -> Item:
    """The same item turned a quarter to the left about (0, 0). A text that already runs upwards can't be."""
    match item:
        case Lines(role=role, segments=segments):
            return Lines(role=role, segments=tuple((-y1, x1, -y2, x2) for x1, y1, x2, y2 in segments))
        case Text():
            if item.upwards:
                raise ValueError("a text that runs upwards would stand on its head")
            return replace(item, x_mm=-item.y_mm, y_mm=item.x_mm, upwards=True)
