"""Reads text files; errors say how to put them right."""

from __future__ import annotations

from pathlib import Path

from dovelayout.job.places import Here

MOST_BYTES = 1_000_000


def file_bytes(path: Path, *, what: str, suffix: str, missing: str = "check the name") -> bytes:
    """The bytes of a file: `what` it is to be, with which suffix, and the remedy where it is `missing`. Raises JobError."""
    here = Here(file=str(path))
    try:
        if path.is_dir():
            raise here.error("is a directory", f"name {what} ({suffix}) in it")
        if not path.is_file():
            raise here.error("there is no such file", missing)
        if path.stat().st_size > MOST_BYTES:
            raise here.error("is larger than 1 MB", f"{what} is a few kB of text; is it the right file?")
        return path.read_bytes()
    except OSError as error:
        raise here.error(f"can't be read ({error.strerror})", "check its name and permissions") from None
    except ValueError:
        raise here.error("is not a file name", "check the name") from None


def decoded(raw: bytes, here: Here, *, kind: str, save: str) -> str:
    """UTF-8 as text. Raises JobError at the line (a `kind` of Place) that isn't, with the remedy `save`."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise here.entry(kind, number=line).error("is not UTF-8 text", save) from None
