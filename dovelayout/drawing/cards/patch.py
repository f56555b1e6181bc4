"""Full-size cards for a repair: the paper that folds over a broken corner, the patch to saw from an offcut, and slips.

The corner's paper is one piece that wraps round the edge: outside face, edge, inside face side by side, and the end folded
back above the outside face. It is drawn for a corner that is on the left as seen from outside with the end up, and
mirrored, words apart, for one on the right.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from dovelayout.drawing.cards.card import Card, captioned
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import width_mm
from dovelayout.drawing.primitives import XY, Anchor, Item, Role, Stroke, closed, mirrored, placed, strokes, text_at
from dovelayout.drawing.sheets.frame import AIR_MM
from dovelayout.repair.advice import at_least, both
from dovelayout.repair.gap import WEDGE_RATIO, Slip
from dovelayout.repair.patch import FACE_OVER_MM, LONG_MM, OVER_MM, Patch, break_on
from dovelayout.repair.trace import Trace
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "patch")

SOUND_MM = 28.0  # sound wood that the paper covers beyond the seam, with its words and arrows
BELOW_MM = 16.0  # and past its run-out
LETTER_MM = 2.6
HATCH_MM = 1.5


def corner_cards(patch: Patch, *, right: bool = False, trace: Trace | None = None, board: str = "") -> tuple[Card, ...]:
    """The paper for the corner and the patch to saw; `right`: the corner is on the right, seen from outside, end up.

    `trace`: the joint's lines there, drawn in dots, to be knifed anew across the patch; `board`: what the titles call the
    board's end, where two are on the same sheets.
    """
    of = f": {board}" if board else ""
    return (_Paper(patch=patch, right=right, trace=trace, of=of).card(), _blank(patch, right=right, of=of))


def slip_card(slip: Slip, name: str) -> Card:
    """A slip or sliver from its edge, with its taper, and from its side."""
    long_mm = slip.depth_mm + slip.handle_mm
    middle, tip, head = max(slip.head_mm, 1.0), slip.tip_mm / 2, slip.head_mm / 2
    edge = closed([(middle - tip, 0.0), (middle + tip, 0.0), (middle + head, long_mm), (middle - head, long_mm)])
    x = 2 * middle + 14.0
    far, wide = x + slip.length_mm, x + slip.length_mm + 6.0
    drawing = (
        strokes(Role.KNIFE, (*edge, *closed([(x, 0.0), (far, 0.0), (far, long_mm), (x, long_mm)]))),
        strokes(Role.FOLD, [(0.0, slip.depth_mm, wide - 6.0, slip.depth_mm)]),
        strokes(Role.MARK, arrow(far + 4.0, 2.0, long_mm - 4.0)),
    )
    taper = TEXTS("slip_tapered", head=both(slip.head_mm), ratio=WEDGE_RATIO)
    words = TEXTS.rows(
        "slip",
        tip=both(slip.tip_mm),
        mouth=both(slip.mouth_mm),
        taper=taper if slip.tapered else TEXTS("slip_parallel"),
        long=both(slip.length_mm),
        deep=both(slip.depth_mm),
        handle=both(slip.handle_mm),
    )
    return captioned(f"{name.capitalize()} for the gap", drawing, (wide, long_mm), listed(words))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Paper:
    """The corner's paper: u to the right, v upwards, (0, 0) where edge, end and outside face meet."""

    patch: Patch
    right: bool
    trace: Trace | None
    of: str

    @property
    def _wide(self) -> float:
        """How far the outside face reaches to the right."""
        return self.patch.widest_mm + SOUND_MM

    @property
    def _low(self) -> float:
        """How far down the faces reach."""
        return -max(self.patch.length_mm(0.0), self.patch.length_mm(self.patch.thickness_mm), 0.0) - BELOW_MM

    def _place(self, face: str, point: XY) -> XY:
        """(u, v) of a point in a face's own coordinates."""
        x, y = point
        match face:
            case "outside":
                return (x, -y)
            case "inside":
                return (-self.patch.thickness_mm - x, -y)
            case "edge":
                return (-x, -y)
            case _:
                return (x, y)

    def card(self) -> Card:
        """The paper with its words."""
        thick, wide, low = self.patch.thickness_mm, self._wide, self._low
        far = -thick - wide  # the inside face's own x runs to the left, from -thick
        drawn = tuple(strokes(role, segments) for role, segments in self._strokes(far))
        items: list[Item] = [*(mirrored(drawn, 0.0) if self.right else drawn)]
        for text, (start, end) in (
            ("outside face", (AIR_MM, wide)),
            ("inside face", (far, -thick - AIR_MM)),
            ("edge", (-thick, 0.0)),
        ):
            middle = (start + end) / 2
            items.append(_word(text, (-middle if self.right else middle, low + 3.0), end - start))
        end_at, size_mm = wide - SOUND_MM + 5.5, min(LETTER_MM, thick * 0.6)
        place = (-end_at if self.right else end_at, (thick - size_mm * 0.55) / 2)
        items.append(text_at(place, "end", size_mm, Anchor.MIDDLE))
        content = placed(items, wide if self.right else -far, -low)
        return captioned(
            f"Paper for the broken corner{self.of}", content, (wide - far, thick - low), listed(self._words())
        )

    def _strokes(self, far: float) -> Iterator[tuple[Role, Sequence[Stroke]]]:
        patch, thick, wide, low = self.patch, self.patch.thickness_mm, self._wide, self._low
        a, b, s, c = patch.a, patch.b, patch.s, patch.c
        gone: list[Polygon] = []
        broken: list[Stroke] = []
        seams: list[Stroke] = []
        # what goes from each face, and the seam there: u x + v y = rest
        for face, polygon, (u, v, rest) in (
            ("outside", patch.on_the_outside, (a, s, c)),
            ("end", patch.on_the_end, (a, b, c)),
            ("inside", patch.on_the_inside, (a, s, c - b * thick)),
            ("edge", patch.on_the_edge, (b, s, c)),
        ):
            if polygon.is_empty:
                continue
            corners = [(x, y) for x, y in polygon.exterior.coords]
            gone.append(Polygon([self._place(face, corner) for corner in corners]))
            seams += [
                (*self._place(face, one), *self._place(face, other))
                for one, other in itertools.pairwise(corners)
                if all(abs(u * x + v * y - rest) < 1e-6 for x, y in (one, other))
            ]
            lost = break_on(patch.lost, face, thick)
            if not lost.is_empty:
                ring = closed([self._place(face, (x, y)) for x, y in lost.exterior.coords[:-1]])
                broken += [side for side in ring if not _on_an_arris(side, thick)]
        yield Role.HATCH, hatch(gone, pitch_mm=HATCH_MM)
        yield Role.GROOVE, broken
        yield Role.KNIFE, seams
        yield Role.FOLD, [(0.0, 0.0, wide, 0.0), (0.0, low, 0.0, 0.0), (-thick, low, -thick, 0.0)]
        yield Role.OUTLINE, closed([(far, low), (wide, low), (wide, thick), (0.0, thick), (0.0, 0.0), (far, 0.0)])
        yield Role.MARK, [side for u in (wide - 4.0, far + 4.0) for side in arrow(u, low + 4.0, -low - 8.0)]
        yield Role.NOTE, _rings(patch, wide)
        if self.trace is not None:
            yield Role.SAW, self._joint(self.trace)

    def _joint(self, trace: Trace) -> list[Stroke]:
        """The joint's lines on the paper's three faces, as far as it reaches and clear of its words and arrows."""
        face_window = shapely.box(0.0, 0.0, self._wide - 8.0, -self._low - 8.0)
        end_window = shapely.box(0.0, 0.0, self._wide - SOUND_MM + 1.0, self.patch.thickness_mm)
        return [
            (*self._place(face, one), *self._place(face, other))
            for face, window in (("outside", face_window), ("inside", face_window), ("end", end_window))
            for line in trace.lines(face)
            for one, other in _inside(line, window)
        ]

    def _words(self) -> Iterator[str]:
        patch, thick = self.patch, self.patch.thickness_mm
        yield TEXTS("for_corner", side="right" if self.right else "left")
        yield TEXTS("crease")
        reach = {"outside": patch.reach_mm(0.0), "inside": patch.reach_mm(thick)}
        yield TEXTS("seam_through" if patch.through else "seam_at_edge", **reach)
        yield TEXTS("angles", seam=abs(patch.seam_deg), rings=abs(math.remainder(patch.ring_deg, 180.0)))
        yield TEXTS("run_out", length=patch.length_mm(0.0))
        yield TEXTS("plane")
        if self.trace is not None:
            yield TEXTS("trace")
        yield TEXTS("care")


