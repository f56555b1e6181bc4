"""PNG pictures of the PDF's pages: the same ink, the same size, and no library loaded unasked."""

from __future__ import annotations

import io
import struct
import sys
import zlib
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.drawing.primitives import Lines, Role, Sheet
from dovelayout.errors import PrintError
from dovelayout.render import png
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.png import png_pages
from tests.gallery import SAMPLES, draw, files_in


def test_a_picture_for_every_page_as_another_reader_sees_it(tmp_path: Path) -> None:
    draw(SAMPLES[0], tmp_path, "--as", "pdf", "--as", "png")
    (pdf,) = tmp_path.glob("*.pdf")
    pictures = sorted(tmp_path.glob("*.png"))
    document = pypdfium2.PdfDocument(pdf)
    try:
        assert len(pictures) == len(document) > 2
        for page, path in zip(document, pictures, strict=True):
            picture = Image.open(path)
            picture.load()
            assert picture.mode == "L"
            assert picture.info["dpi"] == pytest.approx((150, 150), abs=0.02)
            assert picture.size == pytest.approx((8.2677 * 150, 11.6929 * 150), abs=1.0)  # A4, ISO 216
            wanted = page.render(scale=150 / 72, grayscale=True).to_numpy().squeeze()
            assert np.array_equal(np.asarray(picture), wanted)
    finally:
        document.close()


def test_lines_stand_where_they_should_and_the_file_is_sound() -> None:
    # a mark 25.4 mm from the left and 50.8 mm from the top of a sheet of 101.6 x 127 mm: pixels 150 and 300
    sheet = Sheet(
        width_mm=101.6,
        height_mm=127.0,
        items=(Lines(role=Role.MARK, segments=((25.4, 0.0, 25.4, 127.0), (0.0, 127.0 - 50.8, 101.6, 127.0 - 50.8))),),
        title="marks",
    )
    (data,) = png_pages(pdf_bytes([sheet], title="marks"))
    ink = 255 - np.asarray(Image.open(io.BytesIO(data))).astype(int)
    assert ink.shape == (750, 600)
    middle = [float(np.average(np.arange(len(row)) + 0.5, weights=row)) for row in (ink[10], ink[:, 10])]
    assert middle == pytest.approx([150.0, 300.0], abs=0.05)
    at = 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        body = data[at + 4 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length])[0] == zlib.crc32(body)
        at += 12 + length
    assert at == len(data)


def test_the_same_job_gives_the_same_pictures(tmp_path: Path) -> None:
    for name in ("one", "two"):
        draw(SAMPLES[0], tmp_path / name, "--as", "png")
    assert files_in(tmp_path / "one") == files_in(tmp_path / "two")
    assert all(name.endswith(".png") for name in files_in(tmp_path / "one"))


def test_a_picture_too_large_is_refused() -> None:
    sheet = Sheet(width_mm=3000.0, height_mm=3000.0, items=(), title="large")
    with pytest.raises(PrintError, match="too large"):
        png_pages(pdf_bytes([sheet], title="large"))


def test_without_pypdfium2_one_line_says_how_to_get_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    result = CliRunner().invoke(
        app, ["draw", str(SAMPLES[0]), "-o", str(tmp_path / "out"), "--as", "png", "--as", "pdf"]
    )
    assert result.exit_code == 2
    said = f"dovelayout: PNG pictures need pypdfium2, which is not installed: {png.INSTALL}"
    assert result.stderr.splitlines()[-1] == said
    assert not (tmp_path / "out").exists()
