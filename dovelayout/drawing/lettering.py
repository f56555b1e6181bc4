"""How much room a line of text takes, in the one font that every sheet embeds."""

from __future__ import annotations

from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

from dovelayout.drawing.primitives import Anchor, Text

FONT_NAME = "DejaVu Sans"
ASCENT = 0.76
"""Height of capitals and ascenders over the base line, share of the size (read from the font's outlines)."""
DESCENT = 0.24
"""Depth of descenders under the base line, share of the size."""

MISSING = "\u25a1"
"""Drawn for a character that the sheet font doesn't hold."""

REMEMBERED = 32768
"""Texts that are kept measured: a bank of some hundred drawers says so many different ones. Ours."""

Box = tuple[float, float, float, float]  # x_min, y_min, x_max, y_max in mm


def font_path() -> Path:
    """The font file that the package carries."""
    return Path(str(files("dovelayout.drawing") / "fonts" / "DejaVuSans-subset.ttf"))


@cache
def _advances() -> dict[int, float]:
    """Advance width of every character the font holds, as a share of the size."""
    from fontTools.ttLib import TTFont

    with TTFont(font_path(), lazy=True) as font:
        metrics, per_em = font["hmtx"].metrics, font["head"].unitsPerEm
        return {code: metrics[name][0] / per_em for code, name in font.getBestCmap().items()}


@cache
def _heights() -> dict[int, tuple[float, float]]:
    """How high over and how deep under the base line every character reaches, as shares of the size."""
    from fontTools.ttLib import TTFont

    with TTFont(font_path()) as font:
        outlines, per_em = font["glyf"], font["head"].unitsPerEm
        glyphs = {code: outlines[name] for code, name in font.getBestCmap().items()}
        return {
            code: (glyph.yMax / per_em, -glyph.yMin / per_em)
            for code, glyph in glyphs.items()
            if glyph.numberOfContours  # a space has no outline
        }


@lru_cache(maxsize=REMEMBERED)
def ascent(text: str) -> float:
    """Height of a line over its base line, share of the size: ASCENT, or more under accents on capitals."""
    return max([ASCENT, *(_heights()[ord(ch)][0] for ch in text if ord(ch) in _heights())])


@lru_cache(maxsize=REMEMBERED)
def descent(text: str) -> float:
    """Depth of a line under its base line, share of the size: DESCENT, or more for a cedilla."""
    return max([DESCENT, *(_heights()[ord(ch)][1] for ch in text if ord(ch) in _heights())])


@lru_cache(maxsize=REMEMBERED)
def printable(text: str) -> str:
    """The text as a sheet can carry it: one line, no control characters, □ for what the font doesn't hold."""
    flat = " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())
    advances = _advances()
    return "".join(ch if ord(ch) in advances else MISSING for ch in flat)


def width_mm(text: str, size_mm: float) -> float:
    """Width of a line of printable text."""
    return size_mm * _width(text)


@lru_cache(maxsize=REMEMBERED)
def _width(text: str) -> float:
    advances = _advances()
    missing = advances[ord(MISSING)]
    return sum([advances.get(ord(ch), missing) for ch in text])


def box(text: Text) -> Box:
    """The box that a text covers."""
    across, shift = width_mm(text.text, text.size_mm), 0.0
    if text.anchor is not Anchor.START:
        shift = -across / 2 if text.anchor is Anchor.MIDDLE else -across
    up, down = ascent(text.text) * text.size_mm, descent(text.text) * text.size_mm
    if text.upwards:
        return (text.x_mm - up, text.y_mm + shift, text.x_mm + down, text.y_mm + shift + across)
    return (text.x_mm + shift, text.y_mm - down, text.x_mm + shift + across, text.y_mm + up)


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
    line, so_far_mm, space_mm = "", 0.0, width_mm(" ", size_mm)
    for word in printable(text).split(" "):
        word_mm = width_mm(word, size_mm)
        if so_far_mm + (space_mm if line else 0.0) + word_mm <= room_mm:
            line, so_far_mm = f"{line} {word}".strip(), so_far_mm + (space_mm if line else 0.0) + word_mm
            continue
        if line:
            lines.append(line)
        line = shortened(word, size_mm, room_mm)
        so_far_mm = width_mm(line, size_mm)
    return (*lines, line) if line else tuple(lines)


@lru_cache(maxsize=REMEMBERED)
def fitted(text: str, size_mm: float, least_mm: float, room_mm: float) -> tuple[tuple[str, float], ...]:
    """The text broken into lines that fit, each with its size: smaller, down to the least, before a word is cut."""
    longest_mm = max((width_mm(word, size_mm) for word in printable(text).split(" ")), default=0.0)
    size = size_mm if longest_mm <= room_mm else max(least_mm, size_mm * room_mm / longest_mm * 0.999)
    return tuple((line, size) for line in wrapped(text, size, room_mm))
