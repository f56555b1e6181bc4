"""Files are written whole or not at all, under names that stay in their folder on any system."""

from __future__ import annotations

import os
import re
import tempfile
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from dovelayout.errors import PrintError
from dovelayout.render.files import MOST_NAME_BYTES, MayReplace, safe_name, unique_names, write_files

DEVICE = re.compile(r"(con|prn|aux|nul|(com|lpt)[1-9¹²³])", re.IGNORECASE)

ANY_TEXT = st.text(max_size=120) | st.text(alphabet="./\\:-~ \0aÄİß榫🪚", max_size=60)


# --- names ---


@given(ANY_TEXT)
@example("")
@example(".")
@example("..")
@example("../../x")
@example("/etc/x")
@example("C:\\x")
@example("CON")
@example("com¹")
@example("a\0b")
@example("İ" * 60)
@example("\ud800")
@example("櫃" * 200)
@example("-" + "x" * 99 + "-y")
def test_a_safe_name_is_a_name_everywhere(text: str) -> None:
    name = safe_name(text)
    assert name not in ("", ".", "..")
    assert not set(name) & set('/\\\0:*?"<>|')
    assert name.isprintable()
    assert 0 < len(name.encode("utf-8")) <= MOST_NAME_BYTES
    assert name == name.strip(" .-")
    assert PurePosixPath(name).parts == (name,)
    assert PureWindowsPath(name).parts == (name,)
    assert not DEVICE.fullmatch(name)
    assert not name.startswith("-")


@given(ANY_TEXT)
def test_a_safe_name_settles(text: str) -> None:
    # a letter may come apart once when it is made small (İ), but not again
    once = safe_name(safe_name(text))
    assert safe_name(once) == once


@given(ANY_TEXT)
def test_a_safe_name_is_the_same_whatever_the_case_or_the_gaps(text: str) -> None:
    assert safe_name(text) == safe_name(f"  {text}.. ")
    if text.isascii():
        assert safe_name(text) == safe_name(text.upper())


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Sewing chest", "sewing-chest"),
        ("Drawer no. 3/4 (left)", "drawer-no-3-4-left"),
        ("Μπαούλο ραπτικής", "μπαούλο-ραπτικής"),
        ("Ящик", "ящик"),
        ("燕尾榫", "燕尾榫"),
        ("../../x", "x"),
        ("CON", "con-job"),
        ("nul.txt", "nul-txt"),
        ("COM¹", "com¹-job"),
        ("...", "job"),
        ("🪚", "job"),
        ("a" * 150, "a" * 100),
    ],
)
def test_safe_names_read_well(text: str, name: str) -> None:
    assert safe_name(text) == name


@pytest.mark.parametrize("text", ["", "/", "..", "nul"])
def test_the_fallback_is_for_what_has_no_letters_or_is_a_device(text: str) -> None:
    assert safe_name(text, fallback="corner") in ("corner", "nul-corner")


@given(st.lists(st.text(alphabet="aAbB-2./ßS", max_size=6), max_size=12))
@example(["a", "a-2", "A", "a"])
@example(["ß", "ss", "SS"])
@example(["", ".", "corner", "/"])
def test_unique_names_differ_whatever_the_case(texts: list[str]) -> None:
    names = unique_names(texts, fallback="corner")
    assert len(names) == len(texts)
    assert len({name.casefold() for name in names}) == len(texts)
    for text, name in zip(texts, names, strict=True):
        assert name.startswith(safe_name(text, fallback="corner"))
        assert len(os.fsencode(name)) <= 120


def test_unique_names_keep_the_first_as_it_is() -> None:
    assert unique_names(["a", "A", "b", "a"], fallback="corner") == ["a", "a-2", "b", "a-3"]


# --- writing ---


def tree(folder: Path) -> dict[str, bytes | None]:
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


def test_files_are_written_with_their_folders(tmp_path: Path) -> None:
    write_files({tmp_path / "a" / "b" / "one.svg": b"1", tmp_path / "a" / "two.pdf": b"2" * 100_000})
    assert tree(tmp_path) == {"a": None, "a/b": None, "a/b/one.svg": b"1", "a/two.pdf": b"2" * 100_000}


def test_nothing_to_write_is_no_fault(tmp_path: Path) -> None:
    write_files({})
    assert tree(tmp_path) == {}


def test_a_file_that_is_there_is_replaced_whole(tmp_path: Path) -> None:
    path = tmp_path / "one.svg"
    path.write_bytes(b"old and long")
    before = path.stat().st_ino
    with path.open("rb") as still_open:
        write_files({path: b"new"}, may_replace=MayReplace.ANYTHING)
        assert path.read_bytes() == b"new"
        assert still_open.read() == b"old and long"  # who reads the old one reads all of it
        assert path.stat().st_ino != before


