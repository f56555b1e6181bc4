"""The committed gallery is what the samples draw today, byte for byte."""

from __future__ import annotations

import builtins
import functools
import math
import zlib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from tests import gallery


def test_the_gallery_is_a_fresh_drawing_of_the_samples() -> None:
    committed, drawn = gallery.files_in(gallery.GALLERY), gallery.fresh()
    remedy = "'python -m tests.gallery' draws it anew"
    assert sorted(committed) == sorted(drawn), remedy
    other = [
        name for name in drawn if gallery.comparable(name, committed[name]) != gallery.comparable(name, drawn[name])
    ]
    assert other == [], remedy


def test_how_a_python_adds_floats_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From Python 3.12 on `sum` adds floats more exactly (its documentation); a last bit once made a sheet more or less."""

    def exactly(numbers: Iterable[Any], /, start: Any = 0) -> Any:
        row = list(numbers)
        return math.fsum([start, *row]) if row and all(type(one) is float for one in row) else plainly(row, start)

    plainly = builtins.sum
    monkeypatch.setattr(builtins, "sum", exactly)
    (bank,) = (job for job in gallery.SAMPLES if job.stem == "ribbon-cabinet")
    gallery.draw(bank, tmp_path, "--as", "pdf")
    (drawn,) = gallery.files_in(tmp_path).items()
    assert gallery.comparable(*drawn) == gallery.comparable(drawn[0], gallery.kept(bank)[drawn[0]])


def test_every_sample_has_a_pdf_and_drawings() -> None:
    assert gallery.SAMPLES
    committed = gallery.files_in(gallery.GALLERY)
    for job in gallery.SAMPLES:
        kinds = [Path(name).suffix for name in committed if Path(name).parts[0] == job.stem]
        assert kinds.count(".pdf") == 1, job.name
        assert kinds.count(".svg") >= 2, job.name


def test_writing_removes_what_is_stale(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gallery, "SAMPLES", gallery.SAMPLES[:1])
    stale = tmp_path / "gone" / "old.svg"
    stale.parent.mkdir()
    stale.write_text("old")
    changed = gallery.write(tmp_path)
    assert "gone/old.svg" in changed
    assert not stale.parent.exists()
    assert gallery.files_in(tmp_path) == gallery.fresh()
    assert gallery.write(tmp_path) == []


def test_unpacking_forgives_another_packing_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    packed = zlib.compress
    pdfs = []
    for level in (-1, 1):
        monkeypatch.setattr(zlib, "compress", functools.partial(packed, level=level))
        gallery.draw(gallery.SAMPLES[0], tmp_path / str(level), "--as", "pdf")
        pdfs += gallery.files_in(tmp_path / str(level)).values()
    usual, other = pdfs
    assert other != usual
    assert gallery.unpacked(other) == gallery.unpacked(usual)
    scaled = usual.replace(b"/PrintScaling /None", b"/PrintScaling /Nine")
    assert scaled != usual
    assert gallery.unpacked(scaled) != gallery.unpacked(usual)

    def nudged(content: bytes) -> bytes:
        """Packs with one stroke's start made its end."""
        return packed(content.replace(b" m ", b" l ", 1))

    monkeypatch.setattr(zlib, "compress", nudged)
    gallery.draw(gallery.SAMPLES[0], tmp_path / "nudged", "--as", "pdf")
    (wrong,) = gallery.files_in(tmp_path / "nudged").values()
    assert gallery.unpacked(wrong) != gallery.unpacked(usual)
