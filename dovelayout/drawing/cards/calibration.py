"""The sheet that tells how far a printer is off: long bars both ways, and how to read them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.drawing.primitives import Anchor, Item, Role, Sheet, Stroke, Text, moved, rectangle, strokes, text_at
from dovelayout.drawing.sheets.bars import bar, set_along
from dovelayout.drawing.sheets.flow import Paragraph, lines_of
from dovelayout.errors import PrintError
from dovelayout.paper import Paper
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "calibration")

BARS_MM = (250.0, 150.0)
USUAL_BAR_MM = 150.0
SHORT_BAR_MM = 100.0
"""Drawn where the paper has no room for a longer one: the shorter the bar, the less a reading of it is worth."""

ROW_MM = 16.0  # a bar, its figures and its words
FIRST_MM = 4.0  # from the margin to the first tick, and to a bar's longest tick
WORDS_MM = 3.3
BEFORE_MM = ((5.0, 0.0), (3.6, 0.5), (WORDS_MM, 2.0), (WORDS_MM, 2.0), (WORDS_MM, 1.5))
AFTER_MM = ((WORDS_MM, 2.0), (3.6, 6.0), (3.6, 5.0), (WORDS_MM, 4.0), (2.9, 1.0), (WORDS_MM, 2.0), (WORDS_MM, 1.5))
"""Size of each row's text and the space above it: the rows before the large ticks, and those after them."""
FIGURE_MM = 2.2
BETWEEN_MM = 0.6  # the lines of a row
TICK_WIDE_MM = 2.0  # the two ticks drawn large
TICK_HIGH_MM = 11.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bars:
    """Lengths of the bars across and up, mm; whether those across lie below those up, or beside them."""

    across: tuple[float, ...]
    up: tuple[float, ...]
    below: bool


def calibration_sheet(on: Paper) -> Sheet:
    """Bars across and up, as long as the paper allows, with how to lay the rule and what to type.

    Raises PrintError when not even the short bar has room.
    """
    bars = _bars_for(on)
    left, bottom = on.margin_mm, on.margin_mm
    items: list[Item] = []
    for number, length_mm in enumerate(bars.across):
        items += _across(length_mm, left + FIRST_MM, bottom + number * ROW_MM)
    foot_mm = len(bars.across) * ROW_MM if bars.below else 0.0
    for number, length_mm in enumerate(bars.up):
        items += _up(length_mm, on.width_mm - on.margin_mm - number * ROW_MM, bottom + foot_mm + FIRST_MM)
    right = on.width_mm - on.margin_mm - len(bars.up) * ROW_MM - FIRST_MM
    items += _words(on, bars, right - left)
    return Sheet(
        width_mm=on.width_mm,
        height_mm=on.height_mm,
        items=tuple(items),
        title=f"Calibration sheet, {on.name}",
        description="Bars across and up to measure what a printer makes of them",
    )


def _bars_for(on: Paper) -> _Bars:
    """The bars that the paper has room for. Raises PrintError where there are none."""
    wide_mm, high_mm = (side_mm - 2 * on.margin_mm - 2 * FIRST_MM for side_mm in (on.width_mm, on.height_mm))

    def fitting(room_mm: float) -> tuple[float, ...]:
        long = tuple(length for length in BARS_MM if length <= room_mm)
        return long or ((SHORT_BAR_MM,) if room_mm >= SHORT_BAR_MM else ())

    lower, standing = fitting(wide_mm), fitting(high_mm)
    arrangements = (
        _Bars(across=lower, up=fitting(high_mm - len(lower) * ROW_MM), below=True),
        _Bars(across=fitting(wide_mm - len(standing) * ROW_MM), up=standing, below=False),
    )
    possible = [bars for bars in arrangements if bars.across and bars.up]
    if not possible:
        raise PrintError(
            f"{on.name} with {on.margin_mm:g} mm margins is too small for a bar of {SHORT_BAR_MM:g} mm each way"
        )
    return max(possible, key=lambda bars: bars.across[0] + bars.up[0])


