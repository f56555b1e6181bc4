"""A correction moves what is drawn and never the paper; what a printer then makes of it is what was meant."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.drawing.book import free_sheet, job_sheets
from dovelayout.drawing.correction import Correction, corrected, for_printer, room_for
from dovelayout.drawing.lettering import box, width_mm
from dovelayout.drawing.primitives import Lines, Sheet, Text
from dovelayout.drawing.sheets.frame import FREE_MARGIN_MM, HEAD_MM
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.job.reader import Job, read_job
from dovelayout.paper import SIZES_MM, Paper, paper

SAMPLE = Path(__file__).parents[2] / "samples" / "bobbin-cabinet.toml"
LEAST, MOST = 1 / 1.05, 1 / 0.95
"""Factors of the furthest readings that are taken."""

FACTORS = st.floats(LEAST, MOST) | st.sampled_from((1.0, 1.004, 0.996))
corrections = st.builds(Correction, printer=st.just("study"), across=FACTORS, up=FACTORS)


@functools.cache
def _job() -> Job:
    return read_job(SAMPLE)


def _sheet(correction: Correction | None, on: Paper) -> tuple[Sheet, Sheet, float]:
    """The first sheet with a template, as it is framed, as it is printed, and its margin."""
    roomy = room_for(correction, on)
    (joint, *_), style = _job().joints, Style(job="Job")
    sheet = job_sheets([joint], style, roomy)[-1]
    return sheet, for_printer(sheet, correction, margin_mm=roomy.margin_mm), roomy.margin_mm


def _ink(sheet: Sheet) -> tuple[float, float, float, float]:
    points = [p for item in sheet.items if isinstance(item, Lines) for s in item.segments for p in (s[:2], s[2:])]
    points += [p for item in sheet.items if isinstance(item, Text) for p in (box(item)[:2], box(item)[2:])]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@given(corrections, st.sampled_from(("A4", "Letter", "A3", "A2")))
def test_a_printer_that_is_off_by_it_prints_what_was_meant(correction: Correction, name: str) -> None:
    plain, printed, _ = _sheet(correction, paper(name))
    assert (printed.width_mm, printed.height_mm) == (plain.width_mm, plain.height_mm) == SIZES_MM[name]
    middle_x, middle_y = printed.width_mm / 2, printed.height_mm / 2
    for before, after in zip(plain.items, printed.items, strict=False):
        if isinstance(before, Lines):
            assert isinstance(after, Lines)
            assert after.role is before.role
            for wanted, drawn in zip(before.segments, after.segments, strict=True):
                # the printer shrinks by 1 / factor, about any point: here the middle
                on_paper = [
                    (middle_x + (drawn[i] - middle_x) / correction.across)
                    if i % 2 == 0
                    else (middle_y + (drawn[i] - middle_y) / correction.up)
                    for i in range(4)
                ]
                assert on_paper == pytest.approx(list(wanted), abs=1e-9)


@given(corrections, st.sampled_from(("A4", "Letter", "A3", "A2")), st.sampled_from((4.0, 8.0)))
def test_nothing_leaves_the_margin(correction: Correction, name: str, margin_mm: float) -> None:
    on = paper(name, margin_mm)
    _, printed, _ = _sheet(correction, on)
    x_min, y_min, x_max, y_max = _ink(printed)
    slack = 1e-6
    assert min(x_min, y_min) >= margin_mm - slack
    assert x_max <= on.width_mm - margin_mm + slack
    assert y_max <= on.height_mm - margin_mm + slack


@given(corrections)
def test_a_text_keeps_inside_the_place_it_was_given(correction: Correction) -> None:
    plain, printed, _ = _sheet(correction, paper("A4"))
    middle_x, middle_y = printed.width_mm / 2, printed.height_mm / 2
    texts = [
        (before, after)
        for before, after in zip(plain.items, printed.items, strict=False)
        if isinstance(before, Text) and isinstance(after, Text)
    ]
    assert len(texts) > 10
    for before, after in texts:
        assert after.text == before.text
        x1, y1, x2, y2 = box(before)
        u1, v1, u2, v2 = box(after)
        assert u1 >= middle_x + (x1 - middle_x) * correction.across - 1e-9
        assert u2 <= middle_x + (x2 - middle_x) * correction.across + 1e-9
        assert v1 >= middle_y + (y1 - middle_y) * correction.up - 1e-9
        assert v2 <= middle_y + (y2 - middle_y) * correction.up + 1e-9


def test_no_correction_changes_nothing() -> None:
    plain, printed, margin_mm = _sheet(None, paper("A4"))
    assert printed is plain
    assert margin_mm == 8.0
    one = Correction(printer="study", across=1.0, up=1.0)
    assert corrected(plain, one) == plain
    assert room_for(one, paper("A4")) == paper("A4")


def test_the_margin_grows_by_what_the_drawing_does() -> None:
    # A4, 8 mm: 97 mm from the middle to the margin; 97 / 1.004 = 96.6135 are left, so the margin is 8.3865
    across = Correction(printer="study", across=1.004, up=1.0)
    assert room_for(across, paper("A4")).margin_mm == pytest.approx(105 - 97 / 1.004)
    up = Correction(printer="study", across=1.0, up=1.004)
    assert room_for(up, paper("A4")).margin_mm == pytest.approx(148.5 - 140.5 / 1.004)
    short = Correction(printer="study", across=0.99, up=0.98)
    assert room_for(short, paper("A4")).margin_mm == 8.0


@pytest.mark.parametrize("printer", ["study", "W" * 32, "Büro"])
@pytest.mark.parametrize("name", ["A5", "A4"])
def test_the_sheet_says_so_in_its_head(printer: str, name: str) -> None:
    correction = Correction(printer=printer, across=1.0040161, up=0.9966777)
    job = _job()
    sheet = for_printer(job_sheets([], Style(job="Job"), paper(name))[0], correction, margin_mm=8.0)
    (note,) = [item for item in sheet.items if isinstance(item, Text) and item.text.startswith("corrected for")]
    assert note.text == f"corrected for {printer}: across × 1.0040, up × 0.9967"
    x1, y1, x2, y2 = box(note)
    assert x2 - x1 == pytest.approx(width_mm(note.text, note.size_mm))
    assert x2 <= sheet.width_mm - 8.0 + 1.0
    assert note.size_mm > 1.4
    others = [box(item) for item in sheet.items if isinstance(item, Text) and item is not note]
    assert all(b[1] > y2 or b[3] < y1 or b[0] > x2 or b[2] < x1 for b in others)
    assert y1 > sheet.height_mm - 8.0 - HEAD_MM
    assert correction.note in sheet.description
    assert job.title


def test_what_would_leave_its_sheet_is_refused() -> None:
    job = _job()
    joint = job.joints[0]
    sheet = free_sheet(joint, joint.end_faces()[0], Style(job="Job"))
    drawn = for_printer(sheet, Correction(printer="study", across=1.01, up=1.01), margin_mm=FREE_MARGIN_MM)
    assert (drawn.width_mm, drawn.height_mm) == (sheet.width_mm, sheet.height_mm)
    with pytest.raises(PrintError, match=r"off its sheet of .* a PDF \(--as pdf\) keeps its margins"):
        for_printer(sheet, Correction(printer="study", across=1.0, up=1.09), margin_mm=FREE_MARGIN_MM)
