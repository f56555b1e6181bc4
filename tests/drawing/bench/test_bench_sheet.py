"""The bench sheet: nothing overlaps on any paper, fixed things stand at fixed places, tables go on from sheet to sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from dovelayout.drawing.bench.content import bench_of
from dovelayout.drawing.bench.flowables import FIGURE_MM
from dovelayout.drawing.bench.pages import bench_pages
from dovelayout.drawing.bench.sheet import BenchSheet, Figures, Number, Section
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Item, Lines, Role, Sheet, Text
from dovelayout.drawing.sheets.frame import Legend, Page, all_framed, room_mm
from dovelayout.drawing.style import Heading
from dovelayout.job.reader import read_job
from dovelayout.paper import Paper, paper
from dovelayout.report.bench import bench_sheet
from dovelayout.units import Unit, format_mm
from dovelayout.verdict.verdict import judged
from tests.drawing.test_texts import _check
from tests.jobs import loaded

SAMPLES = sorted((Path(__file__).parents[3] / "samples").glob("*.toml"))
HOSTILE = "<b>&amp; {0} %s \x00\x1b[31m " + "W" * 200 + " ☃ ÅÉç"


def _sheets(sheet: BenchSheet, on: Paper) -> list[Sheet]:
    wide_mm, high_mm = room_mm(on)
    pages = bench_pages(sheet, (wide_mm, high_mm))
    for content, filled_mm in pages:
        for x1, y1, x2, y2 in _boxes(content):
            assert -1e-6 <= x1 <= x2 <= wide_mm + 1e-6
            assert high_mm - filled_mm - 1e-6 <= y1 <= y2 <= high_mm + 1e-6
    return list(all_framed([Page.of(content, Heading(job="", what="b"), Legend.NONE) for content, _ in pages], on))


def _boxes(items: tuple[Item, ...]) -> list[tuple[float, float, float, float]]:
    found = [box(item) for item in items if isinstance(item, Text)]
    segments = [s for item in items if isinstance(item, Lines) for s in item.segments]
    return found + [(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in segments]


def _words(sheets: list[Sheet]) -> list[str]:
    return [item.text for sheet in sheets for item in sheet.items if isinstance(item, Text)]


@pytest.mark.parametrize("name", ["A5", "A4", "Letter", "A3"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_nothing_overlaps_on_any_paper(path: Path, name: str) -> None:
    on = paper(name)
    sheets = _sheets(bench_sheet(judged(read_job(path))), on)
    assert sheets
    for sheet in sheets:
        _check(sheet, on.margin_mm)


def test_fixed_things_stand_at_fixed_places_on_every_job() -> None:
    places = set()
    for path in SAMPLES:
        first = _sheets(bench_sheet(judged(read_job(path)), pictures=False), paper("A4"))[0]
        (head,) = [i for i in first.items if isinstance(i, Text) and i.text.startswith("SETTINGS")]
        setting = max((i for i in first.items if isinstance(i, Text)), key=lambda item: item.size_mm)
        (cut,) = [i for i in first.items if isinstance(i, Text) and i.text == "Cut list"]
        verdict = next(i for i in first.items if isinstance(i, Text) and i.text.startswith(("Clean", "Good", "WARN")))
        thick = [s for i in first.items if isinstance(i, Lines) and i.role is Role.MARK for s in i.segments]
        corner = min((s for s in thick if s[0] == s[2]), key=lambda s: s[0])  # the box's left side
        spots = [(item.x_mm, item.y_mm) for item in (head, cut, verdict)] + [(setting.x_mm, 0.0), (corner[0], 0.0)]
        places.add(tuple((round(x, 3), round(y, 3)) for x, y in spots))
    assert len(places) == 1


def test_figures_can_be_read_at_arms_length() -> None:
    """Figures of the sheet's font are 0.729 of their size high (the outline of '8')."""
    on = paper("A4")
    for path in SAMPLES:
        job = read_job(path)
        texts = [
            i for s in _sheets(bench_sheet(judged(job), pictures=False), on) for i in s.items if isinstance(i, Text)
        ]
        for board in job.boards:
            if job.unit is Unit.MM:
                said = format_mm(board.length_mm).removesuffix(" mm")
                assert max(text.size_mm for text in texts if text.text == said) * 0.729 >= 3.5
        settings = max(text.size_mm for text in texts)
        assert settings * 0.729 > 5.0


