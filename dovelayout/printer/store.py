"""Where printers' readings are kept: one TOML file in the user's configuration folder.

    default = "office laser"          # corrected for unless another is asked for; may be left out

    [[printer]]
    name = "office laser"
    paper = "A4"                      # may be left out
    across = { bar = 150, measured = 149.4 }
    up = { bar = 150, measured = 150.5 }

A person may edit it: comments and order stay as they are. It is written whole or not at all. A broken file is told in
one line, and never written over.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dovelayout.errors import JobError, PrintError
from dovelayout.paper import SIZES_MM
from dovelayout.place import Place
from dovelayout.printer.reading import Calibration, PaperAxis, Reading, printer_name, reading
from dovelayout.render.files import MayReplace, write_files

FILE_NAME = "printers.toml"
FOLDER_VARIABLE = "DOVELAYOUT_CONFIG"
"""Names another configuration folder than the user's."""

MOST_BYTES = 1_000_000
"""A larger file is no list of printers; ours."""

MOST_PRINTERS = 200
"""So many printers are kept; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printers:
    """All printers that are known, and the one that is corrected for when none is asked for."""

    printers: tuple[Calibration, ...] = ()
    default: str | None = None

    def find(self, name: str) -> Calibration:
        """The printer of that name, upper or lower case. Raises PrintError that lists those known."""
        for printer in self.printers:
            if printer.name.casefold() == name.strip().casefold():
                return printer
        known = ", ".join(printer.name for printer in self.printers)
        raise PrintError(
            f"printer {name!r} is not known; "
            + (f"known: {known}" if known else "dovelayout calibrate prints a sheet to measure")
        )


def printers_path() -> Path:
    """The file in the user's configuration folder, or in the one that the environment names."""
    folder = os.environ.get(FOLDER_VARIABLE)
    if folder:
        return Path(folder) / FILE_NAME
    from platformdirs import user_config_path

    return user_config_path("dovelayout", appauthor=False) / FILE_NAME


def read_printers(path: Path) -> Printers:
    """All printers of the file; none where there is no file. Raises JobError or PrintError for one that can't be read."""
    text = _text(path)
    if text is None:
        return Printers()
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # not TOML, or a number of thousands of digits
        raise _broken(path, None, f"not TOML ({error})") from None
    _only(path, None, tables, {"default", "printer"})
    rows = tables.get("printer", [])
    if not isinstance(rows, list) or len(rows) > MOST_PRINTERS:
        raise _broken(path, Place(kind="printer"), f"not a list of at most {MOST_PRINTERS} tables")
    printers = tuple(_calibration(path, number, row) for number, row in enumerate(rows, 1))
    names = [printer.name.casefold() for printer in printers]
    if len(set(names)) != len(names):
        raise _broken(path, Place(kind="printer"), "two printers have one name")
    default = tables.get("default")
    if default is not None and (not isinstance(default, str) or default.casefold() not in names):
        raise _broken(path, Place(kind="default"), f"{default!r} is none of the printers")
    return Printers(printers=printers, default=default)


def keep_printer(path: Path, calibration: Calibration) -> None:
    """Adds a printer, or puts new readings in place of its old ones; the rest of the file stays as it is."""
    import tomlkit

    known = read_printers(path)
    if len(known.printers) >= MOST_PRINTERS and calibration.name.casefold() not in {
        p.name.casefold() for p in known.printers
    }:
        raise PrintError(f"{path}: {MOST_PRINTERS} printers are kept", remedy="remove one first")
    document = tomlkit.parse(_text(path) or "# Readings of printers, kept by: dovelayout calibrate\n")
    rows = document.get("printer")
    if rows is None:
        document["printer"] = tomlkit.aot()
        rows = document["printer"]
    row = next((row for row in rows if str(row["name"]).casefold() == calibration.name.casefold()), None)
    if row is None:
        row = tomlkit.table() if isinstance(rows, tomlkit.items.AoT) else tomlkit.inline_table()
        row["name"] = calibration.name
        _set_readings(row, calibration)
        rows.append(row)
    else:
        _set_readings(row, calibration)
    _write(path, tomlkit.dumps(document))


def _set_readings(row: Any, calibration: Calibration) -> None:
    import tomlkit

    if calibration.paper:
        row["paper"] = calibration.paper
    else:
        row.pop("paper", None)
    for read in (calibration.across, calibration.up):
        entry = tomlkit.inline_table()
        entry.update({"bar": read.bar_mm, "measured": read.measured_mm})
        row[read.axis.value] = entry


