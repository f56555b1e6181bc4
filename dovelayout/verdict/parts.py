"""The parts of a job that hang together: what a change of one row can reach, and no more.

Rows of boards, corners, dividers and the like hang together by the boards they name. Boxes name their corners by the letters
that no corner has, so with a box all corners and boxes hang together. Whatever is no such row holds for all of the job.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from dovelayout.change import Change

Tables = Mapping[str, Any]
"""A job's tables as they are parsed."""

ROWS = ("board", "corner", "box", "divider", "across", "panel", "drawer", "bank")
"""Tables whose rows hang together, or stand alone, by the names in them."""

NOT_JUDGED = ("stage", "captured", "glueup")
"""Tables of the glue-up, which is judged by itself: they may name what is in another part."""

Row = tuple[str, str]
"""A row by its table and its name."""


class Parts:
    """The parts of one job."""

    def __init__(self, tables: Tables) -> None:
        self._tables = tables
        self._first: dict[Row, Row] = {}
        boards = {str(row.get("name")) for row in self._rows("board")}
        with_box = bool(tables.get("box"))
        for table in ROWS:
            for row in self._rows(table):
                own = (table, str(row.get("name")))
                for text in _texts(row) if table != "board" else ():
                    for name in {text, text.rpartition(".")[0]} & boards:
                        self._join(own, ("board", name))
                if with_box and table in ("corner", "box"):
                    self._join(own, ("box", ""))

    def reached_by(self, changes: Iterable[Change]) -> Tables:
        """The tables of a job of those parts alone that the changes are made in; all of them where they reach everything, or
        where there would be nothing to lay out."""
        rows = {(change.table, change.name) for change in changes}
        if not all(table in ROWS for table, _ in rows):
            return self._tables
        wanted = {self._root(row) for row in rows}
        part = {key: value for key, value in self._tables.items() if key not in ROWS and key not in NOT_JUDGED}
        for table in ROWS:
            part[table] = [row for row in self._rows(table) if self._root((table, str(row.get("name")))) in wanted]
        return part if any(part[table] for table in ROWS if table != "board") else self._tables

    def _rows(self, table: str) -> list[Mapping[str, Any]]:
        return self._tables.get(table) or []

    def _root(self, row: Row) -> Row:
        while row in self._first:
            row = self._first[row]
        return row

    def _join(self, one: Row, other: Row) -> None:
        one, other = self._root(one), self._root(other)
        if one != other:
            self._first[one] = other


def _texts(value: Any) -> Iterator[str]:
    """Every text in a row."""
    match value:
        case str():
            yield value
        case dict() | list() | tuple():
            for part in value.values() if isinstance(value, dict) else value:
                yield from _texts(part)
