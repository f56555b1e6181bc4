"""What is there stays: a maker's own files, links, pipes and devices; and a file is the old one or the new one, never half,
whenever the program is killed or the disk is full."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from dovelayout.cli.main import app
from dovelayout.errors import PrintError
from dovelayout.render.files import MayReplace, write_files
from tests.gallery import ROOT

SAMPLES = ROOT / "samples"
TRAY, DRAWERS = SAMPLES / "thread-tray.toml", SAMPLES / "sewing-drawers.toml"
OPENINGS, PRESS = SAMPLES / "thread-library.csv", SAMPLES / "linen-press.toml"

COMMANDS: dict[str, tuple[list[str], str]] = {
    "draw": (["draw", str(TRAY), "-o", "out", "--as", "pdf", "--no-pictures"], "out/thread-tray.pdf"),
    "draw --as svg": (["draw", str(TRAY), "-o", "out", "--as", "svg", "--no-pictures"], "out/a-tails.svg"),
    "season": (["season", str(PRESS), "--as", "svg", "-o", "out"], ""),
    "fit": (["fit", str(TRAY), "-o", "out", "--joints", "100"], ""),
    "glueup": (["glueup", str(TRAY), "-o", "out", "--anyway"], ""),
    "slope --gauge": (["slope", "1:7", "--gauge", "gauge.svg"], "gauge.svg"),
    "slope --gauge pdf": (["slope", "1:7", "--gauge", "gauge.pdf"], "gauge.pdf"),
    "calibrate": (["calibrate", "-o", "bars.pdf"], "bars.pdf"),
    "new": (["new", "box", "-o", "own.toml"], "own.toml"),
    "drawers -o": (["drawers", str(OPENINGS), "-o", "own.toml"], "own.toml"),
    "drawers --cut-list": (["drawers", str(DRAWERS), "--cut-list", "cuts.csv"], "cuts.csv"),
    "repair gap": (
        [
            "repair",
            "gap",
            "--width",
            "0.5 mm",
            "--depth",
            "9 mm",
            "--length",
            "12 mm",
            "--species",
            "white oak",
            "-o",
            "slip.svg",
        ],
        "slip.svg",
    ),
}
"""Every command that writes, and the file that is looked at; '' for the first that it writes."""
AGAIN = [name for name in COMMANDS if name not in ("new", "drawers -o")]
"""What may be written a second time without a word: drawings, which are made anew after each change of the job."""


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.setenv("DOVELAYOUT_CONFIG", str(tmp_path / "config"))
    return folder


def run(args: list[str]) -> Result:
    return CliRunner().invoke(app, args)


def made_by(name: str, shop: Path) -> Path:
    """Runs a command once and gives back the file it is looked at by."""
    args, wanted = COMMANDS[name]
    result = run(args)
    assert result.exit_code in (0, 1), (result.output, result.exception)
    files = sorted(path for path in shop.rglob("*") if path.is_file())
    assert files, result.output
    return shop / wanted if wanted else files[0]


def refused(name: str) -> str:
    result = run(COMMANDS[name][0])
    assert result.exit_code == 2, (result.output, result.exception)
    (line,) = result.stderr.splitlines()
    return line


@pytest.mark.parametrize("name", AGAIN)
def test_its_own_drawings_are_drawn_again(name: str, shop: Path) -> None:
    path = made_by(name, shop)
    first = path.read_bytes()
    assert run(COMMANDS[name][0]).exit_code in (0, 1)
    assert path.read_bytes() == first


@pytest.mark.parametrize("name", COMMANDS)
def test_a_makers_own_file_is_left_alone_and_named(name: str, shop: Path) -> None:
    path = made_by(name, shop)
    path.write_bytes(b"my own work")
    others = {other: other.read_bytes() for other in shop.rglob("*") if other.is_file()}
    line = refused(name)
    assert f"{path.relative_to(shop)}: is there already" in line
    assert "--force" in line
    assert {other: other.read_bytes() for other in shop.rglob("*") if other.is_file()} == others
    assert run([*COMMANDS[name][0], "--force"]).exit_code in (0, 1)
    assert path.read_bytes() != b"my own work"


@pytest.mark.parametrize("name", COMMANDS)
def test_a_link_in_its_place_is_left_alone_and_what_it_stands_for_too(name: str, shop: Path) -> None:
    path = made_by(name, shop)
    secret = shop.parent / "secret"
    secret.write_bytes(path.read_bytes())  # even where it bears the mark
    before = secret.read_bytes()
    path.unlink()
    path.symlink_to(secret)
    assert "is " in refused(name)
    assert path.is_symlink()
    run([*COMMANDS[name][0], "--force"])
    assert secret.read_bytes() == before
    assert not path.is_symlink()


@pytest.mark.parametrize("name", COMMANDS)
def test_a_link_to_nowhere_makes_no_file_elsewhere(name: str, shop: Path) -> None:
    path = made_by(name, shop)
    path.unlink()
    path.symlink_to(shop.parent / "nowhere")
    refused(name)
    run([*COMMANDS[name][0], "--force"])
    assert not (shop.parent / "nowhere").exists()


@pytest.mark.parametrize("name", COMMANDS)
def test_a_pipe_in_its_place_is_never_replaced(name: str, shop: Path) -> None:
    path = made_by(name, shop)
    path.unlink()
    os.mkfifo(path)
    for more in ([], ["--force"]):
        result = run([*COMMANDS[name][0], *more])
        assert result.exit_code == 2
        assert "is a device or a pipe" in result.stderr
    assert path.is_fifo()


def test_a_device_is_never_replaced() -> None:
    before = os.stat(os.devnull).st_rdev
    for may_replace in MayReplace:
        with pytest.raises(PrintError, match="is a device or a pipe"):
            write_files({Path(os.devnull): b"1"}, may_replace=may_replace)
    assert os.stat(os.devnull).st_rdev == before


def test_a_folder_that_is_a_link_is_the_folder_it_stands_for(shop: Path) -> None:
    """The maker named it: drawings go there, and nowhere else."""
    (shop.parent / "elsewhere").mkdir()
    (shop / "out").symlink_to(shop.parent / "elsewhere")
    assert run(COMMANDS["draw"][0]).exit_code == 0
    assert [path.name for path in (shop.parent / "elsewhere").iterdir()] == ["thread-tray.pdf"]


def test_a_copy_of_another_kind_is_no_drawing_of_its_own(shop: Path) -> None:
    """A text that only speaks of the program is not its drawing."""
    (shop / "gauge.svg").write_text("<svg><desc>made with dovelayout</desc></svg>")
    assert "gauge.svg: is there already, and dovelayout didn't write it" in refused("slope --gauge")


# --- killed, full, gone ---

_WRITER = """
import sys
from pathlib import Path
from dovelayout.render.files import MayReplace, write_files
folder = Path(sys.argv[1])
print("ready", flush=True)
for round_ in range(100000):
    letter = b"ab"[round_ % 2 : round_ % 2 + 1]
    write_files({folder / f"{n}.svg": letter * 3_000_000 for n in range(3)}, may_replace=MayReplace.ANYTHING)
