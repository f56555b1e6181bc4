"""Small jobs for tests: one divider between a side and nothing else, everything else as the test says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.verdict.verdict import judged
from tests.jobs import loaded


def divider_job(
    species: str = "black cherry",
    *,
    side: Mapping[str, Any] | None = None,
    shelf: Mapping[str, Any] | None = None,
    shop: Mapping[str, Any] | None = None,
    **divider: Any,
) -> dict[str, Any]:
    """The tables of a job with a divider 'shelf' in 'side', in mm; clean as it stands."""
    return {
        "title": "test",
        "shop": {"humidity": [40, 60], "glue": "epoxy", **(shop or {})},
        "board": [
            {"name": "side", "species": species, "length": 600, "width": 400, "thickness": 19, **(side or {})},
            {"name": "shelf", "species": species, "length": 500, "width": 300, "thickness": 19, **(shelf or {})},
        ],
        "divider": [{"name": "shelf", "host": "side.left", "key": "shelf", "at": 200, "depth": 6, **divider}],
    }


def found(tables: Mapping[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    """The findings on the dividers of a job, or those of one check."""
    rows = [finding for _, findings in judged(loaded(tables)).dividers for finding in findings]
    return tuple(finding for finding in rows if check is None or finding.check == check)


def loudest(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of the dividers of a job, or of one check on them."""
    return worst_level(found(tables, check))
