"""Which sources make a room, and which tests are asked whether they notice."""

from __future__ import annotations

from pathlib import Path

from tests.mutation.mutators import Mutant, mutants_of

_ALSO = ("tests/reference", "tests/cases")


def sources(room: str) -> tuple[Path, ...]:
    """The files of a room: a folder of the package, or one file ('units', 'planning/suggest')."""
    home = Path("dovelayout", room)
    files = (home.with_suffix(".py"),) if home.with_suffix(".py").is_file() else tuple(sorted(home.rglob("*.py")))
    if not files:
        raise SystemExit(f"no room {room!r} in the package; for example: checks, joints, wood, units, planning/suggest")
    return files


def tests(room: str) -> tuple[str, ...]:
    """The tests of a room, and those against handbooks and cases, which any room answers to."""
    first = room.split("/")[0]
    own = f"tests/{first}" if Path("tests", first).is_dir() else f"tests/test_{first}.py"
    return (own, *_ALSO)


def mutants(room: str) -> tuple[Mutant, ...]:
    """Every mutant of a room, in the order of its files."""
    return tuple(mutant for path in sources(room) for mutant in mutants_of(path))
