"""What one sheet shows of a template: its lines cut to a stretch, match lines, numbers and captions clear of all lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from dovelayout.drawing.lettering import ASCENT, DESCENT, width_mm
from dovelayout.drawing.primitives import Anchor, Items, Role, Stroke, Text, strokes, text_at
from dovelayout.drawing.template.caption import FOOT, FOOT_FURTHER, SIDE_MM, caption_rows, set_foot, set_rows
from dovelayout.drawing.template.numbers import CLEAR_MM, are_clear, piece_numbers
from dovelayout.drawing.template.wrap import Template, unfold, unfolded
from dovelayout.errors import PrintError
from dovelayout.joints.board import End
from dovelayout.joints.face import FaceName
from dovelayout.joints.spacing import Span

OVERLAP_MM = 10.0
"""Paper that two tiles share at a match line, half on either side."""

SEAM_MM = 0.3
"""How far off a seam of two sheets may come out, cut and taped with care at its crosses (common practice, no source)."""

MATCH_MM = 2.2  # size of the words at a match line
PAST_CROSS_MM = 10.5  # from the paper's edge to the words at a match line, clear of its cross


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """The stretch of a template that one sheet shows; its ends are match lines unless they are the board's edges."""

    start_mm: float
    end_mm: float
    first: bool
    last: bool

    @property
    def window(self) -> Span:
        """What is drawn: the stretch and its overlaps."""
        return Span(
            self.start_mm - (0 if self.first else OVERLAP_MM / 2),
            self.end_mm + (0 if self.last else OVERLAP_MM / 2),
        )

    @property
    def matches_mm(self) -> tuple[float, ...]:
        """Where its match lines lie, from the face edge."""
        return (() if self.first else (self.start_mm,)) + (() if self.last else (self.end_mm,))


def whole(template: Template) -> Tile:
    """One tile that shows it all."""
    return Tile(start_mm=template.extent.v_min_mm, end_mm=template.extent.v_max_mm, first=True, last=True)


def tiles(template: Template, *, room_mm: float) -> tuple[Tile, ...]:
    """The fewest tiles that each fit `room_mm` of paper, overlaps included; all are measured from the face edge.

    Raises PrintError when two neighbouring places to cut lie further apart than the paper reaches.
    """
    places = (template.extent.v_min_mm, *template.faces.cut_places_mm, template.extent.v_max_mm)
    last = len(places) - 1

    def fits(start: int, end: int) -> bool:
        overlaps_mm = ((start > 0) + (end < last)) * OVERLAP_MM / 2
        stretch_mm = places[end] - places[start]
        long_enough = end == last or stretch_mm > OVERLAP_MM  # two match lines and the words beside them
        return long_enough and stretch_mm + overlaps_mm <= room_mm

    # from the far edge back: the ends of the fewest tiles from each place on, reaching as far as can be each time
    ends: dict[int, tuple[int, ...]] = {last: ()}
    for start in range(last - 1, -1, -1):
        chains = [(end, *ends[end]) for end in range(last, start, -1) if end in ends and fits(start, end)]
        if chains:
            ends[start] = min(chains, key=len)
    if 0 not in ends:
        reached = {0}
        for start in range(last):
            if start in reached:
                reached.update(end for end in range(start + 1, last) if fits(start, end))
        stuck_mm = places[max(reached)]
        reach_mm = stuck_mm + room_mm - OVERLAP_MM * (0.5 if stuck_mm == places[0] else 1.0)
        raise PrintError(
            f"the template of {template.faces.end.label} can't be parted: no tail's middle lies between "
            f"{stuck_mm:.0f} and {reach_mm:.0f} mm from the face edge",
            remedy="larger paper would do",
        )
    stretches = pairwise((0, *ends[0]))
    return tuple(
        Tile(start_mm=places[start], end_mm=places[end], first=start == 0, last=end == last) for start, end in stretches
    )


def tile_items(template: Template, tile: Tile) -> Items:
    """Everything on one tile, in template coordinates: lines cut to the window, match lines with crosses, numbers on
    the pieces and the caption, all texts clear of all lines."""
    window = tile.window
    cut = [strokes(lines.role, _cut(lines.segments, window)) for lines in (*template.strokes, template.hatching)]
    matches = strokes(Role.MATCH, _match_lines(template, tile))
    lines = [entry for entry in (*cut, matches) if entry.segments]
    ends = np.array([segment for entry in lines for segment in entry.segments]).reshape(-1, 2, 2)
    obstacles = shapely.STRtree(np.atleast_1d(np.asarray(shapely.linestrings(ends))))
    texts = _TileTexts(template=template, tile=tile, obstacles=obstacles)
    return (*lines, *texts.numbers(), *texts.match_labels(), *texts.captions())


def _cut(segments: Iterable[Stroke], window: Span) -> Iterator[Stroke]:
    """Segments cut to a stretch of v, by exact interpolation."""
    low, high = window.start_mm, window.end_mm
    for u1, v1, u2, v2 in segments:
        if v1 > v2:
            u1, v1, u2, v2 = u2, v2, u1, v1
        if v2 < low or v1 > high:
            continue
        if v1 == v2:
            yield (u1, v1, u2, v2)
            continue
        run = (u2 - u1) / (v2 - v1)
        a, b = max(v1, low), min(v2, high)
        if b > a:
            yield (u1 + (a - v1) * run, a, u1 + (b - v1) * run, b)


