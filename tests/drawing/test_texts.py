"""Words never stand on lines or on each other, and nothing leaves the part of the sheet that printers reach."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.drawing.book import free_sheet, job_sheets
from dovelayout.drawing.cards.gauge import gauge_sheet
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Sheet, Text
from dovelayout.drawing.sheets.frame import BARS_MM
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd, ends_of
from dovelayout.drawing.template.tile import tile_items, whole
from dovelayout.errors import PrintError
from dovelayout.job.reader import read_job
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.slope import Slope
from dovelayout.paper import SIZES_MM, Paper, paper
from dovelayout.report.bench import bench_sheet
from dovelayout.units import Unit
from dovelayout.verdict.verdict import judged
from tests.strategies import through_joints

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
FREE_MARGIN_MM = 5.0
TOUCH_MM = 1e-6


def _frame(sheet: Sheet) -> str:
    return f"{sheet.title!r} on {sheet.width_mm:g} x {sheet.height_mm:g}"


def _check(sheet: Sheet, margin_mm: float) -> None:
    texts = [item for item in sheet.items if isinstance(item, Text)]
    segments = [s for item in sheet.items if isinstance(item, Lines) for s in item.segments]
    boxes = [
        shapely.box(x1 + TOUCH_MM, y1 + TOUCH_MM, x2 - TOUCH_MM, y2 - TOUCH_MM) for x1, y1, x2, y2 in map(box, texts)
    ]
    assert all(text.text for text in texts)

    strokes = shapely.linestrings([((x1, y1), (x2, y2)) for x1, y1, x2, y2 in segments])
    on_lines = shapely.STRtree(strokes).query(boxes, predicate="intersects")
    assert on_lines.shape[1] == 0, f"{_frame(sheet)}: {texts[on_lines[0][0]].text!r} on {segments[on_lines[1][0]]}"

    pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects")
    both = [(texts[a].text, texts[b].text) for a, b in pairs.T if a < b]
    assert not both, f"{_frame(sheet)}: {both}"

    low = margin_mm - TOUCH_MM
    right, top = sheet.width_mm - margin_mm + TOUCH_MM, sheet.height_mm - margin_mm + TOUCH_MM
    for what, x1, y1, x2, y2 in chain(
        (("line", *segment) for segment in segments), ((text.text, *box(text)) for text in texts)
    ):
        assert low <= min(x1, x2) <= max(x1, x2) <= right, f"{_frame(sheet)}: {what} {x1, x2}"
        assert low <= min(y1, y2) <= max(y1, y2) <= top, f"{_frame(sheet)}: {what} {y1, y2}"


def _check_frame(sheet: Sheet) -> None:
    """Every sheet carries its head, both bars and the words that keep it at full size."""
    words = [item.text for item in sheet.items if isinstance(item, Text)]
    assert any("PRINT AT 100 %, ACTUAL SIZE" in word for word in words)
    assert any(word.startswith("sheet ") for word in words)
    bars = [item for item in sheet.items if isinstance(item, Lines) and item.role is Role.BAR]
    across, up = (max(abs(s[2] - s[0]) + abs(s[3] - s[1]) for s in bar.segments) for bar in bars)
    assert across in [pytest.approx(bar) for bar in BARS_MM]
    assert up in [pytest.approx(bar) for bar in BARS_MM]
    assert any(word.startswith(f"across: {across:g} mm") for word in words)
    assert any(word.startswith(f"up: {up:g} mm") for word in words)


@pytest.mark.parametrize("nest", [True, False], ids=["nested", "one a sheet"])
@pytest.mark.parametrize("stamp", ["", "NOT TO BE CUT: 3 findings say stop"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sheet_of_every_sample(path: Path, stamp: str, nest: bool) -> None:
    job = read_job(path)
    style = Style(job=job.title, unit=job.unit, stamp=stamp, nest=nest)
    sheets = job_sheets(job.joints, style, job.paper, job.dividers, bench=bench_sheet(judged(job)))
    if not nest:
        assert len(sheets) > 2 * len(job.joints)
    for sheet in sheets:
        assert (sheet.width_mm, sheet.height_mm) == (job.paper.width_mm, job.paper.height_mm)
        _check(sheet, job.paper.margin_mm)
        _check_frame(sheet)
        assert not stamp or stamp in [item.text for item in sheet.items if isinstance(item, Text)]
    # every template says what it is, on its own or in the head of its sheet
    together = " ".join(item.text for sheet in sheets for item in sheet.items if isinstance(item, Text))
    for end in ends_of(job.joints, style):  # what serves several drawers stands there once
        said = f"Corner {end.joint.name}: {end.faces.part} on {end.faces.end.label}"
        assert said in together  # on one row or on several
    for joint in job.joints:
        for faces in joint.end_faces():
            sheet = free_sheet(joint, faces, style)
            _check(sheet, FREE_MARGIN_MM)
            _check_frame(sheet)


@st.composite
def _papers(draw: st.DrawFn) -> Paper:
    return paper(draw(st.sampled_from(sorted(SIZES_MM))), draw(st.sampled_from((5.0, 8.0, 12.7, 15.0))))


@given(joint=through_joints(), on=_papers(), unit=st.sampled_from(Unit), nest=st.booleans())
def test_any_corner_on_any_paper(joint: ThroughJoint, on: Paper, unit: Unit, nest: bool) -> None:
    style = Style(job="Årets ÉTAGÈRE, façade", unit=unit, nest=nest)
    try:
        sheets = job_sheets([joint], style, on)
    except PrintError:
        sheets = ()  # too large for that paper, and said so
    for sheet in sheets:
        _check(sheet, on.margin_mm)
        _check_frame(sheet)
    for faces in joint.end_faces():
        sheet = free_sheet(joint, faces, style)
        _check(sheet, FREE_MARGIN_MM)
        _check_frame(sheet)


@given(joint=through_joints(whole_width=True))
def test_a_template_says_what_it_is(joint: ThroughJoint) -> None:
    """However narrow the board: the corner's letter, the face edge, on both faces, or at least on one."""
    for faces in joint.end_faces():
        if faces.end.board.width_mm < 40:
            continue
        template = CornerEnd(joint=joint, faces=faces, style=Style(job="words")).template()
        words = [item.text for item in tile_items(template, whole(template)) if isinstance(item, Text)]
        assert words.count("▼ FACE EDGE") == 2
        assert words.count("OUTSIDE FACE") == 1
        assert words.count("INSIDE FACE") == 1
        assert sum(word == joint.name for word in words) == 2


@pytest.mark.parametrize("ratio", [2.0, 5.0, 6.0, 7.0, 7.115, 8.0, 14.0])
@pytest.mark.parametrize("thickness_mm", [4.0, 19.0, 45.0])
def test_gauges(ratio: float, thickness_mm: float) -> None:
    sheet = gauge_sheet(Slope(ratio), thickness_mm, Style(job="gauge"))
    _check(sheet, FREE_MARGIN_MM)
    _check_frame(sheet)


def test_long_names_are_cut_rather_than_run_over() -> None:
    job = read_job(SAMPLES[0])
    style = Style(job="A very long name of a job " * 12, stamp="Said to be drawn all the same " * 12)
    joint = job.joints[0].varied(name="the corner at the far left of the back " * 8)
    for sheet in job_sheets([joint], style, job.paper):
        _check(sheet, job.paper.margin_mm)
