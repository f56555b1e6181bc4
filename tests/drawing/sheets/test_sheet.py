"""The frame of a sheet: room on every paper, bars of the length they claim, tiny paper refused."""

from __future__ import annotations

import math

import pytest

from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Anchor, Lines, Role, Sheet, Stroke, Text
from dovelayout.drawing.sheets.frame import Legend, Page, framed, paper_around, room_mm
from dovelayout.drawing.style import Heading
from dovelayout.errors import PrintError
from dovelayout.paper import SIZES_MM, Paper, paper

MARGINS_MM = (4.0, 8.0, 12.7, 15.0)


def _sheet(on: Paper, content: tuple[Lines | Text, ...] = ()) -> Sheet:
    heading = Heading(job="Job", what="What", numbers="1 2 3")
    return framed(Page.of(content, heading, Legend.TEMPLATE), on, number=2, of=5)


def _bars(sheet: Sheet) -> tuple[tuple[Stroke, ...], tuple[Stroke, ...]]:
    across, up = (item.segments for item in sheet.items if isinstance(item, Lines) and item.role is Role.BAR)
    return across, up


def _words(sheet: Sheet) -> list[str]:
    return [item.text for item in sheet.items if isinstance(item, Text)]


@pytest.mark.parametrize("margin_mm", MARGINS_MM)
@pytest.mark.parametrize("name", SIZES_MM)
def test_room_and_bars_on_every_paper(name: str, margin_mm: float) -> None:
    on = paper(name, margin_mm)
    wide, high = room_mm(on)
    assert 0 < wide < on.width_mm - 2 * margin_mm
    assert 0 < high < on.height_mm - 2 * margin_mm
    sheet = _sheet(on)
    assert (sheet.width_mm, sheet.height_mm) == (on.width_mm, on.height_mm)
    for segments, axis, room in zip(_bars(sheet), (0, 1), room_mm(on), strict=True):
        x1, y1, x2, y2 = segments[0]
        length = 150 if room >= 150 else 100
        assert ((x2 - x1, y2 - y1)[axis], (x2 - x1, y2 - y1)[1 - axis]) == pytest.approx((length, 0))
        # ticks: the ends, every cm between, every inch below
        ticks = [s[axis] - segments[0][axis] for s in segments[1:]]
        cms = [10.0 * i for i in range(1, length // 10)]
        inches = [25.4 * i for i in range(1, int(length / 25.4) + 1)]
        assert sorted(ticks) == pytest.approx(sorted([0.0, length, *cms, *inches]))
        said = ("across", "up")[axis]
        assert any(word.startswith(f"{said}: {length} mm between the end ticks") for word in _words(sheet))
        figures = [item for item in sheet.items if isinstance(item, Text) and item.upwards == bool(axis)]
        assert f"{length} mm" in [figure.text for figure in figures]
    assert any("inches, 5 in all" in word or "inches, 3 in all" in word for word in _words(sheet))


def test_figures_stand_at_their_ticks() -> None:
    for on in (paper("A4"), paper("A5")):
        sheet = _sheet(on)
        for axis, segments in enumerate(_bars(sheet)):
            zero = segments[0][axis]
            for item in sheet.items:
                if isinstance(item, Text) and item.upwards == bool(axis) and item.text in ("50", "100"):
                    assert item.anchor is Anchor.MIDDLE
                    assert (item.x_mm, item.y_mm)[axis] - zero == pytest.approx(float(item.text))


@pytest.mark.parametrize(("width_mm", "height_mm"), [(105, 297), (210, 150), (50, 50), (20, 20)])
def test_paper_too_small_for_a_bar_is_refused(width_mm: float, height_mm: float) -> None:
    tiny = Paper(name="slip", width_mm=width_mm, height_mm=height_mm, margin_mm=8.0)
    with pytest.raises(PrintError, match="slip with 8 mm margins is too small for a 100 mm scale bar"):
        _sheet(tiny)


def test_the_least_paper() -> None:
    _sheet(Paper(name="least", width_mm=100 + 16 + 14, height_mm=100 + 16 + 24 + 17))
    with pytest.raises(PrintError):
        _sheet(Paper(name="less", width_mm=100 + 16 + 13.9, height_mm=300))
    with pytest.raises(PrintError):
        _sheet(Paper(name="less", width_mm=300, height_mm=100 + 16 + 24 + 16.9))


def test_content_is_set_into_the_room_and_nothing_is_scaled() -> None:
    on = paper("A4", 10)
    wide, high = room_mm(on)
    content = (Lines(role=Role.KNIFE, segments=((0.0, 0.0, wide, high),)), Text(x_mm=3, y_mm=4, text="here", size_mm=3))
    sheet = _sheet(on, content)
    (line,) = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.KNIFE]
    x1, y1, x2, y2 = line.segments[0]
    assert (x2 - x1, y2 - y1) == pytest.approx((wide, high))
    (text,) = [item for item in sheet.items if isinstance(item, Text) and item.text == "here"]
    assert (text.x_mm - x1, text.y_mm - y1) == pytest.approx((3, 4))
    # the room is clear of the frame
    for item in sheet.items:
        if isinstance(item, Text) and item.text != "here":
            a, b, c, d = box(item)
            assert c <= x1 or a >= x2 or d <= y1 or b >= y2, item.text
        elif isinstance(item, Lines) and item.role is Role.BAR:
            for a, b, c, d in item.segments:
                assert max(a, c) <= x1 or min(a, c) >= x2 or max(b, d) <= y1 or min(b, d) >= y2


@pytest.mark.parametrize(("width_mm", "height_mm"), [(10, 10), (200, 90), (90, 400), (900, 900)])
def test_a_sheet_to_measure_has_just_that_room_or_what_the_bars_need(width_mm: float, height_mm: float) -> None:
    on = paper_around((width_mm - 4.0, height_mm - 4.0))  # 2 mm of air all round
    wide, high = room_mm(on)
    assert wide >= width_mm
    assert high >= height_mm
    assert (width_mm < 162) or math.isclose(wide, width_mm)
    assert (height_mm < 156) or math.isclose(high, height_mm)
    for segments in _bars(_sheet(on)):
        assert math.dist(segments[0][:2], segments[0][2:]) == pytest.approx(150)


def test_the_head_says_job_and_number_and_how_to_print() -> None:
    words = _words(_sheet(paper("Letter")))
    assert {"What", "1 2 3", "Job", "sheet 2 of 5"} <= set(words)
    assert any(word.startswith("PRINT AT 100 %, ACTUAL SIZE.") and word.endswith(".") for word in words)
    assert any(word.startswith("HATCHED = WASTE.") and word.endswith(".") for word in words)


def test_a_stamp_takes_the_place_of_the_jobs_name() -> None:
    heading = Heading(job="Job", what="What", stamp="OVERRULED")
    sheet = framed(Page.of((), heading, Legend.NONE), paper("A4"))
    assert "OVERRULED" in _words(sheet)
    assert not any("HATCHED" in word for word in _words(sheet))
