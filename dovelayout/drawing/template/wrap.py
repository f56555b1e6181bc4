"""The fold-over template: one piece that wraps a board's end, outside face | end grain | inside face.

Template coordinates: v runs up the board's width from the face edge (v = x); u runs across the folds, 0 on the fold
between the outside face and the end grain. Seen printed side up, a right end reads outside, end, inside from left to
right, a left end the other way round: just as the faces lie when the paper is wrapped, so nothing is mirrored.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.lettering import ASCENT, DESCENT, ascent, fitted, printable, shortened, width_mm
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Text
from dovelayout.drawing.template.numbers import CLEAR_MM, Labelled, are_clear
from dovelayout.joints.board import End
from dovelayout.joints.face import EndFaces, FaceName
from dovelayout.joints.spacing import Span

OVERLAP_MM = 10.0
"""Paper that two tiles share at a match line, half on either side."""

ROW_MM = 2.8
MARK_MM = 3.2
FOOT_MM = 2.8
LEAST_ROW_MM = 2.2
"""The smallest that a row of a caption is made before a word is cut: read at arm's length; ours."""
LINE_GAP_MM = 1.3  # between the rows of a caption
BROKEN_GAP_MM = 0.5  # between the lines of one row
SIDE_MM = 1.5  # between a caption and the lines beside it


@dataclass(frozen=True, slots=True, kw_only=True)
class Skirts:
    """Plain paper beyond the baselines, to glue down and to write on: widths over the outside and the inside face."""

    outside_mm: float
    inside_mm: float


