"""Full-size cards for a repair: the paper that folds over a broken corner, the patch to saw from an offcut, and slips.

The corner's paper is one piece that wraps round the edge: outside face, edge, inside face side by side, and the end folded
back above the outside face. It is drawn for a corner that is on the left as seen from outside with the end up, and turned
over, words apart, for one on the right.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

import shapely
from shapely import Polygon

from dovelayout.drawing.cards.slide import Card, arranged, captioned, row_size_mm
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import width_mm
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Sheet, Text, moved
from dovelayout.drawing.sheets.frame import Heading, framed, made_to_measure, room_mm
from dovelayout.paper import Paper
from dovelayout.repair.advice import at_least, both
from dovelayout.repair.gap import WEDGE_RATIO, Slip
from dovelayout.repair.patch import FACE_OVER_MM, LONG_MM, OVER_MM, Patch, break_on
from dovelayout.repair.trace import Trace

SOUND_MM = 28.0  # sound wood that the paper covers beyond the seam, with its words and arrows
BELOW_MM = 16.0  # and past its run-out
LETTER_MM = 2.6
AIR_MM = 2.0
HATCH_MM = 1.5

CORNER_LINE = "HATCHED = GOES. Full: knife. Dash and dot: fold. Even dashes: the break. Short dashes: cut the paper."
SLIP_LINE = "Full lines: the piece of wood. Dash and dot: where the surface of the joint is."

Point = tuple[float, float]


def corner_cards(patch: Patch, *, right: bool = False, trace: Trace | None = None) -> tuple[Card, ...]:
    """The paper for the corner and the patch to saw; `right`: the corner is on the right, seen from outside, end up.

    `trace`: the joint's lines there, drawn in dots, to be knifed anew across the patch.
    """
    return (_paper(patch, right, trace), _blank(patch, right))


def slip_card(slip: Slip, name: str) -> Card:
    """A slip or sliver from its edge, with its taper, and from its side."""
    long_mm = slip.depth_mm + slip.handle_mm
    middle = max(slip.head_mm, 1.0)
    edge: list[Segment] = _closed(
        [
            (middle - slip.tip_mm / 2, 0.0),
            (middle + slip.tip_mm / 2, 0.0),
            (middle + slip.head_mm / 2, long_mm),
            (middle - slip.head_mm / 2, long_mm),
        ]
    )
    x = 2 * middle + 14.0
    side = _closed([(x, 0.0), (x + slip.length_mm, 0.0), (x + slip.length_mm, long_mm), (x, long_mm)])
    wide = x + slip.length_mm + 6.0
    drawing: list[Item] = [
        Lines(role=Role.KNIFE, segments=(*edge, *side)),
        Lines(role=Role.FOLD, segments=((0.0, slip.depth_mm, wide - 6.0, slip.depth_mm),)),
        Lines(role=Role.MARK, segments=tuple(_arrow(x + slip.length_mm + 4.0, 2.0, long_mm - 4.0))),
    ]
    words = [
        "left: from its edge; right: from its side; the arrow is its grain",
        f"thick at its inner end {both(slip.tip_mm)}, at the surface {both(slip.mouth_mm)}",
        *([f"at the head {both(slip.head_mm)}: a taper of 1 in {WEDGE_RATIO:g}"] if slip.tapered else ["parallel"]),
        f"{both(slip.length_mm)} long, {both(slip.depth_mm)} deep in the gap, {both(slip.handle_mm)} to hold it by",
        "a caliper, not the paper, rules its thickness",
    ]
    return captioned(f"{name.capitalize()} for the gap", drawing, (wide, long_mm), _listed(words))


def repair_sheets(
    cards: Sequence[Card], *, heading: Heading, on: Paper | None, legend: str = CORNER_LINE
) -> tuple[Sheet, ...]:
    """The cards on as many sheets of a paper as they need; without a paper all in a row on one sheet to measure.

    Raises PrintError when a card doesn't fit the paper.
    """
    if on is None:
        wide_mm, high_mm = row_size_mm(cards)
        on = made_to_measure(wide_mm + 2 * AIR_MM, high_mm + 2 * AIR_MM)
    else:
        wide_mm, high_mm = (side - 2 * AIR_MM for side in room_mm(on))
    pages = arranged(cards, wide_mm=wide_mm, high_mm=high_mm)
    return tuple(
        framed(
            [moved(entry, AIR_MM, AIR_MM) for entry in page],
            on=on,
            heading=heading,
            number=number,
            of=len(pages),
            legend=legend,
            title=f"{heading.job}: {heading.what}",
            description=heading.numbers,
        )
        for number, page in enumerate(pages, 1)
    )


# --- the corner's paper; u to the right, v upwards, (0, 0) where edge, end and outside face meet ---


def _paper(patch: Patch, right: bool, trace: Trace | None) -> Card:
    thick = patch.thickness_mm
    wide = patch.widest_mm + SOUND_MM
    low = -max(patch.length_mm(0.0), patch.length_mm(thick), 0.0) - BELOW_MM
    far = -thick - wide  # the inside face's own x runs to the left, from -thick

    gone: list[Polygon] = []
    broken: list[Segment] = []
    seams: list[Segment] = []
    faces: tuple[tuple[str, Polygon, Callable[[Point], Point]], ...] = (
        ("outside", patch.on_the_outside, lambda p: (p[0], -p[1])),
        ("end", patch.on_the_end, lambda p: p),
        ("inside", patch.on_the_inside, lambda p: (-thick - p[0], -p[1])),
        ("edge", patch.on_the_edge, lambda p: (-p[0], -p[1])),
    )
    for face, polygon, place in faces:
        if polygon.is_empty:
            continue
        gone.append(_placed(polygon, place))
        seams += [(*place(a), *place(b)) for a, b in _seam(patch, face)]
        lost = break_on(patch.lost, face, thick)
        if not lost.is_empty:
            corners = [place((x, y)) for x, y in lost.exterior.coords[:-1]]
            broken += [row for row in _closed(corners) if not _on_an_arris(row, thick)]

    outline = [
        (far, low, wide, low),
        (wide, low, wide, thick),
        (wide, thick, 0.0, thick),
        (0.0, thick, 0.0, 0.0),
        (0.0, 0.0, far, 0.0),
        (far, 0.0, far, low),
    ]
    folds = [(0.0, 0.0, wide, 0.0), (0.0, low, 0.0, 0.0), (-thick, low, -thick, 0.0)]
    arrows = [*_arrow(wide - 4.0, low + 4.0, -low - 8.0), *_arrow(far + 4.0, low + 4.0, -low - 8.0)]
    drawing: list[Item] = [
        Lines(role=Role.HATCH, segments=hatch(gone, pitch_mm=HATCH_MM)),
        Lines(role=Role.GROOVE, segments=tuple(broken)),
        Lines(role=Role.KNIFE, segments=tuple(seams)),
        Lines(role=Role.FOLD, segments=tuple(folds)),
        Lines(role=Role.OUTLINE, segments=tuple(outline)),
        Lines(role=Role.MARK, segments=tuple(arrows)),
        Lines(role=Role.NOTE, segments=tuple(_rings(patch, wide))),
    ]
    if trace is not None:
        drawing.append(Lines(role=Role.SAW, segments=tuple(_joint(trace, thick, wide, low))))
    texts = [
        ("outside face", (AIR_MM, wide), low + 3.0),
        ("inside face", (far, -thick - AIR_MM), low + 3.0),
        ("edge", (-thick, 0.0), low + 3.0),
    ]
    items = _turned(drawing, right)
    for text, (start, end), v in texts:
        middle = (start + end) / 2
        items.append(_word(text, -middle if right else middle, v, end - start))
    end_at, end_size = wide - SOUND_MM + 5.5, min(LETTER_MM, thick * 0.6)
    items.append(
        Text(
            x_mm=-end_at if right else end_at,
            y_mm=(thick - end_size * 0.55) / 2,
            text="end",
            size_mm=end_size,
            anchor=Anchor.MIDDLE,
        )
    )
    items = [moved(entry, wide if right else -far, -low) for entry in items]
    words = [
        f"for the {'right' if right else 'left'} corner, seen from the outside face with the end up: don't turn it over",
        "crease the folds with the back of a knife; the cut edge over edge and inside face lies on the end's arris",
        f"seam on the end: {patch.reach_mm(0.0):.1f} mm from the edge at the outside face, "
        + (f"{patch.reach_mm(thick):.1f} mm at the inside face" if patch.through else "and out at the edge"),
        f"it lies at {abs(patch.seam_deg):.0f}° to the outside face, "
        f"the rings at {abs(math.remainder(patch.ring_deg, 180.0)):g}°",
        f"it runs out at the edge {patch.length_mm(0.0):.1f} mm from the end; arrows: the grain",
        "one flat face through all the lines",
        *(["dots: the joint's own lines; knife them anew across the patch when it is flush"] if trace else []),
        "take care: work clamped, both hands behind the edge; the makers of your tools and glue come before this sheet",
    ]
    return captioned("Paper for the broken corner", items, (wide - far, thick - low), _listed(words))


def _joint(trace: Trace, thick_mm: float, wide_mm: float, low_mm: float) -> list[Segment]:
    """The joint's lines on the paper's three faces, as far as it reaches and clear of its words and arrows."""
    window = {
        "outside": shapely.box(0.0, 0.0, wide_mm - 8.0, -low_mm - 8.0),
        "inside": shapely.box(0.0, 0.0, wide_mm - 8.0, -low_mm - 8.0),
        "end": shapely.box(0.0, 0.0, wide_mm - SOUND_MM + 1.0, thick_mm),
    }
    places: dict[str, Callable[[Point], Point]] = {
        "outside": lambda p: (p[0], -p[1]),
        "inside": lambda p: (-thick_mm - p[0], -p[1]),
        "end": lambda p: p,
    }
    rows: list[Segment] = []
    for face, place in places.items():
        for line in trace.lines(face):
            part = shapely.LineString(line).intersection(window[face])
            if part.geom_type == "LineString" and part.length > 1e-6:
                (x1, y1), (x2, y2) = part.coords
                rows.append((*place((x1, y1)), *place((x2, y2))))
    return rows


def _seam(patch: Patch, face: str) -> list[tuple[Point, Point]]:
    """The seam on a face, in the face's own coordinates: the side of what goes that lies on no side of the face."""
    a, b, s, c = patch.a, patch.b, patch.s, patch.c
    u, v, rest, polygon = {
        "end": (a, b, c, patch.on_the_end),
        "outside": (a, s, c, patch.on_the_outside),
        "inside": (a, s, c - b * patch.thickness_mm, patch.on_the_inside),
        "edge": (b, s, c, patch.on_the_edge),
    }[face]
    corners = list(polygon.exterior.coords)
    return [
        ((x1, y1), (x2, y2))
        for (x1, y1), (x2, y2) in itertools.pairwise(corners)
        if abs(u * x1 + v * y1 - rest) < 1e-6 and abs(u * x2 + v * y2 - rest) < 1e-6
    ]


