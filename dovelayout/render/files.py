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
    ".pdf": f"/Creator ({MARK})",
    ".svg": f'class="drawn-by-{MARK}"',
    ".dxf": f"DrawnBy\n  9\n$CUSTOMPROPERTY\n  1\n{MARK}\n",
    ".png": f"Software\0{MARK}",
    ".csv": "drawer,part,count,",
}
_MOST_READ = 256 * 1024 * 1024
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
    names: dict[str, str] = {}
    for text in texts:
        base = name = safe_name(text, fallback=fallback)
        number = 2
        while name.casefold() in names:
            name = f"{base}-{number}"
            number += 1
        names[name.casefold()] = name
    return list(names.values())


class MayReplace(StrEnum):
    """Which existing files may be replaced. A pipe, a device or a folder never is."""

    NOTHING = "nothing"
    OWN = "own"
    """What the program drew before; a link, or another's file of that name, is left alone and named."""
    ANYTHING = "anything"
    """Whatever is there: because the maker said so, or because it is that very file with a key changed."""

    @classmethod
    def if_forced(cls, *, force: bool, otherwise: MayReplace | None = None) -> MayReplace:
        """Anything where --force was given, else `otherwise` (None: OWN)."""
        return cls.ANYTHING if force else otherwise or cls.OWN


def write_files(files: Mapping[Path, bytes], *, may_replace: MayReplace = MayReplace.OWN) -> None:
    """Writes each file whole or not at all: all to temporary files beside their places first, then renamed.

    Raises PrintError that names the file and what stands against it; then nothing was
    changed, and folders made for nothing are taken away again. A link in a file's place is replaced, never followed.
    """
    for path in files:
        may_be_written(path, may_replace)
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
                raise _unwritable(path, error) from None
        for number, (temporary_path, path) in enumerate(made):
            try:
                os.replace(temporary_path, path)
            except OSError as error:
                raise _unwritable(path, error, written=f"{number} of {len(made)}" if number else "") from None
    finally:
        for temporary_path, _ in made:
            with contextlib.suppress(OSError):
                temporary_path.unlink()
        for folder in folders:
            with contextlib.suppress(OSError):
                folder.rmdir()  # only where it is empty


def _unwritable(path: Path, error: OSError | ValueError, *, written: str = "") -> PrintError:
    reason = error.strerror if isinstance(error, OSError) and error.strerror else error
    remedy = f"{written} files were written before it" if written else "nothing was changed"
    return PrintError(f"{path}: can't be written ({reason})", remedy=remedy)


def may_be_written(path: Path, may_replace: MayReplace) -> None:
    """Raises PrintError for what is there and has to stay."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return
    except (OSError, ValueError) as error:
        raise _unwritable(path, error) from None
    refused = _refused(path, found, may_replace)
    if refused is not None:
        problem, remedy = refused
        raise PrintError(f"{path}: {problem}", remedy=remedy)


def _refused(path: Path, found: os.stat_result, may_replace: MayReplace) -> tuple[str, str] | None:
    """Why what is there has to stay, and what would be right."""
    is_link = stat.S_ISLNK(found.st_mode)
    if path.is_dir():
        return "is a directory", "name a file"
    if not (stat.S_ISREG(found.st_mode) or is_link):
        return "is a device or a pipe, not a file", "give another name"
    if may_replace is MayReplace.ANYTHING:
        return None
    if may_replace is MayReplace.NOTHING:
        return "is there already", "give another name, or say --force"
    if is_link:
        return "is a link", "give another name or folder, or say --force to put the file in its place"
    if not _is_own(path, found.st_size):
        return "is there already, and dovelayout didn't write it", "give another name, or say --force"
    return None


def _is_own(path: Path, size: int) -> bool:
    """Whether a file bears the mark of what is drawn here."""
    mark = _MARKS.get(path.suffix.lower())
    if mark is None or size > _MOST_READ:
        return False
    try:
        return mark.encode() in path.read_bytes()
    except OSError:
        return False


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
