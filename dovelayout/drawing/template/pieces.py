"""Templates, their tiles and their sections as pieces to nest: how wide their skirts, where they are parted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial

from dovelayout.drawing.lettering import fitted, printable, width_mm
from dovelayout.drawing.primitives import Item, moved
from dovelayout.drawing.sheets.nesting import Size, fits
from dovelayout.drawing.sheets.pieces import Piece
from dovelayout.drawing.template.captions import (
    Style,
    caption,
    gauge_rows,
    gauge_setting,
    length,
    serves_rows,
    template_of,
)
from dovelayout.drawing.template.section import Section, socket_section
from dovelayout.drawing.template.shared import shared_ends
from dovelayout.drawing.template.tiling import SEAM_MM, tiles
from dovelayout.drawing.template.wrap import (
    BROKEN_GAP_MM,
    FOOT_MM,
    FULL_SKIRTS,
    LEAST_ROW_MM,
    LEAST_SKIRTS,
    LINE_GAP_MM,
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

SNUG_SKIRTS = Skirts(outside_mm=17.0, inside_mm=13.5)
"""The narrowest in a nest: the marks of faces and edge still stand uncut on two lines. Ours; a sheet's skirts grow again
where it has the room."""

ROUNDING_MM = 0.02  # the nesting counts in hundredths

_STEP_MM = 1.0
_HEADING_MM = 20.0  # more than the heading over a template takes
_MARGINS_MM = 2.0 + 1.5 + 1.5 + 9.0 + LINE_GAP_MM  # above and below a caption, over its foot, and its letter
_DODGE_MM = 8.0  # of a caption's height that is lost where a line crosses it, besides what is between two lines


@dataclass(frozen=True, slots=True, kw_only=True)
class EndOfCorner:
    """One end of a corner, with its caption: what a template is drawn of. `serves` are the corners it is for, its own
    first: a bank's drawers share what is the same."""

    joint: CornerJoint
    faces: EndFaces
    caption: Caption
    snug: Skirts
    serves: tuple[str, ...] = ()


def ends_of(joints: Sequence[CornerJoint], style: Style) -> Iterator[EndOfCorner]:
    """Both ends of every corner, in the order of work; what serves several drawers once."""
    for end in shared_ends(joints):
        words = caption(end.joint, end.faces, style, end.serves)
        snug = snug_skirts(end.faces, words)
        yield EndOfCorner(joint=end.joint, faces=end.faces, caption=words, snug=snug, serves=end.serves)


def snug_skirts(faces: EndFaces, words: Caption) -> Skirts:
    """The narrowest skirts on which the captions lose no word and no row, never wider than the full ones."""
    height_mm = faces.width_mm - _DODGE_MM * len(faces.saw_lines_mm)
    grooved_mm = 0.0 if faces.groove is None else faces.groove.width_mm + _DODGE_MM
    over_inside = words.inside if faces.lip is None else words.outside  # the lip has no room for words
    return Skirts(
        outside_mm=_narrowest(
            FaceName.OUTSIDE, words.outside, height_mm, SNUG_SKIRTS.outside_mm, FULL_SKIRTS.outside_mm
        ),
        inside_mm=_narrowest(
            FaceName.INSIDE, over_inside, height_mm - grooved_mm, SNUG_SKIRTS.inside_mm, FULL_SKIRTS.inside_mm
        ),
    )


@cache
def _narrowest(face: FaceName, rows: tuple[str, ...], height_mm: float, least_mm: float, most_mm: float) -> float:
    """The width of a skirt whose caption is whole; the least where no width makes it so."""
    words = [(word, ROW_MM) for row in rows for word in row.split()] + [(f"{face.value.upper()}", MARK_MM)]
    longest_mm = max(width_mm(printable(word), LEAST_ROW_MM) for word, _ in words)
    start_mm = min(most_mm, max(least_mm, longest_mm + 2 * SIDE_MM + 0.1))
    for step in range(int((most_mm - start_mm) / _STEP_MM) + 1):
        column_mm = start_mm + step * _STEP_MM - 2 * SIDE_MM
        lines = [
            *fitted(f"{face.value.upper()} FACE", MARK_MM, LEAST_ROW_MM, column_mm),
            *fitted("▼ FACE EDGE", FOOT_MM, LEAST_ROW_MM, column_mm),
            *(line for row in rows for line in fitted(row, ROW_MM, LEAST_ROW_MM, column_mm)),
        ]
        gaps_mm = (len(rows) + 3) * LINE_GAP_MM + (len(lines) - len(rows)) * BROKEN_GAP_MM
        if _MARGINS_MM + math.fsum(size for _, size in lines) + gaps_mm <= height_mm:
            return start_mm + step * _STEP_MM
    return start_mm


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
    if inside < LEAST_SKIRTS.inside_mm or (end.faces.lip is None and outside < SNUG_SKIRTS.outside_mm):
        raise PrintError(
            f"the template of {end.faces.end.label} is {across_mm(end.faces, SNUG_SKIRTS):.0f} mm across its folds "
            f"and the sheet has {room_mm:.0f} mm of room",
            remedy="larger paper would do",
        )
    return Skirts(outside_mm=outside, inside_mm=inside)


def template_pieces(end: EndOfCorner, style: Style, room: Size, share: float) -> tuple[Piece, ...]:
    """The template of one end, whole or in the fewest tiles, on skirts of that share. Raises PrintError."""
    skirts = skirts_between(end, share, _across_room_mm(end, room))
    low_mm, high_mm = _along(end.faces, skirts)
    tile = Tile(start_mm=low_mm, end_mm=high_mm, first=True, last=True)
    piece = _piece(end, style, skirts, tile, "", ())
    if fits(piece.shape, room):
        return (piece,)
    template = template_of(end.joint, end.faces, style, skirts, end.serves)
    parts = tiles(template, room_mm=_tile_room_mm(end, style, skirts, room))
    return tuple(
        _piece(
            end,
            style,
            skirts,
            tile,
            f", tile {number} of {len(parts)}",
            _tile_numbers(tile, len(parts)),
            f" {number}/{len(parts)}",
        )
        for number, tile in enumerate(parts, 1)
    )


def _across_room_mm(end: EndOfCorner, room: Size) -> float:
    """How wide a template may be across its folds, so that wide skirts don't make tiles of it."""
    long_mm = end.faces.width_mm + _HEADING_MM
    whole_mm = [across for across, along in (room, room[::-1]) if long_mm <= along]
    if whole_mm:
        return max(whole_mm)
    return min(room) if across_mm(end.faces, end.snug) <= min(room) else max(room)


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
            f"{room[0]:.0f} x {room[1]:.0f} mm of room",
            remedy="larger paper would do",
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


def _piece(
    end: EndOfCorner,
    style: Style,
    skirts: Skirts,
    tile: Tile,
    which: str,
    numbers: tuple[str, ...],
    of_tiles: str = "",
) -> Piece:
    joint, faces = end.joint, end.faces
    mate = joint.spec.pins if faces.part is Part.TAILS else joint.spec.tails

    def draw() -> tuple[Item, ...]:
        template = fold_over(faces, end.caption, skirts)
        items = tile_items(template, tile)
        return tuple(moved(entry, -template.u_min_mm, -tile.window.start_mm) for entry in items)

    return Piece(
        of=joint.name,
        what=faces.part.value + of_tiles,
        name=f"Corner {joint.name}: {faces.part.value} on {faces.end.label}{which}",
        numbers=(
            *numbers,
            *serves_rows(end.serves),
            *gauge_rows(faces, style),
            joint.slope.words,
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
