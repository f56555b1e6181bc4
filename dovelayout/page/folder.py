"""The maker's files as the page may reach them: the job files of one folder, by name, nothing else.

A file's state is the digest of its bytes: saving says on which state the text was built, so that a file that was changed
meanwhile by another program or another tab is never overwritten unseen.
"""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path

from dovelayout.errors import JobError, PrintError
from dovelayout.job.reader import MOST_BYTES
from dovelayout.render.files import MayReplace, write_files

MOST_LISTED = 500


class ChangedOnDisk(Exception):
    """The file isn't what the text was built on any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A job file's text and the state it was read in."""

    name: str
    text: str
    state: str


@dataclass(frozen=True, slots=True)
class Folder:
    """The folder that was opened, and the file that was named with it ('' for none)."""

    path: Path
    opened: str = ""

    def names(self) -> tuple[str, ...]:
        """Job files in the folder, by name."""
        try:
            found = sorted(entry.name for entry in os.scandir(self.path) if self._is_job(entry))
        except OSError:
            return ()
        return tuple(found[:MOST_LISTED])

    def _is_job(self, entry: os.DirEntry[str]) -> bool:
        return entry.name.endswith(".toml") and not entry.name.startswith(".") and entry.is_file()

    def read(self, name: str) -> Opened:
        """The text of one of its job files. Raises JobError."""
        data = self._bytes(name)
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise JobError(file=name, problem="is not UTF-8 text", remedy="save it as UTF-8") from None
        return Opened(name=name, text=text, state=_state(data))

    def state(self, name: str) -> str:
        """The state of a file now, '' when it is gone. Raises JobError for a name that can't be."""
        path = self._place(name)
        try:
            return _state(path.read_bytes()) if path.is_file() and path.stat().st_size <= MOST_BYTES else ""
        except OSError:
            return ""

    def save(self, name: str, text: str, *, built_on: str) -> str:
        """Writes a text whole or not at all and gives back the new state.

        `built_on` is the state that the text was built on; '' for a file that must not be there yet. Raises
        ChangedOnDisk, JobError and PrintError.
        """
        path = self._place(name)
        data = text.encode("utf-8")
        if len(data) > MOST_BYTES:
            raise JobError(file=name, problem="is larger than 1 MB", remedy="a job file is a few kB of text")
        if path.is_symlink() or (path.exists() and not path.is_file()):
            raise PrintError(f"{name}: is not a plain file", remedy="save under another name")
        if self.state(name) != built_on:
            raise ChangedOnDisk
        write_files({path: data}, may_replace=MayReplace.ANYTHING)
        return _state(data)

    def _bytes(self, name: str) -> bytes:
        path = self._place(name)
        try:
            if not path.is_file():
                raise JobError(file=name, problem="there is no such file", remedy="choose one of the list")
            if path.stat().st_size > MOST_BYTES:
                raise JobError(file=name, problem="is larger than 1 MB", remedy="is it a job file?")
            return path.read_bytes()
        except OSError as error:
            raise JobError(
                file=name, problem=f"can't be read ({error.strerror})", remedy="check its permissions"
            ) from None

    def _place(self, name: str) -> Path:
        """The file of that name in the folder; never one outside, whatever the name."""
        plain = (
            0 < len(name.encode("utf-8", "replace")) <= 120
            and name.endswith(".toml")
            and not name.startswith(".")
            and name == os.path.basename(name)
            and not any(ch in '\\/:*?"<>|' or not ch.isprintable() for ch in name)
        )
        if not plain:
            raise JobError(
                file=name[:80],
                problem="can't be the name of a job file",
                remedy='letters and digits, ending in ".toml"',
            )
        return self.path / name


def _state(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
