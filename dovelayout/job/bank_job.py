"""A commented job for a bank of drawers, made of a table of openings and tried before it is written."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from dovelayout.checks.drawers import TWICE
from dovelayout.errors import JobError
from dovelayout.job.described import toml_text
from dovelayout.job.openings import BadRow, OpeningRow, Openings
from dovelayout.job.reader import Job, load_job
from dovelayout.job.starter import filled, part_text
from dovelayout.units import Unit, length_mm

USUAL_WOOD = "hard maple"
"""Where no wood is named: of the usual drawer woods the one that moves most, so that no drawer comes out too tight."""


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
    text = _job_text(openings, title=title, source=source, common=common)
    return text, load_job(tomllib.loads(text), source=source, stem=title)


def _job_text(openings: Openings, *, title: str, source: str, common: Mapping[str, Any]) -> str:
    """The job as TOML, one [[drawer]] a row, openings measured twice with both measures."""
    head = filled(
        part_text("openings"),
        source="".join(ch if ch.isprintable() else " " for ch in source),
        title=toml_text(title),
        unit=openings.unit.value,
        common="\n".join(f"{key} = {toml_text(value)}" for key, value in common.items()),
    )
    return head + "".join(_drawer(row, openings.unit) for row in openings.rows)


def _drawer(row: OpeningRow, unit: Unit) -> str:
    lines = ["", "[[drawer]]", *(f"# {remark}" for remark in _remarks(row, unit))]
    lines.extend(f"{key} = {toml_text(value)}" for key, value in row.values.items())
    return "\n".join(lines) + "\n"


def _remarks(row: OpeningRow, unit: Unit) -> Iterator[str]:
    """What the maker should look at again: two measurements that differ."""
    for key in ("width", "height", "depth"):
        if f"{key}2" not in row.values:
            continue
        first, second = (float(length_mm(row.values[name], unit=unit)) for name in (key, f"{key}2"))
        if abs(first - second) > (TWICE.warn or 0.0):
            yield f"row {row.line}: its {key} was measured twice, {abs(first - second):.2f} mm apart: the smaller counts"
