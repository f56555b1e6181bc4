"""Descriptions of every key of a job: label, text, unit and example, for forms, errors, schema and documents.

The prose is `data/keys.toml`, read on first use; whether a key must be there, and what it may be, is asked of
the tables themselves.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.job.tables.schema import TABLES, JobTable, within
from dovelayout.joints import KINDS


class KeyUnit(StrEnum):
    """What is written behind a key; a bare length is in the job's own units."""

    LENGTH = "length"
    LENGTHS = "lengths"
    SLOPE = "slope"
    TAPER = "taper"
    DEGREES = "degrees"
    CELSIUS = "celsius"
    PERCENT = "percent"
    PERCENTS = "percents"
    COUNT = "count"
    NUMBER = "number"
    SHARE = "share"
    SECONDS = "seconds"
    MINUTES = "minutes"
    MINUTES_RANGE = "minutes, or a range"
    MPA = "MPa"
    GPA = "GPa"
    G_M2 = "g/m²"
    FLAG = "true or false"
    CHOICE = "choice"
    TEXT = "text"
    NAME = "name"
    NAMES = "names"
    WOOD = "wood"
    GLUE = "glue"
    PAPER = "paper"
    BOARD = "board"
    BOARDS = "boards"
    BOARD_END = "board end"
    BOARD_ENDS = "board ends"
    TABLE = "table"
    TABLES = "tables"


@dataclass(frozen=True, slots=True, kw_only=True)
class Described:
    """One key of one table ('' for keys at the top of a job).

    `text` says what it is and from where it is measured, `left_out` what is taken where it is left out and the table
    itself names no value. `choices` are the words that it may be, empty where it may be anything. `group` is a heading
    that it is folded under, `usual` the least, most and step of what is usual, `term` a word of `terms`.
    """

    table: str
    key: str
    label: str
    text: str
    unit: KeyUnit
    example: Any
    left_out: str = ""
    group: str = ""
    usual: tuple[float, float, float] | None = None
    term: str = ""
    required: bool
    choices: tuple[str, ...] = ()

    @property
    def example_text(self) -> str:
        """The example as it is typed in a job."""
        return toml_text(self.example)


@cache
def described(table: str, key: str) -> Described:
    """A key of a table. KeyError for one that isn't there."""
    row = dict(_rows(table)[key])
    model = TABLES[table] if table else JobTable
    field = {field.alias or name: field for name, field in model.model_fields.items()}[key]
    usual, unit = row.pop("usual", None), KeyUnit(row.pop("unit"))
    enums = [tuple(one) for one in within(field.annotation) if issubclass(one, StrEnum)]
    return Described(
        table=table,
        key=key,
        unit=unit,
        usual=usual and tuple(usual),
        required=field.is_required(),
        choices=next(iter(enums), tuple(KINDS) if unit is KeyUnit.CHOICE else ()),
        **row,
    )


def keys_of(table: str) -> tuple[str, ...]:
    """The keys of a table in the order in which people are shown them."""
    return tuple(_rows(table))


def terms() -> dict[str, str]:
    """Words of the trade that a beginner may not know, each with a sentence."""
    return {"joint": " ".join(kind.explained for kind in KINDS.values()), **_data()["terms"]}


def toml_text(value: Any) -> str:
    """A value as it is typed in a job."""
    match value:
        case str():
            import tomlkit  # a tenth of a second, which most readers of a job needn't wait for

            return tomlkit.item(value).as_string()
        case bool():
            return str(value).lower()
        case list() | tuple():
            return f"[{', '.join(map(toml_text, value))}]"
        case dict():
            return f"{{ {', '.join(f'{key} = {toml_text(one)}' for key, one in value.items())} }}"
        case _:
            return str(value)


@cache
def _data() -> dict[str, dict[str, Any]]:
    return tomllib.loads((files("dovelayout.job") / "data" / "keys.toml").read_text(encoding="utf-8"))


@cache
def _rows(table: str) -> Mapping[str, Mapping[str, Any]]:
    """What the data say of a table's keys: its own section, then those that it shares with others."""
    data = _data()
    sections = (table or "job", *data["shared"].get(table, ()))
    return {key: row for section in sections for key, row in data.get(section, {}).items()}
