"""Changes that are tried on a job: made as its text is edited, and judged as all of it would be."""

from __future__ import annotations

import copy
import itertools
from collections.abc import Iterator
from typing import Any

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dovelayout.change import Change, changes_json, changes_of
from dovelayout.errors import DovelayoutError
from dovelayout.job.editing import edited, fix_edits
from dovelayout.job.reader import Job, load_job, parsed
from dovelayout.verdict import trial
from dovelayout.verdict.found import Found
from dovelayout.verdict.parts import Parts
from dovelayout.verdict.trial import Trials, with_changes
from dovelayout.verdict.verdict import untried
from tests.conftest import examples
from tests.job.whole_jobs import Maker
from tests.jobs import corner_job, loaded

JOBS = st.randoms(use_true_random=False).map(lambda rng: Maker(rng).sensible())


def judge(job: Job) -> Found:
    return Found(untried(job).all_findings)


def _proposed(job: Job, most: int) -> Iterator[tuple[Change, ...]]:
    """The nearest changes that the checks propose for a job."""
    found = (next(iter(finding.candidates), None) for finding in untried(job).all_findings)
    changes = (remedy.changes for remedy in found if remedy is not None)
    unlike = {repr(row): row for row in changes}.values()
    yield from itertools.islice(unlike, most)


def _loaded(data: dict[str, Any]) -> Job | None:
    try:
        return load_job(data, source="x")
    except DovelayoutError:
        return None


@settings(max_examples=examples(40), suppress_health_check=list(HealthCheck))
@given(JOBS)
def test_changes_make_of_the_tables_what_edits_make_of_the_text(data: dict[str, Any]) -> None:
    job = _loaded(data)
    if job is None:
        return
    for changes in _proposed(job, 4):
        by_text = _or_refused(lambda changes=changes: _edited(data, changes))
        assert _or_refused(lambda changes=changes: with_changes(data, changes)) == by_text


def _edited(data: dict[str, Any], changes: tuple[Change, ...]) -> dict[str, Any]:
    text = edited(tomlkit.dumps(data), fix_edits(changes_json(changes)))
    return parsed(text.encode(), source="x")


def _or_refused(work: Any) -> Any:
    try:
        return work()
    except DovelayoutError:
        return "refused"


@settings(max_examples=examples(60), suppress_health_check=list(HealthCheck))
@given(JOBS)
def test_a_part_of_a_job_is_judged_as_in_all_of_it(data: dict[str, Any]) -> None:
    """What a change reaches is found as in the whole job with the change made, and all the rest is found as before."""
    job = _loaded(data)
    if job is None:
        return
    before, parts = judge(job), Parts(job.tables)
    for changes in _proposed(job, 5):
        whole = _or_refused(lambda changes=changes: judge(load_job(with_changes(job.tables, changes), source="x")))
        part = parts.reached_by(changes)
        alone = _or_refused(lambda part=part, changes=changes: judge(load_job(with_changes(part, changes), source="x")))
        assert (whole == "refused") is (alone == "refused")
        if whole == "refused":
            continue
        outside = before.ranks.keys() - judge(load_job(part, source="x")).ranks.keys()
        assert whole.ranks == {**{key: before.ranks[key] for key in outside}, **alone.ranks}
        assert [f.message for f in whole.new_since(before)] == [f.message for f in alone.new_since(before)]
        for finding in before.findings:
            if (finding.check, finding.place) not in outside:
                assert bool(whole.remaining(finding, before)) is bool(alone.remaining(finding, before))


SET_OUT = corner_job(tails_at=[[10, 90], [100, 190]])


def test_keys_that_stand_for_others_take_their_place() -> None:
    counted = with_changes(SET_OUT, changes_of("corner", "A", {"tail_count": 4, "pin": "6 mm"}))
    assert counted["corner"][0] == {
        "name": "A", "tails": "side.left", "pins": "top.right", "slope": "1:6", "tail_count": 4, "pin": "6 mm",
    }  # fmt: skip
    again = with_changes(counted, changes_of("corner", "A", {"tails_at": [["10 mm", "90 mm"]]}))
    assert set(again["corner"][0]) == {"name", "tails", "pins", "slope", "tails_at"}


def test_the_job_itself_is_left_as_it_was() -> None:
    tables = copy.deepcopy(SET_OUT)
    changed = with_changes(tables, changes_of("shop", "shop", {"fit": "0.1 mm"}))
    assert changed["shop"] == {"fit": "0.1 mm"}
    with_changes(tables, changes_of("board", "side", {"width": "90 mm"}))
    assert tables == SET_OUT


@pytest.mark.parametrize(("table", "name"), [("corner", "Z"), ("box", "A"), ("corner", "corner")])
def test_a_row_that_is_not_there_is_refused(table: str, name: str) -> None:
    with pytest.raises(DovelayoutError, match=name):
        with_changes(SET_OUT, changes_of(table, name, {"pin": 6}))


def test_each_set_of_changes_is_tried_once_and_what_is_no_job_is_none() -> None:
    judged: list[Job] = []
    job = loaded(corner_job(tail_count=4, pin=6, half_pin=8))
    trials = Trials(job, lambda changed: judged.append(changed) or judge(changed))  # type: ignore[func-returns-value]
    wider = changes_of("corner", "A", {"pin": "7 mm"})
    first = trials.after(wider)
    assert first is not None
    assert trials.after(wider) is first
    assert [job.joints[0].spec.pin_mm for job in judged] == [7]
    assert trials.after(changes_of("corner", "A", {"pin": "900 mm"})) is None
    assert trials.after(changes_of("corner", "A", {"lip": True})) is None
    assert not trials.spent


def test_no_more_is_tried_than_was_set_aside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trial, "MOST_JUDGED", 4)
    trials = Trials(loaded(corner_job(tail_count=4, pin=6, half_pin=8)), judge)
    done = [trials.after(changes_of("corner", "A", {"pin": f"{pin} mm"})) for pin in (7, 8, 9, 10)]
    assert [found is not None for found in done] == [True, True, False, False]  # one corner and the reading, twice
    assert trials.spent
    assert trials.after(changes_of("corner", "A", {"pin": "7 mm"})) is done[0]


def test_a_job_that_was_not_read_from_tables_can_not_be_tried() -> None:
    from dataclasses import replace

    job = replace(loaded(corner_job(tail_count=4)), tables={})
    assert Trials(job, judge).spent


def test_a_job_with_nearly_as_many_tails_as_one_may_have_is_tried_as_a_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """So that a change which brings one tail too many is refused, as it would be when it is made."""
    tables = corner_job(tail_count=4, pin=6, half_pin=8)
    tables["board"] += [{**board, "name": f"{board['name']} 2"} for board in tables["board"]]
    tables["corner"].append({**tables["corner"][0], "name": "B", "tails": "side 2.left", "pins": "top 2.right"})
    job = loaded(tables)
    more = changes_of("corner", "A", {"tail_count": 7})
    monkeypatch.setattr("dovelayout.job.readers.limits.MOST_TAILS_IN_ALL", 8)
    monkeypatch.setattr(trial, "MOST_TAILS_IN_ALL", 8)
    assert Trials(job, judge).after(more) is None
    monkeypatch.setattr(trial, "MOST_TAILS_IN_ALL", 9)  # 8 of 9 are less than nine tenths of it
    assert Trials(job, judge).after(more) is not None
