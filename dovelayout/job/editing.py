"""Editing a job's text: keys, tables and fixes, with every comment and the order of everything else left as it was.

An edit is a table of its own: {"op": "set", "table", "name", "key", "value"}, where `name` names the row of a [[table]]
('' for a [table], or for keys at the top) and `key` may go into an inline table: 'groove.width'. A text that reads as a
plain number is written as one, so that it counts in the job's own units; any other text is written as it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence, Set
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from dovelayout.errors import JobError
from dovelayout.job.places import Here
from dovelayout.joints.board import End
from dovelayout.joints.keys import INSTEAD_OF

MOST_EDIT_CHARS = 400_000
"""A longer text is read and drawn, but edited in an editor: keeping its comments would take too long here."""
MOST_EDITS = 500
MOST_VALUE_CHARS = 4000


NEW_ROWS = ("stage",)
"""Tables in which a fix may name a row that isn't there yet: it is added."""

_NUMBER = re.compile(r"[+-]?\d{1,12}(?:\.\d{1,12})?")


class EditError(JobError):
    """An edit that can't be made."""

    def __init__(self, problem: str, remedy: str = "") -> None:
        super().__init__(file="", problem=problem, remedy=remedy)


def edited(text: str, edits: Sequence[Mapping[str, Any]]) -> str:
    """The text with edits made, in their order. Raises EditError; then nothing was changed."""
    if len(text) > MOST_EDIT_CHARS:
        raise EditError("the job is too long to be edited here", "edit the text in an editor, or part the job")
    if len(edits) > MOST_EDITS:
        raise EditError(f"{len(edits)} edits at once", f"{MOST_EDITS} is the most")
    try:
        document = tomlkit.parse(text)
        for edit in edits:
            kind = edit.get("op")
            if not isinstance(kind, str) or kind not in _EDITS:
                raise EditError("this kind of edit is not known", f"one of {', '.join(_EDITS)}")
            _EDITS[kind](document, edit)
        return tomlkit.dumps(document)
    except (TOMLKitError, ValueError) as error:
        raise EditError(
            f"the text is not valid TOML: {' '.join(str(error).split())[:200]}", "mend it as text"
        ) from None
    except RecursionError:
        raise EditError("the text is nested too deeply", "mend it as text") from None