def _rings(patch: Patch, wide_mm: float) -> list[Segment]:
    """Strokes along the rings on the end, in the sound wood."""
    angle = math.radians(patch.ring_deg)
    band = shapely.box(wide_mm - 17.0, 0.8, wide_mm - 1.0, patch.thickness_mm - 0.8)
    rows: list[Segment] = []
    middle = patch.thickness_mm / 2
    for x in (wide_mm - 12.0, wide_mm - 9.0, wide_mm - 6.0):
        dx, dy = 60.0 * math.cos(angle), 60.0 * math.sin(angle)
        part = shapely.LineString([(x - dx, middle - dy), (x + dx, middle + dy)]).intersection(band)
        if part.geom_type == "LineString" and not part.is_empty:
            (x1, y1), (x2, y2) = part.coords
            rows.append((x1, y1, x2, y2))
    return list(dict.fromkeys(rows))


# --- the patch to saw ---


def _blank(patch: Patch, right: bool) -> Card:
    """The patch from the outside, over its edge and its end, with the finished corner in it."""
    points = sorted({(x, -y) for x, y, z in patch.blank if z < 0})
    if patch.reach_mm(patch.thickness_mm) > patch.reach_mm(
        0.0
    ):  # it is largest at the inside: that is what is sawn out
        deepest = max(z for _, _, z in patch.blank)
        points = sorted({(x, -y) for x, y, z in patch.blank if z == deepest})
    hull = shapely.get_coordinates(shapely.MultiPoint(points).convex_hull)
    outline = [(float(x), float(y)) for x, y in hull[:-1]]
    left, low = (float(side) for side in hull.min(axis=0))
    far, top = (float(side) for side in hull.max(axis=0))
    run_out = patch.length_mm(0.0) + patch.a * OVER_MM / patch.s
    seam = (patch.reach_mm(0.0, -LONG_MM), LONG_MM, -OVER_MM, -run_out)  # on the outside face
    along, across, thick = patch.offcut_mm
    drawing: list[Item] = [
        Lines(role=Role.KNIFE, segments=tuple(_closed(outline))),
        Lines(role=Role.FOLD, segments=((left, 0.0, far, 0.0), (0.0, low, 0.0, top))),
        Lines(role=Role.GROOVE, segments=(seam,)),
        Lines(role=Role.MARK, segments=tuple(_arrow(far + 4.0, low + 2.0, top - low - 4.0))),
    ]
    wide = far + 6.0 - left
    items = _turned(drawing, right)
    items = [moved(entry, far + 6.0 if right else -left, -low) for entry in items]
    deeper = patch.reach_mm(patch.thickness_mm) > patch.reach_mm(0.0)
    words = [
        "seen from outside, the end up; the arrow is its grain, as the board's",
        f"offcut: {at_least(along)} along the grain, {at_least(across)} across, {at_least(thick)} thick",
        "dash and dot: the board's end and edge. The patch stands over them",
        f"over: {both(LONG_MM)} at the end, {both(OVER_MM)} at the edge, {both(FACE_OVER_MM)} at either face",
        f"full line: the most that is sawn, at its {'inside' if deeper else 'outside'} face; even dashes: the seam where the "
        "board's outside face will be",
        f"its seam face leans {90 - abs(patch.seam_deg):.0f}° from square, as the cut does: bevel from the paper's end",
    ]
    return captioned("Patch, to saw from an offcut", items, (wide, top - low), _listed(words))


