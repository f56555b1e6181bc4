"""Sheets to PDF. Thin: strokes and texts go where the sheet says, in points, at full size.

The same sheets give the same bytes. Viewers are asked not to scale (/PrintScaling /None); not all obey, which is why
every sheet carries bars.
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF, fp_str
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from dovelayout.drawing.lettering import FONT_NAME, font_path
from dovelayout.drawing.primitives import PENS, Anchor, Lines, Sheet, Text
from dovelayout.errors import PrintError
from dovelayout.render.files import MARK
from dovelayout.render.numbers import finite

PT_PER_MM = 72.0 / 25.4
"""PDF user space is 1/72 in (ISO 32000-1, 8.3.2.3)."""

MOST_MM = 5080.0
"""Larger pages are not shown by all viewers (14 400 units a side, ISO 32000-1 Annex C); refused."""

_FONT = "DovelayoutSans"


def pdf_bytes(sheets: Iterable[Sheet], *, title: str) -> bytes:
    """One PDF of sheets that all have one size; they are iterated once.

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
            lettering = _Lettering(canvas)
        elif size_mm != (sheet.width_mm, sheet.height_mm):
            raise PrintError("sheets of one file must have one size, not several")
        canvas.setLineCap(0)
        for item in sheet.items:
            match item:
                case Lines():
                    _draw_lines(canvas, item)
                case Text():
                    lettering.draw(item)
        canvas.showPage()
        _pack(canvas)
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


def _pack(canvas: Canvas) -> None:
    """Compresses the page that was just finished. The library keeps all pages as text to the end and compresses them
    then: with thousands of sheets that is a third of all the memory taken."""
    page = canvas._doc.Pages.pages[-1]  # type: ignore[attr-defined]
    page.Contents = pdfdoc.PDFStream(
        dictionary=pdfdoc.PDFDictionary({"Filter": pdfdoc.PDFArray([pdfdoc.PDFName("FlateDecode")])}),
        content=zlib.compress(page.stream.encode("utf-8")),
    )
    page.stream = None


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
    finite(sum(numbers))
    canvas.addLiteral((" ".join([_STROKE] * len(lines.segments))) % tuple(numbers) + " S")


class _Lettering:
    """Texts in the embedded font, written as operators of our own (ISO 32000-1, 9.4), the same to the letter as the
    library's: a job has many thousand short texts, most of them more than once, and a call a text took a third of the time.
    """

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._font: Any = pdfmetrics.getFont(_FONT)
        self._document = canvas._doc  # type: ignore[attr-defined]  # which letters it has so far; text objects read it too
        self._shown: dict[str, tuple[tuple[str, str], ...]] = {}
        self._units: dict[str, float] = {}

    def draw(self, text: Text) -> None:
        """One text where it stands."""
        size_pt = text.size_mm * PT_PER_MM
        x, y = finite(text.x_mm) * PT_PER_MM, finite(text.y_mm) * PT_PER_MM
        shift_pt = 0.0
        if text.anchor is not Anchor.START:
            shift_pt = (0.5 if text.anchor is Anchor.MIDDLE else 1.0) * self._width_pt(text.text, size_pt)
        if text.upwards:
            self._canvas.addLiteral(
                f"q\n0 1 -1 0 {fp_str(x, y)} cm\n{self._object(text.text, size_pt, -shift_pt, 0.0)}\nQ"
            )
        else:
            self._canvas.addLiteral(self._object(text.text, size_pt, x - shift_pt, y))

    def _object(self, text: str, size_pt: float, x: float, y: float) -> str:
        if text not in self._shown:
            self._shown[text] = self._split(text)
        size, leading = _sizes(size_pt)
        shown = " ".join(f"{name} {size} Tf {leading} TL ({letters}) Tj" for name, letters in self._shown[text])
        return f"BT 1 0 0 1 {fp_str(x, y)} Tm {shown} T* ET"

    def _split(self, text: str) -> tuple[tuple[str, str], ...]:
        """The text by subsets of the font (each has 256 letters at most): the subset's name, and the letters in it."""
        return tuple(
            (self._font.getSubsetInternalName(subset, self._document), escapePDF(letters))
            for subset, letters in self._font.splitString(text, self._document)
        )

    def _width_pt(self, text: str, size_pt: float) -> float:
        """Its width by the library's own measure: whole thousandths of the size."""
        if text not in self._units:
            self._units[text] = pdfmetrics.stringWidth(text, _FONT, 1000.0)
        return 0.001 * size_pt * self._units[text]


@lru_cache(maxsize=1024)
def _sizes(size_pt: float) -> tuple[str, str]:
    """A size and the leading that goes with it, as they are written."""
    return fp_str(size_pt), fp_str(1.2 * size_pt)


__all__ = ["FONT_NAME", "pdf_bytes"]
