"""A sheet to SVG: one user unit is one mm, width and height in mm, one path for all strokes of a role.

The style carries an @page rule of the sheet's own size: without it a browser prints a bare SVG smaller.
"""

from __future__ import annotations

import svgwrite

from dovelayout.drawing.lettering import width_mm
from dovelayout.drawing.primitives import PENS, Lines, Sheet, Text
from dovelayout.render.files import MARK
from dovelayout.render.numbers import finite

_FONT_FAMILY = "'DejaVu Sans', 'Bitstream Vera Sans', Verdana, sans-serif"


def _number(value: float) -> str:
    """Four decimals (0.0001 mm), no trailing zeros, no minus zero."""
    text = f"{finite(value):.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _plain(text: str) -> str:
    """Text that XML can hold: a job's control characters are not among it."""
    return "".join(ch if ch.isprintable() else " " for ch in text)


def svg_text(sheet: Sheet) -> str:
    """The whole SVG document of one sheet, y downwards as SVG has it."""
    width, height = _number(sheet.width_mm), _number(sheet.height_mm)
    drawing = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing["class"] = f"drawn-by-{MARK}"  # an attribute that SVG 1.1 has, unlike data-*
    drawing.set_desc(title=_plain(sheet.title), desc=_plain(sheet.description or sheet.title))
    drawing.embed_stylesheet(f"@page {{ size: {width}mm {height}mm; margin: 0 }}")
    for index, item in enumerate(sheet.items):
        match item:
            case Lines():
                pen = PENS[item.role]
                path = drawing.path(
                    d=_path(item, sheet.height_mm),
                    id=f"{item.role.value}-{index}",
                    fill="none",
                    stroke="black",
                    stroke_width=_number(pen.width_mm),
                    class_=item.role.value,
                )
                if pen.dash_mm:
                    path["stroke-dasharray"] = " ".join(map(_number, pen.dash_mm))
                drawing.add(path)
            case Text():
                drawing.add(_text(drawing, item, sheet.height_mm))
    return str(drawing.tostring()) + "\n"


def _path(lines: Lines, height_mm: float) -> str:
    return "".join(
        f"M{_number(x1)} {_number(height_mm - y1)}L{_number(x2)} {_number(height_mm - y2)}"
        for x1, y1, x2, y2 in lines.segments
    )


def _text(drawing: svgwrite.Drawing, text: Text, height_mm: float) -> svgwrite.text.Text:
    x, y = _number(text.x_mm), _number(height_mm - text.y_mm)
    element = drawing.text(
        text.text,
        insert=(x, y),
        font_family=_FONT_FAMILY,
        font_size=_number(text.size_mm),
        text_anchor=text.anchor.value,
        fill="black",
        # the width is laid down, so that another font can't run a text into a line
        textLength=_number(width_mm(text.text, text.size_mm)),
        lengthAdjust="spacingAndGlyphs",
    )
    if text.upwards:
        element["transform"] = f"rotate(-90 {x} {y})"
    return element