def remove_printer(path: Path, name: str) -> Calibration:
    """Takes a printer out of the file, and out of its place as the default. Raises PrintError when it isn't known."""
    import tomlkit

    known = read_printers(path)
    gone = known.find(name)
    document = tomlkit.parse(_text(path) or "")
    rows = document["printer"]
    for number, row in enumerate(rows):
        if str(row["name"]).casefold() == gone.name.casefold():
            del rows[number]
            break
    if not rows:
        del document["printer"]
    if known.default is not None and known.default.casefold() == gone.name.casefold():
        del document["default"]
    _write(path, tomlkit.dumps(document))
    return gone


def use_printer(path: Path, name: str | None) -> Calibration | None:
    """Makes a printer the one that is corrected for when none is asked for; None: none is."""
    import tomlkit

    known = read_printers(path)
    chosen = None if name is None else known.find(name)
    if chosen is None and known.default is None:
        return None
    document = tomlkit.parse(_text(path) or "")
    if chosen is None:
        del document["default"]
    elif "default" in document:
        document["default"] = chosen.name
    else:
        return _with_default(path, document, chosen)
    _write(path, tomlkit.dumps(document))
    return chosen


def _with_default(path: Path, document: Any, chosen: Calibration) -> Calibration:
    """A key of the file as a whole has to stand before its first table."""
    import tomlkit

    head = tomlkit.document()
    head["default"] = chosen.name
    _write(path, tomlkit.dumps(head) + "\n" + tomlkit.dumps(document))
    return chosen


def _text(path: Path) -> str | None:
    """The file's text, None where there is none."""
    try:
        if not path.exists() and not path.is_symlink():
            return None
        if not path.is_file():
            raise _broken(path, None, "not a file")
        if path.stat().st_size > MOST_BYTES:
            raise _broken(path, None, f"larger than {MOST_BYTES} bytes")
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise _broken(path, None, "not UTF-8 text") from None
    except (OSError, ValueError) as error:
        raise PrintError(f"{path}: can't be read ({getattr(error, 'strerror', None) or error})") from None


def _write(path: Path, text: str) -> None:
    if path.is_symlink():  # replacing it would leave the file it stands for as it was, without a word
        raise PrintError(
            f"{path}: is a link", remedy=f"set {FOLDER_VARIABLE} to the folder of the file itself. Nothing was changed"
        )
    tomllib.loads(text)
    write_files({path: text.encode("utf-8")}, may_replace=MayReplace.ANYTHING)


def _calibration(path: Path, number: int, row: Any) -> Calibration:
    place = Place(kind="printer", number=number)
    if not isinstance(row, dict):
        raise _broken(path, place, "not a table")
    _only(path, place, row, {"name", "paper", *PaperAxis})
    if not isinstance(row.get("name"), str):
        raise _broken(path, place.at(key="name"), "not a text")
    across, up = (_reading(path, place, axis, row.get(axis)) for axis in PaperAxis)
    try:
        name = printer_name(row["name"])
    except PrintError as error:
        raise _broken(path, place.at(key="name"), str(error)) from None
    on = row.get("paper", "")
    if on != "" and (not isinstance(on, str) or on not in SIZES_MM):
        raise _broken(path, place.at(key="paper"), f"{on!r} is not one of {', '.join(SIZES_MM)}")
    return Calibration(name=name, across=across, up=up, paper=on)


def _reading(path: Path, place: Place, axis: PaperAxis, entry: Any) -> Reading:
    where = place.at(key=axis)
    if not isinstance(entry, dict) or set(entry) != {"bar", "measured"}:
        raise _broken(path, where, "not like { bar = 150, measured = 149.4 }")
    for value in entry.values():
        if isinstance(value, bool) or not isinstance(value, (int, float)) or abs(value) > 1e6:
            raise _broken(path, where, "bar and measured are not plain numbers of mm")
    try:
        return reading(axis, bar_mm=float(entry["bar"]), measured_mm=float(entry["measured"]))
    except PrintError as error:
        raise _broken(path, place, str(error)) from None


def _only(path: Path, place: Place | None, table: Mapping[str, Any], known: set[str]) -> None:
    if strange := sorted(set(table) - known):
        raise _broken(path, place, f"key {strange[0]!r} is not known; known: {', '.join(sorted(known))}")


def _broken(path: Path, place: Place | None, problem: str) -> JobError:
    return JobError(
        file=str(path), place=place, problem=problem, remedy="put it right or remove the file; nothing was changed"
    )
