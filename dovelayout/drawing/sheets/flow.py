"""Running text set onto sheets: the page for the wall at a glue-up, notes, findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import DESCENT, ascent, wrapped
from dovelayout.drawing.primitives import Item, Items, Text, moved, text_at
from dovelayout.drawing.sheets.frame import room_mm
from dovelayout.paper import Paper

BETWEEN_MM = 0.5  # the lines of running text


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph: its text, its size, the space before it, and how far its lines are set in, mm."""

    text: str
    size_mm: float = 3.1
    before_mm: float = 0.8
    indent_mm: float = 0.0


def heading(text: str) -> Paragraph:
    """A heading in the running text."""
    return Paragraph(text=text, size_mm=4.4, before_mm=3.2)


def item(text: str) -> Paragraph:
    """An item of a list."""
    return Paragraph(text=f"• {text}", indent_mm=2.0)


def lines_of(paragraph: Paragraph, width_mm: float, between_mm: float) -> Iterator[tuple[Text, float]]:
    """The lines of a paragraph, each placed below (0, 0), with its height, mm. `between_mm`: the gap between lines."""
    size_mm = paragraph.size_mm
    for line in wrapped(paragraph.text, size_mm, width_mm - paragraph.indent_mm):
        text = text_at((paragraph.indent_mm, -ascent(line) * size_mm), line, size_mm)
        yield text, (ascent(line) + DESCENT) * size_mm + between_mm


def flowed(paragraphs: Sequence[Paragraph], on: Paper) -> tuple[Items, ...]:
    """Texts for as many sheets as they need, each in the coordinates of the paper's room."""
    width_mm, height_mm = room_mm(on)
    pages: list[list[Item]] = [[]]
    top = height_mm
    for paragraph in paragraphs:
        top -= paragraph.before_mm
        for text, high_mm in lines_of(paragraph, width_mm, BETWEEN_MM):
            if top - high_mm < 0:
                pages.append([])
                top = height_mm
            pages[-1].append(moved(text, 0.0, top))
            top -= high_mm
    return tuple(tuple(page) for page in pages if page)
