"""A sheet of paper around a drawing: heading, scale bars in both axes, and what must be said on every sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import printable, shortened, width_mm
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Sheet, Text, moved
from dovelayout.errors import PrintError
from dovelayout.paper import Paper

MM_PER_INCH = 25.4

HEAD_MM = 24.0
FOOT_MM = 17.0
SIDE_MM = 14.0  # the column of the upright bar
BARS_MM = (150.0, 100.0)
ACCENT_MM = 0.8  # over the first line of the head, for accents on capitals
FREE_MARGIN_MM = 5.0  # round a drawing on a sheet of its own size
NOTE_MM = 2.2  # size of what a printer's correction says of itself, under the rows of the head
NOTE_DOWN_MM = 22.4  # from the top margin to its base line: below all rows of the head, inside HEAD_MM

PRINT_LINE = (
    "PRINT AT 100 %, ACTUAL SIZE. Measure both bars before cutting: more than 0.5 mm off in 150, don't use the sheet."
)
CARD_LINE = "HATCHED = WASTE. Dash and dot: an edge of the board, as the words say. Short dashes: cut the paper."
MIXED_LINE = (
    "HATCHED = WASTE. Dash and dot: fold; on cards an edge of the board, as their words say. Long dashes: baseline, which "
    "knife and gauge rule, not the paper. Short dashes: cut the paper."
)
WASTE_LINE = (
    "HATCHED = WASTE. Dash and dot: fold. Long dashes: baseline, which knife and gauge rule, not the paper. "
    "Short dashes: cut the paper."
)


def room_mm(on: Paper) -> tuple[float, float]:
    """Width and height left for a drawing, between head, foot and the upright bar."""
    return (on.width_mm - 2 * on.margin_mm - SIDE_MM, on.height_mm - 2 * on.margin_mm - HEAD_MM - FOOT_MM)


def made_to_measure(width_mm: float, height_mm: float, margin_mm: float = FREE_MARGIN_MM) -> Paper:
    """A sheet just large enough for a drawing of that size and for its bars."""
    bar_mm = BARS_MM[0]
    return Paper(
        name="to measure",
        width_mm=max(width_mm, bar_mm + 12) + 2 * margin_mm + SIDE_MM,
        height_mm=max(height_mm, bar_mm + 6) + 2 * margin_mm + HEAD_MM + FOOT_MM,
        margin_mm=margin_mm,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The lines at the head of a sheet: the job, what the sheet is, its numbers, and a stamp (a `stop` overruled)."""

    job: str
    what: str
    numbers: str = ""
    stamp: str = ""


def framed(
    content: Sequence[Item],
    *,
    on: Paper,
    heading: Heading,
    number: int,
    of: int,
    title: str,
    description: str = "",
    legend: str = WASTE_LINE,
) -> Sheet:
    """A sheet with `content` (in its own coordinates, (0, 0) at its lower left) set into the room of the paper."""
    left, bottom = on.margin_mm, on.margin_mm + FOOT_MM
    items: list[Item] = [moved(item, left, bottom) for item in content]
    items.extend(_head(on, heading, number, of, legend))
    items.extend(_bars(on))
    return Sheet(width_mm=on.width_mm, height_mm=on.height_mm, items=tuple(items), title=title, description=description)


def head_note(text: str, sheet: Sheet, margin_mm: float) -> Text:
    """A line below the rows of a framed sheet's head, written smaller before it is cut."""
    words, room = printable(text), sheet.width_mm - 2 * margin_mm
    size_mm = NOTE_MM * min(1.0, 0.9999 * room / max(1e-6, width_mm(words, NOTE_MM)))
    return Text(x_mm=margin_mm, y_mm=sheet.height_mm - margin_mm - NOTE_DOWN_MM, text=words, size_mm=size_mm)


