"""The verdict on a job: what is offered holds when it is made, in the corner, in the box and in the whole job."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dovelayout import check_joint
from dovelayout.checks.finding import Level
from dovelayout.verdict.verdict import judged, untried, with_fixes
from tests.campaign.remedies import tried
from tests.conftest import examples
from tests.job.whole_jobs import Maker
from tests.jobs import corner_job, findings, loaded, values_of

JOBS = st.randoms(use_true_random=False).map(lambda rng: Maker(rng).sensible())


@settings(max_examples=examples(50), suppress_health_check=list(HealthCheck))
@given(JOBS)
def test_every_remedy_clears_its_finding_and_brings_no_warning_when_it_is_made_in_the_text(
    data: dict[str, Any],
) -> None:
    """A slice of `python -m tests.campaign remedies`."""
    tried(data)


def test_the_fixes_do_not_change_what_is_found() -> None:
    job = loaded(corner_job("balsa", tail_count=5, pin=0.8, half_pin=1, slope="1:4", shop={"chisels": [6]}))
    one, other = untried(job), judged(job)
    for key in ("check", "level", "place", "message", "measured", "limit", "measures"):
        assert [getattr(f, key) for f in one.all_findings] == [getattr(f, key) for f in other.all_findings]
    assert one.worst is other.worst is Level.STOP


def test_some_of_the_findings_are_given_the_same_fixes() -> None:
    job = loaded(corner_job("eastern white pine", tail_count=6, pin=1, half_pin=8))
    found = judged(job).corners[0][1]
    assert with_fixes(job, untried(job).corners[0][1][1:2]) == (found[1],)


def _box(**keys: Any) -> dict[str, Any]:
    """Two sides of 200 mm with tails, a front 19 mm thick and a back of 12."""
    board = {"species": "eastern white pine", "length": 400, "width": 200, "thickness": 19}
    return {
        "board": [
            {"name": "side", **board, "count": 2},
            {"name": "front", **board},
            {"name": "back", **board, "thickness": 12},
        ],
        "box": [{"name": "case", "tails": "side", "pins": ["front", "back"], "slope": "1:7", **keys}],
    }


def test_a_change_that_suits_one_corner_of_a_box_and_not_another_is_not_offered() -> None:
    """A count that the front takes may be one too many for the thinner back, and the other way round."""
    found = judged(loaded(_box(tail_count=2, pin=6, half_pin=8)))
    wide = [f for f in found.all_findings if f.check == "wide-tail"]
    assert {f.place.name for f in wide} == {"A", "B", "C", "D"}
    for finding in wide:
        count = values_of(finding)["tail_count"]
        again = judged(loaded(_box(tail_count=count, pin=6, half_pin=8)))
        assert [f for f in again.all_findings if f.level.rank >= Level.WARN.rank] == []


def test_what_no_single_change_clears_is_cleared_by_a_set_of_them() -> None:
    """At 1:6 white pine keeps its corners under the chisel, but pins of 1 mm in a 9 mm board are thinner at their root then
    and would stop the job: both are changed together."""
    job = corner_job(
        "eastern white pine", pin_species="white oak", thickness=18, pin_thickness=9, width=60,
        slope="1:4", tail_count=2, pin=1, half_pin=2,
    )  # fmt: skip
    (blow_out,) = findings(job, "corner-blowout")
    assert blow_out.fix == "slope 1:6 (9.5°) and pin 4.5 mm"
    assert values_of(blow_out) == {"slope": "1:6", "pin": "4.5 mm"}
    finer = judged(loaded({**job, "corner": [{**job["corner"][0], "slope": "1:6"}]}))
    assert finer.worst is Level.STOP
    assert untried(loaded(job)).worst is Level.STOP  # for the half pins: the pins are only warned of
    tried(job)


def test_where_nothing_clears_it_the_nearest_is_named_with_what_it_would_bring() -> None:
    """Two tails of 22 mm are over three times 6 mm; three of 13.3 mm, which flare by 40/7 a side, have necks of 1.9 mm."""
    job = corner_job(
        "hard maple", slope="1:7", tail_count=2, pin=4, half_pin=6, thickness=6, pin_thickness=40, width=60
    )
    (wide,) = findings(job, "wide-tail")
    assert wide.changes == ()
    assert wide.fix == (
        "no single change clears this; the nearest, tail count 3, brings thin tails at corner A; every tail 18 mm wide or "
        "less"
    )


def test_one_corner_by_itself_is_given_fixes_that_were_tried_on_it() -> None:
    """As the readme's example does; changes of the shop are left to the whole job."""
    job = loaded(corner_job("eastern white pine", tail_count=6, pin=1, half_pin=8, shop={"fit": 0.3, "glue": "pva"}))
    by_itself = {f.check: f for f in check_joint(job.joints[0], job.shop)}
    in_the_job = {f.check: f for f in judged(job).corners[0][1]}
    assert by_itself.keys() == in_the_job.keys()
    for check in ("thin-pin", "knife-access"):
        assert by_itself[check] == in_the_job[check]
    assert "fit" in values_of(by_itself["fit-half-pin"]) or by_itself["fit-half-pin"].fix


@pytest.mark.parametrize("ends", [["side.left", "side.right"], ["side.left", "side.right"][:1]])
def test_both_ends_of_a_divider_say_it_once_with_one_fix(ends: list[str]) -> None:
    board = {"species": "black cherry", "length": 600, "width": 400, "thickness": 19}
    tables = {
        "shop": {"humidity": [40, 60], "glue": "epoxy"},
        "board": [{"name": "side", **board, "count": 2}, {"name": "shelf", **board, "width": 300}],
        "divider": [{"name": "shelf", "host": ends, "key": "shelf", "at": 200, "depth": 12}],
    }
    ((_, found),) = judged(loaded(tables)).dividers
    (deep,) = [finding for finding in found if finding.check == "housing-depth"]
    assert values_of(deep) == {"depth": "9.5 mm"}
    assert deep.place.part == ("both ends" if len(ends) == 2 else "housing")
