"""A table of openings (CSV), as measured round a case, to a job with a [[drawer]] for each.

Cells are read as a maker types them: `398`, `"15 3/4"`, `40.2 cm`; the head of a column may carry a unit: `width_in`,
`height (mm)`. Columns are parted by commas, semicolons or tabs, whichever the head has most of.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from dovelayout.errors import FieldError, JobError, UnitsError
from dovelayout.job.readers.faults import fault_words
from dovelayout.job.tables.drawer import MOST_DRAWERS, DrawerTable
from dovelayout.place import Place
from dovelayout.units import Unit, length_mm

MOST_BYTES = 1_000_000
MOST_CELL = 100
NEEDED = ("width", "height", "depth")

_TEXTS = frozenset(
    {
        "name",
        "front",
        "corners",
        "fit",
        "bottom",
        "bottom_glue",
        "slope",
        "back_slope",
        "front_grain",
        *(f"{role}species" for role in ("", "front_", "side_", "back_", "bottom_", "case_")),
        *(f"{role}_rings" for role in ("front", "side", "back", "bottom", "case")),
    }
)
_FLAGS = frozenset({"slips", "muntin", "centre_guide"})
_COUNTS = frozenset({"tail_count", "back_tail_count"})
_NUMBERS = frozenset({"moisture"})
_NESTED = frozenset({"groove", "lip"})
COLUMNS = tuple(key for key in DrawerTable.model_fields if key not in _NESTED)
"""The columns that may stand in the table, all keys of a [[drawer]] that are one value."""

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
    return openings_of(_text(path), source=str(path), unit=unit)


def openings_of(text: str, *, source: str, unit: Unit | None = None) -> Openings:
    """As `read_openings`, of the table's text; `source` is what errors call it."""

    def refuse(problem: str, remedy: str, place: Place | None = None) -> JobError:
        return JobError(file=source, place=place, problem=problem, remedy=remedy)

    head_line = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=head_line.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True, skipinitialspace=True)
    rows = _lines(reader, source)
    head = next(rows, None)
    if head is None:
        raise refuse("is empty", "the first row names the columns: name, width, height, depth")
    columns = tuple(_column(cell, number, refuse) for number, cell in enumerate(head[1], 1))
    keys = [column.key for column in columns]
    for key in keys:
        if keys.count(key) > 1:
            raise refuse(f"column {key!r} is there twice", "one column for each measure", _at(head[0]))
    missing = [key for key in NEEDED if key not in keys]
    if missing:
        raise refuse(f"has no column {missing[0]}", "name, width, height and depth are needed", _at(head[0]))
    units = {column.unit for column in columns if column.key not in _TEXTS | _FLAGS | _COUNTS | _NUMBERS}
    unit = unit or (Unit.IN if units == {Unit.IN} else Unit.MM)
    good: list[OpeningRow] = []
    bad: list[BadRow] = []
    names: dict[str, int] = {}
    for line, cells in rows:
        if len(good) + len(bad) >= MOST_DRAWERS:
            raise refuse(
                f"holds more than {MOST_DRAWERS} openings",
                "split it: a job for each case",
                _at(line),
            )
        row = _row(line, cells, columns, unit, number=len(good) + len(bad) + 1)
        if isinstance(row, OpeningRow) and row.name in names:
            row = BadRow(
                line=line,
                column="name",
                problem=f"{row.name!r} is there already, in row {names[row.name]}",
                remedy="give each drawer a name of its own",
            )
        if isinstance(row, BadRow):
            bad.append(row)
        else:
            names[row.name] = line
            good.append(row)
    if not good and not bad:
        raise refuse("holds no openings", "a row for each, under the head")
    return Openings(unit=unit, columns=columns, rows=tuple(good), bad=tuple(bad))


def _at(row: int) -> Place:
    return Place(kind="row", number=row)


def _text(path: Path) -> str:
    def refuse(problem: str, remedy: str, place: Place | None = None) -> JobError:
        return JobError(file=str(path), place=place, problem=problem, remedy=remedy)

    try:
        if path.is_dir():
            raise refuse("is a directory", "name a table of openings (.csv) in it")
        if not path.is_file():
            raise refuse("there is no such file", "check the name")
        if path.stat().st_size > MOST_BYTES:
            raise refuse("is larger than 1 MB", "a table of openings is a few kB of text; is it the right file?")
        raw = path.read_bytes()
    except OSError as error:
        raise refuse(f"can't be read ({error.strerror})", "check its name and permissions") from None
    except ValueError:
        raise refuse("is not a file name", "check the name") from None
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refuse("is UTF-16", "save it as CSV in UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise refuse("is not UTF-8 text", "save the file as CSV in UTF-8", _at(line)) from None
    if "\x00" in text:
        raise refuse("is no text (it holds a zero byte)", "save the file as CSV in UTF-8")
    return text.replace("\r\n", "\n").replace("\r", "\n").lstrip("\n")


def _lines(reader: Any, source: str) -> Iterator[tuple[int, list[str]]]:
    """Rows that hold something, with the line each begins on."""
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise JobError(
                file=source,
                place=_at(line),
                problem=f"is not a row of CSV ({error})",
                remedy='a cell with a quote in it stands in quotes, with the quote doubled: "15 3/4"""',
            ) from None
        if any(cell.strip() for cell in cells):
            yield line, [cell.strip() for cell in cells]


def _column(cell: str, number: int, refuse: Any) -> Column:
    if not cell:
        raise refuse(f"column {number} has no name", "the first row names the columns: name, width, height, depth")
    found = _HEAD.fullmatch(cell.lower()[:MOST_CELL])
    key = cell.lower() if found is None else found["key"]
    key = re.sub(r"[ -]+", "_", key.strip())
    if key not in COLUMNS:
        near = difflib.get_close_matches(key, COLUMNS, 1, 0.6)
        remedy = (
            f"did you mean {near[0]}?"
            if near
            else "known: name, width, height, depth, width2, species, fit and other keys"
        )
        raise refuse(f"column {cell[:60]!r} is not known", remedy)
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
    if column.key in _TEXTS:
        return cell
    if column.key in _FLAGS:
        if cell.lower() not in _YES:
            raise FieldError(f"{cell!r} is neither yes nor no", remedy="write yes or no")
        return _YES[cell.lower()]
    if column.key in _COUNTS:
        if not re.fullmatch(r"[0-9]{1,6}", cell):
            raise FieldError(f"{cell!r} is no whole number", remedy="write digits")
        return int(cell)
    if column.key in _NUMBERS:
        if not _PLAIN.fullmatch(cell.replace(",", ".")):
            raise FieldError(f"{cell!r} is no plain number", remedy="write digits")
        return float(cell.replace(",", "."))
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
