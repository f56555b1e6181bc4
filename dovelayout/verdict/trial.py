"""Changes tried on a job: made in its tables as the page makes them in its text, read anew and judged."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable

from dovelayout.change import Change, changes_json
from dovelayout.errors import DovelayoutError
from dovelayout.job.reader import Job, load_job
from dovelayout.job.readers.limits import MOST_TAILS_IN_ALL
from dovelayout.joints.keys import INSTEAD_OF
from dovelayout.verdict.found import Found
from dovelayout.verdict.parts import Parts, Tables

MOST_JUDGED = 4000
"""So many corners, dividers and drawers are judged again in one search for remedies, about two seconds' work; ours."""

NEAR_THE_LIMIT = 0.9
"""A job with more than this share of the tails that one may have is tried as a whole, since it may be one too many; ours."""


class Trials:
    """Changes tried on one job, each set of them once. `judge` runs the checks on a job that was read."""

    def __init__(self, job: Job, judge: Callable[[Job], Found]) -> None:
        self._tables = job.tables
        self._source = job.source
        self._judge = judge
        self._done: dict[str, Found | None] = {}
        self._left = MOST_JUDGED
        crowded = sum(len(joint.tails) for joint in job.joints) > NEAR_THE_LIMIT * MOST_TAILS_IN_ALL
        self._parts = None if crowded else Parts(job.tables)

    @property
    def spent(self) -> bool:
        """Whether nothing more is tried."""
        return self._left <= 0 or not self._tables

    def after(self, changes: tuple[Change, ...]) -> Found | None:
        """What is found in the parts of the job that the changes reach, once they are made; None where that is no job, or
        where enough was tried."""
        key = json.dumps([(change.table, change.name, change.key, change.value) for change in changes])
        if key not in self._done and not self.spent:
            self._done[key] = self._tried(changes)
        return self._done.get(key)

    def _tried(self, changes: tuple[Change, ...]) -> Found | None:
        tables = self._tables if self._parts is None else self._parts.reached_by(changes)
        try:
            job = load_job(with_changes(tables, changes), source=self._source)
        except DovelayoutError:
            self._left -= 1
            return None
        self._left -= len(job.joints) + len(job.dividers) + len(job.drawers) + len(job.across) + 1
        return self._judge(job)


def with_changes(tables: Tables, changes: Iterable[Change]) -> Tables:
    """The tables of a job with changes made, as `job.editing` makes them in its text. Raises DovelayoutError for a row that
    isn't there."""
    changed = dict(tables)
    for edit in changes_json(changes):
        table, name, values = edit["table"], edit["name"], edit["values"]
        rows = changed.get(table)
        if name == table and not isinstance(rows, list):
            changed[table] = _with(rows or {}, values)
        elif isinstance(rows, list) and [row.get("name") for row in rows].count(name) == 1:
            changed[table] = [_with(row, values) if row.get("name") == name else row for row in rows]
        else:
            raise DovelayoutError(f"{table} {name!r} was not found")
    return changed


def _with(row: Tables, values: Tables) -> Tables:
    replaced = {other for key in values for other in INSTEAD_OF.get(key, ())}
    return {key: value for key, value in row.items() if key not in replaced} | dict(values)
