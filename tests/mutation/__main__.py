"""`python -m tests.mutation checks --sample 200 --seed 1`: how many small wrong turns the tests of a room notice."""

from __future__ import annotations

import argparse
import itertools
import json
import multiprocessing
import os
import pickle
import random
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

# shallow and without shrinking (tests/conftest.py): a mutant only has to be noticed
os.environ["DOVELAYOUT_HYPOTHESIS"] = "mutation"

# what is heavy is imported once, before the children are forked off; nothing of the package itself
import hypothesis.strategies  # noqa: F401
import manifold3d  # noqa: F401
import numpy  # noqa: F401
import pydantic  # noqa: F401
import pytest
import rich  # noqa: F401
import shapely  # noqa: F401
import tomlkit  # noqa: F401
import typer  # noqa: F401

from tests.mutation.mutators import Mutant
from tests.mutation.rooms import mutants, tests
from tests.mutation.session import PYTEST, End, Session, all_sources, at_import, ended, importers

EQUIVALENT = Path(__file__).with_name("equivalent.json")


def sample(every: Sequence[Mutant], count: int, seed: int) -> tuple[Mutant, ...]:
    """`count` of them, one from each of as many equal stretches; all where there are no more."""
    if count >= len(every):
        return tuple(every)
    dice = random.Random(seed)
    edges = [round(i * len(every) / count) for i in range(count + 1)]
    return tuple(every[dice.randrange(a, b)] for a, b in itertools.pairwise(edges))


def equivalent() -> dict[tuple[str, ...], str]:
    """Changes that change nothing anyone could see, and why."""
    if not EQUIVALENT.is_file():
        return {}
    rows = json.loads(EQUIVALENT.read_text(encoding="utf-8"))
    return {(row["file"], row["function"], row["change"]): row["why"] for row in rows}


def try_all(room: str, chosen: Sequence[Mutant], at_once: int) -> dict[Mutant, End]:
    """What becomes of each."""
    ends: dict[Mutant, End] = {}

    def told(mutant: Mutant, end: End) -> None:
        ends[mutant] = end
        if end is not End.AT_IMPORT:
            print(f"{Counter(ends.values()).total():5}  {_line(mutant, end)}", flush=True)

    with tempfile.TemporaryDirectory() as folder:
        kept, results = Path(folder, "baseline"), Path(folder, "results")

        def collected() -> None:
            """In a child, so that this process never imports the package: what runs at import is changed from here."""
            session = Session(chosen, kept, told, at_once)
            pytest.main([*PYTEST, *tests(room)], plugins=[session])
            results.write_bytes(pickle.dumps([(chosen.index(mutant), end) for mutant, end in ends.items()]))

        child = multiprocessing.get_context("fork").Process(target=collected)
        child.start()
        child.join()
        if not results.is_file() or not kept.is_file():
            failed = kept.with_suffix(".failed")
            raise SystemExit(failed.read_text(encoding="utf-8") if failed.is_file() else "the tests were not run")
        ends.update((chosen[index], end) for index, end in pickle.loads(results.read_bytes()))
        baseline = pickle.loads(kept.read_bytes())
    knows = importers(all_sources())
    left = [mutant for mutant, end in ends.items() if end is End.AT_IMPORT]
    print(f"{len(left)} more are tried in processes that import the package anew", flush=True)
    for mutant, end in ended((at_import(mutant, baseline, knows.__getitem__) for mutant in left), at_once):
        told(mutant, end)
    return ends


def _line(mutant: Mutant, end: End) -> str:
    return f"{end.value:9} {mutant.path}:{mutant.line}{_place(mutant)}"


def _place(mutant: Mutant) -> str:
    return f" {mutant.function or ''}: {mutant.change}"


def main(args: Sequence[str]) -> int:
    """Exit code 1 when a change that matters goes unnoticed."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("room", help="checks, joints, wood, casework, units, planning/suggest ...")
    parser.add_argument("--sample", type=int, default=200, help="how many, evenly over the room (default 200)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2, help="how many at a time (default 2)")
    parser.add_argument("--again", type=Path, help="only those that survived in this output of an earlier run")
    parser.add_argument("--list", action="store_true", help="show the changes, run nothing")
    asked = parser.parse_args(args)
    every = mutants(asked.room)
    chosen = sample(every, asked.sample, asked.seed)
    if asked.again:
        lines = [line for line in asked.again.read_text(encoding="utf-8").splitlines() if "survived" in line]
        chosen = tuple(mutant for mutant in every if any(line.endswith(_place(mutant)) for line in lines))
    if asked.list:
        print(*(_line(mutant, End.UNSEEN) for mutant in chosen), sep="\n")
        return 0
    ends = try_all(asked.room, chosen, asked.jobs)
    alike = equivalent()
    alive = [mutant for mutant, end in ends.items() if end in (End.SURVIVED, End.UNSEEN)]
    same = [mutant for mutant in alive if mutant.key in alike]
    left = sorted((m for m in alive if m.key not in alike), key=lambda m: (m.path, m.line))
    counts = Counter(ends.values())
    print(f"\n{asked.room}, seed {asked.seed}: {len(chosen)} of {len(every)} changes tried")
    print(*(f"  {end.value}: {counts[end]}" for end in End if counts[end]), sep="\n")
    print(f"  of those that survived, change nothing: {len(same)}")
    if not chosen:
        return 0
    killed = len(chosen) - len(alive)
    print(
        f"  noticed: {killed / len(chosen):.1%}; of those that change something {killed / (len(chosen) - len(same)):.1%}"
    )
    for mutant in left:
        print(_line(mutant, ends[mutant]))
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