FULL_SKIRTS = Skirts(outside_mm=50.0, inside_mm=38.0)
LEAST_SKIRTS = Skirts(outside_mm=18.0, inside_mm=12.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """What is written on a template: the corner's letter, and rows for either skirt, most important first."""

    letter: str
    outside: tuple[str, ...]
    inside: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A whole fold-over template, before it is parted into tiles.

    `strokes` are all its lines but the hatching, `u_min_mm`..`u_max_mm` its extent across the folds, `v_min_mm`..
    `v_max_mm` that along them: 0 to the board's width, and a little more where a canted board's edges lean.
    """

    faces: EndFaces
    caption: Caption
    skirts: Skirts
    strokes: tuple[Lines, ...]
    u_min_mm: float
    u_max_mm: float
    v_min_mm: float
    v_max_mm: float

    @property
    def hatching(self) -> Lines:
        """The hatching of its waste, drawn when it is asked for: where a template is only parted or set, it isn't."""
        faces = self.faces
        waste = [shape for face in faces.faces for shape in _all_unfolded(faces, face.name, face.waste)]
        return Lines(role=Role.HATCH, segments=hatch(waste))

    @property
    def height_mm(self) -> float:
        """Its extent along the folds."""
        return self.v_max_mm - self.v_min_mm

    @property
    def across_mm(self) -> float:
        """Its extent across the folds."""
        return self.u_max_mm - self.u_min_mm


def across_mm(faces: EndFaces, skirts: Skirts) -> float:
    """Extent of a template across the folds, before it is drawn."""
    first_skirt_mm = skirts.outside_mm if faces.lip is None else 0.0
    return faces.first_mm + faces.band_mm + faces.baseline_mm + first_skirt_mm + skirts.inside_mm


def unfold(faces: EndFaces, face: FaceName, x_mm: float, other_mm: float) -> tuple[float, float]:
    """Template (u, v) of a point (x, y) on a face or (x, z) on the end grain."""
    fold_mm, way = _laid(faces, face)
    return (fold_mm + way * other_mm, x_mm)


def _laid(faces: EndFaces, face: FaceName) -> tuple[float, float]:
    """The u of the fold that a face begins at, and which way (1 or -1) it lies from there."""
    way = 1.0 if faces.end.end is End.RIGHT else -1.0
    if face is FaceName.INSIDE:
        return (way * faces.band_mm, way)
    return (0.0, way if face is FaceName.END else -way)


def unfolded(faces: EndFaces, face: FaceName, polygon: Polygon) -> Polygon:
    """A face's polygon in template coordinates."""
    return _all_unfolded(faces, face, (polygon,))[0]


def _all_unfolded(faces: EndFaces, face: FaceName, polygons: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """A face's polygons in template coordinates, in one go: a call for each takes ten times as long."""
    if not polygons:
        return ()
    (u0, _), (u1, _) = (unfold(faces, face, 0.0, other) for other in (0.0, 1.0))
    array = np.array(polygons, dtype=object)
    return tuple(shapely.transform(array, lambda at: np.column_stack((u0 + (u1 - u0) * at[:, 1], at[:, 0]))))


def fold_over(faces: EndFaces, caption: Caption, skirts: Skirts = FULL_SKIRTS) -> Template:
    """The template of one board end: knife lines, folds, baselines, outline, groove, hatched waste."""
    width_mm, thickness_mm = faces.width_mm, faces.band_mm

    def line(face: FaceName, x1: float, other1: float, x2: float, other2: float) -> Segment:
        return (*unfold(faces, face, x1, other1), *unfold(faces, face, x2, other2))

    knife: list[Segment] = []
    for shown in faces.faces:
        fold_mm, way = _laid(faces, shown.name)
        knife += [(fold_mm + way * a, x1, fold_mm + way * b, x2) for (x1, a), (x2, b) in shown.cheeks]

    def right_across(face: FaceName, other_mm: float) -> Segment:
        edge_mm = faces.edge_mm(face, other_mm)
        return line(face, edge_mm, other_mm, edge_mm + width_mm, other_mm)

    folds = tuple(right_across(FaceName.END, z) for z in (0.0, thickness_mm))
    baselines = tuple(
        right_across(face, faces.baseline_mm)
        for face in ((FaceName.INSIDE,) if faces.outside_is_blank else (FaceName.OUTSIDE, FaceName.INSIDE))
    )
    far = {
        FaceName.OUTSIDE: faces.first_mm + (skirts.outside_mm if faces.lip is None else 0.0),
        FaceName.INSIDE: faces.baseline_mm + skirts.inside_mm,
    }
    low = _face_edge(faces, far)
    us, vs = [u for u, _ in low], [v for _, v in low]
    u_min, u_max = min(us), max(us)
    ring = (*low, *((u, v + width_mm) for u, v in reversed(low)))
    outline = tuple((*one, *other) for one, other in zip(ring, (*ring[1:], ring[0]), strict=True))
    strokes = [
        Lines(role=Role.OUTLINE, segments=outline),
        Lines(role=Role.FOLD, segments=folds),
        Lines(role=Role.BASELINE, segments=baselines),
        Lines(role=Role.KNIFE, segments=tuple(knife)),
    ]
    if faces.groove is not None:
        strokes.append(Lines(role=Role.GROOVE, segments=tuple(_groove_lines(faces, far[FaceName.INSIDE]))))
    if faces.saw_lines_mm:
        across = tuple((u_min, x_mm, u_max, x_mm) for x_mm in faces.saw_lines_mm)
        strokes.append(Lines(role=Role.SAW, segments=across))
    return Template(
        faces=faces,
        caption=caption,
        skirts=skirts,
        strokes=tuple(strokes),
        u_min_mm=u_min,
        u_max_mm=u_max,
        v_min_mm=min(vs),
        v_max_mm=max(vs) + width_mm,
    )


def _face_edge(faces: EndFaces, far_mm: Mapping[FaceName, float]) -> tuple[tuple[float, float], ...]:
    """The board's face edge across the whole paper, from left to right: straight, or bent at the folds where the board
    is canted."""
    stops = [
        *((face, mm) for face, mm in far_mm.items() if face is not FaceName.INSIDE),
        (FaceName.END, 0.0),
        (FaceName.END, faces.band_mm),
        (FaceName.INSIDE, far_mm[FaceName.INSIDE]),
    ]
    points = sorted(unfold(faces, face, faces.edge_mm(face, mm), mm) for face, mm in stops)
    if faces.face_lean == 0 == faces.end_lean:
        return (points[0], points[-1])
    return tuple(points)


def _groove_lines(faces: EndFaces, far_mm: float) -> Iterator[Segment]:
    """The groove's two sides down the inside face and its section in the end grain."""
    groove, thickness_mm = faces.groove, faces.band_mm
    if groove is None:
        return
    floor_mm = thickness_mm - groove.depth_mm

    def at(face: FaceName, from_edge_mm: float, other_mm: float) -> tuple[float, float]:
        return unfold(faces, face, faces.edge_mm(face, other_mm) + from_edge_mm * faces.stretch, other_mm)

    for side_mm in (groove.from_edge_mm, groove.far_mm):
        yield (*at(FaceName.INSIDE, side_mm, 0.0), *at(FaceName.INSIDE, side_mm, far_mm))
        yield (*at(FaceName.END, side_mm, floor_mm), *at(FaceName.END, side_mm, thickness_mm))
    yield (*at(FaceName.END, groove.from_edge_mm, floor_mm), *at(FaceName.END, groove.far_mm, floor_mm))


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
    return Tile(start_mm=template.v_min_mm, end_mm=template.v_max_mm, first=True, last=True)


def tile_items(template: Template, tile: Tile) -> tuple[Item, ...]:
    """Everything on one tile, in template coordinates: lines cut to the window, match lines with crosses, numbers on
    the pieces and the caption, all texts clear of all lines."""
    window = tile.window
    matches = tuple(_match_lines(template, tile))
    cut = [
        Lines(role=lines.role, segments=tuple(_cut(lines.segments, window)))
        for lines in (*template.strokes, template.hatching)
    ]
    cut = [lines for lines in cut if lines.segments]
    if matches:
        cut.append(Lines(role=Role.MATCH, segments=matches))
    ends = np.array([segment for lines in cut for segment in lines.segments]).reshape(-1, 2, 2)
    obstacles = shapely.STRtree(np.atleast_1d(np.asarray(shapely.linestrings(ends))))
    texts: list[Text] = []
    for text in (
        *_numbers(template, tile, obstacles),
        *_match_labels(template, tile),
        *_captions(template, tile, obstacles),
    ):
        texts.append(text)
    return (*cut, *texts)


def _cut(segments: Iterable[Segment], window: Span) -> Iterator[Segment]:
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


def _match_lines(template: Template, tile: Tile) -> Iterator[Segment]:
    arm = 3.0
    for v in tile.matches_mm:
        yield (template.u_min_mm, v, template.u_max_mm, v)
        for u in (template.u_min_mm + 6.0, template.u_max_mm - 6.0):
            yield (u - arm, v - arm, u + arm, v + arm)
            yield (u - arm, v + arm, u + arm, v - arm)


def _match_labels(template: Template, tile: Tile) -> Iterator[Text]:
    """Where each match line lies, said inside the tile beside it, on the outside's skirt, clear of the cross."""
    faces, past_cross_mm = template.faces, 10.5
    room_mm = template.skirts.outside_mm - past_cross_mm - CLEAR_MM
    u = unfold(faces, FaceName.OUTSIDE, 0.0, faces.baseline_mm + template.skirts.outside_mm - past_cross_mm)[0]
    for v in tile.matches_mm:
        above = v == tile.start_mm and not tile.first
        words, size_mm = f"match line {v:.1f} mm", 2.2
        if width_mm(words, size_mm) > room_mm:
            words = f"{v:.1f}"
        size_mm = min(size_mm, 0.999 * size_mm * room_mm / width_mm(words, size_mm))
        yield Text(
            x_mm=u,
            y_mm=v + 1.2 + DESCENT * size_mm if above else v - 1.2 - ASCENT * size_mm,
            text=words,
            size_mm=size_mm,
            anchor=Anchor.START if faces.end.end is End.RIGHT else Anchor.END,
        )


def _is_clear(text: Text, obstacles: shapely.STRtree) -> bool:
    return bool(are_clear((text,), obstacles)[0])


def _numbers(template: Template, tile: Tile, obstacles: shapely.STRtree) -> Iterator[Text]:
    """The number of each tail or pin on every face where there is room for it, clear of match lines and grooves."""
    for face in template.faces.faces:
        named = [piece for piece in face.keep if piece.label]
        if named:
            shapes = _all_unfolded(template.faces, face.name, [piece.polygon for piece in named])
            labelled = Labelled.of([piece.label for piece in named], shapes)
            yield from labelled.numbers(Span(tile.start_mm, tile.end_mm), obstacles)


def _captions(template: Template, tile: Tile, obstacles: shapely.STRtree) -> Iterator[Text]:
    faces = template.faces
    near_mm = faces.baseline_mm
    columns = [(FaceName.INSIDE, template.skirts.inside_mm, template.caption.inside)]
    if faces.lip is None:
        columns.insert(0, (FaceName.OUTSIDE, template.skirts.outside_mm, template.caption.outside))
    else:  # the lip has no room for words: the inside face says it all
        columns = [(FaceName.INSIDE, template.skirts.inside_mm, template.caption.outside)]
    for face, skirt_mm, rows in columns:
        u_a = unfold(faces, face, 0.0, near_mm)[0]
        u_b = unfold(faces, face, 0.0, near_mm + skirt_mm)[0]
        column = Span(min(u_a, u_b) + SIDE_MM, max(u_a, u_b) - SIDE_MM)
        yield from _column(template, tile, column, face, rows, obstacles)


def _column(
    template: Template,
    tile: Tile,
    column: Span,
    face: FaceName,
    rows: tuple[str, ...],
    obstacles: shapely.STRtree,
) -> Iterator[Text]:
    """Rows of a caption from the top of the tile down, with the mark of the face edge at its foot; rows for which
    there is no room are left out (the sheet's head says them too)."""
    foot = "▼ FACE EDGE" if tile.first else "▼ face edge this way"
    # a canted board's edge slants across the column: words keep to what is board all over it
    faces = template.faces
    fold_mm = 0.0 if face is FaceName.OUTSIDE else faces.band_mm
    edges = [faces.edge_mm(face, max(0.0, abs(u) - fold_mm)) for u in (column.start_mm, column.end_mm)]
    low_mm = max(tile.start_mm, *edges) if tile.first else tile.start_mm
    high_mm = min(tile.end_mm, *(edge + faces.width_mm for edge in edges)) if tile.last else tile.end_mm
    letter = template.caption.letter  # a longer name is written smaller before it is cut
    letter_mm = max(3.2, min(9.0, 8.99 * column.width_mm / max(1e-6, width_mm(printable(letter), 9.0))))
    marks = [(letter, letter_mm), *fitted(f"{face.value.upper()} FACE", MARK_MM, LEAST_ROW_MM, column.width_mm)]
    bottom = low_mm + (2.0 if tile.first else 5.5)  # above a match line, its cross and its label
    foot_texts = _foot(foot, column, bottom)
    while foot_texts and not all(_is_clear(text, obstacles) for text in foot_texts):
        bottom += 1.0
        foot_texts = _foot(foot, column, bottom) if bottom < high_mm else ()
    if foot_texts:
        yield from foot_texts
        bottom = foot_texts[0].y_mm + foot_texts[0].size_mm * (1.0 - DESCENT) + 1.5
    top = high_mm - (1.5 if tile.last else 5.0)
    written = [(line, LINE_GAP_MM) for line in marks]
    for row in rows:  # a row that is broken keeps together
        lines = fitted(row, ROW_MM, LEAST_ROW_MM, column.width_mm)
        written += [(line, LINE_GAP_MM if line is lines[-1] else BROKEN_GAP_MM) for line in lines]
    while written:  # all that are left are set as if no line crossed them; from the first that one crosses, again lower
        run = _run(written, column, top, bottom)
        texts = [text for text, _ in run if text is not None]
        clear = are_clear(texts, obstacles)
        kept = len(texts) if clear.all() else int(clear.argmin())
        yield from texts[:kept]
        if kept == len(texts):
            return
        stuck = next(number for number, (text, _) in enumerate(run) if text is texts[kept])
        top = (run[stuck - 1][1] if stuck else top) - 1.0
        written = written[stuck:]


def _run(
    rows: Iterable[tuple[tuple[str, float], float]], column: Span, top: float, bottom: float
) -> list[tuple[Text | None, float]]:
    """Rows from the top down, each with where the next one starts; None for one that has no room."""
    run: list[tuple[Text | None, float]] = []
    for (line, size_mm), gap_mm in rows:
        base = top - ascent(line) * size_mm
        text = None
        if base - DESCENT * size_mm >= bottom:
            text = _row(line, size_mm, column, base)
            top = base - DESCENT * size_mm - gap_mm
        run.append((text, top))
    return run


def _foot(words: str, column: Span, bottom_mm: float) -> tuple[Text, ...]:
    """The mark of the face edge, on two lines where one is too long for a narrow skirt; the upper one first."""
    texts: list[Text] = []
    for line, size_mm in reversed(fitted(words, FOOT_MM, LEAST_ROW_MM, column.width_mm)):
        text = _row(line, size_mm, column, bottom_mm + DESCENT * size_mm)
        if text is not None:
            texts.append(text)
        bottom_mm += size_mm + 0.5
    return tuple(reversed(texts))


def _row(line: str, size_mm: float, column: Span, base_mm: float) -> Text | None:
    said = shortened(line, size_mm, column.width_mm)
    if not said:
        return None
    return Text(x_mm=column.start_mm, y_mm=base_mm, text=said, size_mm=size_mm)
