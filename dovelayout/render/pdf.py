"""Sheets to PDF. Thin: strokes and texts go where the sheet says, in points, at full size.

The same sheets give the same bytes. Viewers are asked not to scale (/PrintScaling /None); not all obey, which is why
every sheet carries bars.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from dovelayout.drawing.lettering import FONT_NAME, font_path
from dovelayout.drawing.primitives import PENS, Anchor, Lines, Sheet, Text
from dovelayout.errors import PrintError

PT_PER_MM = 72.0 / 25.4
"""PDF user space is 1/72 in (ISO 32000-1, 8.3.2.3)."""

MOST_MM = 5080.0
"""Larger pages are not shown by all viewers (14 400 units a side, ISO 32000-1 Annex C); refused."""

_FONT = "DovelayoutSans"


def pdf_bytes(sheets: Sequence[Sheet], *, title: str) -> bytes:
    """One PDF of sheets that all have one size.

    Raises PrintError for mixed or impossible sizes: print systems shrink pages of mixed files.
    """
    sizes = {(sheet.width_mm, sheet.height_mm) for sheet in sheets}
    if len(sizes) != 1:
        raise PrintError(f"sheets of one file must have one size, not {len(sizes)}")
    width_mm, height_mm = next(iter(sizes))
    if max(width_mm, height_mm) > MOST_MM:
        raise PrintError(f"a sheet of {width_mm:.0f} × {height_mm:.0f} mm is larger than a PDF page can be")
    rl_config.useA85 = 0
    if _FONT not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(_FONT, str(font_path())))
    out = io.BytesIO()
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
    canvas.setCreator("dovelayout")
    canvas.setSubject("Full-size templates. Print at 100 %, actual size.")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    for sheet in sheets:
        canvas.setLineCap(0)
        for item in sheet.items:
            match item:
                case Lines():
                    _draw_lines(canvas, item)
                case Text():
                    _draw_text(canvas, item)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _points(value_mm: float) -> float:
    if not math.isfinite(value_mm):
        raise PrintError("a coordinate of the drawing is not a number")
    return value_mm * PT_PER_MM


def _draw_lines(canvas: Canvas, lines: Lines) -> None:
    pen = PENS[lines.role]
    canvas.setLineWidth(pen.width_mm * PT_PER_MM)
    canvas.setDash([dash * PT_PER_MM for dash in pen.dash_mm])
    path = canvas.beginPath()
    for x1, y1, x2, y2 in lines.segments:
        path.moveTo(_points(x1), _points(y1))
        path.lineTo(_points(x2), _points(y2))
    canvas.drawPath(path, stroke=1, fill=0)


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