def _bank(heights: list[int]) -> dict[str, Any]:
    return {
        "title": "Sixty",
        "shop": {"humidity": [40, 60], "built_at": 50, "chisels": [3, 6, 10]},
        "drawers": {"species": "red maple"},
        "drawer": [
            {"name": f"drawer {number}", "width": 340, "height": height, "depth": 395}
            for number, height in enumerate(heights, 1)
        ],
    }


def test_a_bank_of_sixty_drawers_has_every_part_once_under_a_repeated_heading() -> None:
    job = loaded(_bank([80 + number for number in range(60)]))
    sheets = _sheets(bench_sheet(judged(job), pictures=False), paper("A4"))
    words = _words(sheets)
    for number in range(1, 61):
        for role in ("front", "side", "back"):
            assert words.count(f"{role}, for drawer {number}") == 1
    assert words.count("bottom, for drawer 1 to 60") == 1
    with_rows = [s for s in sheets if any(w.startswith(("front, for", "side, for", "back, for")) for w in _words([s]))]
    assert len(with_rows) > 3
    for sheet in with_rows:
        assert {"Cut list", "part", "wood"} <= set(_words([sheet]))
    assert len(sheets) < 80  # 120 kinds of corner and 60 of drawer, none like another
    alike = _sheets(bench_sheet(judged(loaded(_bank([80, 95, 112] * 20))), pictures=False), paper("A4"))
    assert len(alike) <= 10


@pytest.mark.parametrize("name", ["A5", "A4"])
def test_hostile_and_endless_texts_stay_words_on_the_sheet(name: str) -> None:
    on = paper(name)
    numbers = tuple((HOSTILE[:60], Number(text="9" * 40, unit="mm", other=HOSTILE[:40])) for _ in range(40))
    sheet = BenchSheet(
        verdict=HOSTILE * 3,
        parts=(
            Section(
                title=HOSTILE,
                columns=("", HOSTILE[:40], "mm"),
                shares=(1, 1, 1),
                rows=(
                    (Number(text="1 ×"), HOSTILE * 40, Number(text="1" * 30)),
                    (Number(text="STOP"), (HOSTILE, "go"), ""),
                ),
                lines=(HOSTILE * 60,),
            ),
            Figures(title=HOSTILE, about=(HOSTILE * 30, HOSTILE), grids=(numbers, ()), lines=(HOSTILE,)),
            Section(title="empty"),
        ),
    )
    sheets = _sheets(sheet, on)
    for drawn in sheets:
        _check(drawn, on.margin_mm)
    assert any("<b>&amp; {0} %s" in word for word in _words(sheets))


def test_no_joints_and_no_parts_are_said_so() -> None:
    words = _words(_sheets(bench_of((), (), Unit.MM), paper("A4")))
    assert "nothing to set in this job" in words


def test_what_is_alike_is_told_once() -> None:
    job = read_job(next(path for path in SAMPLES if path.stem == "sewing-chest"))
    told = [part for part in bench_of(job.joints, (), job.unit).parts if isinstance(part, Figures)]
    assert [part.title for part in told] == ["Corners A, B, C, D, mm"]
    other = replace(job.joints[0].varied(name="Z", tail_count=3))
    told = [part for part in bench_of((*job.joints, other), (), job.unit).parts if isinstance(part, Figures)]
    assert [part.title for part in told] == ["Corners A, B, C, D, mm", "Corner Z, mm"]


def test_figures_are_high_enough_by_the_font_itself() -> None:
    from fontTools.ttLib import TTFont

    from dovelayout.drawing.lettering import font_path

    with TTFont(font_path()) as font:
        high = font["glyf"][font.getBestCmap()[ord("7")]].yMax / font["head"].unitsPerEm
    assert high * FIGURE_MM >= 3.5
