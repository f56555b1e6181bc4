"""The correction for a printer that is off: applied to what is drawn, never to the size of the paper.

A bar that was drawn 150 mm long and comes out 149.4 mm is drawn 150 × 150 / 149.4 mm long from then on. Across and up
have factors of their own. Everything is scaled about the middle of the sheet, so that both margins change alike.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from dovelayout.drawing.lettering import corners
from dovelayout.drawing.primitives import Item, Lines, Sheet, strokes
from dovelayout.drawing.sheets.frame import head_note
from dovelayout.errors import PrintError
from dovelayout.paper import Paper

OFF_THE_SHEET_MM = 1e-6  # slack of the arithmetic


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """Factors on everything drawn for one printer: 1.004 across where 150 mm come out as 149.4."""

    printer: str
    across: float
    up: float

    @property
    def note(self) -> str:
        """What stands on every corrected sheet."""
        return f"corrected for {self.printer}: across × {self.across:.4f}, up × {self.up:.4f}"


def room_for(correction: Correction | None, on: Paper) -> Paper:
    """The paper with margins so wide that nothing drawn inside them leaves the printer's own when it is corrected."""
    if correction is None:
        return on
    needed = (
        side_mm / 2 - (side_mm / 2 - on.margin_mm) / factor
        for side_mm, factor in ((on.width_mm, correction.across), (on.height_mm, correction.up))
    )
    return replace(on, margin_mm=max(on.margin_mm, *needed))


def for_printer(sheet: Sheet, correction: Correction | None, *, margin_mm: float) -> Sheet:
    """The sheet as a printer must be given it: corrected, with a note of it in its head. None leaves it as it is.

    `margin_mm` is the one that the sheet was framed with. Raises PrintError like `corrected`.
    """
    if correction is None:
        return sheet
    note = head_note(correction.note, sheet, margin_mm)
    description = f"{sheet.description}; {correction.note}" if sheet.description else correction.note
    return corrected(replace(sheet, items=(*sheet.items, note), description=description), correction)


def corrected(sheet: Sheet, correction: Correction) -> Sheet:
    """Everything on the sheet scaled about its middle; the sheet keeps its size. Letters keep their shape: they take
    the smaller factor, so that a text never outgrows the place it was given.

    Raises PrintError when something would leave the sheet.
    """
    middle_x, middle_y = sheet.width_mm / 2, sheet.height_mm / 2

    def across(x_mm: float) -> float:
        return x_mm * correction.across + middle_x * (1.0 - correction.across)

    def up(y_mm: float) -> float:
        return y_mm * correction.up + middle_y * (1.0 - correction.up)

    def scaled(item: Item) -> Item:
        if isinstance(item, Lines):
            return strokes(item.role, ((across(x1), up(y1), across(x2), up(y2)) for x1, y1, x2, y2 in item.segments))
        size_mm = item.size_mm * min(correction.across, correction.up)
        return replace(item, x_mm=across(item.x_mm), y_mm=up(item.y_mm), size_mm=size_mm)

    items = tuple(map(scaled, sheet.items))
    for x_mm, y_mm in corners(items):
        outside = max(-x_mm, -y_mm, x_mm - sheet.width_mm, y_mm - sheet.height_mm)
        if outside > OFF_THE_SHEET_MM:
            raise PrintError(
                f"'{sheet.title}' {correction.note} would stand {outside:.1f} mm off its sheet of "
                f"{sheet.width_mm:.0f} × {sheet.height_mm:.0f} mm",
                remedy="a PDF (--as pdf) keeps its margins",
            )
    return replace(sheet, items=items)
