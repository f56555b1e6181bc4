"""Templates, their tiles and their sections as pieces to nest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from dovelayout.drawing.primitives import Items, Size, placed
from dovelayout.drawing.sheets.nesting import fits
from dovelayout.drawing.sheets.pieces import SheetPiece
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.section import section_of
from dovelayout.drawing.template.skirts import narrowest_skirts, skirts_between
from dovelayout.drawing.template.tile import OVERLAP_MM, SEAM_MM, Tile, tile_items, tiles
from dovelayout.drawing.template.wrap import Skirts, extent
from dovelayout.errors import PrintError
from dovelayout.words import grouped

ROUNDING_MM = 0.02  # the nesting counts in hundredths

_HEADING_MM = 20.0  # more than the heading over a template takes


def template_pieces(end: CornerEnd, room_mm: Size, share: float) -> tuple[SheetPiece, ...]:
    """The template of one end, whole or in the fewest tiles, on skirts from the narrowest (share 0) to full (1).

    Raises PrintError where the sheet has no room for it.
    """
    skirts = skirts_between(end, share, _across_room_mm(end, room_mm))
    reach = extent(end.faces, skirts)
    piece = _piece(end, skirts, Tile(start_mm=reach.v_min_mm, end_mm=reach.v_max_mm, first=True, last=True))
    if fits(piece.shape, room_mm):
        return (piece,)
    parts = tiles(end.template(skirts), room_mm=_tile_room_mm(end, skirts, room_mm))
    return tuple(_numbered(_piece(end, skirts, tile), tile, number, len(parts)) for number, tile in enumerate(parts, 1))


def _piece(end: CornerEnd, skirts: Skirts, tile: Tile) -> SheetPiece:
    reach, window = extent(end.faces, skirts), tile.window

    def draw() -> Items:
        return placed(tile_items(end.template(skirts), tile), -reach.u_min_mm, -window.start_mm)

    return SheetPiece(
        of=end.joint.name,
        what=end.faces.part.value,
        name=end.name,
        numbers=end.numbers,
        width_mm=reach.across_mm,
        height_mm=window.width_mm,
        draw=draw,
    )


def _numbered(piece: SheetPiece, tile: Tile, number: int, count: int) -> SheetPiece:
    """The piece of a tile, which is one of several."""
    seams = count - 1
    numbers = (
        f"{tile.start_mm:.1f} to {tile.end_mm:.1f} mm from the face edge",
        f"{seams} {'seam' if seams == 1 else 'seams'}: {SEAM_MM:g} mm off each at most, {seams * SEAM_MM:.1f} mm in all",
    )
    return replace(
        piece,
        what=f"{piece.what} {number}/{count}",
        name=f"{piece.name}, tile {number} of {count}",
        numbers=(*numbers, *piece.numbers),
    )


def _across_room_mm(end: CornerEnd, room_mm: Size) -> float:
    """How wide a template may be across its folds, so that wide skirts don't make tiles of it."""
    long_mm = end.faces.width_mm + _HEADING_MM
    whole_mm = [across for across, along in (room_mm, room_mm[::-1]) if long_mm <= along]
    if whole_mm:
        return max(whole_mm)
    least_mm = extent(end.faces, narrowest_skirts(end)).across_mm
    return min(room_mm) if least_mm <= min(room_mm) else max(room_mm)


def _tile_room_mm(end: CornerEnd, skirts: Skirts, room_mm: Size) -> float:
    """How long a tile may be: standing, or lying where the sheet is wider than high. Raises PrintError."""
    long_mm = max(room_mm)  # the widest words that a tile's heading may hold
    middle = Tile(start_mm=long_mm, end_mm=2 * long_mm, first=False, last=False)
    piece = _numbered(_piece(end, skirts, middle), middle, 88, 88)
    shape = piece.shape
    found_mm = [0.0]
    for (wide_mm, high_mm), along_mm in ((shape.upright, room_mm[1]), ((shape.turned or room_mm)[::-1], room_mm[0])):
        across_room_mm = room_mm[0] if along_mm == room_mm[1] else room_mm[1]
        if wide_mm <= across_room_mm:
            found_mm.append(along_mm - (high_mm - piece.height_mm) - ROUNDING_MM)
    if max(found_mm) <= OVERLAP_MM:
        raise PrintError(
            f"the template of {end.faces.end.label} is {piece.width_mm:.0f} mm across its folds and the sheet has "
            f"{room_mm[0]:.0f} x {room_mm[1]:.0f} mm of room",
            remedy="larger paper would do",
        )
    return max(found_mm)


def section_pieces(ends: Iterable[CornerEnd], room_mm: Size) -> dict[str, SheetPiece]:
    """The sections of sockets, each once however many corners it is true of, by the corner it comes first with.

    One that the sheet has no room for is left out, as its numbers are in the template's heading too.
    """
    found: dict[str, SheetPiece] = {}
    sections = ((section_of(end), end.joint.name) for end in ends)
    for section, corners in grouped(sections).items():
        if section is not None:
            name = f"Section: {'corner' if len(corners) == 1 else 'corners'} {', '.join(corners)}"
            piece = SheetPiece.of_drawing(section, of=corners[0], what="section", name=name)
            if fits(piece.shape, room_mm):
                found[corners[0]] = piece
    return found
