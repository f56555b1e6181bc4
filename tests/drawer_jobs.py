"""Small jobs for tests: one drawer in an opening, everything else as the test says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks import check_joint
from dovelayout.checks.drawers import check_drawer, check_drawers
from dovelayout.checks.finding import Finding, Level, worst_level
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
    job = loaded(tables)
    rows = [*check_drawers(job.drawers), *(finding for drawer in job.drawers for finding in check_drawer(drawer))]
    rows += [finding for joint in job.joints for finding in check_joint(joint, job.shop)]
    return tuple(finding for finding in rows if check is None or finding.check == check)


def loudest(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of the drawers of a job, or of one check on them."""
    return worst_level(found(tables, check))
