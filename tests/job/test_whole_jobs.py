"""Whatever stands in a job: it is read, judged, planned and drawn, or refused in one line. A slice of the long campaign,
`python -m tests.campaign jobs`, and the faults that the campaign found."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dovelayout.checks import measures_clean
from dovelayout.errors import JobError
from dovelayout.job.reader import load_job
from dovelayout.job.readers import limits
from dovelayout.job.tables.schema import TABLES, JobTable
from dovelayout.joints.corner import CornerJoint
from dovelayout.planning.suggest import MOST_TRIED_ON_CHANGES, suggest
from dovelayout.shop import Shop
from dovelayout.verdict.verdict import judged
from tests.campaign.run_through import run
from tests.conftest import examples
from tests.job.whole_jobs import Maker

JOBS = st.randoms(use_true_random=False).map(lambda rng: Maker(rng).job())


@settings(max_examples=examples(120), suppress_health_check=list(HealthCheck))  # a job is no small thing
@given(JOBS)
def test_any_job_is_worked_out_or_refused_in_one_line(data: dict[str, Any]) -> None:
    run(data, drawn=False, searched=False)


@pytest.mark.parametrize("seed", range(0, 40, 4))
def test_some_are_drawn_as_well(seed: int) -> None:
    run(Maker(Random(seed)).sensible(), drawn=True, searched=True)


def test_every_table_and_every_key_of_the_language_is_drawn() -> None:
    """So that a new key is tried from the day it is there; each at least once among so many."""
    wanted = {
        (table, field.alias or name) for table, model in TABLES.items() for name, field in model.model_fields.items()
    }
    maker = Maker(Random(1))
    drawn: set[tuple[str, str]] = set()
    for _ in range(400):
        for table in TABLES:
            drawn |= {(table, key) for key in maker.row(table, chance=0.5)}
    assert wanted - drawn == set()
    assert {name for name in JobTable.model_fields if name not in TABLES} == {"title", "units"}


def test_many_jobs_are_good_ones() -> None:
    """A campaign of nothing but refusals would look at the reader alone."""
    kinds = [_refused(Maker(Random(seed)).sensible()) for seed in range(200)]
    assert kinds.count(False) >= 60


def _refused(data: dict[str, Any]) -> bool:
    try:
        load_job(data, source="job.toml")
    except JobError:
        return True
    return False


# --- found by the campaign ---

BOARDS: list[dict[str, Any]] = [
    {"name": "side", "species": "white oak", "length": 400, "width": 120, "thickness": 12},
    {"name": "end", "species": "white oak", "length": 300, "width": 120, "thickness": 12},
]
CORNER: dict[str, Any] = {
    "name": "A",
    "tails": "side.left",
    "pins": "end.right",
    "tail_count": 3,
    "pin": 6,
    "half_pin": 8,
}


def refusal(data: dict[str, Any]) -> str:
    with pytest.raises(JobError) as caught:
        load_job(data, source="job.toml")
    return str(caught.value)


@pytest.mark.parametrize("minutes", [0, [0, 5], [0, 0], [0.05, 1], 5e-324, 10**400, [1, 10**400]])
@pytest.mark.parametrize("key", ["open", "closed", "clamp"])
def test_glue_that_stays_open_for_no_time_is_refused(key: str, minutes: Any) -> None:
    said = refusal({"board": BOARDS, "corner": [CORNER], "shop": {"glue": "pva"}, "glue": {key: minutes}})
    assert "from 0.1 to 10080" in said


def test_an_open_time_of_next_to_nothing_is_refused() -> None:
    said = refusal({"board": BOARDS, "corner": [CORNER], "glueup": {"open_minutes": 5e-324}})
    assert "at least 0.1 would be right" in said


def test_no_cut_out_is_narrowed_to_nothing() -> None:
    """0.05 mm wide: the search for a smaller one rounded its width to 0 and divided by it."""
    slot = {"from_end": 100, "from_edge": 30, "length": 250, "width": 0.05}
    verdict = judged(
        load_job({"board": [{**BOARDS[0], "thickness": 3, "cutout": slot}, BOARDS[1]], "corner": [CORNER]}, source="x")
    )
    for finding in verdict.all_findings:
        for rows in (change.value for change in finding.changes if change.key == "cutout"):
            assert all(float(row["width"].removesuffix(" mm")) > 0 for row in rows)


def test_a_stage_is_not_said_to_mean_itself() -> None:
    said = refusal({"board": BOARDS, "corner": [CORNER], "stage": [{"name": "one", "joins": "A", "after": "one"}]})
    assert said.endswith("there is no other stage 'one'; there are none")


def test_suggest_looks_at_no_more_than_it_says() -> None:
    """A knife of 44 mm goes in nowhere: every layout failed its check, and each one's fixes were searched for."""
    data = {
        "board": [{**board, "width": 360, "thickness": 34} for board in BOARDS],
        "corner": [CORNER],
        "shop": {"knife": 44},
    }
    job = load_job(data, source="x")
    found = suggest(job.joints[0], job.shop)
    assert found.layouts == ()
    assert found.remedies == ("knife-access: a knife thinner than 13.0 mm, or the saw laid in the kerf",)


