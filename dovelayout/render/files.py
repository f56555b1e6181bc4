"""Writing files whole or not at all, under names that can't leave their folder."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from dovelayout.errors import PrintError

MOST_NAME_BYTES = 100
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


def write_files(files: Mapping[Path, bytes]) -> None:
    """Writes each file whole or not at all: all to temporary files beside their places first, then renamed.

    Raises PrintError that names the file and what the system said; folders made for nothing are taken away again.
    """
    made: list[tuple[Path, Path]] = []
    folders: list[Path] = []
    try:
        for path, data in files.items():
            try:
                folders.extend(folder for folder in (path.parent, *path.parent.parents) if not folder.exists())
                path.parent.mkdir(parents=True, exist_ok=True)
                if path.is_dir():
                    raise PrintError(f"{path}: is a directory; name a file")
                handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".dovelayout-", suffix=".part")
                made.append((Path(temporary), path))
                with os.fdopen(handle, "wb") as out:
                    out.write(data)
                    out.flush()
                    os.fsync(out.fileno())
                os.chmod(temporary, 0o666 & ~_umask())
            except OSError as error:
                raise PrintError(f"{path}: can't be written ({error.strerror or error}); nothing was changed") from None
        for number, (temporary_path, path) in enumerate(made):
            try:
                os.replace(temporary_path, path)
            except OSError as error:
                before = f"{number} of {len(made)} files were written before it" if number else "nothing was changed"
                raise PrintError(f"{path}: can't be written ({error.strerror or error}); {before}") from None
    finally:
        for temporary_path, _ in made:
            with contextlib.suppress(OSError):
                temporary_path.unlink()
        for folder in folders:
            with contextlib.suppress(OSError):
                folder.rmdir()  # only where it is empty


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
