"""Writing files whole or not at all, under names that can't leave their folder."""

from __future__ import annotations

import contextlib
import os
import stat
import tempfile
from collections.abc import Mapping
from enum import StrEnum
from pathlib import Path

from dovelayout.errors import PrintError

MOST_NAME_BYTES = 100
MARK = "dovelayout"
"""Stands in every file that is drawn, where its kind has a place for the program that made it."""
_MARKS = {
    ".pdf": (f"/Creator ({MARK})",),
    ".svg": (f'class="drawn-by-{MARK}"',),
    ".dxf": (f"DrawnBy\n  9\n$CUSTOMPROPERTY\n  1\n{MARK}\n",),
    ".png": (f"Software\0{MARK}",),
    ".csv": ("drawer,part,count,",),
}
_MOST_LOOKED_AT = 256 * 1024 * 1024
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in "123456789¹²³")}


def safe_name(text: str, *, fallback: str = "job") -> str:
    """A file name made of the letters and digits of a text, in any script, joined by '-'; never empty, never a path,
    never a device of some system, at most MOST_NAME_BYTES long."""
    kept = "".join(ch.lower() if ch.isalnum() else "-" for ch in text)
    name = "-".join(part for part in kept.split("-") if part)
    while len(name.encode("utf-8")) > MOST_NAME_BYTES:
        name = name[:-1].rstrip("-")
    if not name or name in _RESERVED:
        return fallback if not name else f"{name}-{fallback}"
    return name


def unique_names(texts: list[str], *, fallback: str) -> list[str]:
    """A safe name for each text, all different whatever the case."""
    taken: set[str] = set()
    names = []
    for text in texts:
        base = name = safe_name(text, fallback=fallback)
        number = 2
        while name.casefold() in taken:
            name = f"{base}-{number}"
            number += 1
        taken.add(name.casefold())
        names.append(name)
    return names


class Over(StrEnum):
    """What may be replaced where a file is there already. A pipe, a device or a folder never is."""

    NOTHING = "nothing"
    OWN = "own"
    """What the program drew before; a link, or another's file of that name, is left alone and named."""
    ANY = "any"
    """Whatever is there: because the maker said so, or because it is that very file with a key changed."""

    @classmethod
    def told(cls, force: bool, *, otherwise: Over | None = None) -> Over:
        """As --force says."""
        return cls.ANY if force else otherwise or cls.OWN


def write_files(files: Mapping[Path, bytes], *, over: Over = Over.OWN) -> None:
    """Writes each file whole or not at all: all to temporary files beside their places first, then renamed.

    `over` says what may be replaced. Raises PrintError that names the file and what stands against it; then nothing was
    changed, and folders made for nothing are taken away again. A link in a file's place is replaced, never followed.
    """
    for path in files:
        may_be_written(path, over)
    made: list[tuple[Path, Path]] = []
    folders: list[Path] = []
    try:
        for path, data in files.items():
            try:
                folders.extend(folder for folder in (path.parent, *path.parent.parents) if not folder.exists())
                path.parent.mkdir(parents=True, exist_ok=True)
                handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".dovelayout-", suffix=".part")
                made.append((Path(temporary), path))
                with os.fdopen(handle, "wb") as out:
                    out.write(data)
                    out.flush()
                    os.fsync(out.fileno())
                os.chmod(temporary, 0o666 & ~_umask())
            except OSError as error:
                raise PrintError(
                    f"{path}: can't be written ({error.strerror or error})", remedy="nothing was changed"
                ) from None
        for number, (temporary_path, path) in enumerate(made):
            try:
                os.replace(temporary_path, path)
            except OSError as error:
                before = f"{number} of {len(made)} files were written before it" if number else "nothing was changed"
                raise PrintError(f"{path}: can't be written ({error.strerror or error})", remedy=f"{before}") from None
    finally:
        for temporary_path, _ in made:
            with contextlib.suppress(OSError):
                temporary_path.unlink()
        for folder in folders:
            with contextlib.suppress(OSError):
                folder.rmdir()  # only where it is empty


def may_be_written(path: Path, over: Over) -> None:
    """Raises PrintError for what is there and has to stay."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return
    except (OSError, ValueError) as error:
        said = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise PrintError(f"{path}: can't be written ({said})", remedy="nothing was changed") from None
    kind = found.st_mode
    if path.is_dir():
        raise PrintError(f"{path}: is a directory", remedy="name a file")
    if not (stat.S_ISREG(kind) or stat.S_ISLNK(kind)):
        raise PrintError(f"{path}: is a device or a pipe, not a file", remedy="give another name")
    if over is Over.ANY:
        return
    if over is Over.NOTHING:
        raise PrintError(f"{path}: is there already", remedy="give another name, or say --force")
    if stat.S_ISLNK(kind):
        raise PrintError(
            f"{path}: is a link", remedy="give another name or folder, or say --force to put the file in its place"
        )
    if not _is_own(path, found.st_size):
        raise PrintError(
            f"{path}: is there already, and dovelayout didn't write it", remedy="give another name, or say --force"
        )


def _is_own(path: Path, size: int) -> bool:
    """Whether a file bears the mark of what is drawn here."""
    marks = _MARKS.get(path.suffix.lower(), ())
    if not marks or size > _MOST_LOOKED_AT:
        return False
    try:
        data = path.read_bytes()
    except OSError:
        return False
    return any(mark.encode() in data for mark in marks)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
