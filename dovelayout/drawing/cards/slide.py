"""Full-size cards of a sliding dovetail: to lay beside the work, prick through or scribe round; nothing is folded.

Each card carries a drawing and its words below it, so that no word can run into a line. It is drawn as it is seen when it
lies on the work: a section on a front edge is the mirror image of one on a back edge. `slide_cards` makes the cards of
one joint, `arranged` sets them in rows on as many sheets as they need.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import ASCENT, DESCENT, wrapped
from dovelayout.drawing.primitives import Item, Lines, Role, Segment, Text, moved
from dovelayout.drawing.template.regions import Region, moved_region, piece_regions
from dovelayout.errors import PrintError
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.joints.spacing import Span
from dovelayout.units import Unit, format_inches, format_slope

AROUND_MM = 12.0  # host that is shown on either side of a housing
ALONG_MM = 40.0  # of a housing that is shown at its front and at its rear
BELOW_MM = 14.0  # of the key that is shown behind its shoulder
TITLE_MM = 3.4
WORDS_MM = 2.7
WORDS_WIDE_MM = 58.0
GAP_MM = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One drawing with its words; lower left at (0, 0)."""

    title: str
    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    regions: tuple[Region, ...] = ()


def exact(value_mm: float, unit: Unit) -> str:
    """A distance to set out, to a hundredth of a mm, with the inches where the job thinks in them."""
    inches = f" ({format_inches(value_mm)})" if unit is Unit.IN else ""
    return f"{value_mm:.2f}".rstrip("0").rstrip(".") + f" mm{inches}"


def slide_cards(joint: SlidingJoint, unit: Unit) -> tuple[Card, ...]:
    """The housing at both its ends on the host's face, its section at the rear, the key's sections, and its notch."""
    cards = [
        _face(joint, unit, front=True),
        _face(joint, unit, front=False),
        _socket(joint, unit),
        _key(joint, unit, front=False),
    ]
    if joint.tapered or joint.notch_mm > 0:
        cards.append(_key(joint, unit, front=True))
    if joint.notch_mm > 0:
        cards.append(_notch(joint, unit))
    return tuple(cards)


def arranged(cards: Sequence[Card], *, wide_mm: float, high_mm: float) -> tuple[tuple[Item, ...], ...]:
    """Cards in rows from the top, left to right, on as many sheets as they need.

    Raises PrintError when a single card is larger than the room.
    """
    pages: list[list[Item]] = [[]]
    left, top, row_mm = 0.0, high_mm, 0.0
    for card in cards:
        if card.width_mm > wide_mm + 1e-6 or card.height_mm > high_mm + 1e-6:
            raise PrintError(
                f"the card '{card.title}' is {card.width_mm:.0f} x {card.height_mm:.0f} mm and the sheet has "
                f"{wide_mm:.0f} x {high_mm:.0f} mm of room",
                remedy="larger paper would do",
            )
        if left and left + card.width_mm > wide_mm + 1e-6:
            left, top, row_mm = 0.0, top - row_mm - GAP_MM, 0.0
        if top - card.height_mm < -1e-6:
            pages.append([])
            left, top, row_mm = 0.0, high_mm, 0.0
        pages[-1].extend(moved(item, left, top - card.height_mm) for item in card.items)
        left, row_mm = left + card.width_mm + GAP_MM, max(row_mm, card.height_mm)
    return tuple(tuple(page) for page in pages)


def row_size_mm(cards: Sequence[Card]) -> tuple[float, float]:
    """Width and height of the cards all in one row."""
    return math.fsum(card.width_mm for card in cards) + GAP_MM * (len(cards) - 1), max(card.height_mm for card in cards)


def captioned(
    title: str,
    drawing: Sequence[Item],
    size_mm: tuple[float, float],
    words: Sequence[str],
    waste: Sequence[Polygon] = (),
) -> Card:
    """The drawing (its own lower left at (0, 0)) with its title and words below it; `waste` as it lies in the drawing."""
    wide_mm = max(size_mm[0], WORDS_WIDE_MM)
    rows = [(line, TITLE_MM) for line in wrapped(title, TITLE_MM, wide_mm)]
    rows += [(line, WORDS_MM) for entry in words for line in wrapped(entry, WORDS_MM, wide_mm)]
    texts_mm = math.fsum(size * (ASCENT + DESCENT + 0.25) for _, size in rows) + 1.5
    left = (wide_mm - size_mm[0]) / 2
    items: list[Item] = [moved(item, left, texts_mm) for item in drawing]
    regions = piece_regions(rectangle(0.0, 0.0, *size_mm), waste)
    base = texts_mm - 1.5
    for line, size in rows:
        base -= size * (ASCENT + 0.25)
        items.append(Text(x_mm=0.0, y_mm=base, text=line, size_mm=size))
        base -= size * DESCENT
    return Card(
        title=title,
        width_mm=wide_mm,
        height_mm=texts_mm + size_mm[1],
        items=tuple(items),
        regions=tuple(moved_region(region, left, texts_mm) for region in regions),
    )


