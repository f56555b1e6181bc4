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
    from dovelayout.job.editing import edited, fix_edits

    try:
        text = path.read_text(encoding="utf-8-sig")
        rows = [{"table": table, "name": name, "values": values} for table, name, values in changes]
        return edited(text, fix_edits(rows)).encode("utf-8")
    except JobError as error:
        raise JobError(file=str(path), place=error.place, problem=error.problem, remedy=error.remedy) from None
    except (OSError, UnicodeDecodeError) as error:
        raise JobError(
            file=str(path), place=None, problem=f"can't be read again ({error})", remedy="check the file"
        ) from None
