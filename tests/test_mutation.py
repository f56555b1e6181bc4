"""The wrong turns themselves: that they are made, that they differ, and that nothing is left behind."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.mutation import __main__ as command
from tests.mutation.live import Hook, module_name
from tests.mutation.mutators import Mutant, mutants_of
from tests.mutation.rooms import mutants, sources

SOURCE = '''"""A docstring of 3 words."""
LIMIT = 4.0
"""Ours."""


def over(a: int, b: float = 2.0) -> bool:
    """Whether 1 is over 2."""
    if a < 1e-9:
        raise ValueError("1 or more")
    return max(a, round(b, 3)) > LIMIT - 1
'''


def _made(tmp_path: Path, source: str = SOURCE) -> list[Mutant]:
    path = tmp_path / "made.py"
    path.write_text(source, encoding="utf-8")
    return list(mutants_of(path))


def test_every_change_is_one_that_matters_and_is_where_it_says(tmp_path: Path) -> None:
    made = _made(tmp_path)
    assert {(m.line, m.function, m.change) for m in made} == {
        (2, None, "4.0  ->  4.4"),
        (2, None, "4.0  ->  3.6"),
        (6, None, "2.0  ->  2.2"),
        (6, None, "2.0  ->  1.8"),
        (8, "over", "a < 1e-09  ->  a >= 1e-09"),  # not a <= 1e-09, the boundary of a guard
        (9, "over", "raise ValueError('1 or more')  ->  pass"),
        (10, "over", "return max(a, round(b, 3)) > LIMIT - 1  ->  return None"),
        (10, "over", "max(a, round(b, 3)) > LIMIT - 1  ->  max(a, round(b, 3)) >= LIMIT - 1"),
        (10, "over", "max(a, round(b, 3)) > LIMIT - 1  ->  max(a, round(b, 3)) <= LIMIT - 1"),
        (10, "over", "max(a, round(b, 3))  ->  min(a, round(b, 3))"),
        (10, "over", "LIMIT - 1  ->  LIMIT + 1"),
        (10, "over", "1  ->  2"),
        (10, "over", "1  ->  0"),
    }
    whole = ast.unparse(ast.parse(SOURCE))
    changed = [ast.unparse(mutant.tree()) for mutant in made]
    assert whole not in changed
    assert len(set(changed)) == len(changed)
    assert (tmp_path / "made.py").read_text(encoding="utf-8") == SOURCE


@pytest.fixture(autouse=True)
def _at_the_root(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sources are named from there."""
    monkeypatch.chdir(Path(__file__).resolve().parent.parent)


@pytest.mark.parametrize("room", ["checks", "joints", "wood", "casework", "planning", "units"])
def test_every_change_of_a_room_can_be_compiled(room: str) -> None:
    """A sample of them: one that can't be would count as noticed."""
    for mutant in command.sample(mutants(room), 15, seed=7):
        compile(mutant.tree(), str(mutant.path), "exec")


def test_a_sample_is_even_and_the_same_for_the_same_seed() -> None:
    every = mutants("checks")
    chosen = command.sample(every, 50, seed=3)
    assert chosen == command.sample(every, 50, seed=3) != command.sample(every, 50, seed=4)
    places = [every.index(mutant) for mutant in chosen]
    assert all(place // (len(every) / 50) == pytest.approx(index, abs=1.01) for index, place in enumerate(places))
    assert command.sample(every, 10**6, seed=1) == every


def test_what_is_called_the_same_is_still_there() -> None:
    """A change that is listed as one that changes nothing, in a source that has moved on, is a lie."""
    there = {
        mutant.key for room in ("checks", "joints", "wood", "casework", "planning", "units") for mutant in mutants(room)
    }
    assert set(command.equivalent()) <= there
    assert all(command.equivalent().values())


def test_the_hook_gives_the_changed_module_and_no_other() -> None:
    mutant = next(m for m in mutants("wood") if m.path.name == "swelling.py" and m.change == "1000.0  ->  1100.0")
    hook = Hook(mutant)
    assert hook.find_spec("dovelayout.wood.glue", None) is None
    spec = hook.find_spec(module_name(mutant.path), None)
    assert spec is not None
    assert spec.loader is not None
    scope: dict[str, object] = {"__name__": "changed"}
    exec(spec.loader.get_code(spec.name), scope)  # type: ignore[attr-defined]
    assert scope["WATER_G_PER_M2_MM"] == 1100.0


def test_a_room_that_is_not_there_is_told() -> None:
    with pytest.raises(SystemExit, match="no room 'kitchen'"):
        sources("kitchen")