"""


def test_killed_at_any_moment_a_file_is_whole(tmp_path: Path) -> None:
    for number in range(3):
        (tmp_path / f"{number}.svg").write_bytes(b"0" * 3_000_000)
    rng = random.Random(1)
    for _ in range(12):
        writer = subprocess.Popen(
            [sys.executable, "-c", _WRITER, str(tmp_path)],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
        )
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(rng.uniform(0.0, 0.12))
        writer.send_signal(signal.SIGKILL)
        writer.wait()
        writer.stdout.close()
        for number in range(3):
            data = (tmp_path / f"{number}.svg").read_bytes()
            assert len(data) == 3_000_000
            assert data in (b"0" * len(data), b"a" * len(data), b"b" * len(data))
    left = [path.name for path in tmp_path.iterdir() if path.suffix != ".svg"]
    assert all(name.startswith(".dovelayout-") and name.endswith(".part") for name in left)


def test_a_disk_that_is_full_is_told_and_changes_nothing(shop: Path) -> None:
    """The system itself refuses more bytes, as a full disk does."""
    path = made_by("draw", shop)
    before = path.read_bytes()
    code = (
        "import resource, signal, sys\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "from dovelayout.cli.main import main\n"
        "main()\n"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"}
    result = subprocess.run(
        [sys.executable, "-c", code, *COMMANDS["draw"][0]], env=env, cwd=shop, capture_output=True, text=True
    )
    assert result.returncode == 2, result.stderr
    assert result.stderr.strip().endswith("can't be written (File too large); nothing was changed")
    assert path.read_bytes() == before
    assert [p.name for p in path.parent.iterdir()] == [path.name]


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may mount a small disk")
def test_a_small_disk_runs_full(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)], capture_output=True).returncode:
        pytest.skip("no disk can be mounted here")
    try:
        write_files({disk / "one.svg": b"old"})
        with pytest.raises(PrintError, match="No space left on device"):
            write_files(
                {disk / "one.svg": b"x" * 40_000, disk / "two.svg": b"x" * 40_000}, may_replace=MayReplace.ANYTHING
            )
        assert {path.name: path.read_bytes() for path in disk.iterdir()} == {"one.svg": b"old"}
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_folder_that_vanishes_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "out"
    real = os.replace

    def gone(source: str, target: Path) -> None:
        for path in folder.iterdir():
            path.unlink()
        folder.rmdir()
        real(source, target)

    monkeypatch.setattr(os, "replace", gone)
    with pytest.raises(PrintError, match="No such file or directory"):
        write_files({folder / "one.svg": b"1"})
    assert not folder.exists()
