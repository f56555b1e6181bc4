"""The sheet that tells how far a printer is off: long bars both ways, and how to read them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.drawing.lettering import DESCENT, ascent, wrapped
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Sheet, Text
from dovelayout.drawing.sheets.frame import bar_strokes
from dovelayout.errors import PrintError
from dovelayout.paper import Paper

BARS_MM = (250.0, 150.0)
USUAL_BAR_MM = 150.0
SHORT_BAR_MM = 100.0
"""Drawn where the paper has no room for a longer one: the shorter the bar, the less a reading of it is worth."""

ROW_MM = 16.0  # a bar, its figures and what is said of it
FIRST_MM = 4.0  # from the margin to the first tick, and to a bar's longest tick
WORDS_MM = 3.3
TICK_WIDE_MM = 2.0  # the two ticks drawn large
TICK_HIGH_MM = 11.0


def calibration_sheet(on: Paper) -> Sheet:
    """Bars across and up, as long as the paper allows, with how to lay the rule and what to type.

    Raises PrintError when not even the short bar has room.
    """
    across, up, beside = _bars_for(on)
    items: list[Item] = []
    foot_mm = 0.0 if beside else len(across) * ROW_MM
    for number, length_mm in enumerate(across):
        items.extend(_across(length_mm, on.margin_mm + FIRST_MM, on.margin_mm + number * ROW_MM))
    for number, length_mm in enumerate(up):
        x = on.width_mm - on.margin_mm - number * ROW_MM
        items.extend(_up(length_mm, x, on.margin_mm + foot_mm + FIRST_MM))
    left, right = on.margin_mm, on.width_mm - on.margin_mm - len(up) * ROW_MM - FIRST_MM
    items.extend(_words(on, across, up, left, right - left))
    return Sheet(
        width_mm=on.width_mm,
        height_mm=on.height_mm,
        items=tuple(items),
        title=f"Calibration sheet, {on.name}",
        description="Bars across and up to measure what a printer makes of them",
    )


def _bars_for(on: Paper) -> tuple[tuple[float, ...], tuple[float, ...], bool]:
    """Bars across, bars up, and whether they stand beside each other (else those across lie below those up)."""
    wide_mm, high_mm = on.width_mm - 2 * on.margin_mm - 2 * FIRST_MM, on.height_mm - 2 * on.margin_mm - 2 * FIRST_MM

    def fitting(room_mm: float) -> tuple[float, ...]:
        long = tuple(bar for bar in BARS_MM if bar <= room_mm)
        return long or ((SHORT_BAR_MM,) if room_mm >= SHORT_BAR_MM else ())

    below = fitting(wide_mm)
    over = fitting(high_mm - len(below) * ROW_MM)
    up = fitting(high_mm)
    across = fitting(wide_mm - len(up) * ROW_MM)
    ways = [(a, u, beside) for a, u, beside in ((below, over, False), (across, up, True)) if a and u]
    if not ways:
        raise PrintError(
            f"{on.name} with {on.margin_mm:g} mm margins is too small for a bar of {SHORT_BAR_MM:g} mm each way"
        )
    return max(ways, key=lambda way: way[0][0] + way[1][0])


def _across(length_mm: float, x: float, y: float) -> Iterator[Item]:
    base = y + 7.0
    yield Lines(
        role=Role.BAR, segments=tuple((x + a, base + b, x + c, base + d) for a, b, c, d in bar_strokes(length_mm))
    )
    yield Text(x_mm=x, y_mm=y + 1.2, text=f"across: {length_mm:g} mm, left edge to left edge", size_mm=2.8)
    for at, anchor, text in _figures(length_mm):
        yield Text(x_mm=x + at, y_mm=base + 3.9, text=text, size_mm=2.2, anchor=anchor)


def _up(length_mm: float, x: float, y: float) -> Iterator[Item]:
    base = x - 3.0  # inches to the right of the line, cm and words to its left
    strokes = tuple((base - b, y + a, base - d, y + c) for a, b, c, d in bar_strokes(length_mm))
    yield Lines(role=Role.BAR, segments=strokes)
    text = f"up: {length_mm:g} mm, lower edge to lower edge"
    yield Text(x_mm=base - 8.0, y_mm=y, text=text, size_mm=2.8, upwards=True)
    for at, anchor, text in _figures(length_mm):
        yield Text(x_mm=base - 3.9, y_mm=y + at, text=text, size_mm=2.2, anchor=anchor, upwards=True)


def _figures(length_mm: float) -> Iterator[tuple[float, Anchor, str]]:
    yield (0.8, Anchor.START, "0")
    for at in range(50, int(length_mm), 50):
        yield (float(at), Anchor.MIDDLE, f"{at}")
    yield (length_mm - 0.8, Anchor.END, f"{length_mm:g}")


def _bar_words(bars: Sequence[float]) -> str:
    return " or ".join(f"{bar:g}" for bar in bars)


Row = tuple[str, float, float]  # text, its size, the room before it, mm


def _before() -> tuple[Row, ...]:
    return (
        ("This sheet is never corrected: measure here, not on a template that was.", WORDS_MM, 2.0),
        (
            "1. Print it on the printer, the paper and the tray that the templates will use. Let it cool and lie flat.",
            WORDS_MM,
            2.0,
        ),
        (
            "2. Lay a steel rule along a bar. Put a mark of the rule, not its worn end, on the LEFT edge of the first tick "
            "and read it at the LEFT edge of the last; on a bar that stands up, the LOWER edge of each. So the thickness "
            "of the lines doesn't count.",
            WORDS_MM,
            1.5,
        ),
    )


def _after(on: Paper, across: Sequence[float], up: Sequence[float]) -> tuple[Row, ...]:
    bar_x, bar_y = (USUAL_BAR_MM if USUAL_BAR_MM in bars else bars[0] for bars in (across, up))
    bars = "" if bar_x == USUAL_BAR_MM else f" --bar {bar_x:g}"
    bars += "" if bar_y == bar_x else f" --bar-y {bar_y:g}"
    longer = ""
    if BARS_MM[0] in up:
        both = f"--bar {BARS_MM[0]:g} says that both were, " if BARS_MM[0] in across else ""
        longer = f" A longer bar reads finer: {both}--bar-y {BARS_MM[0]:g} says that the one up was."
    return (
        (
            f"3. Read to a fifth of a millimetre, twice, across ({_bar_words(across)} mm) and up ({_bar_words(up)} mm): the "
            f"two are seldom off alike, and each is corrected by itself.{longer}",
            WORDS_MM,
            2.0,
        ),
        (f"across: ____________ mm of {bar_x:g}", 3.6, 6.0),
        (f"up: ____________ mm of {bar_y:g}", 3.6, 5.0),
        ("4. Type what you read, such as", WORDS_MM, 4.0),
        (
            f"dovelayout calibrate --measured-x {bar_x - 0.6:g} --measured-y {bar_y + 0.7:g}{bars} --paper {on.name} "
            "--printer NAME",
            2.9,
            1.0,
        ),
        (
            "5. Up to 0.3 % off (0.45 mm in 150) is good as it is. 3 to 4 % short: 'fit to page' is switched on; switch it "
            "off and print again. More than 5 %: another bar was read, or the sheet was fitted to another paper.",
            WORDS_MM,
            2.0,
        ),
        (
            "6. From then on: dovelayout draw JOB --printer NAME. The bars on every sheet show whether it is right.",
            WORDS_MM,
            1.5,
        ),
    )


def _words(on: Paper, across: Sequence[float], up: Sequence[float], left: float, room_mm: float) -> list[Item]:
    """What to do, from the top down, with the two ticks drawn large where they are spoken of."""
    title = (("Calibration sheet", 5.0, 0.0), (f"for {on.name}, printed at 100 %, actual size", 3.6, 0.5))
    before, top = _rows((*title, *_before()), left, room_mm, on.height_mm - on.margin_mm)
    top -= TICK_HIGH_MM + 3.0
    after, _ = _rows(_after(on, across, up), left, room_mm, top - 3.0)
    return [*before, *_large_ticks(left, top, room_mm), *after]


def _rows(rows: Sequence[Row], left: float, room_mm: float, top: float) -> tuple[list[Item], float]:
    """Rows from the top down, and where the next could begin."""
    items: list[Item] = []
    for text, size_mm, before_mm in rows:
        top -= before_mm
        for line in wrapped(text, size_mm, room_mm):
            items.append(Text(x_mm=left, y_mm=top - ascent(line) * size_mm, text=line, size_mm=size_mm))
            top -= (ascent(line) + DESCENT) * size_mm + 0.6
    return items, top


def _large_ticks(left: float, y: float, room_mm: float) -> Iterator[Item]:
    """The first and the last tick, many times too thick, with the distance that is measured."""
    first, last = left + 12.0, left + min(90.0, room_mm - 6.0)
    strokes: list[Segment] = []
    for x in (first, last):
        strokes += _box(x, y + 3.0, x + TICK_WIDE_MM, y + TICK_HIGH_MM)
    strokes.append((first + TICK_WIDE_MM, y + 7.0, last, y + 7.0))
    measure: list[Segment] = [(first, y, first, y + 2.2), (last, y, last, y + 2.2), (first, y + 1.1, last, y + 1.1)]
    for x, to in ((first, 1.8), (last, -1.8)):
        measure += [(x, y + 1.1, x + to, y + 1.8), (x, y + 1.1, x + to, y + 0.4)]
    yield Lines(role=Role.BAR, segments=tuple(strokes))
    yield Lines(role=Role.MARK, segments=tuple(measure))
    yield Text(
        x_mm=(first + last) / 2,
        y_mm=y + 2.6,
        text="this is measured (drawn too thick)",
        size_mm=2.4,
        anchor=Anchor.MIDDLE,
    )


def _box(x0: float, y0: float, x1: float, y1: float) -> list[Segment]:
    return [(x0, y0, x1, y0), (x1, y0, x1, y1), (x1, y1, x0, y1), (x0, y1, x0, y0)]
