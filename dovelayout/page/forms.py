"""The fields the page offers for each table of a job: what a key is called, how it is entered, and its picture.

All of it is read from what `job.described` says of the keys; only how each unit is entered is the page's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cache
from typing import Any

from dovelayout.job.described import Described, KeyUnit, described, keys_of, terms
from dovelayout.job.tables.schema import TABLES, JobTable


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field. `kind`: length, number, count, slope, angle, choice, wood, glue, text, list, board, boards, end, flag,
    paper; `term` names a picture; `slider` is (least, most, step) in mm or in the count's own unit; a key with a point
    goes into an inline table; fields of one `group` stand together, folded away until one of them is used."""

    key: str
    label: str
    kind: str
    term: str
    hint: str
    choices: tuple[str, ...]
    slider: tuple[float, float, float] | None
    group: str


_AS_TYPED = {
    **{unit: unit.value for unit in (KeyUnit.LENGTH, KeyUnit.SLOPE, KeyUnit.COUNT, KeyUnit.CHOICE)},
    **{unit: unit.value for unit in (KeyUnit.WOOD, KeyUnit.GLUE, KeyUnit.PAPER, KeyUnit.BOARD, KeyUnit.BOARDS)},
    **dict.fromkeys((KeyUnit.LENGTHS, KeyUnit.PERCENTS, KeyUnit.NAMES, KeyUnit.BOARD_ENDS, KeyUnit.TABLES), "list"),
    **dict.fromkeys((KeyUnit.TEXT, KeyUnit.NAME, KeyUnit.TAPER, KeyUnit.CELSIUS), "text"),
    KeyUnit.MINUTES_RANGE: "list",
    KeyUnit.DEGREES: "angle",
    KeyUnit.BOARD_END: "end",
    KeyUnit.FLAG: "flag",
}
"""How each unit is entered; what isn't here is a plain number."""

_WITH_EXAMPLE = {"list", "text", "angle"}
"""Ways of entering that are shown by an example, since nothing else says how to write it."""


def _field(row: Described, *, within: Described | None = None, first: bool = True) -> Field:
    """The field of a key; of one in an inline table, that table's own key is `within`."""
    kind = _AS_TYPED.get(row.unit, "number")
    shown = kind in _WITH_EXAMPLE and row.unit not in (KeyUnit.NAME, KeyUnit.TEXT)
    hints = (
        f"such as {row.example_text}" if shown else "",
        f"left empty: {row.left_out}" if row.left_out == "proposed" else "",
    )
    outer = within or row
    return Field(
        key=row.key if within is None else f"{within.key}.{row.key}",
        label=row.label if within is None else f"{within.label}, {row.label[0].lower()}{row.label[1:]}",
        kind=kind,
        term=outer.term if first else "",
        hint="; ".join(filter(None, hints)),
        choices=row.choices,
        slider=row.usual,
        group=outer.group,
    )


def _fields(table: str) -> Iterator[Field]:
    """The fields of a table; other tables of the job itself have forms of their own."""
    for key in keys_of(table):
        row = described(table, key)
        if table and row.unit is KeyUnit.TABLE:
            for number, inner in enumerate(keys_of(key)):
                yield _field(described(key, inner), within=row, first=number == 0)
        elif table or row.unit not in (KeyUnit.TABLE, KeyUnit.TABLES):
            yield _field(row)


@cache
def forms() -> dict[str, tuple[Field, ...]]:
    """The fields of every table that stands in the job itself, in the order of the page; '' for the job's own keys."""
    return {table: tuple(_fields(table)) for table in ("", *(key for key in TABLES if key in JobTable.model_fields))}


def forms_json() -> dict[str, Any]:
    """All fields and terms, for the page."""
    return {
        "forms": {table: [asdict(field) for field in fields] for table, fields in forms().items()},
        "terms": terms(),
    }
