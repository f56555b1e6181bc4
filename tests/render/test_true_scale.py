"""Full size is full size: what is read back from the files of every sample is what the sheets say, to 0.01 mm."""

from __future__ import annotations

import functools
import io
import math
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

import numpy as np
import pikepdf
import pypdf
import pypdfium2
import pytest
import svgwrite

from dovelayout.drawing.lettering import width_mm
from dovelayout.drawing.primitives import PENS, Anchor, Lines, Role, Sheet, Text
from dovelayout.render import svg as svg_module
from dovelayout.report import files as files_module
from tests import readers
from tests.gallery import SAMPLES, draw, files_in
from tests.readers import SVG_NS, Place, Stroke, Svg

TOLERANCE_MM = 0.01
PAPERS_MM = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (8.5 * 25.4, 11.0 * 25.4)}  # ISO 216; ASME Y14.1
BAR_MM = 150.0
ON_EVERY_PAPER = ("sewing-chest", "button-drawer")  # the others on A4: what they hold doesn't hang on the paper
CASES = [
    pytest.param(job, paper, id=f"{job.stem}-{paper}")
    for job in SAMPLES
    for paper in PAPERS_MM
    if paper == "A4" or job.stem in ON_EVERY_PAPER
]

NO_SAMPLE = "a-foreign-title"
FOREIGN = "Κασετίνα, ящик für Löffel ½″ ⌀ 6 → 1:7"
FOREIGN_JOB = f"""
title = "{FOREIGN}"
board = [
  {{ name = "Seite ß", species = "black cherry", length = 300, width = 90, thickness = 12 }},
  {{ name = "бок", species = "black cherry", length = 300, width = 90, thickness = 12 }},
]
corner = [{{ name = "Ω", tails = "Seite ß.left", pins = "бок.right", tail_count = 2, slope = "1:7" }}]
"""


@dataclass(frozen=True)
class Drawn:
    """The files of one job as written, and the sheets that they were made of."""

    pdf: bytes
    sheets: tuple[Sheet, ...]
    svgs: tuple[tuple[str, Sheet], ...]
    said: str


@functools.cache
def drawn(job: Path, paper: str) -> Drawn:
    """Draws a job with the public command, listening to what is handed to the two back ends."""
    pdfs: list[tuple[bytes, tuple[Sheet, ...]]] = []
    svgs: list[tuple[str, Sheet]] = []
    to_pdf, to_svg = files_module.pdf_bytes, svg_module.svg_text

    def pdf_bytes(sheets: Any, **options: Any) -> bytes:
        handed = tuple(sheets)  # they are drawn as they are gone through
        data = to_pdf(handed, **options)
        pdfs.append((data, handed))
        return data

    def svg_text(sheet: Sheet) -> str:
        text = to_svg(sheet)
        svgs.append((text, sheet))
        return text

    with (
        tempfile.TemporaryDirectory() as folder,
        patch.object(files_module, "pdf_bytes", pdf_bytes),
        patch.object(svg_module, "svg_text", svg_text),
    ):
        said = draw(job, Path(folder), "--paper", paper)
        written = files_in(Path(folder))
    ((data, sheets),) = pdfs
    assert sorted(written.values()) == sorted([data, *(text.encode() for text, _ in svgs)])
    return Drawn(data, sheets, tuple(svgs), said)