def _match_lines(template: Template, tile: Tile) -> Iterator[Stroke]:
    arm, left, right = 3.0, template.extent.u_min_mm, template.extent.u_max_mm
    for v in tile.matches_mm:
        yield (left, v, right, v)
        for u in (left + 6.0, right - 6.0):
            yield (u - arm, v - arm, u + arm, v + arm)
            yield (u - arm, v + arm, u + arm, v - arm)


@dataclass(frozen=True, slots=True, kw_only=True)
class _TileTexts:
    """The texts of a tile; `obstacles` are its lines."""

    template: Template
    tile: Tile
    obstacles: shapely.STRtree

    def numbers(self) -> Iterator[Text]:
        """The number of each tail or pin on every face where there is room for it, clear of match lines and grooves."""
        faces = self.template.faces
        for face in faces.faces:
            named = [piece for piece in face.keep if piece.label]
            if named:
                shapes = unfolded(faces, face.name, [piece.polygon for piece in named])
                labels, stretch = [piece.label for piece in named], Span(self.tile.start_mm, self.tile.end_mm)
                yield from piece_numbers(labels, shapes, stretch, self.obstacles)

    def match_labels(self) -> Iterator[Text]:
        """Where each match line lies: beside it, inside the tile, on the outside's skirt."""
        faces, skirt_mm = self.template.faces, self.template.skirts.outside_mm
        room_mm = skirt_mm - PAST_CROSS_MM - CLEAR_MM
        u = unfold(faces, FaceName.OUTSIDE, 0.0, faces.baseline_mm + skirt_mm - PAST_CROSS_MM)[0]
        for v in self.tile.matches_mm:
            above = v == self.tile.start_mm and not self.tile.first
            words = f"match line {v:.1f} mm"
            if width_mm(words, MATCH_MM) > room_mm:
                words = f"{v:.1f}"
            size_mm = min(MATCH_MM, 0.999 * MATCH_MM * room_mm / width_mm(words, MATCH_MM))
            base = v + 1.2 + DESCENT * size_mm if above else v - 1.2 - ASCENT * size_mm
            yield text_at((u, base), words, size_mm, Anchor.START if faces.end.end is End.RIGHT else Anchor.END)

    def captions(self) -> Iterator[Text]:
        """The caption's rows on the skirts."""
        for face, rows in self.template.caption.columns(self.template.faces).items():
            yield from self._column(face, rows)

    def _column(self, face: FaceName, rows: Sequence[str]) -> Iterator[Text]:
        """Rows from the top of the tile down, with the mark of the face edge at its foot; rows for which there is no room
        are left out (the sheet's head has them too)."""
        faces, tile = self.template.faces, self.tile
        skirt_mm = self.template.skirts.over_mm(face)
        sides = sorted(unfold(faces, face, 0.0, faces.baseline_mm + mm)[0] for mm in (0.0, skirt_mm))
        column = Span(sides[0] + SIDE_MM, sides[1] - SIDE_MM)
        low_mm, high_mm = self._stretch(face, column)
        foot, bottom = self._foot(column, low_mm + (2.0 if tile.first else 5.5), high_mm)
        yield from foot
        top = high_mm - (1.5 if tile.last else 5.0)
        left = caption_rows(self.template.caption.letter, face, rows, column.width_mm)
        while left:  # all are set as if no line crossed them; from the first that one crosses, again lower
            found = set_rows(left, column, top, bottom)
            texts = [text for text, _ in found if text is not None]
            clear = are_clear(texts, self.obstacles)
            kept = len(texts) if clear.all() else int(clear.argmin())
            yield from texts[:kept]
            if kept == len(texts):
                return
            stuck = next(number for number, (text, _) in enumerate(found) if text is texts[kept])
            top = (found[stuck - 1][1] if stuck else top) - 1.0
            left = left[stuck:]

    def _stretch(self, face: FaceName, column: Span) -> tuple[float, float]:
        """Lower and upper end of a column: a canted board's edge slants across it, and words keep to what is board."""
        faces, tile = self.template.faces, self.tile
        fold_mm = 0.0 if face is FaceName.OUTSIDE else faces.band_mm
        edges = [faces.edge_mm(face, max(0.0, abs(u) - fold_mm)) for u in (column.start_mm, column.end_mm)]
        low_mm = max(tile.start_mm, *edges) if tile.first else tile.start_mm
        high_mm = min(tile.end_mm, *(edge + faces.width_mm for edge in edges)) if tile.last else tile.end_mm
        return low_mm, high_mm

    def _foot(self, column: Span, bottom: float, high_mm: float) -> tuple[list[Text], float]:
        """The mark of the face edge, as low as it is clear of all lines, and where the rows above it may end."""
        words = FOOT if self.tile.first else FOOT_FURTHER
        texts = set_foot(words, column, bottom)
        while not are_clear(texts, self.obstacles).all():
            bottom += 1.0
            texts = set_foot(words, column, bottom) if bottom < high_mm else []
        return texts, texts[0].y_mm + texts[0].size_mm * (1.0 - DESCENT) + 1.5 if texts else bottom
