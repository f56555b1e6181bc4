"""The committed gallery is what the samples draw today, byte for byte."""

from __future__ import annotations

import re
import zlib
from pathlib import Path

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


def test_every_sample_has_a_pdf_and_drawings(tmp_path: Path) -> None:
    assert gallery.SAMPLES
    for job in gallery.SAMPLES:
        gallery.draw(job, tmp_path / job.stem)
        kinds = [Path(name).suffix for name in gallery.files_in(tmp_path / job.stem)]
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


def test_unpacking_forgives_another_packing_and_nothing_else(tmp_path: Path) -> None:
    gallery.draw(gallery.SAMPLES[0], tmp_path, "--as", "pdf")
    (pdf,) = gallery.files_in(tmp_path).values()

    def repacked(level: int, find: bytes = b"", put: bytes = b"") -> bytes:
        """The same file as another zlib would pack it, its page content edited on the way."""

        def again(found: re.Match[bytes]) -> bytes:
            content = zlib.compress(zlib.decompress(found[2]).replace(find, put, 1), level)
            return re.sub(rb"/Length \d+", b"/Length %d" % len(content), found[1]) + content + found[3]

        pattern = rb"(<<[^<>]*/FlateDecode[^<>]*>>\s*stream\r?\n)(.*?)(\r?\nendstream)"
        return re.sub(pattern, again, pdf, flags=re.DOTALL)

    other = repacked(1)
    assert other != pdf
    assert gallery.unpacked(other) == gallery.unpacked(pdf)
    moved = repacked(1, b" m ", b" l ")
    assert gallery.unpacked(moved) != gallery.unpacked(pdf)
    renamed = pdf.replace(b"/PrintScaling /None", b"/PrintScaling /Nine")
    assert renamed != pdf
    assert gallery.unpacked(renamed) != gallery.unpacked(pdf)
