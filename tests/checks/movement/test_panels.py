"""Panels: what is said of them, and the least that makes them work."""

from __future__ import annotations

import math
from typing import Any

import pytest

from dovelayout.checks.finding import Finding
from tests.jobs import values_of
from tests.season_jobs import CHERRY, emc, found, grown, panel_job

GROWS = grown(1, CHERRY, emc(30), emc(65)) - 1
SHRINKS = 1 - grown(1, CHERRY, emc(65), emc(30))


def _only(check: str, species: str = "black cherry", **keys: Any) -> Finding:
    (finding,) = found(panel_job(species, **keys), check)
    return finding


def _mm(text: str) -> float:
    return float(text.removesuffix(" mm"))


def test_a_jammed_panel_gets_the_play_that_it_needs_and_is_cut_narrower_by_it() -> None:
    """What it grows and half a mm, on the next tenth; what the play gains between the same groove bottoms, it loses."""
    finding = _only("panel-jam", width=300, groove=20, play=2)
    play_mm = math.ceil((300 * GROWS + 0.5) * 10) / 10
    assert _mm(values_of(finding)["play"]) == pytest.approx(play_mm)
    assert _mm(values_of(finding, "board")["width"]) == pytest.approx(300 + 2 - play_mm)
    assert values_of(finding)["groove"] == "20 mm"
    assert "it bottoms out" in finding.message
    assert finding.measured == pytest.approx(2 - 300 * GROWS, abs=0.006)


def test_next_to_no_play_is_not_yet_bottoming_out() -> None:
    assert "next to nothing" in _only("panel-jam", width=300, groove=20, play=300 * GROWS + 0.2).message


@pytest.mark.parametrize(("left_mm", "words"), [(-0.5, "it drops out"), (0.5, "0.5 mm of it is left in the groove")])
def test_a_panel_that_still_hangs_in_its_groove_does_not_drop_out(left_mm: float, words: str) -> None:
    play_mm = 300 * GROWS + 1
    finding = _only("panel-hold", width=300, groove=300 * SHRINKS + play_mm + left_mm, play=play_mm)
    assert f" {words} on the worse side" in finding.message
    assert finding.measured == pytest.approx(left_mm, abs=0.006)


def test_grooves_are_deepened_by_halves_and_no_more_than_they_have_to_be() -> None:
    """A loose 600 mm panel held in its middle: half of play and shrinkage, and 1.5 mm of hold."""
    finding = _only("panel-hold", width=600, groove=5, play=600 * GROWS + 0.5)
    groove_mm, play_mm = (_mm(values_of(finding)[key]) for key in ("groove", "play"))
    assert values_of(finding)["glued"] == "middle"
    width_mm = _mm(values_of(finding, "board")["width"])
    wanted_mm = (play_mm + width_mm * SHRINKS) / 2 + 1.5
    assert wanted_mm <= groove_mm < wanted_mm + 0.5
    assert width_mm == pytest.approx(600 + 600 * GROWS + 0.5 - play_mm + 2 * (groove_mm - 5), abs=0.002)


def test_where_no_groove_holds_it_other_stock_is_advised() -> None:
    finding = _only("panel-hold", width=1400, groove=6, play=24)
    assert finding.changes == ()
    assert "two narrower panels" in finding.fix


def test_a_groove_of_15_mm_is_the_deepest_that_is_proposed() -> None:
    deepest = []
    for width in range(500, 1400, 20):
        for finding in found(panel_job("black cherry", width=width, groove=6, play=2), "panel-jam"):
            deepest += [_mm(values_of(finding)["groove"])] if finding.changes else []
    assert max(deepest) == 15


def test_of_a_panel_and_its_frame_the_one_whose_movement_nobody_knows_is_named() -> None:
    job = panel_job("black cherry", groove=6, play=3, frame="side")
    job["board"].append({"name": "side", "species": "sorb", "length": 600, "width": 300, "thickness": 19})
    job["wood"] = [{"name": "sorb", "kind": "hardwood", "sg": 0.7}]
    (finding,) = found(job, "panel-jam")
    assert "sorb" in finding.message


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"glued": "all round"}, "loose in grooves 6 mm deep"),
        ({"groove": 6}, "held in its middle alone in grooves 6 mm deep"),
    ],
)
def test_how_a_panel_is_to_sit_is_said(keys: dict[str, Any], words: str) -> None:
    check = "panel-glued" if "glued" in keys else "panel-play"
    assert words in _only(check, "yellow poplar", width=100 if "glued" in keys else 229, **keys).fix


@pytest.mark.parametrize(("glued", "faces", "swells_mm"), [("no", 1, 0.0), ("middle", 2, 0.4)])
def test_clearance_is_growth_and_a_tenth_and_what_glue_takes(glued: str, faces: int, swells_mm: float) -> None:
    finding = _only("groove-fit", groove=20, play=5, clearance=0, glued=glued)
    grows_mm = grown(12, 0.00126, emc(30), emc(65)) - 12
    needed_mm = grows_mm + swells_mm
    assert finding.measured == pytest.approx(-grows_mm / faces, abs=0.002)
    assert _mm(values_of(finding)["clearance"]) == pytest.approx(math.ceil(needed_mm * 10 + 1) / 10)


def test_a_wood_whose_movement_nobody_knows_still_needs_room_for_glue() -> None:
    """Growth counts as none there: 0.4 mm for two wet faces, and a tenth."""
    job = panel_job("sorb", groove=6, play=3, glued="middle", clearance=0.1)
    job["wood"] = [{"name": "sorb", "kind": "hardwood", "sg": 0.7}]
    (finding,) = found(job, "groove-fit")
    assert finding.measured == pytest.approx(0.05)
    assert values_of(finding) == {"clearance": "0.5 mm"}


def test_a_panel_that_neither_moves_nor_has_play_has_next_to_none_but_pushes_nothing() -> None:
    finding = _only("panel-jam", shop={"humidity": [50, 50]}, groove=20, play=0)
    assert finding.message.endswith("that is next to nothing")


@pytest.mark.parametrize(("glued", "wet"), [("no", False), ("middle", True)])
def test_wet_faces_are_named_where_there_is_glue(glued: str, wet: bool) -> None:
    finding = _only("groove-fit", groove=20, play=5, clearance=0, glued=glued)
    assert ("and 0.2 to 0.4 mm go where glue wets both faces" in finding.message) is wet
