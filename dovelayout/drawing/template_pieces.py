"""Templates, their tiles and their sections as pieces to nest: how wide their skirts, where they are parted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial

from dovelayout.drawing.captions import Style, caption, gauge_rows, gauge_setting, length, template_of
from dovelayout.drawing.lettering import printable, width_mm, wrapped
from dovelayout.drawing.nesting import Size, fits
from dovelayout.drawing.pieces import Piece
from dovelayout.drawing.primitives import Item, moved
from dovelayout.drawing.section import Section, socket_section
from dovelayout.drawing.tiling import SEAM_MM, tiles
from dovelayout.drawing.wrap import (
    FOOT_MM,
    FULL_SKIRTS,
    LEAST_SKIRTS,
    MARK_MM,
    OVERLAP_MM,
    ROW_MM,
    SIDE_MM,
    Caption,
    Skirts,
    Tile,
    across_mm,
    fold_over,
    tile_items,
)
from dovelayout.errors import PrintError
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, FaceName, Part
from dovelayout.units import format_slope

SNUG_INSIDE_MM = 17.5
"""Of an inside skirt at its narrowest in a nest: the mark of the face edge is 2.2 mm high in it; ours."""

ROUNDING_MM = 0.02  # the nesting counts in hundredths

_STEP_MM = 1.0
_LINE_MM = 0.9  # between the rows of a caption, as they are set
_DODGE_MM = 8.0  # of a caption's height that is lost where a line crosses it, besides what is between two lines


@dataclass(frozen=True, slots=True, kw_only=True)
class EndOfCorner:
    """One end of a corner, with its caption: what a template is drawn of."""

    joint: CornerJoint
    faces: EndFaces
    caption: Caption
    snug: Skirts


def ends_of(joints: Sequence[CornerJoint], style: Style) -> Iterator[EndOfCorner]:
    """Both ends of every corner, in the order of work."""
    for joint in joints:
        for faces in joint.end_faces():
            words = caption(joint, faces, style)
            yield EndOfCorner(joint=joint, faces=faces, caption=words, snug=snug_skirts(faces, words))


def snug_skirts(faces: EndFaces, words: Caption) -> Skirts:
    """The narrowest skirts on which the captions stand uncut and whole, never wider than the full ones."""
    height_mm = faces.width_mm
    crossed_mm = _DODGE_MM * len(faces.saw_lines_mm)
    grooved_mm = 0.0 if faces.groove is None else faces.groove.width_mm + _DODGE_MM
    outside = _narrowest(words.letter, FaceName.OUTSIDE, words.outside, height_mm - crossed_mm)
    inside = _narrowest(words.letter, FaceName.INSIDE, words.inside, height_mm - crossed_mm - grooved_mm)
    if faces.lip is not None:  # the inside face says it all
        inside = _narrowest(words.letter, FaceName.INSIDE, words.outside, height_mm - crossed_mm - grooved_mm)
    return Skirts(
        outside_mm=min(FULL_SKIRTS.outside_mm, max(LEAST_SKIRTS.outside_mm, outside)),
        inside_mm=min(FULL_SKIRTS.inside_mm, max(SNUG_INSIDE_MM, inside)),
    )


@cache
def _narrowest(letter: str, face: FaceName, rows: tuple[str, ...], height_mm: float) -> float:
    """The width of a skirt whose caption loses no word; as narrow as its longest word where the height won't do."""
    marks = (f"{face.value.upper()} FACE",)
    longest_mm = max(
        width_mm(printable(word), size)
        for texts, size in ((marks, MARK_MM), (rows, ROW_MM))
        for text in texts
        for word in text.split()
    )
    least_mm = longest_mm + 2 * SIDE_MM + 0.1
    wide_mm = least_mm
    while wide_mm < FULL_SKIRTS.outside_mm:
        column_mm = wide_mm - 2 * SIDE_MM
        lines = [
            (line, size)
            for texts, size in ((marks, MARK_MM), (rows, ROW_MM))
            for text in texts
            for line in wrapped(text, size, column_mm)
        ]
        needed_mm = 2.0 + FOOT_MM + 1.5 + 1.5 + 9.0 + _LINE_MM + sum(size + _LINE_MM for _, size in lines)
        if needed_mm <= height_mm:
            return wide_mm
        wide_mm += _STEP_MM
    return least_mm


def skirts_between(end: EndOfCorner, share: float, room_mm: float) -> Skirts:
    """Skirts from snug (share 0) to full (1), and narrower where the paper asks for it. Raises PrintError."""
    bare_mm = across_mm(end.faces, Skirts(outside_mm=0.0, inside_mm=0.0))
    snug = end.snug
    outside = snug.outside_mm + share * (FULL_SKIRTS.outside_mm - snug.outside_mm)
    inside = snug.inside_mm + share * (FULL_SKIRTS.inside_mm - snug.inside_mm)
    if end.faces.lip is not None:
        outside = 0.0
    spare_mm = room_mm - bare_mm
    if outside + inside > spare_mm:
        part = max(0.0, spare_mm) / (outside + inside)
        outside, inside = outside * part, inside * part
    if inside < LEAST_SKIRTS.inside_mm or (end.faces.lip is None and outside < LEAST_SKIRTS.outside_mm):
        raise PrintError(
            f"the template of {end.faces.end.label} is {across_mm(end.faces, LEAST_SKIRTS):.0f} mm across its folds and "
            f"the sheet has {room_mm:.0f} mm of room; larger paper would do"
        )
    return Skirts(outside_mm=outside, inside_mm=inside)


