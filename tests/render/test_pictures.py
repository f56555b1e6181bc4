"""Pictures read back from the files that `draw` writes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.drawing.picture.picture_book import picture_groups, picture_sheet
from dovelayout.drawing.primitives import PENS, Lines, Role
from dovelayout.drawing.style import Style
from dovelayout.job.reader import read_job
from tests import readers
from tests.gallery import SAMPLES, draw, files_in

ROLES = (Role.PICTURE, Role.PICTURE_EDGE, Role.GRAIN, Role.PATH)


def _sample(stem: str) -> Path:
    return next(path for path in SAMPLES if path.stem == stem)


@pytest.mark.parametrize("stem", ["button-drawer", "bobbin-cabinet"])
def test_svg_holds_every_stroke_of_the_picture(stem: str, tmp_path: Path) -> None:
    path = _sample(stem)
    draw(path, tmp_path, "--as", "svg")
    job = read_job(path)
    pictures = sorted(tmp_path.glob("*-picture.svg"))
    groups = picture_groups(job.joints, job.dividers)
    assert len(pictures) == len(groups)
    drawings = {
        title: drawing
        for drawing in (readers.svg_drawing(file.read_text(encoding="utf-8")) for file in pictures)
        for title in [drawing.root.findtext(f"{readers.SVG_NS}title")]
    }
    for group in groups:
        sheet = picture_sheet(group, Style(job=job.title))
        drawing = drawings[sheet.title]
        for role in ROLES:
            wanted = [s for item in sheet.items if isinstance(item, Lines) and item.role is role for s in item.segments]
            found = drawing.strokes.get(role.value, [])
            assert len(found) == len(wanted)
            assert all(stroke.width_mm == PENS[role].width_mm for stroke in found)
            match = readers.matched(wanted, (stroke.ends for stroke in found), tolerance=0.001)
            assert match.missing == []
            assert match.extra == []


def test_pdf_holds_the_pictures_after_the_words(tmp_path: Path) -> None:
    draw(_sample("needle-box"), tmp_path, "--as", "pdf")
    pdf = tmp_path / "needle-box.pdf"
    with readers.opened(pdf) as document:
        pages = len(document.pages)
    texts = [readers.pdf_texts(pdf, page) for page in range(pages)]
    (number,) = [n for n, text in enumerate(texts) if "How the joints look" in text]
    assert "Bench sheet: read this first" in texts[number - 1]
    assert re.search(r"Corners A, C\b", texts[number])
    assert re.search(r"Corners B, D\b", texts[number])
    assert "TAILS" in texts[number]
    assert "PINS" in texts[number]
    page = readers.pdf_page(pdf, number)
    assert page.images == 0  # strokes, no picture points
    assert page.fills == 0
    pens = {round(stroke.width_mm, 3) for stroke in page.strokes}
    assert {PENS[role].width_mm for role in ROLES} <= pens


def test_no_pictures(tmp_path: Path) -> None:
    draw(_sample("needle-box"), tmp_path / "with")
    draw(_sample("needle-box"), tmp_path / "without", "--no-pictures")
    drawn, plain = files_in(tmp_path / "with"), files_in(tmp_path / "without")
    assert {name for name in drawn if name not in plain} == {"a-picture.svg", "b-picture.svg"}
    templates = [name for name in plain if name.endswith(".svg")]
    assert all(drawn[name] == plain[name] for name in templates)
    with readers.opened(drawn["needle-box.pdf"]) as one, readers.opened(plain["needle-box.pdf"]) as other:
        assert len(one.pages) == len(other.pages) + 1


def test_a_corner_and_a_divider_of_one_name_have_files_of_their_own(tmp_path: Path) -> None:
    text = _sample("bobbin-cabinet").read_text(encoding="utf-8").replace('name = "partition"', 'name = "A"')
    text = text.replace('key = "partition.left"', 'key = "A.left"')
    job = tmp_path / "job.toml"
    job.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(app, ["draw", str(job), "-o", str(tmp_path / "out"), "--as", "svg"])
    assert result.exit_code == 0, result.output
    names = {path.name for path in (tmp_path / "out").glob("*-picture.svg")}
    assert names == {"a-picture.svg", "b-picture.svg", "shelf-picture.svg", "a-2-picture.svg"}


def test_the_same_job_gives_the_same_pictures(tmp_path: Path) -> None:
    for folder in ("one", "other"):
        draw(_sample("thread-tray"), tmp_path / folder, "--as", "svg")
    assert files_in(tmp_path / "one") == files_in(tmp_path / "other")