def _seen(drawing: Sequence[Item], wide_mm: float, *, end_on_the_left: bool) -> list[Item]:
    """A drawing whose u runs to the right, turned over where the host's end lies on the right."""
    if end_on_the_left:
        return list(drawing)
    return [
        Lines(role=item.role, segments=tuple((wide_mm - x1, y1, wide_mm - x2, y2) for x1, y1, x2, y2 in item.segments))
        for item in drawing
        if isinstance(item, Lines)
    ]


def _waste_seen(waste: Sequence[Polygon], wide_mm: float, *, end_on_the_left: bool) -> list[Polygon]:
    """Waste turned over with its drawing."""
    if end_on_the_left:
        return list(waste)
    return [affine_transform(polygon, (-1.0, 0.0, 0.0, 1.0, wide_mm, 0.0)) for polygon in waste]


def _side(end_on_the_left: bool) -> str:
    return "left" if end_on_the_left else "right"


def _lines(role: Role, *segments: Segment) -> Lines:
    return Lines(role=role, segments=tuple(segments))


def _closed(points: Sequence[tuple[float, float]]) -> tuple[Segment, ...]:
    return tuple((*a, *b) for a, b in zip(points, (*points[1:], points[0]), strict=True))


def _face(joint: SlidingJoint, unit: Unit, *, front: bool) -> Card:
    """A piece of the host's face: across the card from its lower side to its upper, up the card from front to rear."""
    host = joint.host
    middle = joint.front_mm if front else joint.rear_mm
    first, last = max(0.0, middle - ALONG_MM), min(host.width_mm, middle + ALONG_MM)
    starts = max(first, joint.front_mm)
    ends = [(station, joint.neck_at(station)) for station in (starts, last)]
    low = min(span.start_mm for _, span in ends) - AROUND_MM
    high = max(span.end_mm for _, span in ends) + AROUND_MM

    def at(u_mm: float, station: float) -> tuple[float, float]:
        return (u_mm - low, station - first)

    corners = [
        at(ends[0][1].start_mm, starts),
        at(ends[0][1].end_mm, starts),
        at(ends[1][1].end_mm, last),
        at(ends[1][1].start_mm, last),
    ]
    knife: list[Segment] = [(*corners[1], *corners[2]), (*corners[3], *corners[0])]
    if joint.front_mm > first:
        knife.append((*corners[0], *corners[1]))  # the stop
    wide, high_mm = high - low, last - first
    # the paper's lower or upper side lies on the host's edge, unless that is too far off to be shown
    away_mm = first if front else host.width_mm - last
    border = _closed(((0.0, 0.0), (wide, 0.0), (wide, high_mm), (0.0, high_mm)))
    edge = [] if away_mm > 0 else [border[0 if front else 2]]
    waste = [Polygon(corners)]
    drawing: list[Item] = [
        _lines(Role.KNIFE, *knife),
        _lines(Role.HATCH, *hatch(waste)),
        _lines(Role.FOLD, *edge),
        _lines(Role.OUTLINE, *(segment for segment in border if segment not in edge)),
    ]
    station = joint.front_mm if front else joint.rear_mm
    neck = joint.neck_at(station)
    end = joint.spec.host.label
    left = joint.end_on_the_left
    edge_name = "front" if front else "back"
    words = [
        f"{_side(left)} is towards the {joint.spec.host.of_board}",
        f"dash and dot: the {edge_name} edge" if edge else f"the {edge_name} edge is {exact(away_mm, unit)} away",
        f"from that end, {'where it begins' if front else 'at the rear of the key'}: lower side "
        f"{exact(neck.start_mm, unit)}, upper side {exact(neck.end_mm, unit)}",
        f"width at the face {neck.width_mm:.2f} mm",
    ]
    if front and joint.front_mm > 0:
        words.append(f"stopped {exact(joint.front_mm, unit)} from the front edge")
    where = "front" if front else "rear"
    title = f"Housing in {end}, {joint.spec.face.value} face, {where}"
    cut = _waste_seen(waste, wide, end_on_the_left=left)
    return captioned(title, _seen(drawing, wide, end_on_the_left=left), (wide, high_mm), words, cut)


def _trapezoid(neck: Span, floor: Span, face_y: float, floor_y: float, low: float) -> list[tuple[float, float]]:
    return [
        (neck.start_mm - low, face_y),
        (neck.end_mm - low, face_y),
        (floor.end_mm - low, floor_y),
        (floor.start_mm - low, floor_y),
    ]


