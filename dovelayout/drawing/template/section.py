"""A full-size section through a socket of a half-blind corner: lap, depth, and how its floor may slope."""

from __future__ import annotations

from shapely import box

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import Drawing, Role, path, strokes, text_at
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "template")

BEYOND_MM = 14.0  # of the board, shown behind the socket
WORDS_MM = 78.0  # room for the words beside it
ROW_MM = 3.9
SIZE_MM = 2.8
FALL_MM = 0.5
"""How far a floor may fall inward, as drawn; ours: enough to see, less than weakens the lap."""


def section_of(end: CornerEnd) -> Drawing | None:
    """The section that goes with the pin board's template of a half-blind corner; None for any other end.

    It runs along the pin board: its outside (show) face below, its end to the right, the socket hatched as waste.
    """
    faces, lip = end.faces, end.faces.lip
    if faces.end_gauge_mm is None:
        return None
    thick_mm = faces.end.board.thickness_mm
    lap_mm = thick_mm - faces.end_gauge_mm
    base_x, end_x = BEYOND_MM, BEYOND_MM + faces.baseline_mm
    tip_x = end_x + (0.0 if lip is None else lip.overhang_mm)
    shoulder = [] if lip is None else [(tip_x, lip.thickness_mm), (end_x, lip.thickness_mm)]
    socket = [(end_x, lap_mm), (base_x, lap_mm), (base_x, thick_mm), (0.0, thick_mm)]
    setting = end.style.setting
    rows = TEXTS.rows(
        "section",
        inside=setting(faces.baseline_mm),
        end=setting(faces.end_gauge_mm),
        lap=end.style.length(lap_mm),
    )
    height_mm = max(thick_mm, len(rows) * ROW_MM) + 2.0
    drawn = [
        strokes(Role.KNIFE, path([(0.0, 0.0), (tip_x, 0.0), *shoulder, *socket])),
        strokes(Role.HATCH, hatch([box(base_x, lap_mm, end_x, thick_mm)])),
    ]
    if lap_mm > 2 * FALL_MM:
        drawn.append(strokes(Role.GROOVE, [(end_x, lap_mm, base_x, lap_mm - FALL_MM)]))
    top = height_mm - 1.5 - SIZE_MM * 0.8
    words = (text_at((tip_x + 5.0, top - number * ROW_MM), row, SIZE_MM) for number, row in enumerate(rows))
    return Drawing(items=(*drawn, *words), width_mm=tip_x + 5.0 + WORDS_MM, height_mm=height_mm)
