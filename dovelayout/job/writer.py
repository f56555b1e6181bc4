"""Writing keys into a job file that a person wrote: comments, order and everything else stay as they are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from dovelayout.errors import JobError


def written_into(path: Path, changes: Sequence[tuple[str, str, Mapping[str, Any]]]) -> bytes:
    """The file's bytes with keys set: each change is (table, name of the entry, keys and values).

    Raises JobError when the entry is not there as a table of its own.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, TOMLKitError) as error:
        raise JobError(
            file=str(path), place="", problem=f"can't be read again ({error})", remedy="check the file"
        ) from None
    for table, name, values in changes:
        rows = [row for row in document.get(table, []) if row.get("name") == name]
        if len(rows) != 1:
            raise JobError(
                file=str(path), place=f"{table} {name!r}", problem="was not found", remedy="write it as a [[table]]"
            )
        for key, value in values.items():
            rows[0][key] = value
    return tomlkit.dumps(document).encode("utf-8")
