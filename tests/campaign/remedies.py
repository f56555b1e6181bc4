"""Every remedy that is offered for random jobs, made in the job's text as the page makes it: it clears what it is for, and
brings no warning and no stop anywhere. `python -m tests.campaign remedies --count 20000`.
"""

from __future__ import annotations

import json
import multiprocessing
import time
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from random import Random
from typing import Any

import tomlkit

from dovelayout.change import changes_json
from dovelayout.checks.finding import Finding, Level
from dovelayout.errors import DovelayoutError
from dovelayout.job.editing import edited, fix_edits
from dovelayout.job.reader import Job, load_job, parsed
from dovelayout.place import Place
from dovelayout.verdict.verdict import judged, untried
from tests.job.whole_jobs import Maker

LOT = 50
"""Jobs a process takes at a time."""


class Failed(AssertionError):
    """A remedy that does not do what it is offered for."""


def _job(text: str) -> Job:
    return load_job(parsed(text.encode(), source="job.toml"), source="job.toml")


def _worst(findings: tuple[Finding, ...]) -> dict[tuple[str, Place], int]:
    ranks: dict[tuple[str, Place], int] = {}
    for finding in findings:
        key = (finding.check, finding.place)
        ranks[key] = max(ranks.get(key, 0), finding.level.rank)
    return ranks


def tried(data: Mapping[str, Any]) -> Counter[str]:
    """All remedies of one job tried: how many were offered, and how many findings have none. Raises Failed."""
    counts: Counter[str] = Counter()
    try:
        text = tomlkit.dumps(data)
        job = _job(text)
    except (DovelayoutError, ValueError, TypeError):  # no job, or none that can be written as text
        counts["refused"] += 1
        return counts
    counts["jobs"] += 1
    before = untried(job).all_findings
    ranks = _worst(before)
    done: dict[str, tuple[Finding, ...]] = {}
    for finding in judged(job).all_findings:
        if not finding.changes:
            counts["findings without"] += 1
            continue
        changes = changes_json(finding.changes)
        key = json.dumps(changes)
        said = f"{finding.level} {finding.check} at {finding.where}: {finding.fix} {key}"
        if key not in done:
            try:
                done[key] = untried(_job(edited(text, fix_edits(changes)))).all_findings
            except DovelayoutError as error:
                raise Failed(f"can't be applied, {error}: {said}") from None
        after = done[key]
        rule = (finding.check, finding.measures)
        places = (finding.place.name, *finding.place.also)
        still = [f for f in after if (f.check, f.measures) == rule and _there(f.place, finding.place)]
        if still:
            raise Failed(f"leaves it at {places}: {said}; {still[0].message}")
        for key_after, rank in _worst(after).items():
            if rank >= Level.WARN.rank and rank > ranks.get(key_after, 0):
                raise Failed(f"brings {Level(list(Level)[rank])} {key_after[0]} at {key_after[1]}: {said}")
        counts["remedies"] += 1
        counts["sets"] += len({(change.table, change.name, change.key) for change in finding.changes}) > 1
    return counts


def _there(place: Place, other: Place) -> bool:
    """Whether a place is the other, or one of the two ends that the other stands for."""
    both = other.part == "both ends"
    return place == other or (both and (place.kind, place.name) == (other.kind, other.name))


def _lot(seeds: range) -> tuple[Counter[str], list[tuple[int, str]]]:
    counts: Counter[str] = Counter()
    faults: list[tuple[int, str]] = []
    for seed in seeds:
        try:
            counts += tried(Maker(Random(seed)).job())
        except Failed as failed:
            faults.append((seed, str(failed)))
    return counts, faults


def campaign(*, count: int, seed: int, out: Path, processes: int) -> int:
    """Runs seeds from `seed` on; says how many remedies were tried, and keeps what failed. 1 where something did."""
    began = time.monotonic()
    lots = [range(start, min(start + LOT, seed + count)) for start in range(seed, seed + count, LOT)]
    counts: Counter[str] = Counter()
    faults: list[tuple[int, str]] = []
    with multiprocessing.get_context("fork").Pool(processes, maxtasksperchild=4) as pool:
        for lot_counts, lot_faults in pool.imap_unordered(_lot, lots):
            counts += lot_counts
            faults += lot_faults
            for number, fault in lot_faults:
                print(f"seed {number}: {fault}", flush=True)
    if faults:
        out.mkdir(parents=True, exist_ok=True)
        out.joinpath("remedies.json").write_text(json.dumps(faults, indent=1), encoding="utf-8")
    print(
        f"{counts['jobs']} jobs ({counts['refused']} refused) in {time.monotonic() - began:.0f} s: {counts['remedies']} "
        f"remedies tried, {counts['sets']} of more than one key; {counts['findings without']} findings without; "
        f"{len(faults)} failed"
    )
    return 1 if faults else 0
