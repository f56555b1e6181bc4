"""Cauls at full size: the strip's side view, feet to the right, to be stuck on a batten and sawn.

A caul longer than the paper comes in parts, joined at match lines through the middle of a foot.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from shapely import box

from dovelayout.drawing.cards.slide import TITLE_MM, WORDS_WIDE_MM, Card, arranged, captioned, exact, row_size_mm
from dovelayout.drawing.cards.slide import WORDS_MM as WORDS_SIZE_MM
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import shortened
from dovelayout.drawing.primitives import Item, Lines, Role, Segment, Sheet, Text, moved
from dovelayout.drawing.sheets.frame import Heading, framed, made_to_measure, room_mm
from dovelayout.errors import PrintError
from dovelayout.glueup.caul import Caul
from dovelayout.joints.spacing import Span
from dovelayout.paper import Paper
from dovelayout.units import Unit

AIR_MM = 2.0
PART_WORDS_MM = 8.0  # what the card of a part says besides, below its drawing
MOST_NAMED = 6
TITLE_LINES_MM = 2 * WORDS_WIDE_MM  # a title longer than two lines is cut
NAME_MM = 4.0
NAME_AIR_MM = 3.0
LEAST_PART_MM = 20.0

LEGEND = "HATCHED = WASTE: saw the notches out. Long and short dashes: join two parts here. Side view, full size."


def caul_cards(
    caul: Caul, corners: Sequence[str], unit: Unit, *, room_high_mm: float | None = None
) -> tuple[Card, ...]:
    """The card of a caul; several where it is longer than the room. Raises PrintError where no foot lies within reach."""
    whole = _part_card(caul, corners, unit, Span(0.0, caul.length_mm), 1, 1)
    if room_high_mm is None or whole.height_mm <= room_high_mm:
        return (whole,)
    words_mm = whole.height_mm - caul.length_mm + PART_WORDS_MM
    parts = tuple(_parts(caul, room_high_mm - words_mm))
    return tuple(_part_card(caul, corners, unit, part, number, len(parts)) for number, part in enumerate(parts, 1))


def corners_named(corners: Sequence[str]) -> str:
    """'corner A', 'corners A, B', or the first few of many."""
    if len(corners) == 1:
        return f"corner {corners[0]}"
    few = ", ".join(corners[:MOST_NAMED])
    return f"corners {few}" if len(corners) <= MOST_NAMED else f"corners {few} and {len(corners) - MOST_NAMED} more"


def _parts(caul: Caul, most_mm: float) -> Iterator[Span]:
    """The fewest stretches that fit, cut in the middle of feet."""
    places = [0.0, *((pad.start_mm + pad.end_mm) / 2 for pad in caul.pads), caul.length_mm]
    start_mm = 0.0
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


def _part_card(caul: Caul, corners: Sequence[str], unit: Unit, part: Span, number: int, count: int) -> Card:
    face_mm, high_mm = caul.high_mm - caul.deep_mm, caul.high_mm
    length_mm = part.end_mm - part.start_mm
    notches = [
        (max(0.0, notch.start_mm - part.start_mm), min(length_mm, notch.end_mm - part.start_mm))
        for notch in caul.notches
        if notch.start_mm < part.end_mm and notch.end_mm > part.start_mm
    ]
    pads = [
        (max(0.0, pad.start_mm - part.start_mm), min(length_mm, pad.end_mm - part.start_mm))
        for pad in caul.pads
        if pad.start_mm < part.end_mm - 1e-9 and pad.end_mm > part.start_mm + 1e-9
    ]
    knife: list[Segment] = [(0.0, 0.0, 0.0, length_mm)]
    knife += [(high_mm, low, high_mm, up) for low, up in pads]
    knife += [(face_mm, low, face_mm, up) for low, up in notches]
    # the steps between feet and notches, each once; at the strip's own ends the outline does it
    steps = sorted({at for low, up in notches for at in (low, up)} - {0.0, length_mm})
    knife += [(face_mm, at, high_mm, at) for at in steps]
    ends: list[tuple[Role, Segment]] = []
    for at, cut in ((0.0, part.start_mm > 0), (length_mm, part.end_mm < caul.length_mm - 1e-9)):
        to_mm = high_mm if any(at in pad for pad in pads) else face_mm
        ends.append((Role.MATCH if cut else Role.KNIFE, (0.0, at, to_mm, at)))
    knife += [segment for role, segment in ends if role is Role.KNIFE]
    match = [segment for role, segment in ends if role is Role.MATCH]
    waste = [box(face_mm, low, high_mm, up) for low, up in notches]
    drawing: list[Item] = [
        Lines(role=Role.KNIFE, segments=tuple(knife)),
        Lines(role=Role.HATCH, segments=hatch(waste, pitch_mm=1.0)),
    ]
    if match:
        drawing.append(Lines(role=Role.MATCH, segments=tuple(match)))
    name = shortened(f"← face edge; {corners_named(corners)}", NAME_MM, length_mm - 2 * NAME_AIR_MM)
    if name:
        drawing.append(Text(x_mm=face_mm / 2 + 1.5, y_mm=NAME_AIR_MM, text=name, size_mm=NAME_MM, upwards=True))
    many = len(corners) > 1
    lower = "lower end: at the face edge" if part.start_mm == 0 else "lower end: towards the face edge"
    if part.start_mm == 0 and caul.start_mm > 0:
        lower = f"lower end: {exact(caul.start_mm, unit)} from the face edge"
    words = [
        lower,
        f"{exact(caul.wide_mm, unit)} wide on the tail board, from its end to the baseline",
        f"notches {exact(caul.deep_mm, unit)} deep, over the pins; the feet press the tails"
        + ("" if many else shortened(f" of {caul.presses}", WORDS_SIZE_MM, WORDS_WIDE_MM)),
    ]
    if many:
        words.append(f"fits {len(corners)} corners")
    if count > 1:
        words.insert(0, f"part {number} of {count}: {part.start_mm:.1f} to {part.end_mm:.1f} mm")
    title = shortened(f"Caul, {corners_named(corners)}", TITLE_MM, TITLE_LINES_MM)
    return captioned(title, drawing, (high_mm, length_mm), words)


def caul_sheet(caul: Caul, corners: Sequence[str], *, job: str, unit: Unit, stamp: str = "") -> Sheet:
    """A caul whole, on a sheet just large enough."""
    cards = caul_cards(caul, corners, unit)
    wide_mm, high_mm = row_size_mm(cards)
    (content,) = arranged(cards, wide_mm=wide_mm, high_mm=high_mm)
    return framed(
        [moved(item, AIR_MM, AIR_MM) for item in content],
        on=made_to_measure(wide_mm + 2 * AIR_MM, high_mm + 2 * AIR_MM),
        heading=_heading(job, corners, stamp),
        number=1,
        of=1,
        legend=LEGEND,
        title=f"{job}: caul, {corners_named(corners)}",
        description=f"pads press the tails, {exact(caul.length_mm, unit)} long",
    )


def caul_pages(cauls: Sequence[tuple[Caul, Sequence[str]]], *, unit: Unit, on: Paper) -> tuple[tuple[Item, ...], ...]:
    """All cauls on as few sheets as they need, in the coordinates of the paper's room. Raises PrintError."""
    wide_mm, high_mm = (side - 2 * AIR_MM for side in room_mm(on))
    cards = itertools.chain.from_iterable(
        caul_cards(caul, corners, unit, room_high_mm=high_mm) for caul, corners in cauls
    )
    pages = arranged(tuple(cards), wide_mm=wide_mm, high_mm=high_mm)
    return tuple(tuple(moved(item, AIR_MM, AIR_MM) for item in page) for page in pages if page)


def _heading(job: str, corners: Sequence[str], stamp: str) -> Heading:
    return Heading(
        job=job,
        what=f"Relieved caul{'s' if len(corners) > 1 else ''}, {corners_named(corners)}",
        numbers="Clamps press the tails alone: the notches keep the strip off the pins, proud or not.",
        stamp=stamp,
    )
