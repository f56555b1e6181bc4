"""Small jobs for tests: one corner of two boards, everything else as the test says."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping
from typing import Any

import pytest

from dovelayout.change import Change
from dovelayout.checks import corner_findings
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.errors import JobError
from dovelayout.job.reader import Job, load_job
from dovelayout.verdict.verdict import judged


def corner_job(
    species: str = "black cherry",
    *,
    pin_species: str | None = None,
    width: float = 200,
    thickness: float = 19,
    pin_thickness: float | None = None,
    pin_width: float | None = None,
    board: Mapping[str, Any] | None = None,
    pin_board: Mapping[str, Any] | None = None,
    shop: Mapping[str, Any] | None = None,
    **corner: Any,
) -> dict[str, Any]:
    """The tables of a job with one corner 'A' of 'side' (tails) and 'top' (pins), in mm."""
    side = {"name": "side", "species": species, "length": 500, "width": width, "thickness": thickness}
    top = {
        "name": "top",
        "species": pin_species or species,
        "length": 400,
        "width": pin_width or width,
        "thickness": pin_thickness or thickness,
    }
    tables: dict[str, Any] = {
        "title": "test",
        "board": [{**side, **(board or {})}, {**top, **(pin_board or {})}],
        "corner": [{"name": "A", "tails": "side.left", "pins": "top.right", "slope": "1:6", **corner}],
    }
    if shop:
        tables["shop"] = dict(shop)
    return tables


def loaded(tables: Mapping[str, Any]) -> Job:
    """The job of these tables."""
    return load_job(tables, source="test.toml")


def error_of(tables: Mapping[str, Any]) -> str:
    """What a job that can't be read is told."""
    with pytest.raises(JobError) as caught:
        loaded(tables)
    return str(caught.value)


def findings(tables: Mapping[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    """All findings on the corners of a job, or those of one check, with the fixes that were tried on all of it."""
    found = [finding for _, findings in judged(loaded(tables)).corners for finding in findings]
    return tuple(finding for finding in found if check is None or finding.check == check)


def values_of(finding: Finding, table: str | None = None) -> dict[str, Any]:
    """The keys that a finding's fix sets and their values, or those of one table alone."""
    return {change.key: change.value for change in finding.changes if table in (None, change.table)}


def level(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of a job, or of one check; a 'not checked' counts as the note it is."""
    job = loaded(tables)
    found = (finding for joint in job.joints for finding in corner_findings(joint, job.shop))
    return worst_level(finding for finding in found if check is None or finding.check == check)


def applied(tables: Mapping[str, Any], changes: Iterable[Change]) -> dict[str, Any]:
    """The job with the changes of a finding written into it, as a person or the page would."""
    job = copy.deepcopy(dict(tables))
    for change in changes:
        if change.table == change.name == "shop":  # a table that is there once goes by its own name
            job["shop"] = {**job.get("shop", {}), change.key: change.value}
            continue
        (row,) = [row for row in job[change.table] if row["name"] == change.name]
        if change.key == "tails_at":
            for key in ("tail_count", "pin", "half_pin", "spacing"):
                row.pop(key, None)
        row[change.key] = change.value
    return job
