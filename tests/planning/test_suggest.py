"""Suggested layouts pass the checks, all of them, for any boards; where none does, it is said what stands against it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.checks import corner_findings
from dovelayout.checks.finding import Level
from dovelayout.errors import DovelayoutError
from dovelayout.job.reader import load_job, read_job
from dovelayout.planning.suggest import describe, job_keys, suggest
from dovelayout.planning.taste import Taste
from tests.jobs import applied, corner_job, level, loaded

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("taste", Taste)
def test_three_layouts_or_more_for_every_corner_of_a_sample(sample: Path, taste: Taste) -> None:
    job = read_job(sample)
    joint = job.joints[0]
    found = suggest(joint, job.shop, taste=taste)
    assert len(found.layouts) >= 3
    for layout in found.layouts:
        findings = corner_findings(layout.joint, job.shop)
        assert all(finding.level.rank < Level.WARN.rank for finding in findings)
        assert layout.reason
        assert all(used <= 1 + 1e-9 for check, used in layout.margins.items() if check != "corner-blowout")


@settings(max_examples=12)
@given(
    st.fixed_dictionaries(
        {
            "species": st.sampled_from(["eastern white pine", "black cherry", "hard maple", "plywood"]),
            "width": st.floats(50, 300),
            "thickness": st.floats(8, 25),
            "pin_thickness": st.floats(8, 25),
            "groove": st.none() | st.just({"from_edge": 12, "width": 6, "depth": 3}),
        }
    )
)
def test_never_a_layout_that_the_checks_reject(keys: dict[str, Any]) -> None:
    tables = corner_job(**{key: value for key, value in keys.items() if value is not None})
    try:
        job = loaded(tables)
    except DovelayoutError:
        return
    found = suggest(job.joints[0], job.shop)
    for layout in found.layouts:
        # through the job itself, as --write would do it
        corner = {**tables["corner"][0], **job_keys(layout)}
        again = load_job({**tables, "corner": [corner]}, source="again")
        worst = max((f.level.rank for f in corner_findings(again.joints[0], again.shop)), default=0)
        assert worst < Level.WARN.rank
    if not found.layouts:
        assert found.blockers
        assert found.remedies


def test_balsa_has_no_layout_and_is_told_why() -> None:
    job = loaded(corner_job("balsa"))
    found = suggest(job.joints[0], job.shop)
    assert found.layouts == ()
    assert any("short-grain" in blocker for blocker in found.blockers)


def test_tastes_differ_as_they_say() -> None:
    job = loaded(corner_job("black cherry", shop={"chisels": [3, 6, 12]}))
    ratio = {}
    for taste in Taste:
        best = suggest(job.joints[0], job.shop, taste=taste).layouts[0].joint
        ratio[taste] = best.tails[0].width_mm / best.full_pins[0].root_mm
    assert ratio[Taste.FINE] > ratio[Taste.PLAIN] > ratio[Taste.STRONG]


def test_a_slope_that_was_given_is_kept_and_one_that_was_not_is_proposed() -> None:
    given = loaded(corner_job("black cherry", slope="1:5"))
    assert {layout.joint.slope.ratio for layout in suggest(given.joints[0], given.shop).layouts} == {5.0}
    tables = corner_job("black cherry")
    del tables["corner"][0]["slope"]
    open_ = loaded(tables)
    assert "slope" in open_.joints[0].proposed
    found = suggest(open_.joints[0], open_.shop).layouts
    assert len({layout.joint.slope.ratio for layout in found}) > 1
    assert "slope" in job_keys(found[0])


def test_an_inch_job_is_answered_in_32nds() -> None:
    from dovelayout.units import Unit, parse_length

    job = loaded(corner_job("black cherry", width=152.4, thickness=12.7))
    for layout in suggest(job.joints[0], job.shop, unit=Unit.IN).layouts:
        for key in ("pin", "half_pin"):
            said = str(job_keys(layout, Unit.IN)[key])
            assert "≈" not in said
            inches = parse_length(said, unit=Unit.IN) / parse_length("1 in", unit=Unit.IN)
            assert (inches * 32).denominator == 1


def test_what_no_layout_changes_is_said_as_such() -> None:
    deep = corner_job("black cherry", groove={"from_edge": 20, "width": 6, "depth": 9})
    job = loaded(deep)
    found = suggest(job.joints[0], job.shop)
    assert found.layouts == ()
    assert all("groove-depth" in blocker and "whatever the layout" in blocker for blocker in found.blockers)


def test_a_comb_is_given_counts_and_nothing_else() -> None:
    job = loaded(corner_job(joint="comb", slope=None, width=90, thickness=9, shop={"chisels": [6, 10]}))
    found = suggest(job.joints[0], job.shop).layouts
    assert found
    for layout in found:
        assert job_keys(layout) == {"tail_count": len(layout.joint.tails)}
        assert layout.pin_mm == pytest.approx(90 / (2 * len(layout.joint.tails) + 1))
        assert "cheeks straight" in describe(layout)
        assert "it can't be" not in layout.sensitivity
        wanted = applied(corner_job(joint="comb", slope=None, width=90, thickness=9), ())
        wanted["corner"][0].update(job_keys(layout))
        assert level(wanted) in (Level.OK, Level.NOTE)


def test_a_kind_that_sets_its_own_count_is_still_suggested(monkeypatch: pytest.MonkeyPatch) -> None:
    job = loaded(corner_job(joint="comb", slope=None, tail_count=None, width=90, thickness=9))
    kind = type(job.joints[0])
    monkeypatch.setattr(kind, "settles", {**kind.settles, "tail_count": "as many as suit"})
    (layout,) = suggest(job.joints[0], job.shop).layouts
    assert describe(layout) == "4 and 5 fingers of 10 mm, cheeks straight"  # 90 mm in nine
