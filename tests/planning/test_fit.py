"""The fit to aim for, glue by glue."""

from __future__ import annotations

import pytest

from dovelayout.checks.finding import Level
from dovelayout.planning.fit import corner_fit
from dovelayout.wood.glue import all_glues
from tests.jobs import corner_job, level, loaded

LAYOUT = {"tail_count": 6, "pin": 8, "half_pin": 8}


def test_every_glue_for_corners_is_looked_at_once_the_jobs_own_first() -> None:
    job = loaded(corner_job(shop={"glue": "pva", "fit": 0.05}, **LAYOUT))
    found = corner_fit(job.joints[0], job.shop)
    assert found.chosen.glue is job.shop.glue
    names = [row.glue.id for row in (found.chosen, *found.others) if row.glue is not None]
    assert sorted(names) == sorted(glue.id for glue in all_glues().values() if not glue.spots_only)
    by_id = {row.glue.id: row for row in found.others if row.glue is not None}
    assert found.chosen.worst is Level.WARN
    assert by_id["liquid hide"].worst is Level.OK
    hide, pva = by_id["liquid hide"].dry_fit_mm, found.chosen.dry_fit_mm
    assert hide is not None
    assert pva is not None
    assert hide > pva > 0


@pytest.mark.parametrize("species", ["black cherry", "hard maple", "eastern white pine", "black walnut"])
@pytest.mark.parametrize("glue", ["pva", "liquid hide", "epoxy"])
def test_the_fit_aimed_for_passes_as_the_jobs_fit(species: str, glue: str) -> None:
    shop: dict[str, object] = {"glue": glue}
    job = loaded(corner_job(species, shop=shop, slope="1:7", **LAYOUT))
    found = corner_fit(job.joints[0], job.shop)
    assert not found.fit_given
    aim_mm = found.chosen.dry_fit_mm
    assert aim_mm is not None
    if aim_mm >= 0:
        assert found.fit_mm == aim_mm
        tables = corner_job(species, shop={**shop, "fit": aim_mm}, slope="1:7", **LAYOUT)
        assert all(
            level(tables, check).rank < Level.WARN.rank for check in ("fit-pressure", "fit-drive", "fit-half-pin")
        )


def test_makers_leave_pine_fuller_than_cherry_and_cherry_fuller_than_maple() -> None:
    """Common practice, no source."""
    aims = []
    for species in ("eastern white pine", "black cherry", "hard maple"):
        job = loaded(corner_job(species, shop={"glue": "pva"}, tails_at=[[40, 90], [110, 160]], slope="1:7"))
        aims.append(corner_fit(job.joints[0], job.shop).chosen.inner_fit_mm)
    assert aims == sorted(aims, reverse=True)  # type: ignore[type-var]
    assert aims[0] == 0.25


def test_plywood_is_not_known() -> None:
    job = loaded(corner_job("birch plywood", tail_count=4, pin=8, half_pin=10, shop={"glue": "pva"}))
    found = corner_fit(job.joints[0], job.shop)
    assert (found.chosen.tight, found.chosen.dry_fit_mm, found.chosen.worst) == (None, None, None)
