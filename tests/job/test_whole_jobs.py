"""A short slice of the campaign of random jobs: each works, or says in one line why not (`python -m tests.campaign`)."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.campaign.jobs import job_of
from tests.campaign.run_through import run

SEEDS = range(1, 241)


def test_random_jobs_work_or_say_why_not() -> None:
    ended = Counter(run(job_of(seed), drawn=seed % 80 == 0, searched=seed % 60 == 0) for seed in SEEDS)
    assert ended.total() == len(SEEDS)
    assert ended["refused"] > 10  # the slice would say little if it only held one kind
    assert ended["read"] > 10


@pytest.mark.parametrize("seed", [1, 7])
def test_a_seed_gives_the_same_job_always(seed: int) -> None:
    assert repr(job_of(seed)) == repr(job_of(seed))
