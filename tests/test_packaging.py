"""What is installed from a wheel is what works from the checkout: an editable install hides a file left out."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.gallery import ROOT, SAMPLES, draw, files_in

DATA = {
    "dovelayout/wood/data/species.csv",
    "dovelayout/wood/data/names.csv",
    "dovelayout/repair/symptoms/data/gaps.toml",
    "dovelayout/repair/symptoms/data/plain_words.txt",
    "dovelayout/repair/data/gap.toml",
    "dovelayout/glueup/data/steps.toml",
    "dovelayout/drawing/fonts/DejaVuSans-subset.ttf",
    "dovelayout/drawing/fonts/LICENSE-DejaVu.txt",
    "dovelayout/docs/limits.md",
    "dovelayout/py.typed",
}
LEFT_OUT = ("dovelayout/docs/decisions/", "dovelayout/docs/testing.md")
"""For those who work on the package, not for those who use it."""
BY_THE_WAY = {"__pycache__", ".mypy_cache", ".ruff_cache"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel of the checkout, built by the installed back end without network."""
    out = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(ROOT)]
    built = subprocess.run(command, capture_output=True, text=True)
    assert built.returncode == 0, built.stdout + built.stderr
    (path,) = out.glob("*.whl")
    return path


def test_the_wheel_holds_every_file_of_the_package_but_those_for_developers(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        held = {name: archive.read(name) for name in archive.namelist()}
    every = {
        f"dovelayout/{name}": data
        for name, data in files_in(ROOT / "dovelayout").items()
        if not BY_THE_WAY & set(Path(name).parts) and not name.endswith(".pyc")
    }
    there = {name: data for name, data in every.items() if not name.startswith(LEFT_OUT)}
    assert all(any(name.startswith(left_out) for name in every) for left_out in LEFT_OUT)
    assert set(held) >= DATA
    assert {name: data for name, data in held.items() if name.startswith("dovelayout/")} == there
    assert {name.split("/")[0] for name in held if not name.startswith("dovelayout/")} == {
        wheel.name.removesuffix("-py3-none-any.whl") + ".dist-info"
    }
    licences = [name for name in held if ".dist-info/licenses/" in name]
    assert {Path(name).name for name in licences} == {"LICENSE", "LICENSE-DejaVu.txt"}
    assert all(held[name].strip() for name in licences)


def test_the_wheel_draws_the_same_bytes(wheel: Path, tmp_path: Path) -> None:
    unpacked, drawn = tmp_path / "unpacked", tmp_path / "drawn"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(unpacked)
    code = (
        "import pathlib, sys, dovelayout\n"
        "assert pathlib.Path(dovelayout.__file__).is_relative_to(sys.argv.pop(1)), dovelayout.__file__\n"
        "from dovelayout.cli.main import main\n"
        "main()\n"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(unpacked), "draw", str(SAMPLES[0]), "-o", str(drawn)],
        env={**os.environ, "PYTHONPATH": str(unpacked)},
        cwd=tmp_path,
        check=True,
        capture_output=True,
    )
    draw(SAMPLES[0], tmp_path / "here")
    assert files_in(drawn) == files_in(tmp_path / "here")
    assert len(files_in(drawn)) >= 3


def test_every_command_is_in_the_wheel(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (points,) = (name for name in archive.namelist() if name.endswith(".dist-info/entry_points.txt"))
        assert "dovelayout = dovelayout.cli.main:main" in archive.read(points).decode()
