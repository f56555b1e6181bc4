"""Sheets to PDF. Thin: strokes and texts go where the sheet says, in points, at full size.

The same sheets give the same bytes. Viewers are asked not to scale (/PrintScaling /None); not all obey, which is why
every sheet carries bars.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from dovelayout.drawing.lettering import FONT_NAME, font_path
from dovelayout.drawing.primitives import PENS, Anchor, Lines, Sheet, Text
from dovelayout.errors import PrintError
from dovelayout.render.files import MARK

PT_PER_MM = 72.0 / 25.4
"""PDF user space is 1/72 in (ISO 32000-1, 8.3.2.3)."""

MOST_MM = 5080.0
"""Larger pages are not shown by all viewers (14 400 units a side, ISO 32000-1 Annex C); refused."""

_FONT = "DovelayoutSans"


def pdf_bytes(sheets: Iterable[Sheet], *, title: str) -> bytes:
    """One PDF of sheets that all have one size; they are gone through once.

    Raises PrintError for mixed or impossible sizes: print systems shrink pages of mixed files.
    """
    rl_config.useA85 = 0
    if _FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(_FONT, str(font_path())))
    out = io.BytesIO()
    canvas: Canvas | None = None
    size_mm = (0.0, 0.0)
    for sheet in sheets:
        if canvas is None:
            size_mm = (sheet.width_mm, sheet.height_mm)
            canvas = _canvas(out, size_mm, title)
        elif size_mm != (sheet.width_mm, sheet.height_mm):
            raise PrintError("sheets of one file must have one size, not several")
        canvas.setLineCap(0)
        for item in sheet.items:
            match item:
                case Lines():
                    _draw_lines(canvas, item)
                case Text():
                    _draw_text(canvas, item)
        canvas.showPage()
    if canvas is None:
        raise PrintError("sheets of one file must have one size, and there are none")
    canvas.save()
    return out.getvalue()


def _canvas(out: io.BytesIO, size_mm: tuple[float, float], title: str) -> Canvas:
    width_mm, height_mm = size_mm
    if max(size_mm) > MOST_MM:
        raise PrintError(f"a sheet of {width_mm:.0f} × {height_mm:.0f} mm is larger than a PDF page can be")
    canvas = Canvas(
        out,
        pagesize=(width_mm * PT_PER_MM, height_mm * PT_PER_MM),
        pdfVersion=(1, 7),
        invariant=1,
        pageCompression=1,
        initialFontName=_FONT,  # type: ignore[arg-type]  # the stub has it wrong
        lang="en",
    )
    canvas.setTitle(title)
    canvas.setCreator(MARK)
    canvas.setSubject("Full-size templates. Print at 100 %, actual size.")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _points(value_mm: float) -> float:
    if not math.isfinite(value_mm):
        raise PrintError("a coordinate of the drawing is not a number")
    return value_mm * PT_PER_MM


_STROKE = "%.4f %.4f m %.4f %.4f l"
"""Four decimals of a point: 0.00002 mm."""


def _draw_lines(canvas: Canvas, lines: Lines) -> None:
    """All strokes of a role as one path, in operators of our own (ISO 32000-1, 8.5): five times as fast as one call a
    stroke, for the same strokes."""
    if not lines.segments:
        return
    pen = PENS[lines.role]
    canvas.setLineWidth(pen.width_mm * PT_PER_MM)
    canvas.setDash([dash * PT_PER_MM for dash in pen.dash_mm])
    numbers = [value * PT_PER_MM for segment in lines.segments for value in segment]
    if not math.isfinite(sum(numbers)):
        raise PrintError("a coordinate of the drawing is not a number")
    canvas.addLiteral((" ".join([_STROKE] * len(lines.segments))) % tuple(numbers) + " S")


def _draw_text(canvas: Canvas, text: Text) -> None:
    size_pt = text.size_mm * PT_PER_MM
    canvas.setFont(_FONT, size_pt)
    shift_pt = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[text.anchor] * pdfmetrics.stringWidth(
        text.text, _FONT, size_pt
    )
    x, y = _points(text.x_mm), _points(text.y_mm)
    if text.upwards:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(90)
        canvas.drawString(-shift_pt, 0, text.text)
        canvas.restoreState()
    else:
        canvas.drawString(x - shift_pt, y, text.text)


__all__ = ["FONT_NAME", "pdf_bytes"]
