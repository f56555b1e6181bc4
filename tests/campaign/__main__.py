"""python -m tests.campaign jobs --count 100000 --seed 1
python -m tests.campaign remedies --count 20000 --seed 1
python -m tests.campaign fuzz reader|units|csv|edit|page --seconds 300"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path


def main() -> int:
    """Runs what is asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.campaign", description=__doc__)
    kinds = parser.add_subparsers(dest="kind", required=True)
    jobs = kinds.add_parser("jobs", help="random jobs through the whole program")
    jobs.add_argument("--count", type=int, default=100_000)
    jobs.add_argument("--seed", type=int, default=1)
    jobs.add_argument("--seconds", type=float, default=None, help="stop after so long, whatever the count")
    jobs.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    jobs.add_argument("--out", type=Path, default=Path("campaign_out"), help="where jobs that show a fault are kept")
    remedies = kinds.add_parser("remedies", help="every remedy that is offered for random jobs, made in the job's text")
    remedies.add_argument("--count", type=int, default=20_000)
    remedies.add_argument("--seed", type=int, default=1)
    remedies.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    remedies.add_argument("--out", type=Path, default=Path("campaign_out"), help="where what failed is kept")
    fuzz = kinds.add_parser("fuzz", help="coverage-guided bytes into one reader (needs atheris)")
    fuzz.add_argument("what", choices=("reader", "units", "csv", "edit", "page"))
    fuzz.add_argument("--seconds", type=int, default=300)
    fuzz.add_argument("--out", type=Path, default=Path("campaign_out"))
    asked = parser.parse_args()
    if asked.kind == "jobs":
        from tests.campaign.jobs import campaign

        return campaign(
            count=asked.count, seed=asked.seed, seconds=asked.seconds, out=asked.out, processes=asked.processes
        )
    if asked.kind == "remedies":
        from tests.campaign.remedies import campaign as remedies_campaign

        return remedies_campaign(count=asked.count, seed=asked.seed, out=asked.out, processes=asked.processes)
    try:
        import atheris  # noqa: F401
    except ImportError:
        print("atheris is not installed: pip install atheris", file=sys.stderr)
        return 2
    from tests.campaign.fuzz import fuzz as fuzzed

    return fuzzed(asked.what, seconds=asked.seconds, out=asked.out)


if __name__ == "__main__":
    sys.exit(main())
