"""Joints that fitted dry and didn't once the glue was on. Common practice, no source."""

from __future__ import annotations

from dovelayout.checks.finding import Level, worst_level
from dovelayout.checks.movement.panel_groove import panel_groove_findings
from dovelayout.place import Place
from dovelayout.wood.glue import find_glue
from tests.jobs import corner_job, findings, level


def test_tray_bottom_snug_in_its_groove_stops_with_long_open_pva_in_it() -> None:
    glue = find_glue("long-open pva")
    found = list(panel_groove_findings(Place(kind="panel", name="tray bottom"), clearance_mm=0.0, glue=glue))
    assert worst_level(found) is Level.STOP
    assert "one part home at a time" in found[0].fix


def test_the_same_bottom_0_3_mm_loose_in_a_dry_groove_goes_home() -> None:
    assert list(panel_groove_findings(Place(kind="panel", name="tray bottom"), clearance_mm=0.3, glue=None)) == []


def test_cherry_corners_that_are_snug_dry_may_stop_half_way_with_pva_and_not_with_hide_glue() -> None:
    snug = {"tail_count": 6, "pin": 8, "half_pin": 8}
    (warning,) = findings(corner_job(shop={"glue": "pva", "fit": 0.05}, **snug), "fit-pressure")
    assert "may stop half way" in warning.message
    assert "liquid hide glue" in warning.fix
    assert level(corner_job(shop={"glue": "liquid hide", "fit": 0.05}, **snug)) is Level.OK


def test_pine_stood_off_the_line_by_a_quarter_of_a_mm_crushes_and_oak_must_not_be() -> None:
    wide = {"tails_at": [[15 + 30 * n, 35 + 30 * n] for n in range(6)], "width": 200}
    shop = {"glue": "pva", "fit": 0.25}
    assert level(corner_job("eastern white pine", shop=shop, **wide)) is Level.NOTE
    assert level(corner_job("white oak", shop=shop, **wide), "fit-pressure") is Level.WARN