def _head(on: Paper, heading: Heading, number: int, of: int, legend: str) -> list[Item]:
    left, right = on.margin_mm, on.width_mm - on.margin_mm
    top = on.height_mm - on.margin_mm
    count = f"sheet {number} of {of}"
    rows = (
        (heading.what, 4.2, right - left - width_mm(count, 3.2) - 4),
        (heading.numbers, 2.9, right - left),
        (heading.stamp or heading.job, 2.9, right - left),
        (PRINT_LINE, 2.6, right - left),
        (legend, 2.6, right - left),
    )
    items: list[Item] = []
    base = top - ACCENT_MM
    for row, size_mm, room_mm in rows:
        base -= size_mm * 0.8
        size_fit = size_mm
        if row:  # made smaller before it is cut, and what must be read on every sheet is never cut
            least = 0.0 if row in (PRINT_LINE, legend) else 0.75
            size_fit = size_mm * max(least, min(1.0, room_mm / max(1e-6, width_mm(printable(row), size_mm))))
        fitted = shortened(row, size_fit * 0.9999, room_mm) if row else ""
        if fitted:
            items.append(Text(x_mm=left, y_mm=base, text=fitted, size_mm=size_fit * 0.9999))
        base -= size_mm * 0.5
    items.append(Text(x_mm=right, y_mm=top - ACCENT_MM - 4.2 * 0.8, text=count, size_mm=3.2, anchor=Anchor.END))
    return items


def _bars(on: Paper) -> list[Item]:
    """A bar across and a bar up, ticked in cm on one side and in inches on the other."""
    across_room = on.width_mm - 2 * on.margin_mm - SIDE_MM
    up_room = on.height_mm - 2 * on.margin_mm - HEAD_MM - FOOT_MM
    across = next((bar for bar in BARS_MM if bar <= across_room), None)
    up = next((bar for bar in BARS_MM if bar <= up_room), None)
    if across is None or up is None:
        raise PrintError(f"{on.name} with {on.margin_mm:g} mm margins is too small for a 100 mm scale bar")
    x0, y0 = on.margin_mm + 3.0, on.margin_mm + 8.0
    ux, uy = on.width_mm - on.margin_mm - 4.5, on.margin_mm + FOOT_MM
    items: list[Item] = [
        Lines(role=Role.BAR, segments=tuple((x0 + a, y0 + b, x0 + c, y0 + d) for a, b, c, d in bar_strokes(across))),
        # turned a quarter left: (a, b) -> (-b, a)
        Lines(role=Role.BAR, segments=tuple((ux - b, uy + a, ux - d, uy + c) for a, b, c, d in bar_strokes(up))),
    ]
    inches = int(across // MM_PER_INCH)
    items.extend(
        Text(x_mm=x0 + a, y_mm=y0 + b, text=text, size_mm=TICK_MM, anchor=anchor)
        for a, b, text, anchor in _tick_texts(across)
    )
    items.extend(
        Text(x_mm=ux - b, y_mm=uy + a, text=text, size_mm=TICK_MM, anchor=anchor, upwards=True)
        for a, b, text, anchor in _tick_texts(up)
    )
    items.append(
        Text(
            x_mm=x0 - 2.0,
            y_mm=on.margin_mm + 1.0,
            text=f"across: {across:g} mm between the end ticks; below the line inches, {inches} in all",
            size_mm=2.6,
        )
    )
    items.append(
        Text(
            x_mm=ux - 6.4,
            y_mm=uy,
            text=f"up: {up:g} mm between the end ticks",
            size_mm=2.6,
            upwards=True,
        )
    )
    return items


TICK_MM = 2.2


def _tick_texts(length_mm: float) -> tuple[tuple[float, float, str, Anchor], ...]:
    """Figures beside the ticks at every 50 mm: (along, above, text, anchor)."""
    middles = [(at, 3.7, f"{at:g}", Anchor.MIDDLE) for at in (50.0, 100.0) if at < length_mm]
    return (
        (0.8, 2.6, "0", Anchor.START),
        *middles,
        (length_mm - 0.8, 2.6, f"{length_mm:g} mm", Anchor.END),
    )


def bar_strokes(length_mm: float) -> tuple[Segment, ...]:
    """A bar from (0, 0) to the right: cm above the line, inches below it, long ticks at its ends."""
    segments: list[Segment] = [(0.0, 0.0, length_mm, 0.0), (0.0, -2.5, 0.0, 5.0), (length_mm, -2.5, length_mm, 5.0)]
    for cm in range(1, int(length_mm // 10)):
        segments.append((cm * 10.0, 0.0, cm * 10.0, 3.0 if cm % 5 == 0 else 1.8))
    for inch in range(1, int(length_mm // MM_PER_INCH) + 1):
        segments.append((inch * MM_PER_INCH, 0.0, inch * MM_PER_INCH, -2.0))
    return tuple(segments)
