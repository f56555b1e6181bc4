"""Skirts grow again where a sheet has the room: from the narrowest, by which it was nested, to the widest that fit on it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace

from dovelayout.drawing.primitives import Size
from dovelayout.drawing.sheets.nesting import Nest, Placement, Shape, fits, nested


@dataclass(frozen=True, slots=True, kw_only=True)
class Widths:
    """The widths that pieces may have: their `count`, and `shape_of` a width (0 the widest) of a piece, each by its
    number. Pieces with the same entry in `groups` (the tiles of a template) get one width, whatever sheets they are on."""

    count: int
    shape_of: Callable[[int, int], Shape]
    groups: Sequence[Hashable]

    def on_one_sheet(self, pieces: Sequence[int], widths: Sequence[int], room_mm: Size) -> tuple[Placement, ...] | None:
        """The places of these pieces at these widths; None where one sheet doesn't hold them."""
        shapes = [self.shape_of(width, piece) for piece, width in zip(pieces, widths, strict=True)]
        if not all(fits(shape, room_mm) for shape in shapes):
            return None
        found = nested(shapes, room_mm)
        if len(found) > 1:
            return None
        return tuple(replace(place, piece=pieces[place.piece]) for place in found[0])

    def agreed(self, chosen: Sequence[int]) -> list[int]:
        """The chosen widths, in each group the narrowest of any of its pieces."""
        narrowest: dict[Hashable, int] = {}
        for width, group in zip(chosen, self.groups, strict=True):
            narrowest[group] = max(narrowest.get(group, 0), width)
        return [narrowest[group] for group in self.groups]


def widened(sheets: Nest, widths: Widths, room_mm: Size) -> tuple[tuple[int, ...], Nest]:
    """The width that each piece gets, by its number, and the places then, the same pieces on the same sheets.

    `sheets` were nested by the last and narrowest width.
    """
    narrowest = widths.count - 1
    chosen = [narrowest] * len(widths.groups)
    for sheet in sheets:
        pieces = [place.piece for place in sheet]
        fitting = (w for w in range(narrowest) if widths.on_one_sheet(pieces, [w] * len(pieces), room_mm))
        best = next(fitting, narrowest)
        for piece in pieces:
            chosen[piece] = best
    known: dict[tuple[tuple[int, ...], tuple[int, ...]], tuple[Placement, ...] | None] = {}
    while True:
        chosen = widths.agreed(chosen)
        places: list[tuple[Placement, ...]] = []
        for sheet in sheets:
            pieces = [place.piece for place in sheet]
            mixed = [chosen[piece] for piece in pieces]
            key = (tuple(pieces), tuple(mixed))
            if key not in known:  # one sheet that fails has all looked at again
                known[key] = widths.on_one_sheet(pieces, mixed, room_mm)
            found = known[key]
            if found is None and any(width != narrowest for width in mixed):
                for piece in pieces:  # as they were nested
                    chosen[piece] = narrowest
                break
            places.append(sheet if found is None else found)
        else:
            return tuple(chosen), tuple(places)
