"""What version 0.1 said of the samples in `check --json`, kept in tests/frozen: nothing else is said without a reason."""

from __future__ import annotations

import fnmatch
import json
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from dovelayout.job.reader import read_job
from dovelayout.report.check import verdict_json
from dovelayout.verdict.verdict import judged

HERE = Path(__file__).parent
FROZEN = sorted((HERE / "frozen").glob("*.json"))
DIFFERENCES: list[dict[str, str]] = tomllib.loads((HERE / "frozen" / "differences.toml").read_text()).get(
    "difference", []
)


def _rows(value: Any, place: str = "") -> Iterator[tuple[str, Any]]:
    """Every plain value with its path; entries of a list go by what names them, not by where they stand in it."""
    if isinstance(value, dict):
        for key, entry in value.items():
            yield from _rows(entry, f"{place}/{key}" if place else key)
    elif isinstance(value, list):
        taken: Counter[str] = Counter()
        for number, entry in enumerate(value):
            label = str(number)
            if isinstance(entry, dict):
                label = ", ".join(str(entry[key]) for key in ("name", "check", "where") if key in entry) or label
            taken[label] += 1
            suffix = f" ({taken[label]})" if taken[label] > 1 else ""
            yield from _rows(entry, f"{place}/{label}{suffix}")
    else:
        yield place, value


def _said(path: Path) -> dict[str, Any]:
    job = read_job(HERE.parent / "samples" / f"{path.stem}.toml")
    return dict(_rows(json.loads(json.dumps(verdict_json(judged(job))))))


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float | int):
        return abs(one - other) < 1e-9
    return bool(one == other)


def _listed(sample: str, place: str) -> list[int]:
    return [
        number
        for number, row in enumerate(DIFFERENCES)
        if row["sample"] in (sample, "*") and fnmatch.fnmatchcase(place, row["place"])
    ]


def _changed(path: Path) -> dict[str, tuple[Any, Any]]:
    frozen, today = dict(_rows(json.loads(path.read_text()))), _said(path)
    missing = object()
    pairs = {place: (frozen.get(place, missing), today.get(place, missing)) for place in {**frozen, **today}}
    return {place: pair for place, pair in pairs.items() if not _same(*pair)}


@pytest.mark.parametrize("path", FROZEN, ids=lambda path: path.stem)
def test_a_sample_says_what_it_said_but_for_what_is_listed(path: Path) -> None:
    unlisted = {place: pair for place, pair in _changed(path).items() if not _listed(path.stem, place)}
    assert unlisted == {}


def test_every_listed_difference_is_there_and_has_a_reason() -> None:
    used: set[int] = set()
    for path in FROZEN:
        for place in _changed(path):
            used.update(_listed(path.stem, place))
    assert sorted(used) == list(range(len(DIFFERENCES))), "a difference is listed that is none any more"
    assert all(row["why"].strip() for row in DIFFERENCES)


def test_the_frozen_samples_are_there() -> None:
    assert len(FROZEN) >= 13
