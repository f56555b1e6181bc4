"""The calibration sheet: bars of the length they claim on every paper, words clear of lines, nothing off the sheet."""

from __future__ import annotations

import pytest
import shapely

from dovelayout.drawing.cards.calibration import calibration_sheet
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Sheet, Stroke, Text
from dovelayout.errors import PrintError
from dovelayout.paper import SIZES_MM, Paper, paper

BARS: dict[str, tuple[set[float], set[float]]] = {
    "A5": ({100.0}, {150.0}),
    "A4": ({150.0}, {150.0, 250.0}),
    "Letter": ({150.0}, {150.0, 250.0}),
    "Legal": ({150.0}, {150.0, 250.0}),
    "A3": ({150.0, 250.0}, {150.0, 250.0}),
    "A0": ({150.0, 250.0}, {150.0, 250.0}),
}
"""Bars across and up."""


def bars(sheet: Sheet) -> tuple[list[Stroke], list[Stroke]]:
    """The long strokes of bars, across and up, that have ticks at both ends."""
    strokes = [s for item in sheet.items if isinstance(item, Lines) and item.role is Role.BAR for s in item.segments]
    found: tuple[list[Stroke], list[Stroke]] = ([], [])
    for stroke in strokes:
        for axis in (0, 1):
            if stroke[1 - axis] == stroke[3 - axis] and abs(stroke[axis + 2] - stroke[axis]) > 90:
                ends = [
                    tick
                    for end in (stroke[axis], stroke[axis + 2])
                    for tick in strokes
                    if tick[axis] == tick[axis + 2] == end
                    and min(tick[1 - axis], tick[3 - axis]) < stroke[1 - axis] < max(tick[1 - axis], tick[3 - axis])
                ]
                assert len(ends) == 2
                found[axis].append(stroke)
    return found


@pytest.mark.parametrize("name", SIZES_MM)
def test_bars_on_every_paper(name: str) -> None:
    sheet = calibration_sheet(paper(name))
    assert (sheet.width_mm, sheet.height_mm) == SIZES_MM[name]
    across, up = bars(sheet)
    lengths = [sorted(round(s[i + 2] - s[i], 9) for s in rows) for i, rows in enumerate((across, up))]
    words = [item.text for item in sheet.items if isinstance(item, Text)]
    for rows, said in zip(lengths, ("across", "up"), strict=True):
        assert rows
        for length in rows:
            assert any(text.startswith(f"{said}: {length:g} mm, ") for text in words)
    if name in BARS:
        assert (set(lengths[0]), set(lengths[1])) == BARS[name]


@pytest.mark.parametrize("margin_mm", [4.0, 8.0, 12.7])
@pytest.mark.parametrize("name", SIZES_MM)
def test_words_are_clear_of_lines_and_of_each_other_and_nothing_leaves_the_margin(name: str, margin_mm: float) -> None:
    sheet = calibration_sheet(paper(name, margin_mm))
    texts = [shapely.box(*box(item)).buffer(-1e-6) for item in sheet.items if isinstance(item, Text)]
    lines = [
        shapely.LineString([s[:2], s[2:]]) for item in sheet.items if isinstance(item, Lines) for s in item.segments
    ]
    tree = shapely.STRtree(texts)
    assert len(tree.query(texts, predicate="intersects").T) == len(texts)
    assert len(tree.query(lines, predicate="intersects").T) == 0
    printable = shapely.box(margin_mm, margin_mm, sheet.width_mm - margin_mm, sheet.height_mm - margin_mm).buffer(1e-6)
    assert all(printable.contains(part) for part in (*texts, *lines))


def test_it_says_what_to_do_and_what_to_type() -> None:
    def said(name: str) -> str:
        return " ".join(item.text for item in calibration_sheet(paper(name)).items if isinstance(item, Text))

    for words in ("100 %, actual size", "LEFT edge", "LOWER edge", "--measured-x 149.4 --measured-y 150.7 --paper A4"):
        assert words in said("A4")
    assert "--measured-x 99.4 --measured-y 150.7 --bar 100 --bar-y 150" in said("A5")


def test_paper_without_room_for_a_bar_is_refused() -> None:
    for width_mm, height_mm in ((100.0, 300.0), (300.0, 100.0)):
        with pytest.raises(PrintError, match="too small for a bar of 100 mm each way"):
            calibration_sheet(Paper(name="card", width_mm=width_mm, height_mm=height_mm))
