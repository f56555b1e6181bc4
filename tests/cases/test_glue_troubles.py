"""Troubles at the glue-up that makers have told of, and what the plan says before the bottle is opened."""

from __future__ import annotations

from typing import Any

from dovelayout.checks.cutouts import check_cutouts
from dovelayout.checks.finding import Level, worst_level
from dovelayout.glueup.words import checking
from tests.glue_jobs import glue_box, glue_findings, loudness, planned
from tests.jobs import loaded


def _tray(**glueup: float) -> dict[str, Any]:
    """A tray 330 by 483 with four corners, in a shop of 22 degrees C, its brushing and closing planned at 7 minutes."""
    seconds = {"seconds_a_face": 5, "seconds_a_corner": 50, "seconds_a_clamp": 15}  # 24 x 5 + 4 x 50 + ... = 7 min
    return glue_box(
        tail_count=3,
        width=75,
        thickness=12.7,
        length=483,
        across=330,
        shop={"glue": "pva", "temperature": 22},
        glueup={**seconds, "seconds_a_face": (7 * 60 - 4 * 50 - 2 * 15) / 24, **glueup},
    )


def test_a_tray_planned_at_seven_minutes_with_five_of_open_time_is_warned_of() -> None:
    plan = planned(_tray())
    (stage,) = plan.stages
    assert round(stage.minutes, 6) == 7
    assert stage.open_minutes is not None
    assert 4.5 < stage.open_minutes[0] < 5  # 5 min at 21 degrees C, a little less at 22
    assert loudness(_tray(), "open-time") is Level.WARN


def test_a_twisted_presentation_case_is_bedded_flat() -> None:
    """51 x 8 x 4 in with two floating panels: the diagonals were equal, and it rocked on two corners."""
    panels = [{"name": "bottom panel", "in": "case"}, {"name": "top panel", "in": "case"}]
    job = glue_box(tail_count=3, width=102, thickness=12.7, length=1295, across=203, captured=panels)
    plan = planned(job)
    assert any("check wind; bed to flat" in row for row in checking(plan))
    (finding,) = glue_findings(job, "long-thin-box")
    assert "equal diagonals don't show" in finding.message
    assert "two straight battens 1295 mm long" in finding.fix
    # a chest of usual proportions needs no bed, and is still looked at for wind
    chest = planned(glue_box(captured=panels))
    assert not any("bed to flat" in row for row in checking(chest))
    assert any("winding sticks" in row for row in checking(chest))


def _tight_cherry(glue: str) -> dict[str, Any]:
    """A drawer-sized cherry box with fine pins, closed by one person."""
    return glue_box(
        tail_count=4, width=150, thickness=12, length=420, across=360, shop={"glue": glue, "temperature": 21}
    )


def test_tight_cherry_corners_are_a_race_with_pva_and_none_with_liquid_hide_glue() -> None:
    assert loudness(_tight_cherry("pva"), "open-time") is Level.WARN
    assert loudness(_tight_cherry("liquid hide"), "open-time") is Level.OK
    (finding,) = glue_findings(_tight_cherry("pva"), "open-time")
    assert "liquid hide glue" in finding.fix


def test_a_captured_rail_is_asked_for_before_the_last_corner_with_a_spreader_beside_it() -> None:
    plan = planned(glue_box(captured=[{"name": "rail", "in": "case", "reach": "inside"}]))
    words = [step.words for step in plan.steps]
    assert words.index("put rail in: nothing gets past corners B, C afterwards") < len(words) - 1
    assert words[-1].startswith("close corners B, C")
    assert [row.where for row in plan.spreaders] == ["case: beside rail, between the boards with the tails"]


def test_laminations_chalked_because_the_boards_were_cold_in_a_warm_shop() -> None:
    """The shop was at 60 to 70 F, the boards weren't."""
    shop = {"glue": "pva", "temperature": "65 F"}
    assert loudness(glue_box(shop=shop), "cold-wood") is Level.OK
    (finding,) = glue_findings(glue_box(shop=shop, glueup={"wood_temperature": "50 F"}), "cold-wood")
    assert finding.level is Level.STOP
    assert "chalks" in finding.message


def test_a_weak_side_with_a_channel_behind_its_tails_warns_before_the_glue_up() -> None:
    job = glue_box()
    job["board"][0]["cutout"] = {"from_end": 26, "from_edge": 10, "length": 10, "width": 140, "depth": 12}
    read = loaded(job)
    found = tuple(check_cutouts(read.boards, read.joints))
    assert worst_level(found) is Level.WARN
    assert {finding.check for finding in found} >= {"cutout-joint", "cutout-section"}
    assert any("behind corner" in finding.where for finding in found)
