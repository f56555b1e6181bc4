"""How wide the skirts of a template are: as wide as the sheet has room for, never so narrow that its caption is cut."""

from __future__ import annotations

from functools import cache

from dovelayout.drawing.template.caption import SIDE_MM, caption_height_mm, widest_word_mm
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.wrap import FULL_SKIRTS, LEAST_SKIRTS, Skirts, extent
from dovelayout.errors import PrintError
from dovelayout.joints.face import FaceName

NARROW_SKIRTS = Skirts(outside_mm=17.0, inside_mm=13.5)
"""The narrowest in a nest: the marks of faces and edge still stand uncut on two lines. Ours; a sheet's skirts grow again
where it has the room."""

_STEP_MM = 1.0
_DODGE_MM = 8.0  # of a caption's height that is lost where a line crosses it, besides what is between two lines


def narrowest_skirts(end: CornerEnd) -> Skirts:
    """The narrowest skirts on which the captions lose no word and no row, never wider than the full ones."""
    faces, rows = end.faces, end.caption.columns(end.faces)
    height_mm = faces.width_mm - _DODGE_MM * len(faces.saw_lines_mm)
    groove_mm = 0.0 if faces.groove is None else faces.groove.width_mm + _DODGE_MM
    return Skirts(
        outside_mm=_narrowest(FaceName.OUTSIDE, rows.get(FaceName.OUTSIDE, ()), height_mm),
        inside_mm=_narrowest(FaceName.INSIDE, rows[FaceName.INSIDE], height_mm - groove_mm),
    )


@cache
def _narrowest(face: FaceName, rows: tuple[str, ...], height_mm: float) -> float:
    """The width of a skirt whose caption is whole; the least where no width makes it so."""
    least_mm, most_mm = NARROW_SKIRTS.over_mm(face), FULL_SKIRTS.over_mm(face)
    start_mm = min(most_mm, max(least_mm, widest_word_mm(face, rows) + 2 * SIDE_MM + 0.1))
    for step in range(int((most_mm - start_mm) / _STEP_MM) + 1):
        skirt_mm = start_mm + step * _STEP_MM
        if caption_height_mm(face, rows, skirt_mm - 2 * SIDE_MM) <= height_mm:
            return skirt_mm
    return start_mm


def skirts_between(end: CornerEnd, share: float, room_mm: float) -> Skirts:
    """Skirts from the narrowest (share 0) to full (1), and narrower where the paper asks for it, mm. Raises PrintError
    where the narrowest are too wide for the room."""
    faces, narrow = end.faces, narrowest_skirts(end)
    outside = narrow.outside_mm + share * (FULL_SKIRTS.outside_mm - narrow.outside_mm)
    inside = narrow.inside_mm + share * (FULL_SKIRTS.inside_mm - narrow.inside_mm)
    if faces.lip is not None:
        outside = 0.0
    spare_mm = room_mm - extent(faces, Skirts(outside_mm=0.0, inside_mm=0.0)).across_mm
    if outside + inside > spare_mm:
        part = max(0.0, spare_mm) / (outside + inside)
        outside, inside = outside * part, inside * part
    if inside < LEAST_SKIRTS.inside_mm or (faces.lip is None and outside < NARROW_SKIRTS.outside_mm):
        raise PrintError(
            f"the template of {faces.end.label} is {extent(faces, NARROW_SKIRTS).across_mm:.0f} mm across its folds "
            f"and the sheet has {room_mm:.0f} mm of room",
            remedy="larger paper would do",
        )
    return Skirts(outside_mm=outside, inside_mm=inside)
