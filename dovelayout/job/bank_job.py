"""A job for a bank of drawers, made of a table of openings and tried before it is written."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from dovelayout.errors import JobError
from dovelayout.job.drawer_writer import USUAL_WOOD, job_text
from dovelayout.job.openings import BadRow, Openings
from dovelayout.job.reader import Job, load_job


def job_of_openings(
    openings: Openings, *, title: str, source: str, common: Mapping[str, Any]
) -> tuple[str, Job | None, Openings]:
    """The job's text, the job as it will be read, and the table with the rows that can't be drawers among its bad ones.

    `common` are keys of all drawers; where it names no wood the usual one stands in. The job is None, and its text empty,
    where no row is good. Raises JobError for a `common` that no drawer can take.
    """
    common = {"species": USUAL_WOOD, **common}
    good, bad = [], list(openings.bad)
    for row in openings.rows:
        try:  # alone, so that what is wrong with it is said of its row
            _loaded(replace(openings, rows=(row,)), title, source, common)
        except JobError as error:
            key = error.place.key if error.place else ""
            if key in common and key not in row.values:
                raise  # what is wrong is wrong with all of them
            bad.append(BadRow(line=row.line, column=key, problem=error.problem, remedy=error.remedy))
        else:
            good.append(row)
    rest = replace(openings, rows=tuple(good), bad=tuple(sorted(bad, key=lambda one: one.line)))
    if not good:
        return "", None, rest
    return (*_loaded(rest, title, source, common), rest)


def _loaded(openings: Openings, title: str, source: str, common: Mapping[str, Any]) -> tuple[str, Job]:
    text = job_text(openings, title=title, source=source, common=common)
    return text, load_job(tomllib.loads(text), source=source, stem=title)
