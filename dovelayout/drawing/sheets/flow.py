"""Running text set onto sheets: the page that says how to use the templates, numbers of the corners, findings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import DESCENT, ascent, wrapped
from dovelayout.drawing.primitives import Item, Text
from dovelayout.drawing.sheets.frame import room_mm
from dovelayout.paper import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A paragraph: its text, size, the room before it, and how far its lines are set in."""

    text: str
    size_mm: float = 3.1
    before_mm: float = 0.8
    indent_mm: float = 0.0


def heading(text: str) -> Line:
    """A heading in the flow."""
    return Line(text=text, size_mm=4.4, before_mm=3.2)


def item(text: str) -> Line:
    """One of a list."""
    return Line(text=f"• {text}", indent_mm=2.0)


def flowed(paragraphs: Sequence[Line], on: Paper) -> tuple[tuple[Item, ...], ...]:
    """Texts for as many sheets as they need, each in the coordinates of the paper's room."""
    width_mm, height_mm = room_mm(on)
    return tuple(items for items, _ in columns(paragraphs, width_mm=width_mm, height_mm=height_mm))


def columns(
    paragraphs: Sequence[Line], *, width_mm: float, height_mm: float
) -> tuple[tuple[tuple[Item, ...], float], ...]:
    """Texts in columns of a size, their lower left at (0, 0), each with the height that it fills."""
    pages: list[list[Item]] = [[]]
    filled: list[float] = [0.0]
    top = height_mm
    for paragraph in paragraphs:
        top -= paragraph.before_mm
        for line in wrapped(paragraph.text, paragraph.size_mm, width_mm - paragraph.indent_mm):
            height = (ascent(line) + DESCENT) * paragraph.size_mm + 0.5
            if top - height < 0:
                pages.append([])
                filled.append(0.0)
                top = height_mm
            pages[-1].append(
                Text(
                    x_mm=paragraph.indent_mm,
                    y_mm=top - ascent(line) * paragraph.size_mm,
                    text=line,
                    size_mm=paragraph.size_mm,
                )
            )
            top -= height
            filled[-1] = height_mm - top
    return tuple((tuple(page), high) for page, high in zip(pages, filled, strict=True) if page)
