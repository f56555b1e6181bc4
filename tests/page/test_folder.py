"""The maker's files as the page reaches them: by name, in one folder, never overwritten unseen."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import DovelayoutError, JobError, PrintError
from dovelayout.page.folder import ChangedOnDisk, Folder


def test_lists_job_files_and_nothing_else(tmp_path: Path) -> None:
    for name in ("b.toml", "a.toml", "notes.txt", ".hidden.toml"):
        (tmp_path / name).write_text("")
    (tmp_path / "folder.toml").mkdir()
    assert Folder(tmp_path).names() == ("a.toml", "b.toml")
    assert Folder(tmp_path / "gone").names() == ()


def test_reads_and_saves_what_it_read(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text('title = "é"\n', encoding="utf-8")
    folder = Folder(tmp_path)
    opened = folder.read("a.toml")
    assert opened.text == 'title = "é"\n'
    state = folder.save("a.toml", "title = 'b'\n", built_on=opened.state)
    assert (tmp_path / "a.toml").read_text() == "title = 'b'\n"
    assert state == folder.state("a.toml") != opened.state


def test_a_file_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    state = folder.save("a.toml", "one", built_on="")
    (tmp_path / "a.toml").write_text("by hand")
    with pytest.raises(ChangedOnDisk):
        folder.save("a.toml", "two", built_on=state)
    assert (tmp_path / "a.toml").read_text() == "by hand"


def test_a_new_file_never_replaces_one_that_is_there(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text("there")
    with pytest.raises(ChangedOnDisk):
        Folder(tmp_path).save("a.toml", "new", built_on="")
    assert (tmp_path / "a.toml").read_text() == "there"


def test_a_file_that_is_gone_is_not_written_as_if_it_were_there(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    state = folder.save("a.toml", "one", built_on="")
    (tmp_path / "a.toml").unlink()
    assert folder.state("a.toml") == ""
    with pytest.raises(ChangedOnDisk):
        folder.save("a.toml", "two", built_on=state)


CLIMBING = (
    "../a.toml", "..", "/etc/passwd", "/tmp/a.toml", "sub/a.toml", "sub\\a.toml", "..\\a.toml", "a.toml/../b.toml",
    "C:a.toml", "a.toml\0", "a\n.toml", ".a.toml", "", "a.txt", "con:.toml", "x" * 130 + ".toml", "a.toml ", "%2e%2e/a.toml",
)  # fmt: skip


@pytest.mark.parametrize("name", CLIMBING)
def test_no_name_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "a.toml").write_text("outside")
    folder = Folder(inside)
    for act in (lambda: folder.read(name), lambda: folder.state(name), lambda: folder.save(name, "x", built_on="")):
        with pytest.raises(JobError):
            act()
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["a.toml", "inside"]
    assert (tmp_path / "a.toml").read_text() == "outside"


@given(name=st.text(max_size=40).map(lambda text: text + ".toml"))
def test_whatever_the_name_only_the_folder_is_written(tmp_path_factory: pytest.TempPathFactory, name: str) -> None:
    root = tmp_path_factory.mktemp("root")
    inside = root / "inside"
    inside.mkdir()
    try:
        Folder(inside).save(name, "x", built_on="")
    except DovelayoutError:
        assert list(inside.iterdir()) == []
    else:
        assert [path.name for path in inside.iterdir()] == [name]
    assert [path.name for path in root.iterdir()] == ["inside"]


def test_a_link_is_never_written_through(tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("mine")
    inside = tmp_path / "inside"
    inside.mkdir()
    (inside / "a.toml").symlink_to(outside)
    folder = Folder(inside)
    with pytest.raises(PrintError, match="not a plain file"):
        folder.save("a.toml", "x", built_on=folder.state("a.toml"))
    assert outside.read_text() == "mine"


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_permission_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(PrintError):
            Folder(tmp_path).save("a.toml", "x", built_on="")
    finally:
        tmp_path.chmod(0o700)


def test_files_that_are_no_text_or_too_large_are_told(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "b.toml").write_bytes(b"#" * 1_000_001)
    folder = Folder(tmp_path)
    with pytest.raises(JobError, match="UTF-8"):
        folder.read("a.toml")
    with pytest.raises(JobError, match="1 MB"):
        folder.read("b.toml")
    with pytest.raises(JobError, match="1 MB"):
        folder.save("c.toml", "#" * 1_000_001, built_on="")
    with pytest.raises(JobError, match="no such file"):
        folder.read("gone.toml")
