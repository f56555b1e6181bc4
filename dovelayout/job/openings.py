"""A table of openings (CSV), as measured round a case, to a job with a [[drawer]] for each.

Cells are read as a maker types them: `398`, `"15 3/4"`, `40.2 cm`; the head of a column may carry a unit: `width_in`,
`height (mm)`. Columns are parted by commas, semicolons or tabs, whichever the head has most of.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from dovelayout.errors import FieldError, JobError, UnitsError
from dovelayout.job.described import KeyUnit, described, keys_of
from dovelayout.job.files import decoded, file_bytes
from dovelayout.job.places import Here, nearest
from dovelayout.job.readers.faults import fault_words
from dovelayout.job.tables.drawer import MOST_DRAWERS, DrawerTable
from dovelayout.place import Place
from dovelayout.units import Unit, length_mm

MOST_CELL = 100
NEEDED = ("width", "height", "depth")

UNITS: dict[str, KeyUnit] = {
    key: unit for key in keys_of("drawer") if (unit := described("drawer", key).unit) is not KeyUnit.TABLE
}
"""The columns that may stand in the table, all keys of a [[drawer]] that are one value, and what each holds."""

_HEADS = "the first row names the columns: name, width, height, depth"
_YES = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}
_HEAD = re.compile(r"(?P<key>.*?)[ _]*(?:[(\[] *)?(?:(?<=[ _(\[])(?P<unit>mm|cm|in))?(?: *[)\]])?")
_PLAIN = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its key, and the unit that its head gives to bare numbers (None: the job's)."""

    key: str
    unit: Unit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningRow:
    """A good row: its line in the file, and the keys of its [[drawer]] as they are to stand in the job."""

    line: int
    name: str
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class BadRow:
    """A row that can't be a drawer: where, what was wrong, and what would be right."""

    line: int
    column: str
    problem: str
    remedy: str

    def error(self, file: str, more: str = "") -> JobError:
        """It as the one line that stops the command."""
        part = f"column {self.column}" if self.column else ""
        place = Place(kind="row", number=self.line, part=part)
        return JobError(file=file, place=place, problem=self.problem, remedy=self.remedy + more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Openings:
    """A table, read: `unit` is what bare numbers mean in the job made of it."""

    unit: Unit
    columns: tuple[Column, ...]
    rows: tuple[OpeningRow, ...]
    bad: tuple[BadRow, ...]


def read_openings(path: Path, *, unit: Unit | None = None) -> Openings:
    """Reads a table of openings. `unit` is what bare numbers mean where the head doesn't say; None: inches where every
    length's head says so, else mm. Bad rows are collected. Raises JobError for what is no table at all."""
    here = Here(file=str(path))
    raw = file_bytes(path, what="a table of openings", suffix=".csv")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise here.error("is UTF-16", "save it as CSV in UTF-8")
    text = decoded(raw, here, kind="row", save="save the file as CSV in UTF-8")
    if "\x00" in text:
        raise here.error("is no text (it holds a zero byte)", "save the file as CSV in UTF-8")
    text = text.replace("\r\n", "\n").replace("\r", "\n").lstrip("\n")
    return openings_of(text, source=here.file, unit=unit)


def openings_of(text: str, *, source: str, unit: Unit | None = None) -> Openings:
    """As `read_openings`, of the table's text; `source` is what errors call it."""

    here = Here(file=source)
    delimiter = max(",;\t", key=text.split("\n", 1)[0].count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True, skipinitialspace=True)
    rows = _lines(reader, here)
    head = next(rows, None)
    if head is None:
        raise here.error("is empty", _HEADS)
    columns = tuple(_column(cell, number, here) for number, cell in enumerate(head[1], 1))
    keys = [column.key for column in columns]
    for key in keys:
        if keys.count(key) > 1:
            raise _at(here, head[0]).error(f"column {key!r} is there twice", "one column for each measure")
    for key in NEEDED:
        if key not in keys:
            raise _at(here, head[0]).error(f"has no column {key}", "name, width, height and depth are needed")
    units = {column.unit for column in columns if UNITS[column.key] is KeyUnit.LENGTH}
    unit = unit or (Unit.IN if units == {Unit.IN} else Unit.MM)
    good: dict[str, OpeningRow] = {}
    bad: list[BadRow] = []
    for line, cells in rows:
        if len(good) + len(bad) >= MOST_DRAWERS:
            raise _at(here, line).error(f"holds more than {MOST_DRAWERS} openings", "split it: a job for each case")
        row = _row(line, cells, columns, unit, number=len(good) + len(bad) + 1)
        if isinstance(row, BadRow):
            bad.append(row)
        elif row.name in good:
            problem = f"{row.name!r} is there already, in row {good[row.name].line}"
            bad.append(BadRow(line=line, column="name", problem=problem, remedy="give each drawer a name of its own"))
        else:
            good[row.name] = row
    if not good and not bad:
        raise here.error("holds no openings", "a row for each, under the head")
    return Openings(unit=unit, columns=columns, rows=tuple(good.values()), bad=tuple(bad))


def _at(here: Here, row: int) -> Here:
    return here.entry("row", number=row)


def _lines(reader: Any, here: Here) -> Iterator[tuple[int, list[str]]]:
    """Rows that hold something, with the line each begins on."""
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            remedy = 'a cell with a quote in it stands in quotes, with the quote doubled: "15 3/4"""'
            raise _at(here, line).error(f"is not a row of CSV ({error})", remedy) from None
        if any(cell.strip() for cell in cells):
            yield line, [cell.strip() for cell in cells]


def _column(cell: str, number: int, here: Here) -> Column:
    if not cell:
        raise here.error(f"column {number} has no name", _HEADS)
    found = _HEAD.fullmatch(cell.lower()[:MOST_CELL])
    key = cell.lower() if found is None else found["key"]
    key = re.sub(r"[ -]+", "_", key.strip())
    if key not in UNITS:
        otherwise = "known: name, width, height, depth, width2, species, fit and other keys"
        raise here.error(f"column {cell[:60]!r} is not known", nearest(key, UNITS, otherwise, quote="", cutoff=0.6))
    unit = None if found is None or found["unit"] is None else Unit(found["unit"])
    return Column(key=key, unit=unit)


def _row(line: int, cells: list[str], columns: tuple[Column, ...], unit: Unit, *, number: int) -> OpeningRow | BadRow:
    def bad(column: str, problem: str, remedy: str = "") -> BadRow:
        return BadRow(line=line, column=column, problem=problem, remedy=remedy)

    if any(cells[len(columns) :]):
        return bad("", f"has {len(cells)} cells for {len(columns)} columns", "quote a cell that holds the separator")
    values: dict[str, Any] = {}
    for column, cell in zip(columns, cells, strict=False):
        if len(cell) > MOST_CELL:
            return bad(column.key, f"is {len(cell)} letters long", f"{MOST_CELL} is the most in a cell")
        if not cell:
            continue
        try:
            values[column.key] = _value(column, cell, unit)
        except (FieldError, UnitsError) as error:
            return bad(column.key, error.problem, error.remedy)
    missing = [key for key in NEEDED if key not in values]
    if missing:
        return bad(missing[0], "is empty", "measure it: every opening has a width, a height and a depth")
    values = {"name": values.pop("name", f"drawer {number}"), **values}
    try:
        DrawerTable.model_validate(values, context={"unit": unit})
    except ValidationError as error:
        fault = error.errors(include_url=False)[0]
        return bad(str(fault["loc"][0]) if fault["loc"] else "", *fault_words(fault))
    return OpeningRow(line=line, name=str(values["name"]), values=values)


def _value(column: Column, cell: str, unit: Unit) -> Any:
    """A cell as it is to stand in the job. Raises FieldError or UnitsError."""
    holds, point = UNITS[column.key], cell.replace(",", ".")
    if holds is KeyUnit.FLAG:
        if cell.lower() not in _YES:
            raise FieldError(f"{cell!r} is neither yes nor no", remedy="write yes or no")
        return _YES[cell.lower()]
    if holds is KeyUnit.COUNT:
        if not re.fullmatch(r"[0-9]{1,6}", cell):
            raise FieldError(f"{cell!r} is no whole number", remedy="write digits")
        return int(cell)
    if holds is KeyUnit.PERCENT:
        if not _PLAIN.fullmatch(point):
            raise FieldError(f"{cell!r} is no plain number", remedy="write digits")
        return float(point)
    if holds is not KeyUnit.LENGTH:
        return cell
    means = column.unit or unit
    length_mm(cell, unit=means)  # or it is no length
    if means is unit and _PLAIN.fullmatch(cell):
        return int(cell) if cell.isdigit() else float(cell)
    return cell if _says_its_unit(cell) else f"{cell} {means.value}"


def _says_its_unit(cell: str) -> bool:
    try:
        return length_mm(cell, unit=Unit.MM) == length_mm(cell, unit=Unit.IN)
    except UnitsError:  # a bare fraction, which is a question where the unit is mm
        return False
