"""The file of printers: kept beside a person's own comments, written whole or not at all, and never over a broken one."""

from __future__ import annotations

import os
import tempfile
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import DovelayoutError, JobError, PrintError
from dovelayout.printer.reading import Calibration, PaperAxis, printer_name, reading
from dovelayout.printer.store import (
    FILE_NAME,
    FOLDER_VARIABLE,
    MOST_BYTES,
    MOST_PRINTERS,
    keep_printer,
    printers_path,
    read_printers,
    remove_printer,
    use_printer,
)

GOOD = """# my printers
default = "study"

# the old one
[[printer]]
name = "study"  # by the window
across = { bar = 150, measured = 149.4 }
up = { bar = 250, measured = 250.8 }
"""


def calibration(name: str, across_mm: float = 149.4, up_mm: float = 150.6) -> Calibration:
    return Calibration(
        name=name,
        across=reading(PaperAxis.ACROSS, bar_mm=150.0, measured_mm=across_mm),
        up=reading(PaperAxis.UP, bar_mm=150.0, measured_mm=up_mm),
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the file would be; its folder is not there yet."""
    return tmp_path / "config" / FILE_NAME


def test_where_there_is_no_file_there_are_no_printers(path: Path) -> None:
    assert read_printers(path).printers == ()
    assert read_printers(path).default is None
    assert not path.parent.exists()


def test_what_is_kept_is_read_back(path: Path) -> None:
    study, shop = calibration("study"), calibration("Büro „links“", 151.0, 149.0)
    keep_printer(path, study)
    keep_printer(path, shop)
    assert read_printers(path).printers == (study, shop)
    again = calibration("STUDY", 150.3, 150.4)
    keep_printer(path, again)
    assert [row.across.measured_mm for row in read_printers(path).printers] == [150.3, 151.0]
    assert read_printers(path).find("büro „LINKS“ ") == shop
    assert [entry.name for entry in path.parent.iterdir()] == [FILE_NAME]


def test_the_default_and_its_end(path: Path) -> None:
    for name in ("one", "two"):
        keep_printer(path, calibration(name))
    use_printer(path, "TWO")
    assert read_printers(path).default == "two"
    use_printer(path, "one")
    assert read_printers(path).default == "one"
    remove_printer(path, "two")
    assert read_printers(path).default == "one"
    remove_printer(path, "one")
    assert read_printers(path) == type(read_printers(path))()
    keep_printer(path, calibration("three"))
    use_printer(path, "three")
    assert use_printer(path, None) is None
    assert read_printers(path).default is None
    assert use_printer(path, None) is None


def test_a_printer_that_is_not_known(path: Path) -> None:
    with pytest.raises(PrintError, match="dovelayout calibrate prints a sheet"):
        use_printer(path, "study")
    keep_printer(path, calibration("study"))
    for act in (use_printer, remove_printer):
        with pytest.raises(PrintError, match="'studdy' is not known; known: study"):
            act(path, "studdy")


def test_what_a_person_wrote_stays(path: Path) -> None:
    path.parent.mkdir()
    path.write_text(GOOD, encoding="utf-8")
    keep_printer(path, calibration("shop"))
    text = path.read_text(encoding="utf-8")
    assert text.startswith(GOOD.rstrip())
    use_printer(path, "shop")
    remove_printer(path, "study")
    text = path.read_text(encoding="utf-8")
    assert "# my printers" in text
    assert read_printers(path).default == "shop"
    assert [row.name for row in read_printers(path).printers] == ["shop"]


def test_an_inline_list_is_as_good(path: Path) -> None:
    path.parent.mkdir()
    entry = '{ name = "a", across = { bar = 150, measured = 150 }, up = { bar = 100, measured = 100.2 } }'
    for text in (f"printer = [{entry}]\n", "printer = []\n"):
        path.write_text(text, encoding="utf-8")
        before = [row.name for row in read_printers(path).printers]
        keep_printer(path, calibration("b"))
        assert [row.name for row in read_printers(path).printers] == [*before, "b"]


BROKEN = {
    "no TOML": "printer = [",
    "markup": "<xml/>",
    "a control character": "a = \x00",
    "unknown key": 'defualt = "study"\n' + GOOD.replace("default", "# default"),
    "unknown key of a printer": GOOD + "tray = 'A4'\n",
    "a paper that isn't known": GOOD + "paper = 'A9'\n",
    "a paper that is a list": GOOD + "paper = ['A4']\n",
    "a paper that is false": GOOD + "paper = false\n",
    "a printer that is no table": "printer = [1]\n",
    "printer is no list": "printer = 3\n",
    "no name": GOOD.replace('name = "study"  # by the window\n', ""),
    "a name that is a number": GOOD.replace('name = "study"', "name = 3"),
    "an empty name": GOOD.replace('name = "study"', 'name = ""'),
    "the name none": GOOD.replace('name = "study"', 'name = "none"'),
    "a default that isn't there": GOOD.replace('default = "study"', 'default = "shop"'),
    "a default that is a table": GOOD.replace('default = "study"', "default = {}"),
    "one way only": GOOD.replace("up = { bar = 250, measured = 250.8 }\n", ""),
    "one number only": GOOD.replace("up = { bar = 250, measured = 250.8 }", "up = { bar = 250 }"),
    "a factor": GOOD.replace("up = { bar = 250, measured = 250.8 }", "up = 0.9967"),
    "a text": GOOD.replace("250.8", '"250.8"'),
    "a truth": GOOD.replace("250.8", "true"),
    "not a number": GOOD.replace("250.8", "nan"),
    "without end": GOOD.replace("250.8", "inf"),
    "below nothing": GOOD.replace("250.8", "-250.8"),
    "a bar of no sheet": GOOD.replace("bar = 250", "bar = 200"),
    "far off": GOOD.replace("250.8", "264"),
    "a number of 5000 digits": GOOD.replace("250.8", "2" * 5000),
    "a number of 400 digits": GOOD.replace("250.8", "2" * 400),
    "the same name twice": GOOD + GOOD[GOOD.index("[[printer]]") :].replace('"study"', '"STUDY"'),
    "deep": "a = " + "[" * 5000,
    "huge": "#" * (MOST_BYTES + 1),
    "too many": 'default = "p0"\n'
    + "".join(
        f'[[printer]]\nname = "p{n}"\nacross = {{ bar = 150, measured = 150 }}\nup = {{ bar = 150, measured = 150 }}\n'
        for n in range(MOST_PRINTERS + 1)
    ),
}


@pytest.mark.parametrize("text", BROKEN.values(), ids=BROKEN)
def test_a_broken_file_is_told_in_one_line_and_kept(text: str, path: Path) -> None:
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    for act in (
        lambda: read_printers(path),
        lambda: keep_printer(path, calibration("new")),
        lambda: remove_printer(path, "study"),
        lambda: use_printer(path, "study"),
        lambda: use_printer(path, None),
    ):
        with pytest.raises(JobError) as caught:
            act()
        said = str(caught.value)
        assert said.startswith(f"{path}: ")
        assert said.count("\n") == 0
        assert len(said) < 1000
        assert path.read_text(encoding="utf-8") == text


def test_bytes_that_are_no_text(path: Path) -> None:
    path.parent.mkdir()
    path.write_bytes(b"\xff\xfe\x00d")
    with pytest.raises(JobError, match="not UTF-8 text"):
        keep_printer(path, calibration("new"))
    assert path.read_bytes() == b"\xff\xfe\x00d"


def test_a_byte_order_mark_is_no_fault(path: Path) -> None:
    path.parent.mkdir()
    path.write_text(GOOD, encoding="utf-8-sig")
    assert [row.name for row in read_printers(path).printers] == ["study"]
    keep_printer(path, calibration("shop"))
    assert [row.name for row in read_printers(path).printers] == ["study", "shop"]


def test_a_folder_or_a_pipe_in_its_place(path: Path, tmp_path: Path) -> None:
    path.mkdir(parents=True)
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for place in (path, pipe):
        with pytest.raises(JobError, match="not a file"):
            keep_printer(place, calibration("new"))


def test_a_link_is_read_and_never_replaced(path: Path, tmp_path: Path) -> None:
    path.parent.mkdir()
    real = tmp_path / "dotfiles.toml"
    real.write_text(GOOD, encoding="utf-8")
    path.symlink_to(real)
    assert read_printers(path).default == "study"
    for act in (
        lambda: keep_printer(path, calibration("new")),
        lambda: remove_printer(path, "study"),
        lambda: use_printer(path, None),
    ):
        with pytest.raises(PrintError, match="is a link"):
            act()
    assert path.is_symlink()
    assert real.read_text(encoding="utf-8") == GOOD


def test_a_link_to_nowhere_makes_no_file(path: Path, tmp_path: Path) -> None:
    path.parent.mkdir()
    path.symlink_to(tmp_path / "nowhere.toml")
    with pytest.raises(DovelayoutError):
        keep_printer(path, calibration("new"))
    assert path.is_symlink()
    assert not (tmp_path / "nowhere.toml").exists()


def test_a_link_to_itself(path: Path) -> None:
    path.parent.mkdir()
    path.symlink_to(path)
    with pytest.raises(DovelayoutError):
        read_printers(path)


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "config").write_text("keep", encoding="utf-8")
    with pytest.raises(PrintError, match="nothing was changed"):
        keep_printer(tmp_path / "config" / FILE_NAME, calibration("new"))
    assert (tmp_path / "config").read_text(encoding="utf-8") == "keep"


def test_a_disk_that_is_full_loses_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.parent.mkdir()
    path.write_text(GOOD, encoding="utf-8")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    for name in ("fsync", "replace"):
        with monkeypatch.context() as patch:
            patch.setattr(os, name, full)
            with pytest.raises(PrintError, match="No space left on device"):
                keep_printer(path, calibration("new"))
        assert path.read_text(encoding="utf-8") == GOOD
        assert [entry.name for entry in path.parent.iterdir()] == [FILE_NAME]


@pytest.mark.skipif(getattr(os, "geteuid", int)() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(tmp_path: Path) -> None:
    folder = tmp_path / "config"
    folder.mkdir(mode=0o500)
    with pytest.raises(PrintError, match="Permission denied"):
        keep_printer(folder / FILE_NAME, calibration("new"))


def test_a_folder_that_is_refused_by_the_system(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(tempfile, "mkstemp", refused)
    with pytest.raises(PrintError, match=r"can't be written \(Permission denied\); nothing was changed"):
        keep_printer(path, calibration("new"))
    assert not path.exists()


def test_where_the_file_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    assert printers_path() == tmp_path / FILE_NAME
    for unset in ("", None):
        if unset is None:
            monkeypatch.delenv(FOLDER_VARIABLE)
        else:
            monkeypatch.setenv(FOLDER_VARIABLE, unset)
        own = printers_path()
        assert own.name == FILE_NAME
        assert own.parent.name == "dovelayout"
        assert own.is_absolute()


@given(st.text(min_size=1, max_size=32))
def test_any_name_that_can_be_kept_comes_back(text: str) -> None:
    try:
        name = printer_name(text)
    except PrintError:
        return
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / FILE_NAME
        keep_printer(path, calibration(name))
        use_printer(path, name)
        assert read_printers(path).default == name
        assert tomllib.loads(path.read_text(encoding="utf-8"))["printer"][0]["name"] == name
        assert remove_printer(path, name).name == name
        assert read_printers(path).printers == ()
