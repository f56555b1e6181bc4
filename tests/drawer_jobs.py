"""Small jobs for tests: one drawer in an opening, everything else as the test says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.verdict.verdict import Verdict, judged, untried
from tests.jobs import loaded


def drawer_job(species: str = "hard maple", *, shop: Mapping[str, Any] | None = None, **drawer: Any) -> dict[str, Any]:
    """The tables of a job with one drawer 'd', in mm; clean as it stands."""
    return {
        "title": "test",
        "shop": {"humidity": [40, 60], **(shop or {})},
        "drawer": [{"name": "d", "species": species, "width": 400, "height": 110, "depth": 420, **drawer}],
    }


def made(tables: Mapping[str, Any]) -> Drawer:
    """The one drawer of a job."""
    (drawer,) = loaded(tables).drawers
    return drawer


def found(tables: Mapping[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    """The findings on the drawers of a job and on their corners, or those of one check."""
    return _of(judged(loaded(tables)), check)


def loudest(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of the drawers of a job, or of one check on them."""
    return worst_level(_of(untried(loaded(tables)), check))


def _of(verdict: Verdict, check: str | None) -> tuple[Finding, ...]:
    rows = [finding for finding in verdict.findings if finding.place.kind == "drawers"]
    rows += [finding for _, findings in (*verdict.drawers, *verdict.corners) for finding in findings]
    return tuple(finding for finding in rows if check is None or finding.check == check)
