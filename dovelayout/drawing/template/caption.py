"""How a caption is set on a skirt of a template: its rows, their sizes, and its height. Lengths are mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from dovelayout.drawing.lettering import DESCENT, ascent, fitted, printable, share_that_fits, shortened, width_mm
from dovelayout.drawing.primitives import Text, text_at
from dovelayout.joints.face import FaceName
from dovelayout.joints.spacing import Span

LETTER_MM = 9.0
LEAST_LETTER_MM = 3.2
MARK_MM = 3.2
ROW_MM = 2.8
FOOT_MM = 2.8
LEAST_ROW_MM = 2.2
"""The smallest that a row of a caption is made before a word is cut: read at arm's length; ours."""
LINE_GAP_MM = 1.3  # between the rows of a caption
BROKEN_GAP_MM = 0.5  # between the lines of one row
SIDE_MM = 1.5  # between a caption and the lines beside it
MARGINS_MM = 2.0 + 1.5 + 1.5 + LETTER_MM + LINE_GAP_MM  # above and below a caption, over its foot, and its letter

FOOT = "▼ FACE EDGE"
FOOT_FURTHER = "▼ face edge this way"

CaptionRow = tuple[tuple[str, float], float]
"""A line of a caption, its size and the gap below it, mm."""


def caption_rows(letter: str, face: FaceName, rows: Sequence[str], wide_mm: float) -> list[CaptionRow]:
    """Every line of a caption: the corner's letter, the name of the face, the rows; a row that is broken keeps together."""
    room_mm = wide_mm * (LETTER_MM - 0.01) / LETTER_MM  # a longer name is made smaller before it is cut
    letter_mm = max(LEAST_LETTER_MM, LETTER_MM * share_that_fits(printable(letter), LETTER_MM, room_mm))
    lines = [((letter, letter_mm), LINE_GAP_MM), *((line, LINE_GAP_MM) for line in _mark(face, wide_mm))]
    for row in rows:
        broken = fitted(row, ROW_MM, LEAST_ROW_MM, wide_mm)
        lines += [(line, LINE_GAP_MM if line is broken[-1] else BROKEN_GAP_MM) for line in broken]
    return lines


def _mark(face: FaceName, wide_mm: float) -> tuple[tuple[str, float], ...]:
    return fitted(f"{face.value.upper()} FACE", MARK_MM, LEAST_ROW_MM, wide_mm)


def widest_word_mm(face: FaceName, rows: Iterable[str]) -> float:
    """Width of the longest word of a caption, at the smallest size of a row."""
    words = [word for row in rows for word in row.split()] + [face.value.upper()]
    return max(width_mm(printable(word), LEAST_ROW_MM) for word in words)


def caption_height_mm(face: FaceName, rows: Sequence[str], wide_mm: float) -> float:
    """How high a caption gets at a width, its foot and margins included."""
    lines = [
        *_mark(face, wide_mm),
        *fitted(FOOT, FOOT_MM, LEAST_ROW_MM, wide_mm),
        *(line for row in rows for line in fitted(row, ROW_MM, LEAST_ROW_MM, wide_mm)),
    ]
    gaps_mm = (len(rows) + 3) * LINE_GAP_MM + (len(lines) - len(rows)) * BROKEN_GAP_MM
    return MARGINS_MM + math.fsum(size for _, size in lines) + gaps_mm


def set_rows(rows: Iterable[CaptionRow], column: Span, top: float, bottom: float) -> list[tuple[Text | None, float]]:
    """Rows from the top down, each with where the next one starts; None for one that has no room."""
    found: list[tuple[Text | None, float]] = []
    for (line, size_mm), gap_mm in rows:
        base = top - ascent(line) * size_mm
        text = None
        if base - DESCENT * size_mm >= bottom:
            text = _row(line, size_mm, column, base)
            top = base - DESCENT * size_mm - gap_mm
        found.append((text, top))
    return found


def set_foot(words: str, column: Span, bottom_mm: float) -> list[Text]:
    """The mark of the face edge, on two lines where one is too long for a narrow skirt; the upper one first."""
    texts: list[Text] = []
    for line, size_mm in reversed(fitted(words, FOOT_MM, LEAST_ROW_MM, column.width_mm)):
        text = _row(line, size_mm, column, bottom_mm + DESCENT * size_mm)
        if text is not None:
            texts.append(text)
        bottom_mm += size_mm + 0.5
    return texts[::-1]


def _row(line: str, size_mm: float, column: Span, base_mm: float) -> Text | None:
    text = shortened(line, size_mm, column.width_mm)
    return text_at((column.start_mm, base_mm), text, size_mm) if text else None