def _socket(joint: SlidingJoint, unit: Unit) -> Card:
    """The housing's section on the host's back edge, the face with the housing upwards."""
    station = joint.host.width_mm
    neck, floor = joint.neck_at(station), joint.floor_at(station)
    low = min(neck.start_mm, floor.start_mm) - AROUND_MM
    wide = max(neck.end_mm, floor.end_mm) + AROUND_MM - low
    thick = joint.host.thickness_mm
    corners = _trapezoid(neck, floor, thick, thick - joint.depth_mm, low)
    waste = [Polygon(corners)]
    drawing: list[Item] = [
        _lines(Role.KNIFE, *_closed(corners)[1:]),
        _lines(Role.HATCH, *hatch(waste)),
        _lines(Role.FOLD, (0.0, thick, wide, thick), (0.0, 0.0, wide, 0.0)),
        _lines(Role.OUTLINE, (0.0, 0.0, 0.0, thick), (wide, 0.0, wide, thick)),
    ]
    left = not joint.end_on_the_left  # seen from behind, with the same face up
    words = [
        f"{_side(left)} is towards the {joint.spec.host.of_board}; the face with the housing is up",
        f"depth {exact(joint.depth_mm, unit)} of {thick:g} mm",
        f"{neck.width_mm:.2f} mm at the face, {floor.width_mm:.2f} mm at the floor",
        f"bevel {format_slope(joint.slope.ratio)}",
        f"sloped: {joint.spec.sloped.value} {'cheeks' if joint.spec.sloped == 'both' else 'cheek'}",
    ]
    title = f"Housing in {joint.spec.host.label}, back edge"
    cut = _waste_seen(waste, wide, end_on_the_left=left)
    return captioned(title, _seen(drawing, wide, end_on_the_left=left), (wide, thick), words, cut)


def _key(joint: SlidingJoint, unit: Unit, *, front: bool) -> Card:
    """The tongue's section as it lies on the key's edge, its end upwards; what is hatched goes away beside it."""
    station = joint.front_mm if front else joint.rear_mm
    neck, end = joint.tongue_at(station, 0.0), joint.tongue_at(station, joint.tongue_mm)
    low, thick = joint.key_lower_mm, joint.key.thickness_mm
    shoulder, top = BELOW_MM, BELOW_MM + joint.tongue_mm
    tongue = _trapezoid(neck, end, shoulder, top, low)
    waste = [
        Polygon([(0.0, shoulder), tongue[0], tongue[3], (0.0, top)]),
        Polygon([tongue[1], (thick, shoulder), (thick, top), tongue[2]]),
    ]
    waste = [polygon for polygon in waste if polygon.area > 1e-6]
    drawing: list[Item] = [
        _lines(Role.KNIFE, (*tongue[3], *tongue[0]), (*tongue[1], *tongue[2])),
        _lines(Role.HATCH, *hatch(waste, pitch_mm=1.0)),
        _lines(Role.BASELINE, (0.0, shoulder, thick, shoulder)),
        _lines(
            Role.OUTLINE, (0.0, 0.0, 0.0, top), (thick, 0.0, thick, top), (0.0, 0.0, thick, 0.0), (0.0, top, thick, top)
        ),
    ]
    left = joint.end_on_the_left is not front  # upside down to how it slides in, and seen from the front or from behind
    where = "front edge, where its tongue begins" if front else "back edge"
    words = [
        f"the end is up, {_side(left)} is towards the {joint.spec.host.of_board}",
        f"gauge the shoulder {exact(joint.tongue_mm, unit)} from the end, {joint.spec.slip_mm:g} mm less than the housing",
        f"{neck.width_mm:.2f} mm at the shoulder, {end.width_mm:.2f} mm at the end",
        f"from its lower face: {neck.start_mm - low:.2f} to {neck.end_mm - low:.2f} mm at the shoulder",
    ]
    title = f"Key {joint.spec.key.label}, {where}"
    cut = _waste_seen(waste, thick, end_on_the_left=left)
    return captioned(title, _seen(drawing, thick, end_on_the_left=left), (thick, top), words, cut)


def _notch(joint: SlidingJoint, unit: Unit) -> Card:
    """The key's face at its front edge: how much of the tongue is cut away for the stop."""
    wide = min(joint.key.width_mm, joint.notch_mm + ALONG_MM)
    shoulder, top = BELOW_MM, BELOW_MM + joint.tongue_mm
    notch = joint.notch_mm
    waste = [Polygon([(0, shoulder), (notch, shoulder), (notch, top), (0, top)])]
    drawing: list[Item] = [
        _lines(Role.KNIFE, (notch, shoulder, notch, top)),
        _lines(Role.HATCH, *hatch(waste, pitch_mm=1.0)),
        _lines(Role.BASELINE, (0.0, shoulder, wide, shoulder)),
        _lines(Role.FOLD, (0.0, 0.0, 0.0, top)),
        _lines(Role.OUTLINE, (wide, 0.0, wide, top), (0.0, 0.0, wide, 0.0), (0.0, top, wide, top)),
    ]
    words = [
        "the key's face; its end is up, dash and dot: its front edge",
        f"cut the tongue away {exact(notch, unit)} from the front edge, down to the shoulder",
    ]
    return captioned(f"Key {joint.spec.key.label}, notch", drawing, (wide, top), words, waste)
