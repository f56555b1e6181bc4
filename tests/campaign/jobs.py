"""A long campaign of random jobs in several processes: every fault with the job that shows it, kept as a file."""

from __future__ import annotations

import json
import multiprocessing
import os
import resource
import signal
import time
import traceback
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

from tests.campaign.run_through import run
from tests.job.whole_jobs import Maker

MOST_SECONDS = 5.0
"""Of this process's own time: what else the machine does is no fault of the job."""
MOST_SECONDS_DRAWN = 60.0
"""With its sheets laid out, which is work that was asked for."""
MOST_MB = 500
LOT = 250
"""Jobs a process takes before it makes place for a fresh one, whose memory is measured anew."""
HARD_MB = 3000
DRAWN_EACH = 40
PICTURED_EACH = 400
SEARCHED_EACH = 50


class TookTooLong(Exception):
    """A job that ran into its time limit."""


def _ring(*_: object) -> None:
    raise TookTooLong


def job_of(seed: int) -> dict[str, Any]:
    """The job of a seed, always the same."""
    return Maker(Random(seed)).job()


def _lot(seeds: range) -> tuple[Counter[str], list[dict[str, Any]]]:
    resource.setrlimit(resource.RLIMIT_AS, (HARD_MB * 2**20, HARD_MB * 2**20))
    signal.signal(signal.SIGPROF, _ring)
    counts: Counter[str] = Counter()
    faults: list[dict[str, Any]] = []
    for seed in seeds:
        data, began = job_of(seed), time.monotonic()
        before_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        drawn = seed % DRAWN_EACH == 0
        signal.setitimer(signal.ITIMER_PROF, MOST_SECONDS_DRAWN if drawn else MOST_SECONDS)
        fault = ""
        try:
            counts[run(data, drawn=drawn, pictured=seed % PICTURED_EACH == 0, searched=seed % SEARCHED_EACH == 0)] += 1
        except Exception as error:  # whatever it is: that is what is looked for
            where = traceback.extract_tb(error.__traceback__)[-1]
            fault = f"{type(error).__name__}: {str(error)[:200]} ({os.path.basename(where.filename)}:{where.lineno})"
            trace = traceback.format_exc()
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
        after_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        if not fault and after_mb > MOST_MB and after_mb - before_mb > 50:
            fault, trace = f"memory: {after_mb:.0f} MB", ""
        counts["seconds"] += round(time.monotonic() - began, 6)  # type: ignore[assignment]
        if fault:
            faults.append({"seed": seed, "fault": fault, "trace": trace, "job": repr(data)})
    return counts, faults


def campaign(*, count: int, seed: int, seconds: float | None, out: Path, processes: int) -> int:
    """Runs seeds from `seed` on; says how many, how long and what was found. 1 where something was."""
    began = time.monotonic()
    lots = [range(start, min(start + LOT, seed + count)) for start in range(seed, seed + count, LOT)]
    counts: Counter[str] = Counter()
    kinds: Counter[str] = Counter()
    done = 0
    with multiprocessing.get_context("fork").Pool(processes, maxtasksperchild=1) as pool:
        for lot_counts, faults in pool.imap_unordered(_lot, lots):
            counts += lot_counts
            done += LOT
            for fault in faults:
                kinds[fault["fault"].split(":")[0] + " at " + fault["fault"].rsplit("(", 1)[-1].rstrip(")")] += 1
                out.mkdir(parents=True, exist_ok=True)
                path = out / f"seed-{fault['seed']}.json"
                path.write_text(json.dumps(fault, indent=1), encoding="utf-8")
                print(f"{path}: {fault['fault']}", flush=True)
            if seconds is not None and time.monotonic() - began > seconds:
                pool.terminate()
                break
    tried = sum(counts[kind] for kind in ("refused", "read", "drawn"))
    print(
        f"{tried + sum(kinds.values())} jobs in {time.monotonic() - began:.0f} s: {counts['refused']} refused in one line, "
        f"{counts['read']} read and judged, {counts['drawn']} drawn as well; {sum(kinds.values())} faults"
    )
    for kind, number in kinds.most_common():
        print(f"  {number} x {kind}")
    return 1 if kinds else 0