def template_pieces(end: EndOfCorner, style: Style, room: Size, share: float) -> tuple[Piece, ...]:
    """The template of one end, whole or in the fewest tiles, on skirts of that share. Raises PrintError."""
    skirts = skirts_between(end, share, max(room))
    low_mm, high_mm = _along(end.faces, skirts)
    tile = Tile(start_mm=low_mm, end_mm=high_mm, first=True, last=True)
    piece = _piece(end, style, skirts, tile, "", ())
    if fits(piece.shape, room):
        return (piece,)
    parts = tiles(template_of(end.joint, end.faces, style, skirts), room_mm=_tile_room_mm(end, style, skirts, room))
    return tuple(
        _piece(end, style, skirts, tile, f", tile {number} of {len(parts)}", _tile_numbers(tile, len(parts)))
        for number, tile in enumerate(parts, 1)
    )


def _tile_room_mm(end: EndOfCorner, style: Style, skirts: Skirts, room: Size) -> float:
    """How long a tile may be: standing, or lying where the sheet is wider than high. Raises PrintError."""
    long_mm = max(room)  # the widest words that a tile's heading may hold
    middle = Tile(start_mm=long_mm, end_mm=2 * long_mm, first=False, last=False)
    shape = (piece := _piece(end, style, skirts, middle, ", tile 88 of 88", _tile_numbers(middle, 88))).shape
    found_mm = [0.0]
    for (wide_mm, high_mm), along_mm in ((shape.upright, room[1]), ((shape.turned or room)[::-1], room[0])):
        across_room_mm = room[0] if along_mm == room[1] else room[1]
        if wide_mm <= across_room_mm:
            found_mm.append(along_mm - (high_mm - piece.height_mm) - ROUNDING_MM)
    if max(found_mm) <= OVERLAP_MM:
        raise PrintError(
            f"the template of {end.faces.end.label} is {piece.width_mm:.0f} mm across its folds and the sheet has "
            f"{room[0]:.0f} x {room[1]:.0f} mm of room; larger paper would do"
        )
    return max(found_mm)


def _along(faces: EndFaces, skirts: Skirts) -> tuple[float, float]:
    """Where a template begins and ends along its folds: 0 and the board's width, or further where a board is canted."""
    first_mm = faces.first_mm + (skirts.outside_mm if faces.lip is None else 0.0)
    edges = (
        faces.edge_mm(faces.outside.name, first_mm),
        0.0,
        faces.edge_mm(FaceName.END, faces.band_mm),
        faces.edge_mm(FaceName.INSIDE, faces.baseline_mm + skirts.inside_mm),
    )
    return min(edges), max(edges) + faces.width_mm


def _tile_numbers(tile: Tile, of: int) -> tuple[str, ...]:
    seams = of - 1
    return (
        f"{tile.start_mm:.1f} to {tile.end_mm:.1f} mm from the face edge",
        f"{seams} {'seam' if seams == 1 else 'seams'}: {SEAM_MM:g} mm off each at most, {seams * SEAM_MM:.1f} mm in all",
    )


def _piece(end: EndOfCorner, style: Style, skirts: Skirts, tile: Tile, which: str, numbers: tuple[str, ...]) -> Piece:
    joint, faces = end.joint, end.faces
    mate = joint.spec.pins if faces.part is Part.TAILS else joint.spec.tails

    def draw() -> tuple[Item, ...]:
        template = fold_over(faces, end.caption, skirts)
        items = tile_items(template, tile)
        return tuple(moved(entry, -template.u_min_mm, -tile.window.start_mm) for entry in items)

    return Piece(
        of=joint.name,
        what=faces.part.value,
        name=f"Corner {joint.name}: {faces.part.value} on {faces.end.label}{which}",
        numbers=(
            *numbers,
            *gauge_rows(faces, style),
            f"slope {format_slope(joint.slope.ratio)}",
            f"mates with {mate.label}",
        ),
        width_mm=across_mm(faces, skirts),
        height_mm=tile.window.width_mm,
        draw=draw,
    )


def section_of(faces: EndFaces, style: Style) -> Section | None:
    """The section that goes with a template: of a socket, on the pin board of a half-blind corner."""
    if faces.end_gauge_mm is None:
        return None
    thickness_mm = faces.end.board.thickness_mm
    return socket_section(
        lip=faces.lip,
        thickness_mm=thickness_mm,
        lap=length(thickness_mm - faces.end_gauge_mm, style),
        lap_mm=thickness_mm - faces.end_gauge_mm,
        socket_mm=faces.baseline_mm,
        inside_gauge=gauge_setting(faces.baseline_mm, style),
        end_gauge=gauge_setting(faces.end_gauge_mm, style),
    )


def section_pieces(ends: Iterable[EndOfCorner], style: Style, room: Size) -> dict[str, Piece]:
    """The sections of sockets, each once however many corners it is true of, by the corner it comes first with.

    One that the sheet has no room for is left out, as its numbers are in the template's heading too.
    """
    true_of: dict[tuple[Item, ...], tuple[Section, list[str]]] = {}
    for end in ends:
        section = section_of(end.faces, style)
        if section is not None:
            true_of.setdefault(section.items, (section, []))[1].append(end.joint.name)
    found: dict[str, Piece] = {}
    for section, corners in true_of.values():
        piece = Piece(
            of=corners[0],
            what="section",
            name=f"Section: {'corner' if len(corners) == 1 else 'corners'} {', '.join(corners)}",
            numbers=(),
            width_mm=section.width_mm,
            height_mm=section.height_mm,
            draw=partial(_itself, section.items),
        )
        if fits(piece.shape, room):
            found[corners[0]] = piece
    return found


def _itself(items: tuple[Item, ...]) -> tuple[Item, ...]:
    return items