def _across(length_mm: float, x: float, y: float) -> Iterator[Item]:
    yield from set_along([bar(length_mm)], (x, y + 7.0), upwards=False)
    yield text_at((x, y + 1.2), TEXTS("across", length=length_mm), 2.8)
    yield from set_along(_figures(length_mm), (x, y + 7.0), upwards=False)


def _up(length_mm: float, x: float, y: float) -> Iterator[Item]:
    base = x - 3.0  # inches to the right of the line, cm and words to its left
    yield from set_along([bar(length_mm)], (base, y), upwards=True)
    yield text_at((base - 8.0, y), TEXTS("up", length=length_mm), 2.8, upwards=True)
    yield from set_along(_figures(length_mm), (base, y), upwards=True)


def _figures(length_mm: float) -> Iterator[Text]:
    """Figures above a bar at its ends and at every 50 mm."""
    yield text_at((0.8, 3.9), "0", FIGURE_MM)
    for at in range(50, int(length_mm), 50):
        yield text_at((float(at), 3.9), f"{at}", FIGURE_MM, Anchor.MIDDLE)
    yield text_at((length_mm - 0.8, 3.9), f"{length_mm:g}", FIGURE_MM, Anchor.END)


def _words(on: Paper, bars: _Bars, room_mm: float) -> Iterator[Item]:
    """What to do, from the top down, with the two ticks drawn large in the middle."""
    longest, left, top = BARS_MM[0], on.margin_mm, on.height_mm - on.margin_mm
    bar_x, bar_y = (USUAL_BAR_MM if USUAL_BAR_MM in row else row[0] for row in (bars.across, bars.up))
    options = "" if bar_x == USUAL_BAR_MM else f" --bar {bar_x:g}"
    options += "" if bar_y == bar_x else f" --bar-y {bar_y:g}"
    both = TEXTS("longer_both", longest=longest) + " " if longest in bars.across else ""
    values = {
        "paper": on.name,
        "across": " or ".join(f"{length:g}" for length in bars.across),
        "up": " or ".join(f"{length:g}" for length in bars.up),
        "longer": " " + TEXTS("longer", both=both, longest=longest) if longest in bars.up else "",
        "bar_x": bar_x,
        "bar_y": bar_y,
        "read_x": bar_x - 0.6,
        "read_y": bar_y + 0.7,
        "bars": options,
    }
    for part, sizes_mm in (("before", BEFORE_MM), ("after", AFTER_MM)):
        for row, (size_mm, before_mm) in zip(TEXTS.rows(part, **values), sizes_mm, strict=True):
            top -= before_mm
            for text, high_mm in lines_of(Paragraph(text=row, size_mm=size_mm), room_mm, BETWEEN_MM):
                yield moved(text, left, top)
                top -= high_mm
        if part == "before":
            top -= TICK_HIGH_MM + 3.0
            yield from _large_ticks(left, top, room_mm)
            top -= 3.0


def _large_ticks(left: float, y: float, room_mm: float) -> Iterator[Item]:
    """The first and the last tick, many times too thick, with the distance that is measured."""
    first, last = left + 12.0, left + min(90.0, room_mm - 6.0)
    ticks = [side for x in (first, last) for side in rectangle(x, y + 3.0, x + TICK_WIDE_MM, y + TICK_HIGH_MM)]
    measure: list[Stroke] = [(first, y, first, y + 2.2), (last, y, last, y + 2.2), (first, y + 1.1, last, y + 1.1)]
    for x, tail in ((first, 1.8), (last, -1.8)):
        measure += [(x, y + 1.1, x + tail, y + 1.8), (x, y + 1.1, x + tail, y + 0.4)]
    yield strokes(Role.BAR, [*ticks, (first + TICK_WIDE_MM, y + 7.0, last, y + 7.0)])
    yield strokes(Role.MARK, measure)
    yield text_at(((first + last) / 2, y + 2.6), TEXTS("measured"), 2.4, Anchor.MIDDLE)
