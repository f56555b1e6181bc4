"""Troubles of printing true size, as makers report them. Common practice, no source."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from dovelayout.checks.finding import Level, worst_level
from dovelayout.cli.main import app
from dovelayout.drawing.book import job_sheets
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Text
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.job.reader import read_job
from dovelayout.paper import paper
from dovelayout.printer.reading import Calibration, PaperAxis, reading, reading_findings
from tests import readers
from tests.gallery import SAMPLES, draw, files_in, kept
from tests.jobs import corner_job, loaded

PRINTABLE_MM = {"A4": (194.0, 281.0), "Letter": (199.9, 263.4)}
"""The paper less the 8 mm that the sheets keep on every side."""


def read(across_mm: float, up_mm: float, bar_mm: float) -> Calibration:
    return Calibration(
        name="study",
        across=reading(PaperAxis.ACROSS, bar_mm=bar_mm, measured_mm=across_mm),
        up=reading(PaperAxis.UP, bar_mm=bar_mm, measured_mm=up_mm),
    )


def calibrate(*args: str) -> Result:
    return CliRunner().invoke(app, ["calibrate", *args])


def test_a_viewer_that_shrank_the_page_to_96_5_percent_is_found_out() -> None:
    shrunk = read(96.5, 96.5, 100.0)
    findings = reading_findings(shrunk)
    assert worst_level(findings) is Level.STOP
    assert shrunk.correction.across == pytest.approx(1.036, abs=0.0005)
    assert all("1.036" in finding.fix and "fit to page" in finding.message for finding in findings)
    result = calibrate("--measured-x", "96.5", "--measured-y", "96.5", "--bar", "100")
    assert result.exit_code == 1
    assert "1.036" in result.stdout


@pytest.mark.parametrize(("measured_mm", "bar_mm"), [(99.8, 100.0), (149.6, 150.0)])
def test_a_bar_within_a_rules_reading_is_good_as_it_is(measured_mm: float, bar_mm: float) -> None:
    good = read(measured_mm, measured_mm, bar_mm)
    assert good.good_as_it_is
    assert reading_findings(good) == ()
    result = calibrate("--measured-x", f"{measured_mm}", "--measured-y", f"{measured_mm}", "--bar", f"{bar_mm:g}")
    assert result.exit_code == 0
    assert "No correction is needed" in result.stdout


def test_a_printer_that_is_long_in_the_feed_direction_alone_is_corrected_there_alone() -> None:
    feed = read(150.0, 150.6, 150.0)
    assert feed.correction.across == 1.0
    assert feed.correction.up == pytest.approx(0.996, abs=0.0001)
    assert [(row.where, row.level) for row in reading_findings(feed)] == [("printer study, up", Level.NOTE)]


@pytest.mark.parametrize("only", ["--measured-x", "--measured-y"])
def test_one_factor_for_both_ways_can_not_be_entered(only: str) -> None:
    result = calibrate(only, "150.6", "--printer", "study")
    assert result.exit_code == 2
    assert "is missing" in result.stderr


def test_a4_fitted_to_letter_is_refused_as_no_reading() -> None:
    with pytest.raises(PrintError, match="fitted to another paper"):
        read(134.7, 134.7, 150.0)  # 89.8 %


def svg_scale(width: str, view_mm: float, pixels_per_inch: float) -> float:
    """How many mm a unit of a drawing becomes in a reader that takes so many pixels, or bare numbers, for an inch."""
    number, unit = re.fullmatch(r"([\d.]+)(mm|px|)", width).groups()  # type: ignore[union-attr]
    return (float(number) if unit == "mm" else float(number) / pixels_per_inch * 25.4) / view_mm


def test_a_drawing_in_svg_is_as_large_whatever_a_reader_takes_a_pixel_for(tmp_path: Path) -> None:
    draw(SAMPLES[0], tmp_path, "--as", "svg")
    for data in files_in(tmp_path).values():
        drawing = readers.svg_drawing(data.decode("utf-8"))
        attributes = drawing.root.attrib
        bars = [s for s in drawing.strokes["bar"] if math.dist(s.ends[:2], s.ends[2:]) > 90]
        assert len(bars) == 2
        for x1, y1, x2, y2 in (bar.ends for bar in bars):
            for pixels_per_inch in (96.0, 90.0, 72.0):
                across = svg_scale(attributes["width"], drawing.width_mm, pixels_per_inch)
                up = svg_scale(attributes["height"], drawing.height_mm, pixels_per_inch)
                assert math.hypot((x2 - x1) * across, (y2 - y1) * up) == pytest.approx(150.0, abs=0.001)
    # what comes of pixels: 50 mm written at 90 to the inch and read at 96 are 46.88 mm
    assert 50.0 * svg_scale(f"{50 / 25.4 * 90}", 50.0, 96.0) == pytest.approx(46.88, abs=0.01)


def test_the_flag_against_scaling_is_there_and_so_are_the_words_and_a_ruler(tmp_path: Path) -> None:
    for sample in SAMPLES[:2]:
        draw(sample, tmp_path, "--as", "pdf")
        path = tmp_path / f"{sample.stem}.pdf"
        with readers.opened(path) as pdf:
            assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
            pages = len(pdf.pages)
        for number in range(pages):
            words = " ".join(readers.pdf_texts(path, number).split())
            assert "PRINT AT 100 %, ACTUAL SIZE" in words
            lengths = [math.dist(s.ends[:2], s.ends[2:]) for s in readers.pdf_segments(path, number)]
            assert sum(abs(length - 150.0) < 0.01 for length in lengths) >= 2


def test_a_long_board_is_parted_with_overlaps_and_nothing_hangs_on_the_papers_edge() -> None:
    job = loaded(corner_job(width=600, thickness=19, tail_count=12, pin=8, half_pin=10))
    sheets = [s for s in job_sheets(job.joints, Style(job="Job", nest=False), paper("A4")) if "tails on" in s.title]
    assert len(sheets) == 3
    for sheet in sheets:
        for x1, y1, x2, y2 in (s for item in sheet.items if isinstance(item, Lines) for s in item.segments):
            assert min(x1, x2) >= 8.0 - 1e-6
            assert max(x1, x2) <= 202.0 + 1e-6
            assert min(y1, y2) >= 8.0 - 1e-6
            assert max(y1, y2) <= 289.0 + 1e-6


@pytest.mark.parametrize("name", ["A4", "Letter"])
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_everything_stays_inside_what_both_kinds_of_printer_reach(sample: Path, name: str) -> None:
    job = read_job(sample)
    on = paper(name)
    for sheet in job_sheets(job.joints, Style(job=job.title), on, job.dividers):
        boxes = [box(item) for item in sheet.items if isinstance(item, Text)]
        boxes += [
            (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
            for item in sheet.items
            if isinstance(item, Lines)
            for x1, y1, x2, y2 in item.segments
        ]
        low_x, low_y, high_x, high_y = (
            pick(side) for pick, side in zip((min, min, max, max), zip(*boxes, strict=True), strict=True)
        )
        assert min(low_x, low_y) >= 8.0 - 1e-6
        assert high_x - 8.0 <= PRINTABLE_MM[name][0] + 1e-6
        assert high_y - 8.0 <= PRINTABLE_MM[name][1] + 1e-6


def test_no_stray_item_lies_past_the_edge_where_a_browser_would_shrink_for_it() -> None:
    for sample in SAMPLES:
        for data in (data for name, data in kept(sample).items() if name.endswith(".svg")):
            drawing = readers.svg_drawing(data.decode("utf-8"))
            for strokes in drawing.strokes.values():
                for x1, y1, x2, y2 in (stroke.ends for stroke in strokes):
                    assert 0.0 < min(x1, x2) <= max(x1, x2) < drawing.width_mm
                    assert 0.0 < min(y1, y2) <= max(y1, y2) < drawing.height_mm
            for element, (_, place, anchor) in zip(
                (e for e in drawing.root.iter() if e.tag.endswith("}text")), drawing.texts, strict=True
            ):
                long_mm = float(element.attrib["textLength"])
                back = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * long_mm
                at, side = (place.y, drawing.height_mm) if place.degrees else (place.x, drawing.width_mm)
                assert at - back > 0.0
                assert at - back + long_mm < side


def test_a_browser_is_told_the_size_of_the_page_in_mm(tmp_path: Path) -> None:
    draw(SAMPLES[0], tmp_path, "--as", "svg")
    for data in files_in(tmp_path).values():
        text = data.decode("utf-8")
        drawing = readers.svg_drawing(text)
        size = f"@page {{ size: {drawing.width_mm:.4f}".rstrip("0").rstrip(".")
        assert size in text
        assert "margin: 0" in text
