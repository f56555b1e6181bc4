"""Full-size gauges for a slope: a card to set a bevel by, and a saddle that folds over a board's edge."""

from __future__ import annotations

from dataclasses import replace

from dovelayout.drawing.primitives import Anchor, Items, Role, Sheet, Size, Stroke, rectangle, strokes, text_at
from dovelayout.drawing.sheets.frame import AIR_MM, Legend, Page, framed, inset, inset_room_mm, paper_around
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.joints.slope import Slope
from dovelayout.paper import Paper
from dovelayout.units import format_slope

CARD_MM = (90.0, 90.0)
ARM_MM = 70.0
SADDLE_FACE_MM = 40.0
SADDLE_WIDTH_MM = 80.0
GAP_MM = 12.0


def gauge_sheet(
    slope: Slope, thickness_mm: float, style: Style, *, saddle_mm: float | None = None, on: Paper | None = None
) -> Sheet:
    """The slope gauges on a sheet of their own: just large enough, or on a paper.

    `thickness_mm` is the pin board's, for the flare; `saddle_mm` the thickness of the board that the saddle folds over
    (None: the same). Raises PrintError when the paper is too small.
    """
    folded_mm = thickness_mm if saddle_mm is None else saddle_mm
    size = gauge_size_mm(folded_mm)
    if on is not None and (size[0] > inset_room_mm(on)[0] or size[1] > inset_room_mm(on)[1]):
        raise PrintError(
            f"the gauge is {size[0] + 2 * AIR_MM:.0f} × {size[1] + 2 * AIR_MM:.0f} mm and {on.name} has no room for it",
            remedy="larger paper would do",
        )
    flare = f"flare {slope.flare_mm(thickness_mm):.2f} mm a side in {thickness_mm:g} mm stock"
    heading = style.heading(f"Gauge for {format_slope(slope.ratio)}", flare)
    title = f"Gauge for a slope of {format_slope(slope.ratio)}"
    page = Page.of(inset(slope_gauge(slope, folded_mm)), heading, Legend.GAUGE)
    return framed(replace(page, title=title, description=""), on or paper_around(size))


def gauge_size_mm(thickness_mm: float) -> Size:
    """Width and height of the drawing that `slope_gauge` makes."""
    return (max(CARD_MM[0], SADDLE_WIDTH_MM), CARD_MM[1] + GAP_MM + 2 * SADDLE_FACE_MM + thickness_mm)


def slope_gauge(slope: Slope, thickness_mm: float) -> Items:
    """The bevel card above, the saddle below; lower left at (0, 0).

    Card: the stock of the bevel on the lower edge, the blade along either slope. Saddle: fold on both fold lines over
    the board's end; the square line on the end and the slopes on both faces meet at the arrises.
    """
    saddle_mm = 2 * SADDLE_FACE_MM + thickness_mm
    return (*_saddle(slope, thickness_mm), *_card(slope, saddle_mm + GAP_MM))


def _card(slope: Slope, y: float) -> Items:
    width, height = CARD_MM
    middle, lean, top = width / 2, slope.flare_mm(ARM_MM), y + ARM_MM
    return (
        strokes(Role.OUTLINE, rectangle(0, y, width, y + height)),
        strokes(Role.KNIFE, ((middle, y, middle + lean, top), (middle, y, middle - lean, top))),
        strokes(Role.BASELINE, ((middle, y, middle, top),)),
        text_at((middle, y + height - 7), f"bevel {format_slope(slope.ratio)}", 4.5, Anchor.MIDDLE),
        text_at((middle, y + height - 13), "stock on this lower edge, blade on a slope", 2.6, Anchor.MIDDLE),
    )


def _saddle(slope: Slope, thickness_mm: float) -> Items:
    width, face = SADDLE_WIDTH_MM, SADDLE_FACE_MM
    far = face + thickness_mm
    lean = slope.flare_mm(face)
    knife: list[Stroke] = []
    for x, toe in ((width * 0.35, lean), (width * 0.65, -lean)):
        knife += [(x, face, x, far), (x, face, x + toe, 0.0), (x, far, x + toe, far + face)]
    return (
        strokes(Role.OUTLINE, rectangle(0, 0, width, far + face)),
        strokes(Role.FOLD, ((0, face, width, face), (0, far, width, far))),
        strokes(Role.KNIFE, knife),
        text_at((2, far + face - 5), "saddle", 2.8),
        text_at((2, far + face - 10), format_slope(slope.ratio), 2.8),
        text_at((2, 2.5), f"for {thickness_mm:g} mm stock", 2.6),
    )
