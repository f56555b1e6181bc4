"""A sheet of paper around a drawing: heading, scale bars in both axes, and how to print it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from dovelayout.drawing.lettering import printable, share_that_fits, shortened, width_mm
from dovelayout.drawing.primitives import Anchor, Item, Items, Sheet, Size, Text, placed, text_at
from dovelayout.drawing.sheets.bars import MM_PER_INCH, bar, set_along
from dovelayout.drawing.style import Heading
from dovelayout.errors import PrintError
from dovelayout.paper import Paper
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "sheets")

HEAD_MM = 24.0
FOOT_MM = 17.0
SIDE_MM = 14.0  # the column of the upright bar
BARS_MM = (150.0, 100.0)
ACCENT_MM = 0.8  # over the first line of the head, for accents on capitals
FREE_MARGIN_MM = 5.0  # round a drawing on a sheet of its own size
AIR_MM = 2.0  # between a drawing and the edge of the sheet's room
NOTE_MM = 2.2  # size of what a printer's correction says of itself, under the rows of the head
NOTE_DOWN_MM = 22.4  # from the top margin to its base line: below all rows of the head, inside HEAD_MM
FIGURE_MM = 2.2  # on a bar


class Legend(StrEnum):
    """The words at the head of a sheet that explain its kinds of lines."""

    NONE = "none"
    TEMPLATE = "template"
    CARD = "card"
    MIXED = "mixed"
    PICTURE = "picture"
    GAUGE = "gauge"
    CAUL = "caul"
    CORNER = "corner"
    SLIP = "slip"
    LET_IN = "inlay"
    YEAR = "year"

    @property
    def words(self) -> str:
        """The words themselves; empty for NONE."""
        return "" if self is Legend.NONE else TEXTS(f"legend.{self}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """The content of one sheet. `draw` makes its drawing, when it is needed, with (0, 0) at the lower left corner of the
    paper's room; `title` and `description` replace those that are made of the heading."""

    draw: Callable[[], Items]
    heading: Heading
    legend: Legend = Legend.TEMPLATE
    title: str = ""
    description: str | None = None

    @classmethod
    def of(cls, content: Iterable[Item], heading: Heading, legend: Legend) -> Page:
        """A page with a drawing that is there already."""
        return cls(draw=partial(tuple, content), heading=heading, legend=legend)

    @property
    def name(self) -> str:
        """The sheet's title: its own, or that of its heading."""
        return self.title or f"{self.heading.job}: {self.heading.what}"


def room_mm(on: Paper) -> Size:
    """Width and height left for a drawing, between head, foot and the upright bar."""
    return (on.width_mm - 2 * on.margin_mm - SIDE_MM, on.height_mm - 2 * on.margin_mm - HEAD_MM - FOOT_MM)


def inset_room_mm(on: Paper) -> Size:
    """Width and height of the room less AIR_MM on all sides."""
    wide_mm, high_mm = room_mm(on)
    return (wide_mm - 2 * AIR_MM, high_mm - 2 * AIR_MM)


def inset(items: Iterable[Item]) -> Items:
    """A drawing AIR_MM inside the room."""
    return placed(items, AIR_MM, AIR_MM)


def paper_around(size_mm: Size) -> Paper:
    """A sheet of paper just large enough for an inset drawing of that size, mm, and for its bars."""
    width_mm, height_mm = (side_mm + 2 * AIR_MM for side_mm in size_mm)
    bar_mm = BARS_MM[0]
    return Paper(
        name="to measure",
        width_mm=max(width_mm, bar_mm + 12) + 2 * FREE_MARGIN_MM + SIDE_MM,
        height_mm=max(height_mm, bar_mm + 6) + 2 * FREE_MARGIN_MM + HEAD_MM + FOOT_MM,
        margin_mm=FREE_MARGIN_MM,
    )


