"""Room for words: widths against reportlab, heights against the font's own outlines."""

from __future__ import annotations

import itertools

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont as PdfFont

from dovelayout.drawing.lettering import (
    ASCENT,
    DESCENT,
    MISSING,
    ascent,
    box,
    descent,
    font_path,
    printable,
    shortened,
    width_mm,
    wrapped,
)
from dovelayout.drawing.primitives import Anchor, Text

with TTFont(font_path()) as _font:
    HELD = "".join(sorted(map(chr, _font.getBestCmap())))

registerFont(PdfFont("lettering-test", str(font_path())))

SAMPLES = (
    "TAILS on side, left end",
    "▼ FACE EDGE",
    "gauge 19.4 mm for THIS board",
    "slope 1:7 (8.1°)",
    "160 mm × 16 mm, ≈ 3/4 in",
    "(0.4 mm proud of its mate) jgpqy",
    "PRINT AT 100 %, ACTUAL SIZE. Measure both bars",
    "• numbers …",
    "Åsa Škoda's ÉTAGÈRE, façade",
)
texts = st.text(alphabet=HELD, max_size=60)


def _outline(text: str, size_mm: float) -> tuple[float, float, float, float]:
    """Bounds of the letters' outlines, from the font itself."""
    with TTFont(font_path()) as font:
        glyphs, names, per_em = font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm
        at, found = 0.0, []
        for letter in text:
            name = names[ord(letter)]
            pen = BoundsPen(glyphs)
            glyphs[name].draw(pen)
            if pen.bounds:
                found.append((at + pen.bounds[0], pen.bounds[1], at + pen.bounds[2], pen.bounds[3]))
            at += glyphs[name].width
    scale = size_mm / per_em
    return (
        scale * min(b[0] for b in found),
        scale * min(b[1] for b in found),
        scale * max(b[2] for b in found),
        scale * max(b[3] for b in found),
    )


@given(text=texts, size_mm=st.integers(10, 100).map(lambda n: n / 10))
def test_widths_are_reportlabs(text: str, size_mm: float) -> None:
    # reportlab keeps widths in thousandths of the size, rounded
    theirs = stringWidth(text, "lettering-test", size_mm)
    assert width_mm(text, size_mm) == pytest.approx(theirs, abs=1e-3 * size_mm * (len(text) + 1))


@pytest.mark.parametrize("text", SAMPLES)
def test_letters_stay_within_their_box(text: str) -> None:
    x1, y1, x2, y2 = box(Text(x_mm=0, y_mm=0, text=text, size_mm=10))
    left, bottom, right, top = _outline(text, 10)
    assert y1 <= bottom
    assert top <= y2
    # a letter may lean a hair over its own width
    assert x1 <= left + 0.3
    assert right <= x2 + 0.3
    assert x2 - right < 2.0


def test_the_usual_heights_hold_for_letters_without_accents_and_are_not_wasteful() -> None:
    plain = "".join(ch for ch in HELD if 0x20 < ord(ch) < 0x7F and ch not in "`|")
    assert (ascent(plain), descent(plain)) == (ASCENT, DESCENT)
    _, bottom, _, top = _outline(plain, 1.0)
    assert -DESCENT <= bottom < -DESCENT + 0.05
    assert ASCENT - 0.05 < top <= ASCENT


@given(text=texts.filter(lambda text: text.strip() != ""))
def test_boxes_hold_accents_and_cedillas_too(text: str) -> None:
    _, y1, _, y2 = box(Text(x_mm=0, y_mm=0, text=text, size_mm=10))
    _, bottom, _, top = _outline(text, 10)
    assert y1 <= bottom + 1e-9
    assert top <= y2 + 1e-9


@pytest.mark.parametrize("anchor", list(Anchor))
@pytest.mark.parametrize("upwards", [False, True])
def test_boxes_stand_where_the_text_is_anchored(anchor: Anchor, upwards: bool) -> None:
    text = Text(x_mm=50, y_mm=30, text="Tails", size_mm=5, anchor=anchor, upwards=upwards)
    x1, y1, x2, y2 = box(text)
    across = width_mm("Tails", 5)
    along = (y1, y2) if upwards else (x1, x2)
    base = 30 if upwards else 50
    wanted = {Anchor.START: (0, across), Anchor.MIDDLE: (-across / 2, across / 2), Anchor.END: (-across, 0)}[anchor]
    assert (along[0] - base, along[1] - base) == pytest.approx(wanted)
    # turned a quarter left, up is to the left
    assert ((50 - x1, x2 - 50) if upwards else (y2 - 30, 30 - y1)) == pytest.approx((ASCENT * 5, DESCENT * 5))


@given(text=st.text(max_size=60))
def test_anything_becomes_one_line_of_letters_that_the_font_holds(text: str) -> None:
    line = printable(text)
    assert all(letter in HELD for letter in line)
    assert line == printable(line)
    assert "\n" not in line


def test_what_the_font_lacks_is_shown_as_missing() -> None:
    assert printable("a\u4e2db\n\tc\x00d") == f"a{MISSING}b c d"
    assert MISSING in HELD


@given(text=texts, size_mm=st.integers(10, 60).map(lambda n: n / 10), room_mm=st.integers(1, 100))
def test_shortened_fits_and_keeps_all_that_fits(text: str, size_mm: float, room_mm: int) -> None:
    line = shortened(text, size_mm, room_mm)
    assert width_mm(line, size_mm) <= room_mm + 1e-9 or line == ""
    if width_mm(printable(text), size_mm) <= room_mm:
        assert line == printable(text)
    elif line:
        assert line.endswith("…")
        assert printable(text).startswith(line[:-1])


@given(words=st.lists(st.text(alphabet="abcdefghij.,", min_size=1, max_size=9), min_size=1, max_size=20))
def test_wrapped_keeps_every_word_in_order(words: list[str]) -> None:
    lines = wrapped(" ".join(words), 3.0, 40.0)
    assert " ".join(lines).split() == words
    assert all(width_mm(line, 3.0) <= 40.0 for line in lines)
    # no line could have taken the next one's first word
    for line, after in itertools.pairwise(lines):
        assert width_mm(f"{line} {after.split()[0]}", 3.0) > 40.0
