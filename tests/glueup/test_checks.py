"""Open time and cold wood: every rung of the ladder, and what is offered, put to use."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from dovelayout.change import changes_json, changes_of
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.rule import Rule
from dovelayout.glueup.caul import PAD
from dovelayout.glueup.checks import CAUTIOUS, COLD, HOPEFUL
from dovelayout.glueup.squareness import DIFFERENCE, ELSEWHERE, LONG_THIN, UNEQUAL
from tests.glue_jobs import glue_box, glue_findings, loudness, planned, with_changes

RULES = (CAUTIOUS, HOPEFUL, COLD, PAD, DIFFERENCE, ELSEWHERE, UNEQUAL, LONG_THIN)
CHECK_OPEN, CHECK_COLD = CAUTIOUS.check, COLD.check


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{rule.check}: {rule.measures}")
def test_rule_speaks_beyond_its_limit_and_not_at_it(rule: Rule) -> None:
    ladder = [(Level.NOTE, rule.note), (Level.WARN, rule.warn), (Level.STOP, rule.stop)]
    steps = [(level, limit) for level, limit in ladder if limit is not None]
    assert steps
    sign = -1 if rule.below else 1
    for level, limit in steps:
        assert rule.judge(limit)[0].rank < level.rank
        assert rule.judge(limit + sign * 1e-6 * max(1, abs(limit))) == (level, limit)


def _lasting(minutes: float, label: float | None = None, glue: str = "pva") -> dict[str, Any]:
    """A box whose one stage takes just so many minutes: 32 faces, the rest is no work at all."""
    pace: dict[str, Any] = {"seconds_a_face": minutes * 60 / 32, "seconds_a_corner": 0, "seconds_a_clamp": 0}
    if label is not None:
        pace["open_minutes"] = label
    return glue_box(glueup=pace, shop={"glue": glue})


LADDER = [
    (2.9, Level.OK),
    (3.0, Level.OK),  # 60 % of white PVA's 5 min
    (3.1, Level.NOTE),
    (4.0, Level.NOTE),  # 80 %
    (4.1, Level.WARN),
    (10.0, Level.WARN),  # the longest that any label gives
    (10.1, Level.STOP),
]
COOL = [(13, Level.OK), (12.9, Level.STOP), (30, Level.OK)]  # white PVA needs 13 degrees C

EXAMPLES = [partial(loudness, _lasting(minutes), CHECK_OPEN) for minutes, _ in LADDER]
EXAMPLES += [partial(loudness, glue_box(shop={"temperature": degrees}), CHECK_COLD) for degrees, _ in COOL]


@pytest.mark.parametrize(("minutes", "level"), LADDER)
def test_the_ladder_of_the_open_time(minutes: float, level: Level) -> None:
    assert loudness(_lasting(minutes), CHECK_OPEN) is level


@pytest.mark.parametrize(
    ("minutes", "level"), [(4.8, Level.OK), (4.9, Level.NOTE), (6.5, Level.WARN), (8.0, Level.WARN), (8.1, Level.STOP)]
)
def test_the_figure_of_a_label_is_the_whole_ladder(minutes: float, level: Level) -> None:
    assert loudness(_lasting(minutes, label=8), CHECK_OPEN) is level


def test_64_faces_with_pva_are_warned_of() -> None:
    """64 faces x 6 s = 6.4 min, and 2.8 min to seat and clamp: over the cautious 5 min, within the hopeful 10."""
    (finding,) = glue_findings(glue_box(tail_count=8, width=300), CHECK_OPEN)
    assert finding.level is Level.WARN
    assert finding.measured == pytest.approx((6.4 + 80 / 60 + 1.5) / 5, abs=1e-4)
    assert finding.message.startswith("64 faces to spread, 4 things to seat and 6 clamps take 9.2 min with one person")


def _alternatives(job: dict[str, Any]) -> Finding:
    (finding,) = glue_findings(job, CHECK_OPEN)
    return finding


def test_two_people_pass_when_applied() -> None:
    job = _lasting(6.0)
    assert "2 people spreading" in _alternatives(job).fix
    helped = with_changes(job, changes_of("shop", "shop", {"hands": 2}))
    assert loudness(helped, CHECK_OPEN).rank <= Level.NOTE.rank


def test_stages_pass_when_applied() -> None:
    job = _lasting(6.0)
    finding = _alternatives(job)
    assert finding.fix.startswith("two goes, each set before the next: A, D, then B, C")
    assert [row["table"] for row in changes_json(finding.changes)] == ["stage", "stage"]
    staged = planned(with_changes(job, finding.changes))
    assert [row.minutes for row in staged.stages] == [pytest.approx(3.0)] * 2
    assert staged.findings == ()


def test_slower_glues_pass_when_applied() -> None:
    finding = _alternatives(_lasting(7.0))
    for name in ("long-open pva", "liquid hide"):
        slower = _lasting(7.0, glue=name)
        minutes = planned(slower).stages[0].open_minutes
        assert minutes is not None
        offered = minutes[0] * 0.8 >= 7.0
        assert (planned(slower).work.glue.name in finding.fix) is offered  # type: ignore[union-attr]
        assert (loudness(slower, CHECK_OPEN).rank <= Level.NOTE.rank) is offered


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (24.0, "with polyurethane (15 min); or two goes"),  # 12 min a go in 15; or three people, 4 min a go in 5
        (30.0, "with 4 people spreading"),  # 3.75 min a go in 5
    ],
)
def test_two_ways_at_once_where_one_is_not_enough(minutes: float, words: str) -> None:
    job = _lasting(minutes, label=5)
    finding = _alternatives(job)
    assert finding.level is Level.STOP
    assert words in finding.fix
    assert loudness(with_changes(job, finding.changes), CHECK_OPEN).rank <= Level.NOTE.rank


def test_nothing_is_invented_where_nothing_fits() -> None:
    finding = _alternatives(_lasting(300.0))
    assert finding.changes == ()
    assert finding.fix.startswith("no other stages, glue or number of people that fits")


def test_stages_of_the_makers_own_are_split_in_their_place() -> None:
    stages = [{"name": "all", "joins": ["A", "B", "C", "D", "rail"]}]
    job = _lasting(6.0) | {"stage": stages, "captured": [{"name": "rail", "in": "case"}]}
    finding = _alternatives(job)
    plan = planned(with_changes(job, finding.changes))
    assert [row.stage.joins for row in plan.stages] == [("A", "D"), ("B", "C", "rail")]
    assert loudness(with_changes(job, finding.changes), CHECK_OPEN).rank <= Level.NOTE.rank


@pytest.mark.parametrize(("degrees", "level"), COOL)
def test_wood_too_cold_for_the_glue_stops(degrees: float, level: Level) -> None:
    job = glue_box(shop={"temperature": degrees})
    assert loudness(job, CHECK_COLD) is level
    for finding in glue_findings(job, CHECK_COLD):
        assert loudness(with_changes(job, finding.changes), CHECK_COLD) is Level.OK


def test_it_is_the_wood_that_counts() -> None:
    job = glue_box(glueup={"wood_temperature": 8})
    (finding,) = glue_findings(job, CHECK_COLD)
    assert finding.level is Level.STOP
    assert "water-resistant long-open PVA" in finding.fix  # it sets from 8 degrees on
    assert loudness(with_changes(job, finding.changes), CHECK_COLD) is Level.OK


def test_without_a_glue_or_a_temperature_it_says_so() -> None:
    (finding,) = glue_findings(glue_box(shop={"glue": ""}))
    assert finding.message == "not checked, because the job names no glue"
    job = glue_box()
    del job["shop"]["temperature"]
    assert [f.check for f in glue_findings(job) if f.message.startswith("not checked")] == [CHECK_COLD]