def test_a_search_for_remedies_tries_a_share_of_the_grid(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing fits a dry fit of 1.6 mm: each thicker board was tried with the beginning of the grid, for seconds."""
    tried: list[float] = []

    def counted(joint: CornerJoint, shop: Shop) -> bool:
        tried.append(joint.pin_board.thickness_mm)
        return measures_clean(joint, shop)

    monkeypatch.setattr("dovelayout.planning.suggest.measures_clean", counted)
    wide = [{**board, "width": 398, "thickness": 21} for board in BOARDS]
    job = load_job({"board": wide, "corner": [CORNER], "shop": {"fit": 1.6}}, source="x")
    assert suggest(job.joints[0], job.shop).layouts == ()
    thicker = [thickness for thickness in tried if thickness == 25]
    assert MOST_TRIED_ON_CHANGES / 2 < len(thicker) <= MOST_TRIED_ON_CHANGES


def test_an_error_says_no_more_than_the_beginning_of_a_long_list() -> None:
    boards = [{**BOARDS[0], "name": f"board of a long name {number}"} for number in range(500)]
    said = refusal({"board": boards, "corner": [{**CORNER, "tails": "y.left", "pins": "z"}]})
    assert len(said) < 2500
    assert " ... " in said
    assert said.endswith("'board of a long name 499'")


def corners(count: int, tails: int) -> dict[str, Any]:
    wide = [{**board, "width": 4000, "thickness": 20} for board in BOARDS]
    one = {**CORNER, "tail_count": tails, "pin": 2, "half_pin": 5, "slope": "1:8"}
    return {"board": wide, "corner": [{**one, "name": f"c{number}"} for number in range(count)]}


def test_so_many_tails_and_no_more() -> None:
    at_the_limit = limits.MOST_TAILS_IN_ALL // 200
    assert len(load_job(corners(at_the_limit, 200), source="x").joints) == at_the_limit
    said = refusal(corners(at_the_limit + 1, 200))
    assert said.startswith(
        f"job.toml: corner 'c{at_the_limit}': with this there are more than 20000 tails; part the job"
    )


def cut_out(boards: int, each: int) -> dict[str, Any]:
    hole = {"from_end": 100, "from_edge": 50, "length": 5, "width": 5}
    rows = [{**BOARDS[0], "name": f"b{number}", "cutout": [hole] * each} for number in range(boards)]
    return {"board": [*BOARDS, *rows], "corner": [CORNER]}


def test_so_many_cut_outs_and_no_more() -> None:
    load_job(cut_out(40, 50), source="x")
    assert "board 'b40', key cutout: with this there are more than 2000 cut-outs" in refusal(cut_out(41, 50))


def fixed(parts: int) -> dict[str, Any]:
    rail = {"kind": "batten", "part": "side", "host": "end", "screws": [50 + number for number in range(50)]}
    return {"board": BOARDS, "across": [{**rail, "name": f"a{number}"} for number in range(parts)]}


def test_so_many_fixings_and_no_more() -> None:
    load_job(fixed(100), source="x")
    assert "across 'a100': with this there are more than 5000 screws" in refusal(fixed(101))
