"""The error tree, and the one line that a bad job shows."""

import copy
import pickle

import pytest

from dovelayout.errors import DovelayoutError, FieldError, JobError, LayoutError, PrintError, UnitsError, WoodError
from dovelayout.place import Place


@pytest.mark.parametrize("error", [FieldError, JobError, LayoutError, PrintError, UnitsError, WoodError])
def test_one_except_clause_catches_them_all(error: type[Exception]) -> None:
    assert issubclass(error, DovelayoutError)


def test_errors_are_also_what_python_programmers_expect() -> None:
    assert issubclass(LayoutError, ValueError)
    assert issubclass(UnitsError, ValueError)
    assert issubclass(WoodError, LookupError)


def test_a_wood_error_shows_its_words_without_quotes_around_them() -> None:
    assert str(WoodError("'pine' could be several")) == "'pine' could be several"


def test_a_job_error_is_one_line_of_four_parts() -> None:
    error = JobError(
        file="chest.toml",
        place=Place(kind="corner", name="A", key="tail_count"),
        problem="is 'five'",
        remedy="write a whole number",
    )
    assert str(error) == "chest.toml: corner 'A', key tail_count: is 'five'; write a whole number"


@pytest.mark.parametrize(
    ("parts", "line"),
    [
        (("chest.toml", "", "is empty", ""), "chest.toml: is empty"),
        (("", "", "is empty", "start one"), "is empty; start one"),
        (("a", "b", "", "c"), "a: b; c"),
        (("", "", "", "only this"), "only this"),
    ],
)
def test_empty_parts_leave_no_punctuation_behind(parts: tuple[str, str, str, str], line: str) -> None:
    file, place, problem, remedy = parts
    assert str(JobError(file=file, place=Place(kind=place) if place else None, problem=problem, remedy=remedy)) == line


@pytest.mark.parametrize("gap", ["\n", "\r\n", "\t", "\x00", "\x1b", "\x85", "\u2028", "\u202e", "\ud800"])
def test_nothing_from_the_file_can_break_the_line_or_the_terminal(gap: str) -> None:
    error = JobError(
        file="a.toml", place=Place(kind="board", name=f"{gap}x"), problem=f"one{gap}two", remedy=f"{gap}three{gap}"
    )
    assert str(error) == f"a.toml: board {f'{gap}x'!r}: one two; three"
    assert str(error).isprintable()


def test_a_job_error_needs_its_parts_by_name() -> None:
    with pytest.raises(TypeError):
        JobError("a.toml", None, "wrong", "right")  # type: ignore[call-arg]


def test_a_job_error_survives_copying_and_pickling() -> None:
    error = JobError(file="a.toml", place=Place(kind="paper"), problem="no such size", remedy="use A4")
    assert str(copy.copy(error)) == str(error)
    assert str(pickle.loads(pickle.dumps(error))) == "a.toml: paper: no such size; use A4"


@pytest.mark.parametrize("kind", [FieldError, LayoutError, PrintError, UnitsError, WoodError])
def test_problem_and_remedy_are_kept_apart_whatever_is_in_them(kind: type[DovelayoutError]) -> None:
    error = kind("board 'front; oak' is too short", remedy="120 mm; or a shorter one")
    for same in (error, copy.copy(error), pickle.loads(pickle.dumps(error))):
        assert (same.problem, same.remedy) == ("board 'front; oak' is too short", "120 mm; or a shorter one")
        assert str(same) == "board 'front; oak' is too short; 120 mm; or a shorter one"
