"""PDF pages to PNG, to look at on a screen. Needs pypdfium2 (`pip install 'dovelayout[png]'`), loaded when asked for."""

from __future__ import annotations

import struct
import zlib
from typing import Any

from dovelayout.errors import PrintError
from dovelayout.render.files import MARK

INSTALL = "pip install 'dovelayout[png]'"
DPI = 150
PT_PER_INCH = 72.0
MM_PER_INCH = 25.4
GREY = (8, 0, 0, 0, 0)  # 8 bits a pixel, grey, the one compression and filtering there is, no interlacing
MOST_PIXELS = 100_000_000
"""About A0 at 200 dpi: larger pictures are refused rather than filling the memory."""


def png_pages(pdf: bytes, *, dpi: int = DPI) -> tuple[bytes, ...]:
    """A grey picture of every page. Raises PrintError when pypdfium2 isn't there, or a page is too large."""
    try:
        import pypdfium2
    except ImportError:
        raise PrintError(f"PNG pictures need pypdfium2, which is not installed: {INSTALL}") from None
    document = pypdfium2.PdfDocument(pdf)
    try:
        pages = []
        for page in document:
            wide, high = (side / PT_PER_INCH * dpi for side in page.get_size())
            if wide * high > MOST_PIXELS:
                raise PrintError(f"a picture of {wide:.0f} × {high:.0f} pixels is too large", remedy="draw it as PDF")
            pages.append(_png(page.render(scale=dpi / PT_PER_INCH, grayscale=True), dpi))
        return tuple(pages)
    finally:
        document.close()


def _png(bitmap: Any, dpi: int) -> bytes:
    """An 8-bit grey PNG with its resolution (ISO/IEC 15948)."""
    rows, width, height, stride = bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride
    lines = b"".join(b"\0" + rows[y * stride : y * stride + width] for y in range(height))
    per_metre = round(dpi / MM_PER_INCH * 1000)
    return b"".join(
        (
            b"\x89PNG\r\n\x1a\n",
            _chunk(b"IHDR", struct.pack(">II5B", width, height, *GREY)),
            _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1)),
            _chunk(b"tEXt", b"Software\0" + MARK.encode()),
            _chunk(b"IDAT", zlib.compress(lines, 9)),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
