"""Full-size gauges for a slope: a card to set a bevel by, and a saddle that folds over a board's edge."""

from __future__ import annotations

from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Text
from dovelayout.joints.slope import Slope
from dovelayout.units import format_slope

CARD_MM = (90.0, 90.0)
ARM_MM = 70.0
SADDLE_FACE_MM = 40.0
SADDLE_WIDTH_MM = 80.0
GAP_MM = 12.0


def gauge_size_mm(thickness_mm: float) -> tuple[float, float]:
    """Width and height of the drawing that `slope_gauge` makes."""
    return (max(CARD_MM[0], SADDLE_WIDTH_MM), CARD_MM[1] + GAP_MM + 2 * SADDLE_FACE_MM + thickness_mm)


def slope_gauge(slope: Slope, thickness_mm: float) -> tuple[Item, ...]:
    """The bevel card above, the saddle below; lower left at (0, 0).

    Card: the stock of the bevel on the lower edge, the blade along either slope. Saddle: fold on both fold lines over
    the board's end; the square line on the end and the slopes on both faces meet at the arrises.
    """
    saddle_mm = 2 * SADDLE_FACE_MM + thickness_mm
    return (*_saddle(slope, thickness_mm), *_card(slope, saddle_mm + GAP_MM))


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Segment, ...]:
    return ((x0, y0, x1, y0), (x1, y0, x1, y1), (x1, y1, x0, y1), (x0, y1, x0, y0))


def _card(slope: Slope, y0: float) -> tuple[Item, ...]:
    width, height = CARD_MM
    middle, lean = width / 2, slope.flare_mm(ARM_MM)
    return (
        Lines(role=Role.OUTLINE, segments=_rectangle(0, y0, width, y0 + height)),
        Lines(
            role=Role.KNIFE,
            segments=(
                (middle, y0, middle + lean, y0 + ARM_MM),
                (middle, y0, middle - lean, y0 + ARM_MM),
            ),
        ),
        Lines(role=Role.BASELINE, segments=((middle, y0, middle, y0 + ARM_MM),)),
        Text(
            x_mm=middle,
            y_mm=y0 + height - 7,
            text=f"bevel {format_slope(slope.ratio)}",
            size_mm=4.5,
            anchor=Anchor.MIDDLE,
        ),
        Text(
            x_mm=middle,
            y_mm=y0 + height - 13,
            text="stock on this lower edge, blade on a slope",
            size_mm=2.6,
            anchor=Anchor.MIDDLE,
        ),
    )


def _saddle(slope: Slope, thickness_mm: float) -> tuple[Item, ...]:
    width, face = SADDLE_WIDTH_MM, SADDLE_FACE_MM
    far = face + thickness_mm
    lean = slope.flare_mm(face)
    left, right = width * 0.35, width * 0.65
    knife: list[Segment] = []
    for x, sign in ((left, 1.0), (right, -1.0)):
        knife.append((x, face, x, far))
        knife.append((x, face, x + sign * lean, 0.0))
        knife.append((x, far, x + sign * lean, far + face))
    return (
        Lines(role=Role.OUTLINE, segments=_rectangle(0, 0, width, far + face)),
        Lines(role=Role.FOLD, segments=((0, face, width, face), (0, far, width, far))),
        Lines(role=Role.KNIFE, segments=tuple(knife)),
        Text(x_mm=2, y_mm=far + face - 5, text="saddle", size_mm=2.8),
        Text(x_mm=2, y_mm=far + face - 10, text=format_slope(slope.ratio), size_mm=2.8),
        Text(x_mm=2, y_mm=2.5, text=f"for {thickness_mm:g} mm stock", size_mm=2.6),
    )