@pytest.fixture(scope="session")
def foreign(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job whose title needs more than Latin letters."""
    path = tmp_path_factory.mktemp("job") / "foreign.toml"
    path.write_text(FOREIGN_JOB, encoding="utf-8")
    return path


def strokes(sheet: Sheet, role: Role | None = None) -> list[tuple[float, ...]]:
    """The strokes that a sheet asks for: four coordinates, then width and dashes of the pen, padded to a length."""
    return [
        pen_row(Stroke(*segment, PENS[item.role].width_mm, PENS[item.role].dash_mm))
        for item in sheet.items
        if isinstance(item, Lines) and role in (None, item.role)
        for segment in item.segments
    ]


def pen_row(stroke: Stroke) -> tuple[float, ...]:
    dashes = (*stroke.dash_mm, *(0.0,) * 4)[:4]
    return (*stroke.ends, 100 * stroke.width_mm, *dashes)  # widths to a hundredth of the tolerance


def texts(sheet: Sheet) -> list[Text]:
    return [item for item in sheet.items if isinstance(item, Text)]


def place(text: Text) -> Place:
    """Where a text must start, whatever it is anchored by."""
    back = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[text.anchor] * width_mm(text.text, text.size_mm)
    if text.upwards:
        return Place(text.x_mm, text.y_mm - back, text.size_mm, 90.0)
    return Place(text.x_mm - back, text.y_mm, text.size_mm, 0.0)


def same(wanted: Any, found: Any) -> float:
    """Asserts two bags of places to be the same and gives the worst difference."""
    match = readers.matched(wanted, found, TOLERANCE_MM)
    assert not match.missing, f"{len(match.missing)} missing, such as {match.missing[0]}"
    assert not match.extra, f"{len(match.extra)} too many, such as {match.extra[0]}"
    return match.worst_mm


def test_there_are_samples() -> None:
    assert len(SAMPLES) >= 3


@pytest.mark.parametrize(("job", "paper"), CASES)
def test_pages_are_the_paper(job: Path, paper: str) -> None:
    wanted = [0.0, 0.0, *(side / 25.4 * 72 for side in PAPERS_MM[paper])]
    with readers.opened(drawn(job, paper).pdf) as pdf:
        assert len(pdf.pages) == len(drawn(job, paper).sheets) >= 2
        for page in pdf.pages:
            for box in (page.mediabox, page.cropbox, page.trimbox):
                assert [float(side) for side in box] == pytest.approx(wanted, abs=0.001)
            assert float(page.mediabox[3]) > float(page.mediabox[2])
            assert page.obj.get("/Rotate", 0) == 0
            assert "/UserUnit" not in page.obj


@pytest.mark.parametrize(("job", "paper"), CASES)
def test_the_pdf_holds_every_stroke_and_no_other(job: Path, paper: str) -> None:
    for number, sheet in enumerate(drawn(job, paper).sheets):
        page = readers.pdf_page(drawn(job, paper).pdf, number)
        assert same(strokes(sheet), map(pen_row, page.strokes)) < TOLERANCE_MM
        assert same(map(place, texts(sheet)), page.places) < TOLERANCE_MM
        assert (page.fills, page.images) == (0, 0)


@pytest.mark.parametrize(("job", "paper"), CASES)
def test_nothing_is_drawn_off_the_sheet(job: Path, paper: str) -> None:
    wide, high = PAPERS_MM[paper]
    for number in range(len(drawn(job, paper).sheets)):
        for stroke in readers.pdf_segments(drawn(job, paper).pdf, number):
            x1, y1, x2, y2 = stroke.ends
            assert min(x1, x2) > 0
            assert max(x1, x2) < wide
            assert min(y1, y2) > 0
            assert max(y1, y2) < high


def bars(sheet: Sheet) -> Iterator[tuple[int, Stroke, Stroke]]:
    """The two scale bars of a sheet: 0 across or 1 up, and the ticks at their ends."""
    drawn_bars = [
        segment
        for item in sheet.items
        if isinstance(item, Lines) and item.role is Role.BAR
        for segment in item.segments
    ]
    for axis in (0, 1):
        x1, y1, x2, y2 = max(drawn_bars, key=lambda s: abs(s[axis + 2] - s[axis]))
        ticks = [
            Stroke(*s, PENS[Role.BAR].width_mm)
            for end in ((x1, y1), (x2, y2))
            for s in drawn_bars
            if s[axis] == s[axis + 2] == end[axis] and s != (x1, y1, x2, y2)
            if min(s[1 - axis], s[3 - axis]) < end[1 - axis] < max(s[1 - axis], s[3 - axis])
        ]
        first, last = sorted(ticks)
        yield axis, first, last


def middle_of_tick(ink: np.ndarray, tick: Stroke, axis: int, high_mm: float, scale: tuple[float, float]) -> float:
    """Where the middle of a tick's ink is along the bar, mm; looked for within half a mm of where it should be."""
    across, along_tick = tick[axis], sorted((tick[1 - axis], tick[3 - axis]))
    # the stretch of the tick on the side of the inches, free of the bar and of figures
    free = (along_tick[0] + 0.3, along_tick[0] + 2.2) if axis == 0 else (along_tick[1] - 2.2, along_tick[1] - 0.3)
    box = [(across - 0.5, across + 0.5), free]
    (x1, x2), (y1, y2) = box if axis == 0 else reversed(box)
    left, right = (round(x * scale[0]) for x in (x1, x2))
    top, bottom = (round((high_mm - y) * scale[1]) for y in (y2, y1))
    window = ink[top:bottom, left:right].astype(float)
    weights = window.sum(axis=axis)
    assert weights.max() > 0.5 * 255 * window.shape[axis], "no tick there"
    middle = float(np.average(np.arange(weights.size) + 0.5, weights=weights))
    return (left + middle) / scale[0] if axis == 0 else high_mm - (top + middle) / scale[1]


@pytest.mark.parametrize(("job", "paper"), CASES)
def test_the_bars_measure_150_mm_in_pixels(job: Path, paper: str) -> None:
    wide, high = PAPERS_MM[paper]
    document = pypdfium2.PdfDocument(drawn(job, paper).pdf)
    try:
        for page, sheet in zip(document, drawn(job, paper).sheets, strict=True):
            ink = 255 - page.render(scale=600 / 72, grayscale=True).to_numpy().squeeze()
            scale = (ink.shape[1] / wide, ink.shape[0] / high)
            for axis, first, last in bars(sheet):
                measured = [middle_of_tick(ink, tick, axis, high, scale) for tick in (first, last)]
                assert measured[1] - measured[0] == pytest.approx(BAR_MM, abs=0.05), f"{sheet.title}, axis {axis}"
    finally:
        document.close()


@pytest.mark.parametrize(("job", "paper"), CASES)
def test_the_print_line_names_the_paper(job: Path, paper: str) -> None:
    assert f"lp -o media={paper} -o print-scaling=none" in drawn(job, paper).said


def fonts(pdf: pikepdf.Pdf) -> dict[tuple[int, int], Any]:
    """Every font that a page or a form of it can call."""
    found: dict[tuple[int, int], Any] = {}
    holders = [page.obj for page in pdf.pages]
    while holders:
        resources = holders.pop().get("/Resources", {})
        for font in dict(resources.get("/Font", {})).values():
            found[font.objgen] = font
        holders.extend(form for form in dict(resources.get("/XObject", {})).values() if form.Subtype == "/Form")
    return found


@pytest.mark.parametrize("job", [*SAMPLES, NO_SAMPLE], ids=lambda job: getattr(job, "stem", job))
def test_the_pdf_asks_for_no_scaling_and_carries_its_font(job: Path | str, foreign: Path) -> None:
    data = drawn(foreign if job == NO_SAMPLE else Path(job), "A4").pdf
    assert data.startswith(b"%PDF-1.7")
    with readers.opened(data) as pdf:
        assert pdf.pdf_version == "1.7"
        assert "/Version" not in pdf.Root
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert pdf.Root.Lang == "en"
        assert pdf.check_pdf_syntax() == []
        (font,) = fonts(pdf).values()
        assert str(font.BaseFont).endswith("+DejaVuSans")
        assert font.FontDescriptor.FontFile2.read_bytes()
        assert "/ToUnicode" in font
        # no other font lies about in the file
        named = [
            thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"
        ]
        assert [thing.objgen for thing in named] == [font.objgen]


@pytest.mark.parametrize("job", [*SAMPLES, NO_SAMPLE], ids=lambda job: getattr(job, "stem", job))
def test_every_text_can_be_read_out(job: Path | str, foreign: Path) -> None:
    drawing = drawn(foreign if job == NO_SAMPLE else Path(job), "A4")
    reader = pypdf.PdfReader(io.BytesIO(drawing.pdf))
    assert len(reader.pages) == len(drawing.sheets)
    for number, sheet in enumerate(drawing.sheets):
        by_pypdf = reader.pages[number].extract_text()
        for whole in (by_pypdf, readers.pdf_texts(drawing.pdf, number)):
            read = "".join(whole.split())
            for text in texts(sheet):
                assert "".join(text.text.split()) in read
    if job == NO_SAMPLE:
        assert reader.metadata is not None
        assert reader.metadata.title == FOREIGN
        assert FOREIGN in readers.pdf_texts(drawing.pdf)
        assert FOREIGN in reader.pages[0].extract_text()
        assert all(FOREIGN in readers.svg_drawing(text).root[0].text for text, _ in drawing.svgs)


def test_the_same_job_gives_the_same_bytes_in_any_process(foreign: Path, tmp_path: Path) -> None:
    jobs = [*SAMPLES[:2], foreign]
    command = [sys.executable, "-c", "from dovelayout.cli.main import main; main()"]
    places = (
        {"PYTHONHASHSEED": "0", "LC_ALL": "C", "TZ": "Pacific/Apia"},
        {"PYTHONHASHSEED": "4711", "LC_ALL": "de_DE.UTF-8", "TZ": "America/St_Johns", "COLUMNS": "40"},
    )
    results = []
    for number, place_ in enumerate(places):
        for job in jobs:
            subprocess.run(
                [*command, "draw", str(job), "-o", str(tmp_path / str(number) / job.stem)],
                env={**os.environ, **place_},
                check=True,
                capture_output=True,
            )
        results.append(files_in(tmp_path / str(number)))
    for job in jobs:
        for name in ("once", "again"):
            draw(job, tmp_path / name / job.stem)
    results += [files_in(tmp_path / name) for name in ("once", "again")]
    assert len(results[0]) >= 3 * len(jobs)
    assert all(result == results[0] for result in results)


SVG_CASES = [pytest.param(job, id=job.stem) for job in SAMPLES]


def svgs(job: Path) -> list[tuple[Svg, Sheet]]:
    """The drawings of a job, read, with the sheets that they were made of."""
    read = [(readers.svg_drawing(text), sheet) for text, sheet in drawn(job, "A4").svgs]
    assert len(read) >= 2
    return read


@pytest.mark.parametrize("job", SVG_CASES)
def test_the_svg_holds_every_stroke_and_no_other(job: Path) -> None:
    for svg, sheet in svgs(job):
        assert (svg.width_mm, svg.height_mm) == pytest.approx((sheet.width_mm, sheet.height_mm), abs=0.0001)
        for role in Role:
            assert same(strokes(sheet, role), map(pen_row, svg.strokes.get(role.value, []))) < TOLERANCE_MM
        assert set(svg.strokes) <= {role.value for role in Role}


@pytest.mark.parametrize("job", SVG_CASES)
def test_the_svg_holds_every_text_in_its_place(job: Path) -> None:
    for svg, sheet in svgs(job):
        wanted = sorted(
            (text.text, text.anchor.value, text.x_mm, text.y_mm, text.size_mm, 90.0 * text.upwards)
            for text in texts(sheet)
        )
        found = sorted((text, anchor, *place_) for text, place_, anchor in svg.texts)
        assert [row[:2] for row in found] == [row[:2] for row in wanted]
        assert same([row[2:] for row in wanted], [row[2:] for row in found]) < TOLERANCE_MM


@pytest.mark.parametrize("job", SVG_CASES)
def test_the_svg_prints_and_reads_as_what_it_is(job: Path) -> None:
    for svg, sheet in svgs(job):
        heads = {name: svg.root.findtext(f"{SVG_NS}{name}") for name in ("title", "desc")}
        assert heads == {"title": sheet.title, "desc": sheet.description}
        assert all(heads.values())
        style = "".join(element.text or "" for element in svg.root.iter(f"{SVG_NS}style"))
        page = re.search(r"@page\s*{\s*size:\s*([\d.]+)mm\s+([\d.]+)mm;\s*margin:\s*0\s*}", style)
        assert page
        assert (float(page[1]), float(page[2])) == (svg.width_mm, svg.height_mm)
        for element in svg.root.iter():
            assert element.tag.removeprefix(SVG_NS) not in ("pattern", "image", "script", "foreignObject")
            assert element.get("fill", "none") in ("none", "black")
            assert "url(" not in "".join(element.attrib.values())
            if element.tag == f"{SVG_NS}path":
                assert element.get("fill") == "none"
                assert float(element.attrib["stroke-width"]) == PENS[Role(element.attrib["class"])].width_mm
        names = [element.attrib["id"] for element in svg.root.iter() if "id" in element.attrib]
        assert len(names) == len(set(names)) >= 5


@pytest.mark.parametrize("job", SVG_CASES)
def test_the_svg_passes_a_validator(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The one of svgwrite, which is off when files are written: it takes every element through SVG 1.1 full."""
    make = svgwrite.Drawing
    made = []

    def strict(*args: Any, **options: Any) -> svgwrite.Drawing:
        made.append(make(*args, **{**options, "debug": True}))
        return made[-1]

    monkeypatch.setattr(svgwrite, "Drawing", strict)
    for text, sheet in drawn(job, "A4").svgs:
        assert svg_module.svg_text(sheet) == text
    assert all(drawing.debug for drawing in made)
    assert made
    with pytest.raises((ValueError, TypeError)):
        made[0].path(d="M0 0L1 1", stroke_width="wide")


def test_the_readers_see_what_is_wrong() -> None:
    """A stroke that is off, missing or too many is told, and a turned drawing is read turned."""
    row = (10.0, 20.0, 30.0, 40.0)
    assert readers.matched([row], [row]) == (0.0, [], [])
    assert readers.matched([row], [(10.0, 20.0, 30.0, 40.02)]).missing == [row]
    assert readers.matched([row], [row, row]).extra == [row]
    assert readers.matched([row, row], [row]).missing == [row]
    assert readers.matched([row], [(10.0, 20.009, 30.0, 40.0)]).worst_mm == pytest.approx(0.009)

    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(200, 200))
    # the line (10, 0) to (20, 0), twice as large, a quarter left, then moved by (100, 50); a plain one after it
    pdf.pages[0].Contents = pdf.make_stream(
        b"q 1 0 0 1 100 50 cm 0 1 -1 0 0 0 cm 2 0 0 2 0 0 cm 3 w [4 5] 0 d 10 0 m 20 0 l S Q 7 w 1 2 m 3 4 l S"
    )
    out = io.BytesIO()
    pdf.save(out)
    pdf.close()
    turned, plain = readers.pdf_segments(out.getvalue())
    mm = 25.4 / 72
    assert turned.ends == pytest.approx((100 * mm, 70 * mm, 100 * mm, 90 * mm))
    assert (turned.width_mm, *turned.dash_mm) == pytest.approx((6 * mm, 8 * mm, 10 * mm))
    assert plain[:5] == pytest.approx((mm, 2 * mm, 3 * mm, 4 * mm, 7 * mm))
    assert plain.dash_mm == ()

    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="20mm" viewBox="0 0 {}">'
        '<path class="knife" stroke-width="0.1" d="M1 2L3 4l1-1h.5v-1z"/></svg>'
    )
    assert [stroke.ends for stroke in readers.svg_segments(svg.format("30 20"))] == [
        (1, 18, 3, 16),
        (3, 16, 4, 17),
        (4, 17, 4.5, 17),
        (4.5, 17, 4.5, 18),
        (4.5, 18, 1, 18),
    ]
    with pytest.raises(AssertionError, match="viewBox"):
        readers.svg_segments(svg.format("30 20.1"))
    assert math.isclose(readers.MM_PER_PT * 72, 25.4)
