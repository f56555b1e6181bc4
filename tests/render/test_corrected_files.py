"""Corrections read back from the files: in every coordinate to 0.01 mm, each axis by itself, and never in the paper."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.drawing.book import job_sheets
from dovelayout.drawing.correction import Correction, for_printer, room_for
from dovelayout.drawing.primitives import Lines, Sheet
from dovelayout.drawing.sheets.frame import FREE_MARGIN_MM
from dovelayout.drawing.style import Style
from dovelayout.job.reader import read_job
from dovelayout.paper import paper
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.svg import svg_text
from tests import readers
from tests.conftest import examples
from tests.gallery import LIGHT, SAMPLES, draw, files_in

TOLERANCE_MM = 0.01
A4_MM = (210.0, 297.0)  # ISO 216
READ_MM = (149.4, 150.6)
"""What the bars of 150 mm measure on the paper of the printer below: across and up."""


@pytest.fixture
def printer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A printer that is off by 0.4 % both ways, in a configuration folder of its own."""
    monkeypatch.setenv("DOVELAYOUT_CONFIG", str(tmp_path / "config"))
    (tmp_path / "config").mkdir()
    across, up = READ_MM
    (tmp_path / "config" / "printers.toml").write_text(
        '[[printer]]\nname = "study"\n'
        f"across = {{ bar = 150, measured = {across} }}\nup = {{ bar = 150, measured = {up} }}\n",
        encoding="utf-8",
    )
    return "study"


def printed(x_mm: float, middle_mm: float, axis: int) -> float:
    """Where the printer puts what stands at x: it scales about some point, here the middle of the sheet."""
    return middle_mm + (x_mm - middle_mm) * READ_MM[axis] / 150.0


def bars(strokes: list[readers.Stroke]) -> list[list[float]]:
    """Lengths of the long strokes that run along x, and along y."""
    return [
        [abs(s[axis + 2] - s[axis]) for s in strokes if abs(s[1 - axis] - s[3 - axis]) < 1e-6 and not s.dash_mm]
        for axis in (0, 1)
    ]


@pytest.mark.parametrize("sample", LIGHT, ids=lambda path: path.stem)
def test_the_pdf_is_corrected_and_its_paper_is_not(sample: Path, printer: str, tmp_path: Path) -> None:
    draw(sample, tmp_path / "plain", "--as", "pdf", "--paper", "A4")
    draw(sample, tmp_path / "fixed", "--as", "pdf", "--paper", "A4", "--printer", printer)
    name = f"{sample.stem}.pdf"
    with readers.opened(tmp_path / "fixed" / name) as pdf:
        for page in pdf.pages:
            for box in (page.mediabox, page.cropbox, page.trimbox):
                sides = [float(side) * readers.MM_PER_PT for side in box]
                assert sides == pytest.approx([0.0, 0.0, *A4_MM], abs=0.001)
            assert "/UserUnit" not in page.obj
        pages = len(pdf.pages)
    for number in range(pages):
        strokes = readers.pdf_segments(tmp_path / "fixed" / name, number)
        lengths = bars(strokes)
        for axis in (0, 1):
            # drawn as long as it takes to come out 150 mm long
            assert min(abs(length - 150.0 * 150.0 / READ_MM[axis]) for length in lengths[axis]) < TOLERANCE_MM
            assert min(abs(length - 150.0) for length in lengths[axis]) > TOLERANCE_MM
            on_paper = [abs(length * READ_MM[axis] / 150.0 - 150.0) for length in lengths[axis]]
            assert min(on_paper) < TOLERANCE_MM
        said = readers.pdf_texts(tmp_path / "fixed" / name, number)
        assert "corrected for study: across × 1.0040, up × 0.9960" in said
    with readers.opened(tmp_path / "plain" / name) as pdf:
        pages = len(pdf.pages)  # of another number, as a corrected sheet has another room
    assert all("corrected for" not in readers.pdf_texts(tmp_path / "plain" / name, number) for number in range(pages))