def fix_edits(changes: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The edits that make a finding's changes, each a table, a name, and the values of keys.

    A layout of explicit tails replaces the keys it stands for, and the other way round.
    """
    edits: list[dict[str, Any]] = []
    for change in changes:
        table, name, values = str(change["table"]), str(change["name"]), dict(change["values"])
        replaced = dict.fromkeys(other for key in values for other in INSTEAD_OF.get(key, ()))
        edits += [{"op": "unset", "table": table, "name": name, "key": key} for key in replaced]
        edits += [{"op": "set", "table": table, "name": name, "key": key, "value": v} for key, v in values.items()]
    return edits


def written_into(path: Path, changes: Sequence[tuple[str, str, Mapping[str, Any]]]) -> bytes:
    """A job file's bytes with keys set, everything else as the maker wrote it: each change is (table, name of the entry,
    keys and values). Raises JobError when the entry is not there as a table of its own."""
    here = Here(file=str(path))
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise here.error(f"can't be read again ({error})", "check the file") from None
    try:
        rows = [{"table": table, "name": name, "values": values} for table, name, values in changes]
        return edited(text, fix_edits(rows)).encode("utf-8")
    except EditError as error:
        raise here.error(error.problem, error.remedy) from None


def _set(document: tomlkit.TOMLDocument, edit: Mapping[str, Any]) -> None:
    *path, key = _key(edit)
    value = _typed(edit.get("value"))
    holder = _row(document, edit, make=True)
    for part in path:
        if part not in holder:
            holder[part] = tomlkit.inline_table()
        holder = holder[part]
        if not isinstance(holder, dict):
            raise EditError(f"{part} is no table", "mend it as text")
    holder[key] = value


def _unset(document: tomlkit.TOMLDocument, edit: Mapping[str, Any]) -> None:
    *path, key = _key(edit)
    holder = _row(document, edit, make=False)
    for part in path:
        holder = holder.get(part) if isinstance(holder, dict) else None
    if isinstance(holder, dict) and key in holder:
        del holder[key]


def _add(document: tomlkit.TOMLDocument, edit: Mapping[str, Any]) -> None:
    """A new row at the end of a [[table]]."""
    table, values = _text(edit, "table"), edit.get("values")
    if not isinstance(values, dict):
        raise EditError("a new entry needs its keys")
    row = tomlkit.table()
    for key, value in values.items():
        row[str(key)] = _typed(value)
    rows = document.get(table)
    if rows is None:
        rows = tomlkit.aot()
        document[table] = rows
    if not hasattr(rows, "append") or isinstance(rows, dict):
        raise EditError(f"{table} is not written as [[{table}]]", "mend it as text")
    rows.append(row)


def _rename(document: tomlkit.TOMLDocument, edit: Mapping[str, Any]) -> None:
    """A new name for a row, and for it wherever another row speaks of it ('side', 'side.left')."""
    table, old, new = _text(edit, "table"), _text(edit, "name"), _text(edit, "value").strip()
    row = _row(document, edit, make=False)
    if not new:
        raise EditError("a name is wanted")
    row["name"] = new
    ends = {*End, *row.get("ends", ())}
    for other, rows in document.items():
        if isinstance(rows, list) and other not in (table, "wood"):
            for entry in rows:
                _follow(entry, old, new, ends)


_NO_REFERENCES = ("name", "title", "species", "notes", "joint", "kind", "ends", "end")


def _follow(row: Any, old: str, new: str, ends: Set[str]) -> None:
    """Follows a renamed board through one row: texts that name it, or one of its ends."""

    def followed(value: Any) -> Any:
        if isinstance(value, str):
            board, dot, end = value.rpartition(".")
            if dot and board == old and end in ends:
                return f"{new}.{end}"
            return new if value == old else value
        if isinstance(value, list) and any(followed(entry) != entry for entry in value):
            return [followed(entry) for entry in value]
        return value

    for key, value in list(row.items()):
        if key not in _NO_REFERENCES and followed(value) != value:
            row[key] = followed(value)


def _remove(document: tomlkit.TOMLDocument, edit: Mapping[str, Any]) -> None:
    """A row taken out of a [[table]]."""
    table, row = _text(edit, "table"), _row(document, edit, make=False)
    rows = document.get(table)
    if rows is row:  # a [table] is its own only row
        del document[table]
        return
    if not isinstance(rows, list):
        raise EditError(f"there is no {table}", "look at the text")
    rows.remove(row)
    if not rows:
        del document[table]


_EDITS: dict[str, Callable[[tomlkit.TOMLDocument, Mapping[str, Any]], None]] = {
    edit.__name__.removeprefix("_"): edit for edit in (_set, _unset, _add, _remove, _rename)
}


def _row(document: tomlkit.TOMLDocument, edit: Mapping[str, Any], *, make: bool) -> Any:
    table, name = _text(edit, "table"), _text(edit, "name")
    if not table:
        return document
    if name in ("", table) and not isinstance(document.get(table), list):  # a [table] goes by its own name
        if table not in document and make:
            document[table] = tomlkit.table()
        alone = document.get(table, {})
        if not isinstance(alone, dict):
            raise EditError(f"{table} is no table", "mend it as text")
        return alone
    if not name:
        raise EditError(f"{table} needs the name of an entry")
    named = _named(document, table, name)
    if make and table in NEW_ROWS and not named:
        _add(document, {"table": table, "values": {"name": name}})
        named = _named(document, table, name)
    if len(named) != 1:
        found_so = "is there twice" if named else "was not found"
        raise EditError(f"{table} {name!r} {found_so}", "each entry needs a name of its own")
    return named[0]


def _named(document: tomlkit.TOMLDocument, table: str, name: str) -> list[Any]:
    rows = document.get(table)
    return [row for row in rows if isinstance(row, dict) and row.get("name") == name] if isinstance(rows, list) else []


def _key(edit: Mapping[str, Any]) -> list[str]:
    path = _text(edit, "key").split(".")
    if not 1 <= len(path) <= 3 or not all(part.isidentifier() for part in path):
        raise EditError("this key can't be written")
    return path


def _text(edit: Mapping[str, Any], what: str) -> str:
    value = edit.get(what, "")
    if not isinstance(value, str) or len(value) > 200:
        raise EditError(f"{what} is no plain text")
    return value


def _typed(value: Any) -> Any:
    """A value as TOML holds it: numbers typed as text become numbers, lists and tables go in as they are."""
    match value:
        case bool() | int() | float():
            return value
        case str():
            text = value.strip()
            if len(text) > MOST_VALUE_CHARS:
                raise EditError("the value is too long")
            if _NUMBER.fullmatch(text):
                return float(text) if "." in text else int(text)
            if text.startswith(("[", "{")):
                return tomlkit.value(text)
            return text
        case list() if len(value) <= 200:
            return [_typed(entry) for entry in value]
        case dict() if len(value) <= 40:
            inline = tomlkit.inline_table()
            for key, entry in value.items():
                inline[str(key)] = _typed(entry)
            return inline
        case _:
            raise EditError("the value can't be written")
