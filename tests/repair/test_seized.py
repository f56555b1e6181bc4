"""A sliding joint that stopped on its way: before the glue sets, and after."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest

from dovelayout.checks.finding import Level
from dovelayout.repair.seized import JOINTED_MM, TRIM_MM, SeizedKey, mend_slide
from dovelayout.wood.glue import find_glue

DESK = SeizedKey(length_mm=500.0, from_home_mm=150.0, glue=find_glue("pva"))


def said(key: SeizedKey) -> str:
    return " ".join(mend_slide(key).steps)


def test_wet_it_is_kept_moving_or_taken_out_and_never_pauses() -> None:
    advice = mend_slide(DESK)
    assert advice.method == "get it moving or get it out"
    assert advice.steps[0].startswith("Don't stop")
    assert "within 10 minutes" in said(DESK)  # white PVA: open and closed time together, common practice
    assert advice.worst is Level.WARN


def test_set_it_is_sawn_off_and_re_entered_from_the_other_edge() -> None:
    advice = mend_slide(replace(DESK, glue_set=True))
    assert advice.method == "saw off and re-enter from the other edge"
    assert "edge-glue" in said(replace(DESK, glue_set=True))
    strip = next(figure for figure in advice.figures if figure.what.startswith("strip left"))
    assert strip.value == pytest.approx(150.0 - 1.0 - JOINTED_MM)


EXAMPLES = [partial(mend_slide, replace(DESK, from_home_mm=mm)) for mm in (0.0, 0.01, TRIM_MM, TRIM_MM + 0.01)]


def test_home_it_is_silent_and_a_hair_short_of_it_a_note() -> None:
    assert mend_slide(replace(DESK, from_home_mm=0.0)).findings == ()
    assert mend_slide(replace(DESK, from_home_mm=0.01)).worst is Level.NOTE


@pytest.mark.parametrize(("from_home_mm", "level"), [(TRIM_MM, Level.NOTE), (TRIM_MM + 0.01, Level.WARN)])
def test_near_home_it_is_trimmed_where_it_is(from_home_mm: float, level: Level) -> None:
    advice = mend_slide(replace(DESK, from_home_mm=from_home_mm, stopped=True, glue_set=True, glue=find_glue("hide")))
    assert advice.worst is level
    assert (advice.method == "trim it where it is") is (level is Level.NOTE)


def test_fast_in_a_stopped_housing_is_recut() -> None:
    advice = mend_slide(replace(DESK, glue_set=True, stopped=True))
    assert (advice.method, advice.worst) == ("recut", Level.STOP)
    assert not any(figure.what.startswith("strip") for figure in advice.figures)


def test_hide_glue_lets_go_again_even_in_a_stopped_housing() -> None:
    key = replace(DESK, glue_set=True, stopped=True, glue=find_glue("liquid hide"))
    assert mend_slide(key).worst is Level.WARN
    assert "lets go again" in said(key)
    assert "re-enter" not in said(key).lower()


def test_a_tapered_strip_is_pared_to_the_narrow_end() -> None:
    assert "goes in at the narrow one" in said(replace(DESK, tapered=True, glue_set=True))
    assert "narrow one" not in said(replace(DESK, glue_set=True))