def _rings(patch: Patch, wide_mm: float) -> list[Stroke]:
    """Strokes along the rings on the end, in the sound wood."""
    angle = math.radians(patch.ring_deg)
    band = shapely.box(wide_mm - 17.0, 0.8, wide_mm - 1.0, patch.thickness_mm - 0.8)
    middle = patch.thickness_mm / 2
    dx, dy = 60.0 * math.cos(angle), 60.0 * math.sin(angle)
    lines = [((x - dx, middle - dy), (x + dx, middle + dy)) for x in (wide_mm - 12.0, wide_mm - 9.0, wide_mm - 6.0)]
    return list(dict.fromkeys((*one, *other) for line in lines for one, other in _inside(line, band)))


def _inside(line: tuple[XY, XY], window: Polygon) -> list[tuple[XY, XY]]:
    """The part of a line in a window, if there is any."""
    part = shapely.LineString(line).intersection(window)
    if part.geom_type != "LineString" or part.length <= 1e-6:
        return []
    (x1, y1), (x2, y2) = part.coords
    return [((x1, y1), (x2, y2))]


def _blank(patch: Patch, *, right: bool, of: str) -> Card:
    """The patch to saw, from the outside, over its edge and its end, with the finished corner in it."""
    deeper = patch.reach_mm(patch.thickness_mm) > patch.reach_mm(0.0)
    deepest = max(z for _, _, z in patch.blank)
    # where it is largest at the inside, that is what is sawn out
    points = sorted({(x, -y) for x, y, z in patch.blank if (z == deepest if deeper else z < 0)})
    hull = shapely.get_coordinates(shapely.MultiPoint(points).convex_hull).tolist()
    outline = [(x, y) for x, y in hull[:-1]]
    (left, far), (low, top) = ((min(side), max(side)) for side in zip(*hull, strict=True))
    run_out = patch.length_mm(0.0) + patch.a * OVER_MM / patch.s
    drawing = (
        strokes(Role.KNIFE, closed(outline)),
        strokes(Role.FOLD, [(left, 0.0, far, 0.0), (0.0, low, 0.0, top)]),
        strokes(Role.GROOVE, [(patch.reach_mm(0.0, -LONG_MM), LONG_MM, -OVER_MM, -run_out)]),  # on the outside face
        strokes(Role.MARK, arrow(far + 4.0, low + 2.0, top - low - 4.0)),
    )
    wide = far + 6.0 - left
    items = placed(mirrored(drawing, 0.0) if right else drawing, far + 6.0 if right else -left, -low)
    along, across, thick = patch.offcut_mm
    words = TEXTS.rows(
        "blank",
        along=at_least(along),
        across=at_least(across),
        thick=at_least(thick),
        long=both(LONG_MM),
        over=both(OVER_MM),
        face=both(FACE_OVER_MM),
        most="inside" if deeper else "outside",
        lean=90 - abs(patch.seam_deg),
    )
    return captioned(f"Patch, to saw from an offcut{of}", items, (wide, top - low), listed(words))