def test_others_may_read_what_they_may_read_elsewhere(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        write_files({tmp_path / "one.svg": b"1"})
    finally:
        os.umask(mask)
    assert (tmp_path / "one.svg").stat().st_mode & 0o777 == 0o640


def test_a_link_is_replaced_and_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret").write_bytes(b"keep")
    (tmp_path / "one.svg").symlink_to("secret")
    write_files({tmp_path / "one.svg": b"1"}, may_replace=MayReplace.ANYTHING)
    assert (tmp_path / "secret").read_bytes() == b"keep"
    assert not (tmp_path / "one.svg").is_symlink()


def refused(files: dict[Path, bytes]) -> str:
    with pytest.raises(PrintError) as caught:
        write_files(files, may_replace=MayReplace.ANYTHING)
    return str(caught.value)


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"keep")
    for path in (tmp_path / "out" / "one.svg", tmp_path / "out" / "deep" / "one.svg"):
        said = refused({tmp_path / "new" / "zero.svg": b"0", path: b"1"})
        assert said.startswith(f"{path}: can't be written (")
        assert said.endswith("nothing was changed")
        assert tree(tmp_path) == {"out": b"keep"}


@pytest.mark.skipif(getattr(os, "geteuid", int)() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    folder.mkdir(mode=0o500)
    assert "Permission denied" in refused({folder / "one.svg": b"1"})


def test_a_directory_in_place_of_the_file(tmp_path: Path) -> None:
    (tmp_path / "two.pdf").mkdir()
    said = refused({tmp_path / "one.svg": b"1", tmp_path / "two.pdf": b"2"})
    assert said == f"{tmp_path / 'two.pdf'}: is a directory; name a file"
    assert tree(tmp_path) == {"two.pdf": None}


def test_a_name_that_is_too_long(tmp_path: Path) -> None:
    assert "File name too long" in refused({tmp_path / ("n" * 300): b"1"})
    assert "File name too long" in refused({tmp_path / ("n" * 300) / "one.svg": b"1"})
    assert tree(tmp_path) == {}


class FailsAt:
    """Stands in for a function of os: passes calls on, but the given one runs out of space."""

    def __init__(self, real: Any, number: int, error: BaseException) -> None:
        self.real, self.left, self.error = real, number, error

    def __call__(self, *args: Any, **keys: Any) -> Any:
        self.left -= 1
        if self.left == 0:
            raise self.error
        return self.real(*args, **keys)


FULL = OSError(28, "No space left on device")


def three(folder: Path) -> dict[Path, bytes]:
    """Three files to write, two of which are there in an old version."""
    for name in ("one.svg", "two.svg"):
        (folder / name).write_bytes(b"old")
    return {folder / name: b"new" for name in ("one.svg", "two.svg", "deep/three.svg")}


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("call", ["fsync", "chmod", "fdopen"])
def test_a_full_disk_changes_nothing(call: str, number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = three(tmp_path)
    monkeypatch.setattr(os, call, FailsAt(getattr(os, call), number, FULL))
    said = refused(files)
    assert said == f"{list(files)[number - 1]}: can't be written (No space left on device); nothing was changed"
    assert tree(tmp_path) == {"one.svg": b"old", "two.svg": b"old"}


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_temporary_file_that_can_not_be_made(number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = three(tmp_path)
    monkeypatch.setattr(tempfile, "mkstemp", FailsAt(tempfile.mkstemp, number, FULL))
    assert refused(files).endswith("nothing was changed")
    assert tree(tmp_path) == {"one.svg": b"old", "two.svg": b"old"}


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_rename_that_fails_leaves_every_file_whole(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = three(tmp_path)
    monkeypatch.setattr(os, "replace", FailsAt(os.replace, number, PermissionError(13, "Permission denied")))
    said = refused(files)
    assert said.startswith(f"{list(files)[number - 1]}: can't be written (Permission denied); ")
    assert said.endswith("nothing was changed" if number == 1 else f"{number - 1} of 3 files were written before it")
    wanted = {"one.svg": b"new" if number > 1 else b"old", "two.svg": b"new" if number > 2 else b"old"}
    assert tree(tmp_path) == wanted


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_maker_who_interrupts_finds_no_leavings(call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = three(tmp_path)
    monkeypatch.setattr(os, call, FailsAt(getattr(os, call), 1, KeyboardInterrupt()))
    with pytest.raises(KeyboardInterrupt):
        write_files(files, may_replace=MayReplace.ANYTHING)
    assert tree(tmp_path) == {"one.svg": b"old", "two.svg": b"old"}


def test_folders_that_were_there_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "empty").mkdir()
    monkeypatch.setattr(os, "fsync", FailsAt(os.fsync, 1, FULL))
    refused({tmp_path / "empty" / "new" / "one.svg": b"1"})
    assert tree(tmp_path) == {"empty": None}
