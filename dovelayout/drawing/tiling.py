"""Parting a template that is wider than the paper, at match lines that never cross a pin or a cheek."""

from __future__ import annotations

from dovelayout.drawing.wrap import OVERLAP_MM, Template, Tile
from dovelayout.errors import PrintError


def tiles(template: Template, *, room_mm: float) -> tuple[Tile, ...]:
    """The fewest tiles that each fit `room_mm` of paper, overlaps included; all are measured from the face edge.

    Raises PrintError when two neighbouring places to cut lie further apart than the paper reaches.
    """
    if template.width_mm <= room_mm:
        return (Tile(start_mm=0.0, end_mm=template.width_mm, first=True, last=True),)
    found: list[Tile] = []
    start_mm = 0.0
    while True:
        first = not found
        room_left_mm = room_mm - (0.0 if first else OVERLAP_MM / 2)
        if template.width_mm - start_mm <= room_left_mm:
            found.append(Tile(start_mm=start_mm, end_mm=template.width_mm, first=first, last=True))
            return tuple(found)
        reach_mm = start_mm + room_left_mm - OVERLAP_MM / 2
        places = [p for p in template.faces.cut_places_mm if start_mm + OVERLAP_MM < p <= reach_mm]
        if not places:
            raise PrintError(
                f"the template of {template.faces.end.label} can't be parted: no tail's middle lies between "
                f"{start_mm:.0f} and {reach_mm:.0f} mm from the face edge; larger paper would do"
            )
        # the furthest reach each time gives the fewest tiles
        found.append(Tile(start_mm=start_mm, end_mm=max(places), first=first, last=False))
        start_mm = max(places)
