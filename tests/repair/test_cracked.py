"""A cracked side: glued and closed, given wood, freed, or made anew."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest

from dovelayout.checks.finding import Level
from dovelayout.repair.cracked import CLOSED_MM, Crack, CrackStage, mend_crack, shrunk_mm
from dovelayout.wood.species import find_wood

CRACK = Crack(length_mm=120.0, width_mm=0.05, stage=CrackStage.DRY, board_length_mm=600.0)
CABINET = Crack(
    length_mm=305.0,
    width_mm=6.0,
    stage=CrackStage.CURED,
    fixed=True,
    board_length_mm=1300.0,
    board_width_mm=508.0,
    wood=find_wood("black cherry"),
    air_pct=(60.0, 25.0),
)


def test_before_the_glue_sets_it_is_glued_and_closed() -> None:
    for stage in (CrackStage.DRY, CrackStage.WET):
        advice = mend_crack(replace(CRACK, stage=stage))
        assert advice.method == "glue and close"
        assert advice.worst is Level.OK


@pytest.mark.parametrize(("width_mm", "method"), [(CLOSED_MM, "glue and close"), (CLOSED_MM + 0.01, "add wood")])
def test_cured_and_open_it_gets_wood_and_isnt_pulled_together(width_mm: float, method: str) -> None:
    advice = mend_crack(replace(CRACK, stage=CrackStage.CURED, width_mm=width_mm))
    assert advice.method == method
    assert any("breaks elsewhere" in step for step in advice.steps) is (method == "add wood")


def test_shrinkage_of_a_wide_cherry_side_from_shop_to_house() -> None:
    # 508 mm x 0.00248 x (11.0 - 5.4) = 7.1 mm; coefficient: Wood Handbook Table 13-5, moisture contents: its Table 4-2
    assert shrunk_mm(CABINET) == pytest.approx(7.1, abs=0.1)
    assert shrunk_mm(replace(CABINET, air_pct=(25.0, 60.0))) == 0.0
    assert shrunk_mm(replace(CABINET, wood=None)) is None


def test_a_side_held_across_its_grain_is_freed_first_where_shrinkage_explains_the_crack() -> None:
    advice = mend_crack(CABINET)
    assert advice.method == "free it first"
    assert any(finding.check == "cross-grain" and finding.level is Level.WARN for finding in advice.findings)
    wider = mend_crack(replace(CABINET, width_mm=8.0))
    assert wider.method == "add wood"
    assert wider.steps[0].startswith("First free")


EXAMPLES = [partial(mend_crack, replace(CRACK, length_mm=length_mm)) for length_mm in (150.0, 151.0, 300.0, 301.0)]


@pytest.mark.parametrize(
    ("length_mm", "level"),
    [(150.0, Level.OK), (151.0, Level.WARN), (300.0, Level.WARN), (301.0, Level.STOP)],
)
def test_a_crack_over_half_the_side_is_a_new_side(length_mm: float, level: Level) -> None:
    advice = mend_crack(replace(CRACK, length_mm=length_mm))
    assert advice.worst is level
    assert (advice.method == "recut") is (level is Level.STOP)


def test_without_the_sides_length_its_share_isnt_checked() -> None:
    (finding,) = mend_crack(replace(CRACK, board_length_mm=None)).findings
    assert finding.message.startswith("not checked, because")
