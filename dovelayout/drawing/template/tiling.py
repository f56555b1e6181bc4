"""Parting a template that is wider than the paper, at match lines that never cross a pin or a cheek."""

from __future__ import annotations

import itertools

from dovelayout.drawing.template.tile import OVERLAP_MM, Tile
from dovelayout.drawing.template.wrap import Template
from dovelayout.errors import PrintError

SEAM_MM = 0.3
"""How far off a seam of two sheets may come out, cut and taped with care at its crosses (common practice, no source)."""


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
    stretches = itertools.pairwise((0, *ends[0]))
    return tuple(
        Tile(start_mm=places[start], end_mm=places[end], first=start == 0, last=end == last) for start, end in stretches
    )
