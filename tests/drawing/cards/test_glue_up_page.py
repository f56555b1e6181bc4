"""The bench page and the cauls as they come out on paper, read back with readers that are not the project's."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdf
import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.drawing.cards.caul import caul_sheet
from dovelayout.drawing.cards.glue_up_page import glue_up_sheets
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.glueup.caul import caul_for
from dovelayout.glueup.plan import plan_glue_up
from dovelayout.glueup.words import cauls_by_shape, grouped_findings
from dovelayout.job.reader import read_job
from dovelayout.paper import SIZES_MM, paper
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.svg import svg_text
from tests.drawing.test_texts import _check, _check_frame
from tests.glue_jobs import glue_box, planned
from tests.jobs import loaded
from tests.readers import matched, pdf_segments, pdf_texts, svg_drawing

SAMPLES = sorted((Path(__file__).parents[3] / "samples").glob("*.toml"))


def _sheets(tables: dict[str, Any], size: str = "A4") -> Any:
    plan = planned(tables)
    return glue_up_sheets(plan, plan.findings, Style(job="Case"), paper(size))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_one_page_and_its_cauls(path: Path) -> None:
    job = read_job(path)
    plan = plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop)
    sheets = glue_up_sheets(plan, plan.findings, Style(job=job.title, unit=job.unit), job.paper)
    assert [sheet.title.endswith("glue-up") for sheet in sheets].count(True) == 1
    for sheet in sheets:
        _check(sheet, job.paper.margin_mm)
        _check_frame(sheet)


@pytest.mark.parametrize("size", [name for name in SIZES_MM if name not in ("A0", "A1")])
@pytest.mark.parametrize("width", [90, 470])
def test_nothing_overlaps_on_any_paper(size: str, width: float) -> None:
    held = [{"name": "a rail of a very long name that goes on " + "and on " * 2, "in": "case", "reach": "inside"}]
    job = glue_box(tail_count=9 if width > 100 else 3, width=width, captured=held, box={"proud": 0.5})
    sheets = _sheets(job, size)
    assert sheets
    for sheet in sheets:
        _check(sheet, paper(size).margin_mm)
        _check_frame(sheet)


def test_a_big_job_runs_on() -> None:
    job = glue_box()
    job["box"] = [{**job["box"][0], "name": f"drawer {n}"} for n in range(1, 16)]
    sheets = _sheets(job)
    pages = [sheet for sheet in sheets if sheet.title.endswith("glue-up")]
    assert len(pages) > 1
    for sheet in sheets:
        _check(sheet, 8.0)
    # fifteen alike boxes need one caul
    assert len(sheets) == len(pages) + 1


def test_what_stands_on_the_page() -> None:
    held = [{"name": "panel", "in": "case", "finish_first": True}]
    job = glue_box(length=1295, across=203, width=102, tail_count=3, captured=held, shop={"glue": "epoxy"})
    text = " ".join(pdf_texts(pdf_bytes(_sheets(job), title="t")).split())
    for words in (
        "THE LABEL ON THE BOTTLE COMES FIRST",
        "finish panel first",
        "put panel in: nothing gets past corners B, C afterwards",
        "two schools",
        "check wind; bed to flat",
        "Sight across winding sticks",
        "spreader 165 mm",
        "slow epoxy: sensitises the skin: gloves",
        "Clamps slip and spit cauls out",
        "about half an hour",
        "about 50 mm at its middle",
        "overnight",
    ):
        assert words in text, words


# --- cauls at true scale ---


def _expected(joint: Any) -> list[tuple[float, float, float, float]]:
    """The caul's stepped edge, worked out here from the joint's pins alone: x from the back of the strip, y along it."""
    width = joint.covers.width_mm
    deep, high = 3.0, 19.0
    edges = []
    at = 0.0
    for pin in joint.pins:
        low, up = max(0.0, pin.root_start_mm - 1), min(width, pin.root_end_mm + 1)
        if low > at:
            edges.append((high, at, high, low))
        edges.append((high - deep, low, high - deep, up))
        edges += [(high - deep, step, high, step) for step in (low, up) if 0 < step < width]
        at = up
    if at < width:
        edges.append((high, at, high, width))
    ends = high - deep if joint.pins[0].root_start_mm < 1 else high
    return [*edges, (0.0, 0.0, 0.0, width), (0.0, 0.0, ends, 0.0), (0.0, width, ends, width)]


def _sorted(segment: tuple[float, ...]) -> tuple[float, ...]:
    x1, y1, x2, y2 = segment
    return (x1, y1, x2, y2) if (x1, y1) <= (x2, y2) else (x2, y2, x1, y1)


def _joint(width: float, tails: int, **keys: Any) -> Any:
    return loaded(glue_box(width=width, tail_count=tails, box=keys)).joints[0]


@pytest.mark.parametrize(("width", "tails"), [(160, 4), (90, 2), (610, 14)])
def test_a_caul_in_svg_is_the_joint_at_full_size(width: float, tails: int) -> None:
    joint = _joint(width, tails)
    drawing = svg_drawing(svg_text(caul_sheet(caul_for(joint), ["A"], Style(job="t"))))
    strokes = [_sorted(stroke.ends) for stroke in drawing.strokes["knife"]]
    left = min(stroke[0] for stroke in strokes)
    bottom = min(stroke[1] for stroke in strokes)
    found = [(a - left, b - bottom, c - left, d - bottom) for a, b, c, d in strokes]
    result = matched([_sorted(row) for row in _expected(joint)], found, 0.005)
    assert result.missing == []
    assert result.extra == []


def test_a_caul_in_pdf_is_the_joint_at_full_size() -> None:
    joint = _joint(160, 4)
    sheets = _sheets(glue_box(width=160, tail_count=4))
    strokes = [
        _sorted(stroke.ends)
        for stroke in pdf_segments(pdf_bytes(sheets, title="t"), page=len(sheets) - 1)
        if stroke.width_mm == pytest.approx(0.1, abs=0.01) and not stroke.dash_mm and stroke.x1 < 150
    ]
    # the strip's back is the longest upright line of the drawing
    back = max((s for s in strokes if s[0] == pytest.approx(s[2])), key=lambda s: s[3] - s[1])
    assert back[3] - back[1] == pytest.approx(160, abs=0.005)
    found = [(a - back[0], b - back[1], c - back[0], d - back[1]) for a, b, c, d in strokes]
    assert matched([_sorted(row) for row in _expected(joint)], found, 0.01).missing == []


def test_a_caul_longer_than_the_paper_adds_up() -> None:
    sheets = _sheets(glue_box(width=610, tail_count=14))
    cauls = [sheet for sheet in sheets if "cauls" in sheet.title]
    data = pdf_bytes(sheets, title="t")
    total = 0.0
    for number in range(len(sheets) - len(cauls), len(sheets)):
        strokes = [s for s in pdf_segments(data, page=number) if s.width_mm == pytest.approx(0.1, abs=0.01)]
        uprights = [s for s in strokes if not s.dash_mm and s.x1 == pytest.approx(s.x2, abs=1e-6)]
        by_x: dict[float, float] = {}
        for stroke in uprights:
            by_x[round(stroke.x1, 2)] = max(by_x.get(round(stroke.x1, 2), 0.0), abs(stroke.y2 - stroke.y1))
        # the back of each part is its one long line
        total += sum(length for length in by_x.values() if length > 50)
    assert total == pytest.approx(610, abs=0.02)


def test_a_caul_that_cant_be_parted_says_so() -> None:
    job = glue_box(width=700, tail_count=1, box={"pin": 6, "half_pin": 320})
    with pytest.raises(PrintError, match=r"can't be parted.*larger paper would do"):
        _sheets(job, "A5")


def test_alike_corners_share_a_caul() -> None:
    plan = planned(glue_box())
    ((_, names),) = cauls_by_shape(plan.cauls)
    assert names == ("A", "B", "C", "D")


def test_written_files_are_what_is_listed(tmp_path: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "sewing-chest")
    result = CliRunner().invoke(app, ["glueup", str(sample), "-o", str(tmp_path)])
    assert result.exit_code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a-caul.svg", "sewing-chest-glue-up.pdf"]
    assert len(pypdf.PdfReader(tmp_path / "sewing-chest-glue-up.pdf").pages) == 2


@pytest.mark.parametrize("size", ["A4", "A5"])
def test_many_corners_and_long_names_leave_room_for_the_caul(size: str) -> None:
    job = glue_box(length=400, across=300, width=120, tail_count=3)
    long = "a board " + "n" * 50
    for row in job["board"]:
        row["name"] = f"{row['name'][0]}{long}"
    box = {**job["box"][0], "tails": f"s{long}", "pins": f"e{long}"}
    job["box"] = [{**box, "name": f"drawer {n} {long}"[:60]} for n in range(1, 8)]
    sheets = _sheets(job, size)
    for sheet in sheets:
        _check(sheet, 8.0)
    text = pdf_texts(pdf_bytes(sheets, title="t"), page=len(sheets) - 1)
    assert "corners A, B, C, D, E, F and 22 more" in " ".join(text.split())


def test_stages_alike_are_grouped_findings() -> None:
    job = glue_box()
    job["box"] = [{**job["box"][0], "name": f"drawer {n}"} for n in range(1, 6)]
    found = planned(job).findings
    assert len(found) == 5
    (said,) = grouped_findings(found)
    assert said.where == "stage drawer 1, and 4 more like it"
    # what differs is said by itself
    job["box"][2]["tail_count"] = 6
    assert [row.where for row in grouped_findings(planned(job).findings)] == [
        "stage drawer 1, and 3 more like it",
        "stage drawer 3",
    ]
