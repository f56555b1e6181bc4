"""Gaps: every boundary of the table of methods, what the season explains, slips and wedges."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Level
from dovelayout.joints.board import Rings
from dovelayout.joints.slope import Slope
from dovelayout.repair.advice import Advice
from dovelayout.repair.gap import (
    GAP,
    HANDLE_MM,
    LEAVE_MM,
    TIP_MM,
    WEDGE_RATIO,
    Gap,
    GapMethod,
    GapPlace,
    GapPlan,
    MovedBoard,
    Slip,
    gap_advice,
    method_for,
    plan_gap,
    season_opening_mm,
)
from dovelayout.wood.glue import find_glue
from dovelayout.wood.species import find_wood
from tests.repairs import slips

CHERRY = find_wood("black cherry")
WINTER = MovedBoard(wood=CHERRY, thickness_mm=19.0, tight_pct=65.0, now_pct=25.0)
END = Gap(width_mm=0.6, length_mm=12.0, place=GapPlace.END, depth_mm=19.0)


def _said(method: GapMethod, place: GapPlace) -> Advice:
    """What is said of a method at a place, whatever the width."""
    return gap_advice(replace(END, place=place), GapPlan(method=method, fill_mm=0.6))


# Boundaries of the table: common practice, no source; the range of one kerf too.
@pytest.mark.parametrize(
    ("width_mm", "method"),
    [
        (0.01, GapMethod.LEAVE),
        (0.1, GapMethod.LEAVE),
        (0.11, GapMethod.DUST),
        (0.3, GapMethod.DUST),
        (0.31, GapMethod.SLIVER),
        (0.49, GapMethod.SLIVER),
        (0.5, GapMethod.SLIP),
        (0.6, GapMethod.SLIP),
        (0.8, GapMethod.SLIP),
        (0.81, GapMethod.SLIVER),
        (1.5, GapMethod.SLIVER),
        (1.51, GapMethod.PATCH),
        (2.0, GapMethod.PATCH),
        (3.0, GapMethod.PATCH),
        (3.01, GapMethod.RECUT),
        (20.0, GapMethod.RECUT),
    ],
)
def test_method_by_width_below_at_and_above_each_limit(width_mm: float, method: GapMethod) -> None:
    assert method_for(width_mm, GapPlace.END) is method


def test_a_width_that_only_arithmetic_puts_past_a_limit_is_at_it() -> None:
    assert method_for(0.1 + 0.2, GapPlace.END) is GapMethod.DUST
    assert 0.1 + 0.2 > 0.3


@pytest.mark.parametrize("place", [GapPlace.CHEEK, GapPlace.BASELINE, GapPlace.LAP])
def test_dust_holds_on_end_grain_alone(place: GapPlace) -> None:
    assert method_for(0.2, place) is GapMethod.SHAVING


@pytest.mark.parametrize("width_mm", [0.35, 0.6, 1.0, 1.5])
def test_nothing_is_wedged_against_a_lap(width_mm: float) -> None:
    assert method_for(width_mm, GapPlace.LAP) is GapMethod.SLIP
    steps = _said(GapMethod.SLIP, GapPlace.LAP).steps
    assert any("wedge" in step for step in steps)
    assert not any("thin saw" in step for step in steps)


@pytest.mark.parametrize(
    ("width_mm", "kerf_mm", "method"),
    [
        (0.6, 0.6, GapMethod.SLIP),
        (0.5, 0.6, GapMethod.SLIP),
        (0.7, 0.6, GapMethod.SLIP),
        (0.71, 0.6, GapMethod.SLIVER),
        (0.49, 0.6, GapMethod.SLIVER),
        (1.2, 1.2, GapMethod.SLIP),
        (0.6, 1.2, GapMethod.SLIVER),
    ],
)
def test_one_kerf_of_the_saw_that_made_it_takes_a_slip_of_that_thickness(
    width_mm: float, kerf_mm: float, method: GapMethod
) -> None:
    assert method_for(width_mm, GapPlace.CHEEK, kerf_mm) is method


@pytest.mark.parametrize("method", GapMethod)
@pytest.mark.parametrize("place", GapPlace)
def test_every_method_has_its_words_at_every_place(method: GapMethod, place: GapPlace) -> None:
    advice = _said(method, place)
    assert all((advice.trouble, advice.looks, advice.glue, advice.steps, advice.cautions))
    assert (advice.steps[-1].startswith("Leave it proud")) is method.wooden


def test_thin_ca_is_said_to_darken_end_grain_with_its_cautions() -> None:
    gap = replace(END, width_mm=0.2)
    advice = gap_advice(gap, plan_gap(gap))
    assert "thin CA darkens end grain" in advice.looks
    assert "Seal ALL the end grain" in advice.looks
    assert any("vapour" in caution and "cotton" in caution for caution in advice.cautions)
    assert advice.cautions[-1].startswith("the makers of your glues")


def _advised(width_mm: float, *, loose: bool = False) -> Advice:
    gap = replace(END, width_mm=width_mm, loose=loose)
    return gap_advice(gap, plan_gap(gap))


EXAMPLES = [partial(_advised, width_mm) for width_mm in (0.1, 0.11, 1.5, 1.51, 3.0, 3.01)]
EXAMPLES += [partial(_advised, width_mm, loose=True) for width_mm in (0.05, LEAVE_MM, 0.11)]


@pytest.mark.parametrize(
    ("width_mm", "level"), [(0.1, Level.OK), (0.11, Level.NOTE), (0.3, Level.NOTE), (1.5, Level.NOTE)]
)
def test_levels_below_a_patch(width_mm: float, level: Level) -> None:
    gap = replace(END, width_mm=width_mm)
    assert gap_advice(gap, plan_gap(gap)).worst is level


@pytest.mark.parametrize(("width_mm", "level"), [(1.51, Level.WARN), (3.0, Level.WARN), (3.01, Level.STOP)])
def test_a_patch_warns_and_past_it_the_answer_is_to_recut(width_mm: float, level: Level) -> None:
    gap = replace(END, width_mm=width_mm)
    advice = gap_advice(gap, plan_gap(gap))
    assert advice.worst is level
    assert (advice.method == "recut") is (level is Level.STOP)
    (finding,) = advice.findings
    assert (finding.limit, finding.source) == (GAP.judge(width_mm)[1], COMMON_PRACTICE)


def test_a_joint_that_is_loose_all_over_is_recut_and_a_hairline_isnt() -> None:
    gap = replace(END, loose=True)
    advice = gap_advice(gap, plan_gap(gap))
    assert (advice.method, advice.worst) == ("recut", Level.STOP)
    assert "epoxy" in advice.findings[0].fix
    hairline = replace(gap, width_mm=0.1)
    assert plan_gap(hairline).method is GapMethod.LEAVE


# --- the season; Wood Handbook Eq 4-5, 13-2 and 13-3 ---


def test_winter_opens_nineteen_mm_of_cherry_by_016_radial_to_031_tangential() -> None:
    # handbook arithmetic: 12.0 to 5.4 % moisture content, coefficients 0.00126 and 0.00248
    opening = season_opening_mm(WINTER, GapPlace.END)
    assert opening == pytest.approx((0.16, 0.31), abs=0.005)
    assert pytest.approx(0.158, abs=0.001) == 19 * 0.00126 * (12.0 - 5.4)


def test_rings_choose_the_direction_and_a_quarter_sawn_board_moves_most_in_thickness() -> None:
    flat = season_opening_mm(replace(WINTER, rings=Rings.FLAT), GapPlace.END)
    quarter = season_opening_mm(replace(WINTER, rings=Rings.QUARTER), GapPlace.END)
    assert flat is not None
    assert quarter is not None
    assert flat[0] == flat[1] < quarter[0] == quarter[1]


def test_a_cheek_opens_by_the_slopes_share_alone() -> None:
    end, cheek = (season_opening_mm(WINTER, place, Slope(7.0)) for place in (GapPlace.END, GapPlace.CHEEK))
    assert end is not None
    assert cheek is not None
    assert cheek[1] == pytest.approx(end[1] / 7)


def test_a_gap_that_the_season_explains_is_left_whatever_its_width() -> None:
    gap = replace(END, width_mm=0.3, season=WINTER)
    plan = plan_gap(gap)
    assert plan.method is GapMethod.WAIT
    assert plan.slip is None
    advice = gap_advice(gap, plan)
    assert advice.worst is Level.NOTE
    assert "closes again" in advice.findings[0].message
    assert any("Don't fill" in step for step in advice.steps)


def test_at_the_seasons_limit_it_waits_and_just_past_it_only_the_rest_is_filled() -> None:
    opening = season_opening_mm(WINTER, GapPlace.END)
    assert opening is not None
    assert plan_gap(replace(END, width_mm=opening[1], season=WINTER)).method is GapMethod.WAIT
    past = plan_gap(replace(END, width_mm=opening[1] + 0.02, season=WINTER))
    assert past.method is GapMethod.LEAVE
    assert past.fill_mm == pytest.approx(0.02)


def test_a_gap_past_what_the_season_explains_asks_for_the_moisture_content() -> None:
    gap = replace(END, width_mm=0.8, season=WINTER)
    plan = plan_gap(gap)
    advice = gap_advice(gap, plan)
    assert advice.findings[0].level is Level.WARN
    assert "measure the moisture content" in advice.findings[0].fix
    assert plan.fill_mm == pytest.approx(0.8 - 0.31, abs=0.005)
    assert advice.steps[0].startswith("Wait until the air is back at 65 %")


def test_damper_air_opens_nothing() -> None:
    gap = replace(END, season=replace(WINTER, tight_pct=25.0, now_pct=65.0))
    plan = plan_gap(gap)
    assert plan.fill_mm == 0.6
    assert "hasn't shrunk" in gap_advice(gap, plan).findings[0].message


def test_a_wood_whose_movement_isnt_known_is_said_so_and_the_gap_is_judged_as_it_is() -> None:
    unknown = replace(
        CHERRY,
        coeff_radial=None,
        coeff_tangential=None,
        coeff_radial_from_shrink=None,
        coeff_tangential_from_shrink=None,
    )
    gap = replace(END, season=replace(WINTER, wood=unknown))
    plan = plan_gap(gap)
    assert plan.method is GapMethod.SLIP
    assert gap_advice(gap, plan).findings[0].message.startswith("not checked, because")


# --- slips ---


@given(slip=slips())
def test_a_slip_tapers_by_the_stated_ratio_and_is_never_thinner_than_its_least(slip: Slip) -> None:
    if slip.tapered:
        assert (slip.mouth_mm - slip.tip_mm) * WEDGE_RATIO == pytest.approx(slip.depth_mm)
        assert (slip.head_mm - slip.mouth_mm) * WEDGE_RATIO == pytest.approx(HANDLE_MM)
        assert slip.tip_mm >= TIP_MM - 1e-9
    else:
        assert slip.tip_mm == slip.mouth_mm == slip.head_mm


def test_a_sliver_worked_by_hand() -> None:
    # 1.0 mm gap, 18 mm deep, 1 in 60: 0.3 mm over its depth, 0.25 mm over the 15 mm it is held by
    plan = plan_gap(replace(END, width_mm=1.0, depth_mm=18.0))
    slip = plan.slip
    assert slip is not None
    assert (slip.tip_mm, slip.mouth_mm, slip.head_mm) == pytest.approx((0.7, 1.0, 1.25))
    assert slip.length_mm == 14.0


def test_without_the_depth_the_taper_isnt_guessed() -> None:
    gap = replace(END, width_mm=1.0, depth_mm=None)
    plan = plan_gap(gap)
    assert plan.slip is None
    assert any("not checked" in finding.message for finding in gap_advice(gap, plan).findings)


def test_every_figure_says_where_it_comes_from() -> None:
    gap = replace(END, width_mm=1.2, season=WINTER)
    sources = {figure.source for figure in gap_advice(gap, plan_gap(gap)).figures}
    assert "measured" in sources
    assert OURS in sources
    assert any(source.startswith("Wood Handbook") for source in sources)


# --- glues ---


@pytest.mark.parametrize(("glue", "word"), [("polyurethane", "foam"), ("pu", "foam"), ("CA", "sets before")])
def test_glues_that_dont_fill_a_gap_are_warned_of(glue: str, word: str) -> None:
    gap = replace(END, glue=find_glue(glue))
    advice = gap_advice(gap, plan_gap(gap))
    assert any(finding.level is Level.WARN and word in finding.message for finding in advice.findings)


def test_ca_on_a_hairline_has_its_caution_and_no_warning() -> None:
    gap = replace(END, width_mm=0.1, glue=find_glue("superglue"))
    advice = gap_advice(gap, plan_gap(gap))
    assert advice.findings == ()
    assert any("cyanoacrylate" in caution for caution in advice.cautions)


def test_pva_on_a_slip_is_fine() -> None:
    gap = replace(END, glue=find_glue("pva"))
    assert all(finding.check != "gap-glue" for finding in gap_advice(gap, plan_gap(gap)).findings)