def listed(words: Sequence[str] | Iterator[str]) -> tuple[str, ...]:
    """The words of a card, each with a bullet before it."""
    return tuple(f"• {entry}" for entry in words)


def arrow(u: float, v: float, long_mm: float) -> list[Stroke]:
    """A grain arrow upwards from (u, v), with a head at both ends."""
    head, top = 1.6, v + long_mm
    return [
        (u, v, u, top),
        *((u, top, u + side * head / 2, top - head) for side in (1, -1)),
        *((u, v, u + side * head / 2, v + head) for side in (1, -1)),
    ]


def _on_an_arris(side: Stroke, thick_mm: float) -> bool:
    """Whether a stroke lies on a fold or a side of the paper, where the dashes of two lines would mix."""
    u1, v1, u2, v2 = side
    return (u1 == u2 and u1 in (0.0, -thick_mm)) or (v1 == v2 and v1 in (0.0, thick_mm))


def _word(text: str, at: XY, room_mm: float) -> Item:
    """A word in the middle of its face, rotated on a narrow one."""
    if width_mm(text, LETTER_MM) > room_mm - 1.0:
        return text_at((at[0] + LETTER_MM / 3, at[1]), text, LETTER_MM, upwards=True)
    return text_at(at, text, LETTER_MM, Anchor.MIDDLE)
