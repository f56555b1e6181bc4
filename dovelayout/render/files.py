"""Writing files whole or not at all, under names that can't leave their folder."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from dovelayout.errors import PrintError

MOST_NAME_BYTES = 100
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}


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
    """Writes all files or none: each to a temporary file beside its place first, then renamed.

    Raises PrintError that names the file and what the system said.
    """
    made: list[tuple[Path, Path]] = []
    try:
        for path, data in files.items():
            try:
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
        for temporary_path, path in made:
            try:
                os.replace(temporary_path, path)
            except OSError as error:
                raise PrintError(f"{path}: can't be written ({error.strerror or error})") from None
    finally:
        for temporary_path, _ in made:
            with contextlib.suppress(OSError):
                temporary_path.unlink()


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