def framed(page: Page, on: Paper, *, number: int = 1, of: int = 1) -> Sheet:
    """The page on paper: its drawing set into the room, the head above it, a scale bar across and one up.

    Raises PrintError for paper that has no room for the bars.
    """
    content = placed(page.draw(), on.margin_mm, on.margin_mm + FOOT_MM)
    head = page.heading
    return Sheet(
        width_mm=on.width_mm,
        height_mm=on.height_mm,
        items=(*content, *_head(on, head, page.legend.words, f"sheet {number} of {of}"), *_bars(on)),
        title=page.name,
        description=head.numbers if page.description is None else page.description,
    )


def all_framed(pages: Sequence[Page], on: Paper) -> tuple[Sheet, ...]:
    """The pages on sheets of one paper, numbered. Raises PrintError like `framed`."""
    return tuple(framed(page, on, number=number, of=len(pages)) for number, page in enumerate(pages, 1))


def head_note(text: str, sheet: Sheet, margin_mm: float) -> Text:
    """A line below the rows of a framed sheet's head, in letters small enough to leave it whole."""
    words, room = printable(text), sheet.width_mm - 2 * margin_mm
    size_mm = NOTE_MM * share_that_fits(words, NOTE_MM, 0.9999 * room)
    return text_at((margin_mm, sheet.height_mm - margin_mm - NOTE_DOWN_MM), words, size_mm)


def _head(on: Paper, heading: Heading, legend: str, count: str) -> list[Text]:
    left, right = on.margin_mm, on.width_mm - on.margin_mm
    top = on.height_mm - on.margin_mm - ACCENT_MM
    # what must be read on every sheet gets as small as it has to; other rows are cut where three quarters won't do
    rows = (
        (heading.what, 4.2, 0.75, right - left - width_mm(count, 3.2) - 4),
        (heading.numbers, 2.9, 0.75, right - left),
        (heading.stamp or heading.job, 2.9, 0.75, right - left),
        (TEXTS("print"), 2.6, 0.0, right - left),
        (legend, 2.6, 0.0, right - left),
    )
    texts: list[Text] = []
    base = top
    for row, size_mm, least, room in rows:
        base -= size_mm * 0.8
        fitted_mm = size_mm * max(least, share_that_fits(printable(row), size_mm, room)) * 0.9999
        fitted = shortened(row, fitted_mm, room)
        if fitted:
            texts.append(text_at((left, base), fitted, fitted_mm))
        base -= size_mm * 0.5
    return [*texts, text_at((right, top - 4.2 * 0.8), count, 3.2, Anchor.END)]


def _bars(on: Paper) -> Iterator[Item]:
    """A scale bar across and one up, with figures and words."""
    across, up = (next((bar for bar in BARS_MM if bar <= room), None) for room in room_mm(on))
    if across is None or up is None:
        raise PrintError(f"{on.name} with {on.margin_mm:g} mm margins is too small for a 100 mm scale bar")
    x, y = on.margin_mm + 3.0, on.margin_mm + 8.0
    up_x, up_y = on.width_mm - on.margin_mm - 4.5, on.margin_mm + FOOT_MM
    yield from set_along([bar(across)], (x, y), upwards=False)
    yield from set_along([bar(up)], (up_x, up_y), upwards=True)
    yield from set_along(_figures(across), (x, y), upwards=False)
    yield from set_along(_figures(up), (up_x, up_y), upwards=True)
    inches = f"below the line inches, {int(across // MM_PER_INCH)} in all"
    yield text_at((x - 2.0, on.margin_mm + 1.0), f"across: {across:g} mm between the end ticks; {inches}", 2.6)
    yield text_at((up_x - 6.4, up_y), f"up: {up:g} mm between the end ticks", 2.6, upwards=True)


def _figures(length_mm: float) -> Iterator[Text]:
    """Figures beside the ticks at every 50 mm of a bar."""
    yield text_at((0.8, 2.6), "0", FIGURE_MM)
    for at_mm in (50.0, 100.0):
        if at_mm < length_mm:
            yield text_at((at_mm, 3.7), f"{at_mm:g}", FIGURE_MM, Anchor.MIDDLE)
    yield text_at((length_mm - 0.8, 2.6), f"{length_mm:g} mm", FIGURE_MM, Anchor.END)
