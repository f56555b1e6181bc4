"""Skirts grow again where a sheet has the room: from the narrowest, by which it was nested, to the widest that go on it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence

from dovelayout.drawing.nesting import Place, Shape, Size, fits, nested

Sheets = Sequence[Sequence[Place]]

ShapeOf = Callable[[int, int], Shape]
"""The shape of a width (0 the widest) of a piece (by its number): asked for as few as are needed."""


def widened(
    sheets: Sheets, shape_of: ShapeOf, widths: int, together: Sequence[Hashable], room_mm: Size
) -> tuple[tuple[int, ...], tuple[tuple[Place, ...], ...]]:
    """Which of its widths each piece gets, and the places then, the same pieces on the same sheets.

    There are so many `widths`, the last and narrowest that by which `sheets` were nested; pieces that are `together` (the
    tiles of a template; a key for each piece) get one width, whatever sheets they are on.
    """
    narrowest = widths - 1
    chosen = [narrowest] * len(together)
    for sheet in sheets:
        numbers = [place.piece for place in sheet]
        best = next(
            (width for width in range(narrowest) if _on_one(numbers, [width] * len(numbers), shape_of, room_mm)), None
        )
        for number in numbers:
            chosen[number] = narrowest if best is None else best
    known: dict[tuple[tuple[int, ...], tuple[int, ...]], tuple[Place, ...] | None] = {}
    while True:
        _agreed(chosen, together)
        places: list[tuple[Place, ...]] = []
        for sheet in sheets:
            numbers = [place.piece for place in sheet]
            mixed = [chosen[number] for number in numbers]
            key = (tuple(numbers), tuple(mixed))
            if key not in known:  # one sheet that fails has all looked at again
                known[key] = _on_one(numbers, mixed, shape_of, room_mm)
            found = known[key]
            if found is None and any(width != narrowest for width in mixed):
                for number in numbers:  # as they were nested
                    chosen[number] = narrowest
                break
            places.append(tuple(sheet) if found is None else found)
        else:
            return tuple(chosen), tuple(places)


def _agreed(chosen: list[int], together: Sequence[Hashable]) -> None:
    """Pieces that belong together get the narrowest width that any of them has."""
    widest: dict[Hashable, int] = {}
    for number, key in enumerate(together):
        widest[key] = max(widest.get(key, 0), chosen[number])
    for number, key in enumerate(together):
        chosen[number] = widest[key]


def _on_one(numbers: Sequence[int], width: Sequence[int], shape_of: ShapeOf, room_mm: Size) -> tuple[Place, ...] | None:
    """The places of these pieces at these widths, where they still go on one sheet."""
    shapes = [shape_of(which, number) for number, which in zip(numbers, width, strict=True)]
    if not all(fits(shape, room_mm) for shape in shapes):
        return None
    found = nested(shapes, room_mm)
    if len(found) > 1:
        return None
    return tuple(
        Place(piece=numbers[place.piece], x_mm=place.x_mm, y_mm=place.y_mm, turned=place.turned) for place in found[0]
    )
