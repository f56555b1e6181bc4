"""Cauls at full size: the strip's side view, feet to the right, to be stuck on a batten and sawn.

A caul longer than the paper comes in parts, joined at match lines through the middle of a foot.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import box

from dovelayout.drawing.cards.card import TITLE_MM, WORDS_MM, WORDS_WIDE_MM, Card, captioned, card_pages, card_sheet
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import shortened
from dovelayout.drawing.primitives import Item, Items, Role, Sheet, Stroke, strokes, text_at
from dovelayout.drawing.sheets.frame import Legend, inset_room_mm
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.glueup.caul import Caul
from dovelayout.joints.spacing import Span
from dovelayout.paper import Paper
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "caul")

PART_WORDS_MM = 8.0  # what the card of a part has besides, below its drawing
MOST_NAMED = 6
TITLE_LINES_MM = 2 * WORDS_WIDE_MM  # a title longer than two lines is cut
NAME_MM = 4.0
NAME_AIR_MM = 3.0
LEAST_PART_MM = 20.0


def caul_sheet(caul: Caul, corners: Sequence[str], style: Style) -> Sheet:
    """A caul whole, on a sheet just large enough. `corners`: all that it fits."""
    strip = _Strip(caul=caul, corners=corners, style=style)
    what = f"Relieved caul{'s' if len(corners) > 1 else ''}, {strip.names}"
    sheet = card_sheet(strip.cards(), style.heading(what, TEXTS("heading")), Legend.CAUL)
    description = TEXTS("description", long=style.setting(caul.length_mm))
    return replace(sheet, title=f"{style.job}: caul, {strip.names}", description=description)


def caul_pages(cauls: Iterable[tuple[Caul, Sequence[str]]], style: Style, on: Paper) -> tuple[Items, ...]:
    """All cauls, each with the corners that it fits, on as few sheets as they need, in the coordinates of the paper's
    room. Raises PrintError where one doesn't fit."""
    high_mm = inset_room_mm(on)[1]
    strips = (_Strip(caul=caul, corners=corners, style=style) for caul, corners in cauls)
    return card_pages([card for strip in strips for card in strip.cards(high_mm)], on)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """A caul and the corners that it fits."""

    caul: Caul
    corners: Sequence[str]
    style: Style

    @property
    def names(self) -> str:
        """'corner A', 'corners A, B', or the first few of many."""
        more = len(self.corners) - MOST_NAMED
        named = ", ".join(self.corners[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
        return f"corner{'s' if len(self.corners) > 1 else ''} {named}"

    def cards(self, room_high_mm: float | None = None) -> tuple[Card, ...]:
        """Its card; several where it is longer than the room. Raises PrintError where no foot lies within reach."""
        whole = self._card(Span(0.0, self.caul.length_mm))
        if room_high_mm is None or whole.height_mm <= room_high_mm:
            return (whole,)
        words_mm = whole.height_mm - self.caul.length_mm + PART_WORDS_MM
        parts = tuple(self._parts(room_high_mm - words_mm))
        return tuple(self._card(part, number, len(parts)) for number, part in enumerate(parts, 1))

    def _parts(self, most_mm: float) -> Iterator[Span]:
        """The fewest stretches that fit, cut in the middle of feet."""
        caul, start_mm = self.caul, 0.0
        places = [0.0, *((pad.start_mm + pad.end_mm) / 2 for pad in caul.pads), caul.length_mm]
        while caul.length_mm - start_mm > most_mm + 1e-9:
            within = [at for at in places if LEAST_PART_MM <= at - start_mm <= most_mm]
            if not within:
                raise PrintError(
                    f"the caul of corner {caul.corner} can't be parted: no foot's middle lies between {start_mm:.0f} "
                    f"and {start_mm + most_mm:.0f} mm",
                    remedy="larger paper would do",
                )
            yield Span(start_mm, within[-1])
            start_mm = within[-1]
        yield Span(start_mm, caul.length_mm)

    def _card(self, part: Span, number: int = 1, count: int = 1) -> Card:
        title = shortened(f"Caul, {self.names}", TITLE_MM, TITLE_LINES_MM)
        words = list(self._words(part))
        if count > 1:
            span = {"start": part.start_mm, "end": part.end_mm}
            words.insert(0, TEXTS("part", number=number, count=count, **span))
        return captioned(title, tuple(self._drawing(part)), (self.caul.high_mm, part.width_mm), words)

    def _drawing(self, part: Span) -> Iterator[Item]:
        caul, length_mm = self.caul, part.width_mm
        face_mm, high_mm = caul.high_mm - caul.deep_mm, caul.high_mm
        notches, pads = _within(part, caul.notches), _within(part, caul.pads)
        knife: list[Stroke] = [(0.0, 0.0, 0.0, length_mm)]
        knife += [(high_mm, low, high_mm, up) for low, up in pads]
        knife += [(face_mm, low, face_mm, up) for low, up in notches]
        # the steps between feet and notches, each once; at the strip's own ends the outline does it
        knife += [
            (face_mm, at, high_mm, at) for at in sorted({at for notch in notches for at in notch} - {0.0, length_mm})
        ]
        match: list[Stroke] = []
        for at, is_cut in ((0.0, part.start_mm > 0), (length_mm, part.end_mm < caul.length_mm - 1e-9)):
            to_mm = high_mm if any(at in pad for pad in pads) else face_mm
            (match if is_cut else knife).append((0.0, at, to_mm, at))
        yield strokes(Role.KNIFE, knife)
        yield strokes(Role.HATCH, hatch([box(face_mm, low, high_mm, up) for low, up in notches], pitch_mm=1.0))
        if match:
            yield strokes(Role.MATCH, match)
        name = shortened(TEXTS("on_the_strip", corners=self.names), NAME_MM, length_mm - 2 * NAME_AIR_MM)
        if name:
            yield text_at((face_mm / 2 + 1.5, NAME_AIR_MM), name, NAME_MM, upwards=True)

    def _words(self, part: Span) -> Iterator[str]:
        caul, setting, many = self.caul, self.style.setting, len(self.corners) > 1
        lower = "off_edge" if caul.start_mm > 0 else "at_edge"
        yield TEXTS(f"lower_{lower if part.start_mm == 0 else 'of_part'}", away=setting(caul.start_mm))
        yield TEXTS("wide", wide=setting(caul.wide_mm))
        board = "" if many else shortened(f" of {caul.presses}", WORDS_MM, WORDS_WIDE_MM)
        yield TEXTS("notches", deep=setting(caul.deep_mm), of=board)
        if many:
            yield TEXTS("fits", count=len(self.corners))


def _within(part: Span, spans: Iterable[Span]) -> list[tuple[float, float]]:
    """The stretches of spans that lie in a part, counted from its start."""
    return [
        (max(0.0, span.start_mm - part.start_mm), min(part.width_mm, span.end_mm - part.start_mm))
        for span in spans
        if span.start_mm < part.end_mm - 1e-9 and span.end_mm > part.start_mm + 1e-9
    ]