# --- strokes ---


def _listed(words: Sequence[str]) -> tuple[str, ...]:
    return tuple(f"• {entry}" for entry in words)


def _closed(points: Sequence[Point]) -> list[Segment]:
    return [(*a, *b) for a, b in zip(points, (*points[1:], points[0]), strict=True)]


def _arrow(u: float, v: float, long_mm: float) -> list[Segment]:
    """A grain arrow upwards from (u, v), with a head at both ends."""
    head, top = 1.6, v + long_mm
    return [
        (u, v, u, top),
        *((u, top, u + side * head / 2, top - head) for side in (1, -1)),
        *((u, v, u + side * head / 2, v + head) for side in (1, -1)),
    ]


def _on_an_arris(row: Segment, thick_mm: float) -> bool:
    """Whether a stroke lies on a fold or a side of the paper, where two kinds of dashes would muddle each other."""
    u1, v1, u2, v2 = row
    return (u1 == u2 and u1 in (0.0, -thick_mm)) or (v1 == v2 and v1 in (0.0, thick_mm))


def _placed(polygon: Polygon, place: Callable[[Point], Point]) -> Polygon:
    return Polygon([place((x, y)) for x, y in polygon.exterior.coords])


def _turned(drawing: Sequence[Item], right: bool) -> list[Item]:
    """Strokes as they are, or turned over left to right."""
    if not right:
        return list(drawing)
    return [
        Lines(role=item.role, segments=tuple((-x1, y1, -x2, y2) for x1, y1, x2, y2 in item.segments))
        for item in drawing
        if isinstance(item, Lines)
    ]


def _word(text: str, u: float, v: float, room_mm: float) -> Text:
    """A word in the middle of its face, upright on a narrow one."""
    upwards = width_mm(text, LETTER_MM) > room_mm - 1.0
    anchor = Anchor.START if upwards else Anchor.MIDDLE
    return Text(x_mm=u + upwards * LETTER_MM / 3, y_mm=v, text=text, size_mm=LETTER_MM, anchor=anchor, upwards=upwards)