@pytest.mark.parametrize("sample", LIGHT, ids=lambda path: path.stem)
def test_svg_is_corrected_only_where_it_is_asked_for_and_says_so(sample: Path, printer: str, tmp_path: Path) -> None:
    draw(sample, tmp_path / "plain", "--as", "svg")
    draw(sample, tmp_path / "fixed", "--as", "svg", "--printer", printer)
    plain, fixed = files_in(tmp_path / "plain"), files_in(tmp_path / "fixed")
    assert set(plain) == set(fixed)
    for name in plain:
        before, after = (readers.svg_drawing(files[name].decode("utf-8")) for files in (plain, fixed))
        assert (after.width_mm, after.height_mm) == (before.width_mm, before.height_mm)
        assert after.root.attrib["viewBox"] == before.root.attrib["viewBox"]
        middles = (before.width_mm / 2, before.height_mm / 2) * 2
        for role, strokes in before.strokes.items():
            on_paper = [
                tuple(printed(value, middles[i], i % 2) for i, value in enumerate(s.ends)) for s in after.strokes[role]
            ]
            match = readers.matched((s.ends for s in strokes), on_paper, TOLERANCE_MM)
            assert (match.missing, match.extra) == ([], [])
        note = "corrected for study: across × 1.0040, up × 0.9960"
        assert note in "".join(after.root[1].itertext())  # desc
        assert note in [text for text, _, _ in after.texts]
        assert "corrected" not in plain[name].decode("utf-8")


def test_a_default_printer_corrects_paper_and_leaves_screens_and_machines_alone(
    printer: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sample, formats = SAMPLES[0], ("--as", "pdf", "--as", "svg", "--as", "dxf")
    draw(sample, tmp_path / "plain", *formats)
    config = tmp_path / "config" / "printers.toml"
    config.write_text(f'default = "{printer}"\n{config.read_text(encoding="utf-8")}', encoding="utf-8")
    draw(sample, tmp_path / "default", *formats)
    draw(sample, tmp_path / "asked", *formats, "--printer", "STUDY")
    draw(sample, tmp_path / "none", *formats, "--printer", "none")
    plain, default, asked, none = (files_in(tmp_path / name) for name in ("plain", "default", "asked", "none"))
    assert none == plain
    for name in plain:
        assert (default[name] == plain[name]) == (not name.endswith(".pdf")), name
        assert (asked[name] == plain[name]) == name.endswith(".dxf"), name
    assert default[f"{sample.stem}.pdf"] == asked[f"{sample.stem}.pdf"]


@settings(max_examples=examples(40))
@given(st.floats(1 / 1.05, 1 / 0.95), st.floats(1 / 1.05, 1 / 0.95), st.sampled_from(("A4", "Letter", "A3")))
def test_any_factors_are_read_back_and_the_paper_never_has_them(across: float, up: float, name: str) -> None:
    job = read_job(SAMPLES[-1])
    correction = Correction(printer="study", across=across, up=up)
    on = room_for(correction, paper(name))
    plain = job_sheets(job.joints[:1], Style(job="Job"), on)
    sheets = [for_printer(sheet, correction, margin_mm=on.margin_mm) for sheet in plain]
    data = pdf_bytes(sheets, title="Job")
    width_mm, height_mm = paper(name).width_mm, paper(name).height_mm
    with readers.opened(data) as pdf:
        for page in pdf.pages:
            assert [float(side) * readers.MM_PER_PT for side in page.mediabox] == pytest.approx(
                [0.0, 0.0, width_mm, height_mm], abs=0.001
            )
    number = len(plain) - 1
    found = [stroke.ends for stroke in readers.pdf_segments(data, number)]
    assert _worst_mm(plain[number], found, across, up) < TOLERANCE_MM
    svg = readers.svg_drawing(svg_text(sheets[number]))
    assert (svg.width_mm, svg.height_mm) == pytest.approx((width_mm, height_mm), abs=1e-4)
    found = [stroke.ends for strokes in svg.strokes.values() for stroke in strokes]
    assert _worst_mm(plain[number], found, across, up) < TOLERANCE_MM


def _worst_mm(plain: Sheet, found: list[tuple[float, float, float, float]], across: float, up: float) -> float:
    """How far what was found lies from the plain sheet stretched about its middle; fails where a stroke is missing."""
    middle_x, middle_y = plain.width_mm / 2, plain.height_mm / 2
    wanted = [
        (
            middle_x + (x1 - middle_x) * across,
            middle_y + (y1 - middle_y) * up,
            middle_x + (x2 - middle_x) * across,
            middle_y + (y2 - middle_y) * up,
        )
        for item in plain.items
        if isinstance(item, Lines)
        for x1, y1, x2, y2 in item.segments
    ]
    match = readers.matched(wanted, found, TOLERANCE_MM)
    assert (match.missing, match.extra) == ([], [])
    return match.worst_mm


def test_the_margin_of_free_drawings_is_the_one_they_are_framed_with(tmp_path: Path) -> None:
    draw(SAMPLES[0], tmp_path, "--as", "svg")
    for data in files_in(tmp_path).values():
        drawing = readers.svg_drawing(data.decode("utf-8"))
        assert min(place.x for _, place, _ in drawing.texts) == pytest.approx(FREE_MARGIN_MM, abs=1e-4)
