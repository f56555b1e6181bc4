"""The gallery: what the samples come out as, kept in templates_out/gallery for people who look before they install.

`python -m tests.gallery` from the root of the repository draws it anew. The test next door holds it to a fresh drawing.
"""

from __future__ import annotations

import io
import tempfile
import zlib
from pathlib import Path

import pikepdf
from typer.testing import CliRunner

from dovelayout.cli.main import app

ROOT = Path(__file__).resolve().parent.parent
SAMPLES = sorted((ROOT / "samples").glob("*.toml"))
LIGHT = [path for path in SAMPLES if path.stem != "ribbon-cabinet"]
"""Without the bank, whose two dozen corners show nothing new where everything is drawn several times over."""
GALLERY = ROOT / "templates_out" / "gallery"

CLASSIC_ZLIB = "zlib-ng" not in zlib.ZLIB_RUNTIME_VERSION and not hasattr(zlib, "ZLIBNG_VERSION")
"""zlib-ng packs the same content into other bytes."""


def draw(job: Path, out: Path, *options: str) -> str:
    """Draws a job with the public command and gives back what the command said; fails where it can't be drawn."""
    result = CliRunner().invoke(app, ["draw", str(job), "-o", str(out), *options])
    if result.exit_code != 0:
        raise AssertionError(f"drawing {job.name} ended with {result.exit_code}: {result.output}") from result.exception
    return result.output


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path there."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }


def kept(job: Path) -> dict[str, bytes]:
    """What a sample is drawn as, from the gallery, which tests/test_gallery.py holds to a fresh drawing."""
    return files_in(GALLERY / job.stem)


def fresh() -> dict[str, bytes]:
    """The gallery as the samples draw today."""
    with tempfile.TemporaryDirectory() as folder:
        for job in SAMPLES:
            draw(job, Path(folder) / job.stem)
        return files_in(Path(folder))


def write(gallery: Path = GALLERY) -> list[str]:
    """Makes the gallery equal to a fresh drawing, stale files and empty folders gone; tells what changed."""
    wanted, there = fresh(), files_in(gallery)
    changed = [name for name in sorted(wanted | there) if wanted.get(name) != there.get(name)]
    for name in changed:
        path = gallery / name
        if name in wanted:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(wanted[name])
        else:
            path.unlink()
    for folder in sorted((path for path in gallery.rglob("*") if path.is_dir()), reverse=True):
        if not any(folder.iterdir()):
            folder.rmdir()
    return changed


def comparable(name: str, data: bytes) -> bytes:
    """The bytes to compare: all of them as they are, but a PDF's packed streams unpacked where this Python's zlib is
    of another make than the one that the gallery was packed with."""
    return data if CLASSIC_ZLIB or not name.endswith(".pdf") else unpacked(data)


def unpacked(pdf: bytes) -> bytes:
    """A PDF with its streams laid open, and without its ID, which hangs on how they were packed."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        del document.trailer["/ID"]
        laid_open = pikepdf.StreamDecodeLevel.generalized
        document.save(out, static_id=True, qdf=True, compress_streams=False, stream_decode_level=laid_open)
    return out.getvalue()


if __name__ == "__main__":
    for line in write() or ["nothing changed"]:
        print(line)
