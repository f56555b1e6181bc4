"""Joints that fitted dry and didn't once the glue was on. Common practice, no source."""

from __future__ import annotations

from dovelayout.checks import corner_findings
from dovelayout.checks.finding import Level
from dovelayout.checks.remedy import Remedy
from tests.jobs import corner_job, findings, level, loaded
from tests.season_jobs import found, panel_job

TRAY = {"groove": 6, "play": 5, "shop": {"glue": "long-open pva", "humidity": [40, 60]}}


def test_tray_bottom_without_clearance_in_its_groove_stops_with_long_open_pva_in_it() -> None:
    (finding,) = found(panel_job(**TRAY, clearance=0.0, glued="middle"), "groove-fit")
    assert finding.level is Level.STOP
    assert "one part home at a time" in finding.fix


def test_the_same_bottom_0_3_mm_loose_in_a_dry_groove_goes_home() -> None:
    assert found(panel_job(**TRAY, clearance=0.3, glued="no"), "groove-fit") == ()


def _proposed(snug: dict[str, int]) -> list[Remedy]:
    job = loaded(corner_job(shop={"glue": "pva", "fit": 0.05}, **snug))
    (warning,) = [f for f in corner_findings(job.joints[0], job.shop) if f.check == "fit-pressure"]
    return list(warning.candidates)


def test_cherry_corners_that_are_snug_dry_may_stop_half_way_with_pva_and_not_with_hide_glue() -> None:
    snug = {"tail_count": 6, "pin": 8, "half_pin": 8}
    (warning,) = findings(corner_job(shop={"glue": "pva", "fit": 0.05}, **snug), "fit-pressure")
    assert "may stop half way" in warning.message
    assert warning.fix.startswith("a dry fit of 0.02 mm")
    assert ["liquid hide glue" in remedy.words for remedy in _proposed(snug)] == [False, True]
    assert level(corner_job(shop={"glue": "liquid hide", "fit": 0.05}, **snug)) is Level.OK


def test_pine_stood_off_the_line_by_a_quarter_of_a_mm_crushes_and_oak_must_not_be() -> None:
    wide = {"tails_at": [[15 + 30 * n, 35 + 30 * n] for n in range(6)], "width": 200}
    shop = {"glue": "pva", "fit": 0.25}
    assert level(corner_job("eastern white pine", shop=shop, **wide)) is Level.NOTE
    assert level(corner_job("white oak", shop=shop, **wide), "fit-pressure") is Level.WARN
