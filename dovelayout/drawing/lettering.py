"""Text measurement in the font that every sheet embeds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

from dovelayout.drawing.primitives import XY, Anchor, Item, Lines, Text, text_at

FONT_NAME = "DejaVu Sans"
ASCENT = 0.76
"""Height of capitals and ascenders over the base line, share of the size (read from the font's outlines)."""
DESCENT = 0.24
"""Depth of descenders under the base line, share of the size."""

MISSING = "\u25a1"
"""Drawn for a character that the sheet font doesn't hold."""

CACHED = 32768
"""Measured texts that are cached: a bank of some hundred drawers has so many different ones. Ours."""

Box = tuple[float, float, float, float]  # x_min, y_min, x_max, y_max in mm


def font_path() -> Path:
    """The font file that the package carries."""
    return Path(str(files("dovelayout.drawing") / "fonts" / "DejaVuSans-subset.ttf"))


@dataclass(frozen=True, slots=True)
class _Glyph:
    """A character: its advance width, its height over and its depth under the base line, shares of the size."""

    advance: float
    ascent: float
    descent: float


@cache
def _glyphs() -> dict[str, _Glyph]:
    """Every character that the font holds."""
    from fontTools.ttLib import TTFont

    with TTFont(font_path()) as font:
        widths, em = font["hmtx"].metrics, font["head"].unitsPerEm
        glyphs: dict[str, _Glyph] = {}
        for code, name in font.getBestCmap().items():
            outline = font["glyf"][name]
            top, low = (outline.yMax, outline.yMin) if outline.numberOfContours else (0, 0)  # a space has no outline
            glyphs[chr(code)] = _Glyph(widths[name][0] / em, top / em, -low / em)
        return glyphs


@lru_cache(maxsize=CACHED)
def ascent(text: str) -> float:
    """Height of a line over its base line, share of the size: ASCENT, or more under accents on capitals."""
    return max([ASCENT, *(_glyphs()[char].ascent for char in text if char in _glyphs())])


@lru_cache(maxsize=CACHED)
def descent(text: str) -> float:
    """Depth of a line under its base line, share of the size: DESCENT, or more for a cedilla."""
    return max([DESCENT, *(_glyphs()[char].descent for char in text if char in _glyphs())])


@lru_cache(maxsize=CACHED)
def printable(text: str) -> str:
    """The text as a sheet can carry it: one line, no control characters, □ for what the font doesn't hold."""
    flat = " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())
    return "".join(ch if ch in _glyphs() else MISSING for ch in flat)


def width_mm(text: str, size_mm: float) -> float:
    """Width of a line of printable text."""
    return size_mm * _width(text)


def share_that_fits(text: str, size_mm: float, room_mm: float) -> float:
    """The share of its size, at most 1, at which a printable text is no wider than the room."""
    return min(1.0, room_mm / max(1e-6, width_mm(text, size_mm)))


@lru_cache(maxsize=CACHED)
def _width(text: str) -> float:
    glyphs = _glyphs()
    return sum([glyphs.get(ch, glyphs[MISSING]).advance for ch in text])


def box(text: Text) -> Box:
    """The box that a text covers."""
    across, shift = width_mm(text.text, text.size_mm), 0.0
    if text.anchor is not Anchor.START:
        shift = -across / 2 if text.anchor is Anchor.MIDDLE else -across
    up, down = ascent(text.text) * text.size_mm, descent(text.text) * text.size_mm
    if text.upwards:
        return (text.x_mm - up, text.y_mm + shift, text.x_mm + down, text.y_mm + shift + across)
    return (text.x_mm + shift, text.y_mm - down, text.x_mm + shift + across, text.y_mm + up)


def corners(items: Iterable[Item]) -> Iterator[XY]:
    """The points between which everything lies: both ends of every stroke, two corners of the box of every text."""
    for item in items:
        for x1, y1, x2, y2 in item.segments if isinstance(item, Lines) else (box(item),):
            yield (x1, y1)
            yield (x2, y2)


def shortened(text: str, size_mm: float, room_mm: float) -> str:
    """The text, cut with an ellipsis where it would not fit."""
    text = printable(text)
    if width_mm(text, size_mm) <= room_mm:
        return text
    while text and width_mm(text + "…", size_mm) > room_mm:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


def wrapped(text: str, size_mm: float, room_mm: float) -> tuple[str, ...]:
    """The text broken into lines that fit; a word that is too long by itself is cut."""
    lines: list[str] = []
    line, line_mm, space_mm = "", 0.0, width_mm(" ", size_mm)
    for word in printable(text).split(" "):
        longer_mm = line_mm + (space_mm if line else 0.0) + width_mm(word, size_mm)
        if longer_mm <= room_mm:
            line, line_mm = f"{line} {word}".strip(), longer_mm
            continue
        if line:
            lines.append(line)
        line = shortened(word, size_mm, room_mm)
        line_mm = width_mm(line, size_mm)
    return (*lines, line) if line else tuple(lines)


@lru_cache(maxsize=CACHED)
def fitted(text: str, size_mm: float, least_mm: float, room_mm: float) -> tuple[tuple[str, float], ...]:
    """The text broken into lines that fit, each with its size: smaller, down to the least, before a word is cut."""
    longest_mm = max((width_mm(word, size_mm) for word in printable(text).split(" ")), default=0.0)
    size = size_mm if longest_mm <= room_mm else max(least_mm, size_mm * room_mm / longest_mm * 0.999)
    return tuple((line, size) for line in wrapped(text, size, room_mm))


def rows_down(
    rows: Iterable[tuple[str, float]], at: XY, leading: float, anchor: Anchor = Anchor.START
) -> tuple[list[Text], float]:
    """Rows of text, each with its size in mm, one below the other, and the y in mm at which the last one ends.

    `at`: x of their anchor and y of their upper edge. `leading`: space above each row, as a share of its size.
    """
    texts: list[Text] = []
    x, y = at
    for row, size_mm in rows:
        y -= size_mm * (ASCENT + leading)
        texts.append(text_at((x, y), row, size_mm, anchor))
        y -= size_mm * DESCENT
    return texts, y
