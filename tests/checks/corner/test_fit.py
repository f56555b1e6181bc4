"""The fit's checks: at their limits, on any corner, and their fixes applied."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.checks.corner.fit import check_fit, fit_findings, fullest_fit_mm, measure_fit, tight
from dovelayout.checks.corner.squeeze import FRICTION, springs_of, squeeze
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.checks.rule import RULES
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from dovelayout.wood.glue import all_glues, find_glue
from tests.conftest import examples
from tests.jobs import applied, corner_job, findings, level, loaded, values_of
from tests.strategies import corner_joints

PITCH_30: dict[str, Any] = {"tails_at": [[15 + 30 * n, 35 + 30 * n] for n in range(6)], "width": 200}
PVA = {"glue": "pva", "fit": 0.05}


def joint_of(species: str = "black cherry", **keys: Any) -> CornerJoint:
    return loaded(corner_job(species, **{**PITCH_30, **keys})).joints[0]


def fit_for(measure: str, value: float, species: str = "black cherry", **keys: Any) -> float:
    """The dry fit at which something that goes with it comes to a value."""
    found = tight(joint_of(species, **keys), None, 0.01)
    assert found is not None
    return 0.01 * value / next(m.value for m in found.measures if m.rule.check == measure)


CRUSHED_AT = 1.0
AT_LIMITS = [
    ("fit-pressure", 4.0, Level.OK, Level.WARN, {}),
    ("fit-drive", 1.3, Level.OK, Level.WARN, {}),
    ("fit-half-pin", 0.5, Level.OK, Level.WARN, {"tails_at": [[8, 48], [58, 98]], "width": 106}),
    ("fit-half-pin", 0.8, Level.WARN, Level.STOP, {"tails_at": [[8, 48], [58, 98]], "width": 106}),
    ("fit-crush", CRUSHED_AT, Level.OK, Level.NOTE, {"species": "eastern white pine"}),
]


def _fitted(check: str, limit: float, keys: dict[str, Any], times: float) -> list[Finding]:
    """The findings of a check at so many times the dry fit at which it comes to its limit."""
    fit_mm = fit_for(check, limit, **keys)
    found = tight(joint_of(**keys), None, fit_mm * times)
    assert found is not None
    spoken = worst_level(fit_findings(joint_of(**keys), None, fit_mm * times))
    assert found.worst is spoken, "what is compared between fits is what is said of them"
    return [f for f in fit_findings(joint_of(**keys), None, fit_mm * times) if f.check == check]


EXAMPLES = [
    partial(_fitted, check, limit, keys, times) for check, limit, _, _, keys in AT_LIMITS for times in (0.5, 1, 1.001)
]


@pytest.mark.parametrize(("check", "limit", "at", "beyond", "keys"), AT_LIMITS, ids=str)
def test_each_limit_holds_its_tongue_at_it_and_speaks_beyond(
    check: str, limit: float, at: Level, beyond: Level, keys: dict[str, Any]
) -> None:
    spoken = [worst_level(_fitted(check, limit, keys, times)) for times in (0.5, 1, 1.001)]
    assert spoken[1:] == [at, beyond]
    assert spoken[0] is Level.OK


def test_tight_cherry_corners_with_pva_warn_of_pressure_and_with_liquid_hide_pass() -> None:
    assert level(corner_job(tail_count=6, pin=8, half_pin=8, shop=PVA), "fit-pressure") is Level.WARN
    hide = corner_job(tail_count=6, pin=8, half_pin=8, shop={**PVA, "glue": "liquid hide"})
    assert findings(hide) == ()


def test_without_fit_and_glue_nothing_is_said_and_with_one_of_them_it_is_one_note() -> None:
    assert findings(corner_job(**PITCH_30)) == ()
    (note,) = findings(corner_job(shop={"glue": "pva"}, **PITCH_30), "fit")
    assert note.level is Level.NOTE
    assert note.message.startswith("not checked, because the job doesn't say how much fuller")
    assert note.fix.startswith("fit 0.02 mm, ")
    (note,) = findings(corner_job(shop={"fit": 0.05}, **PITCH_30), "fit")
    assert note.message.startswith("not checked, because the job names no glue")
    assert level(corner_job(shop={"fit": 0.02}, **PITCH_30), "fit-pressure") is Level.OK


def test_what_is_not_known_is_told() -> None:
    (note,) = findings(corner_job("birch plywood", tail_count=4, pin=8, half_pin=10, shop=PVA), "fit")
    assert note.message == "not checked, because the stiffness of birch plywood is not known"
    job = corner_job("hearsay", shop={**PVA, "fit": 0.02}, **PITCH_30)
    job["wood"] = [{"name": "hearsay", "moe_gpa": 10.0, "kind": "hardwood", "comp_perp_mpa": 5.0, "mor_mpa": 80.0}]
    (note,) = findings(job, "fit")
    assert "how far this wood swells is not known" in note.message
    job["shop"] = {"fit": 0.2, "glue": "pva"}
    (warning,) = findings(job, "fit-pressure")
    assert "mean of 15 hardwoods" in warning.source
    assert not _still_speaks(job, warning)


def _still_speaks(job: dict[str, Any], finding: Finding) -> bool:
    again = findings(applied(job, finding.changes), finding.check)
    return any(other.level.rank >= finding.level.rank for other in again)


JOBS: dict[str, dict[str, Any]] = {
    "cherry, pva": corner_job(shop=PVA, **PITCH_30),
    "maple, no room even dry": corner_job("hard maple", width=100, tail_count=5, pin=5, half_pin=6, shop=PVA),
    "fine small joints": corner_job(
        "hard maple", width=100, thickness=8, tail_count=10, pin=3, half_pin=6, shop={"fit": 0, "glue": "pva"}
    ),
    "dry and full": corner_job(shop={"fit": 0.2}, **PITCH_30),
    "half pins in pine": corner_job(
        "eastern white pine", tail_count=5, pin=8, half_pin=8, shop={"fit": 0.25, "glue": "pva"}
    ),
    "half pins told where": corner_job(
        "eastern white pine", tails_at=[[8, 60], [70, 130], [140, 192]], shop={"fit": 0.25, "glue": "liquid hide"}
    ),
    "half-blind": corner_job(joint="half_blind", lap=5, tail_count=6, pin=8, half_pin=8, shop={**PVA, "fit": 0.1}),
}


@pytest.mark.parametrize("name", JOBS)
def test_offered_fix_passes_when_applied(name: str) -> None:
    found = [f for f in findings(JOBS[name]) if f.check.startswith("fit-") and f.level.rank >= Level.WARN.rank]
    assert found, "the job was chosen because something is too tight in it"
    for finding in found:
        assert any(ch.isdigit() for ch in finding.fix)
        assert finding.changes
        assert not _still_speaks(JOBS[name], finding), f"{finding.check}: {finding.fix}"


def test_relieved_outer_cheeks_pass_at_the_fit_that_is_named() -> None:
    job = corner_job("eastern white pine", tail_count=5, pin=8, half_pin=8, shop={"fit": 0.25, "glue": "liquid hide"})
    (first, *_) = findings(job, "fit-half-pin")
    assert first.level is Level.STOP
    assert "the outer cheeks relieved by" in first.fix
    to_mm = float(first.fix.split("to a fit of ")[1].split(" mm")[0])
    assert level({**job, "shop": {**job["shop"], "fit": to_mm}}, "fit-half-pin") is Level.OK
    assert level({**job, "shop": {**job["shop"], "fit": to_mm + 0.011}}, "fit-half-pin") is Level.WARN


def test_a_label_s_own_numbers_are_not_carried_over_to_another_glue() -> None:
    job = corner_job(
        "hard maple", width=100, thickness=8, tail_count=10, pin=3, half_pin=6, shop={"fit": 0, "glue": "pva"}
    )
    job["glue"] = {"spread": 200}
    (finding,) = findings(job, "fit-pressure")
    assert finding.changes == ()
    assert "liquid hide glue" in finding.fix


# --- whatever the corner ---

fits = st.floats(0, 0.6)
glues = st.sampled_from([None, *all_glues().values()])


@given(corner_joints(), fits, fits)
def test_pressure_and_force_never_fall_with_the_fit_and_never_pass_crushing(
    joint: CornerJoint, one: float, other: float
) -> None:
    springs = springs_of(joint)
    assert springs is not None
    looser, fuller = (squeeze(springs, interference_mm=fit) for fit in sorted((one, other)))
    assert 0 <= looser.pressure_mpa <= fuller.pressure_mpa * (1 + 1e-12)
    assert looser.drive_n <= fuller.drive_n * (1 + 1e-12)
    crush_mpa = math.inf if fuller.crush_mpa is None else fuller.crush_mpa  # not printed for some imported woods
    assert fuller.pressure_mpa <= crush_mpa * (1 + 1e-12)
    assert fuller.crushed == (fuller.elastic_mpa > crush_mpa * (1 + 1e-9))
    if fuller.half_pin_share is not None and looser.half_pin_share is not None:
        assert looser.half_pin_share <= fuller.half_pin_share * (1 + 1e-12)
    # no cheek presses harder than the tightest
    most_n = FRICTION * fuller.pressure_mpa * fuller.cheek_area_mm2
    assert fuller.drive_n <= most_n * len(springs.cheeks) * (1 + 1e-9)
    assert fuller.tail_drive_n <= most_n * 2 * (1 + 1e-9)


@given(corner_joints())
def test_a_loose_joint_presses_nothing(joint: CornerJoint) -> None:
    springs = springs_of(joint)
    assert springs is not None
    loose = squeeze(springs, interference_mm=-0.1)
    assert (loose.pressure_mpa, loose.drive_n, loose.half_pin_share or 0) == (0, 0, 0)


@given(corner_joints(), glues)
@settings(max_examples=examples(60))
def test_fullest_fit_passes_and_a_hundredth_more_does_not(joint: CornerJoint, glue: Any) -> None:
    fullest = fullest_fit_mm(joint, glue)
    assert fullest is not None
    inner = fullest_fit_mm(joint, glue, outer_relieved=True)
    assert inner is not None
    assert fullest <= inner <= 0.25
    at = tight(joint, glue, fullest)
    beyond = tight(joint, glue, fullest + 0.01)
    assert at is not None
    assert beyond is not None
    assert all(m.clean for m in at.measures)
    assert fullest == 0.25 or not all(m.clean for m in beyond.measures)


@given(corner_joints(), st.floats(0, 0.2), glues)
@settings(max_examples=examples(60))
def test_checks_and_measures_agree(joint: CornerJoint, fit_mm: float, glue: Any) -> None:
    shop = Shop(glue=glue, fit_mm=fit_mm)
    found = [f for f in check_fit(joint, shop) if f.measured is not None and f.level is not Level.NOTE]
    assert {f.check for f in found} == {m.rule.check for m in measure_fit(joint, shop) if not m.clean}
    for finding in found:
        assert finding.message
        assert finding.fix
        assert finding.where.startswith(f"corner {joint.name}, ")


def test_a_half_pin_bears_less_and_presses_less_the_thinner_it_is() -> None:
    """The share has one peak: a thin half pin gives way before it breaks, a stout one hardly notices."""

    def share(half_pin_mm: float) -> float:
        layout = [[half_pin_mm, half_pin_mm + 30], [half_pin_mm + 40, half_pin_mm + 70]]
        joint = joint_of(tails_at=layout, width=2 * half_pin_mm + 70)
        springs = springs_of(joint)
        assert springs is not None
        found = squeeze(springs, interference_mm=0.05)
        assert found.half_pin_share is not None
        return found.half_pin_share

    shares = [share(width / 2) for width in range(2, 80)]
    peak = shares.index(max(shares))
    assert shares[: peak + 1] == sorted(shares[: peak + 1])
    assert shares[peak:] == sorted(shares[peak:], reverse=True)
    assert 3 < 1 + peak / 2 < 12
    assert share(19) < 0.6 * shares[peak]  # as wide as the stock: falling


def test_narrower_tails_press_harder() -> None:
    pitches = [
        tight(joint_of(tails_at=[[10, 10 + w], [20 + w, 20 + 2 * w]], width=30 + 2 * w), None, 0.05)
        for w in (20, 30, 45)
    ]
    pressures = [found.squeezed.pressure_mpa for found in pitches if found]
    assert pressures == sorted(pressures, reverse=True)
    assert len(pressures) == 3


def test_suggest_looks_for_layouts_that_go_home() -> None:
    from dovelayout.planning.suggest import suggest

    tables = corner_job(shop={"fit": 0.03, "glue": "pva"}, width=180)
    job = loaded(tables)
    found = suggest(job.joints[0], job.shop)
    assert found.layouts
    for layout in found.layouts:
        assert {"fit-pressure", "fit-drive", "fit-half-pin"} <= set(layout.margins)
        assert all(f.level.rank < Level.WARN.rank for f in check_fit(layout.joint, job.shop))
    free = suggest(job.joints[0], replace(job.shop, fit_mm=None))
    assert not any("fit-pressure" in layout.margins for layout in free.layouts)


def test_rules_have_sources() -> None:
    assert all("Wood Handbook" in rule.source for rule in RULES.values() if rule.check.startswith("fit-"))
    assert FRICTION == 0.4
    assert find_glue("ca").spots_only


@pytest.mark.parametrize(
    ("fit", "words"), [(0.008, "0.01 mm of dry fit at a cheek"), (0.004, "a cheek cut to the line")]
)
def test_a_fit_under_half_a_hundredth_is_called_cut_to_the_line(fit: float, words: str) -> None:
    job = corner_job("hard maple", width=100, thickness=8, tail_count=10, pin=3, half_pin=6)
    job["shop"] = {"fit": fit, "glue": "pva"}
    (finding,) = findings(job, "fit-pressure")
    assert finding.message.startswith(f"{words} and the ")
    assert "swells it press with" in finding.message


def test_a_dry_fit_is_said_to_press_alone() -> None:
    (finding,) = findings(corner_job(shop={"fit": 0.2}, **PITCH_30), "fit-pressure")
    assert finding.message.startswith("0.20 mm of dry fit at a cheek presses with ")
    assert "stop half way" not in finding.message


@pytest.mark.parametrize("name", JOBS)
def test_of_several_ways_out_one_is_the_change(name: str) -> None:
    for finding in findings(JOBS[name]):
        if finding.check in ("fit-pressure", "fit-drive"):
            assert {(change.table, change.key) for change in finding.changes} <= {("shop", "fit"), ("shop", "glue")}
            assert finding.changes


def test_the_fit_that_is_said_to_crush_nothing_crushes_nothing_and_a_hundredth_more_does() -> None:
    job = {**PITCH_30, "shop": {"fit": 0.2}}
    (finding,) = findings(corner_job("eastern white pine", **job), "fit-crush")
    named_mm = float(finding.fix.partition("a dry fit of ")[2].partition(" mm")[0])
    assert 0 < named_mm < 0.2
    for fit, expected in ((named_mm, 0), (named_mm + 0.01, 1)):
        again = corner_job("eastern white pine", **{**job, "shop": {"fit": fit}})
        assert len(findings(again, "fit-crush")) == expected


def test_a_glue_that_leaves_room_for_a_cheek_cut_to_the_line_is_told_so() -> None:
    """No dry fit is left for it: 0 mm, and not 'a dry fit of 0 mm'."""
    (finding,) = findings(JOBS["fine small joints"], "fit-pressure")
    assert "goes home cut to the line, a fit of 0 mm" in finding.fix


def test_what_is_relieved_is_what_the_fit_comes_down_by() -> None:
    job = corner_job("eastern white pine", tail_count=5, pin=8, half_pin=8, shop={"fit": 0.25, "glue": "liquid hide"})
    (first, *_) = findings(job, "fit-half-pin")
    relief_mm = float(first.fix.split("outer cheeks relieved by ")[1].split(" mm")[0])
    to_mm = float(first.fix.split("to a fit of ")[1].split(" mm")[0])
    assert relief_mm == pytest.approx(0.25 - to_mm)


def test_another_glue_that_leaves_room_for_a_hundredth_is_told_with_it() -> None:
    job = corner_job(width=100, thickness=12, tail_count=5, pin=5, half_pin=6, shop={"fit": 0.01, "glue": "pva"})
    (finding,) = findings(job, "fit-pressure")
    assert "goes home at a dry fit of 0.01 mm" in finding.fix
    assert findings(applied(job, finding.changes), "fit-pressure") == ()


def test_a_cheek_cut_to_the_line_is_offered_where_it_passes_and_nothing_fuller_does() -> None:
    keys: dict[str, Any] = {"width": 100, "thickness": 12, "tail_count": 10, "pin": 3, "half_pin": 6, "slope": "1:8"}
    job = corner_job(**keys, shop={"fit": 0.02, "glue": "hide"})
    (finding,) = findings(job, "fit-pressure")
    assert finding.fix.startswith("a dry fit of 0 mm (nothing: cut to the line)")
    assert values_of(finding) == {"fit": "0 mm"}
    for fit_mm, expected in ((0.0, Level.OK), (0.01, Level.WARN)):
        assert level(corner_job(**keys, shop={"fit": fit_mm, "glue": "hide"}), "fit-pressure") is expected


def test_without_a_cheek_nothing_presses() -> None:
    springs = springs_of(joint_of())
    assert springs is not None
    bare = squeeze(replace(springs, cheeks=()), interference_mm=0.1)
    assert (bare.pressure_mpa, bare.drive_n, bare.tail_drive_n, bare.half_pin_share) == (0, 0, 0, None)


def test_half_pins_that_the_glue_alone_would_break_are_given_air() -> None:
    """Cheeks cut to the line: what swells is too much, so the outer ones stay clear, to the hundredth that is enough."""
    job = corner_job("balsa", thickness=8, tails_at=[[1.5, 16.5], [24.5, 39.5]], width=41)
    job["shop"] = {"fit": 0, "glue": "pva"}
    (first, *_) = findings(job, "fit-half-pin")
    clear_mm = float(first.fix.split("until they are ")[1].split(" mm clear when dry")[0])
    assert 0 < clear_mm < 1
    for fit_mm, fine in ((-clear_mm, True), (0.01 - clear_mm, False)):
        found = tight(loaded(job).joints[0], find_glue("pva"), fit_mm)
        assert found is not None
        assert found.squeezed.half_pin_share is not None
        assert (found.squeezed.half_pin_share <= 0.5) is fine
