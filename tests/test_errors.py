"""The error tree, and the one line that a bad job shows."""

import copy
import pickle

import pytest

from dovelayout.errors import DovelayoutError, JobError, LayoutError, PrintError, UnitsError, WoodError


@pytest.mark.parametrize("error", [JobError, LayoutError, PrintError, UnitsError, WoodError])
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
        place="corner 'A', key tail_count",
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
    assert str(JobError(file=file, place=place, problem=problem, remedy=remedy)) == line


@pytest.mark.parametrize("gap", ["\n", "\r\n", "\t", "\x00", "\x1b", "\x85", "\u2028", "\u202e", "\ud800"])
def test_nothing_from_the_file_can_break_the_line_or_the_terminal(gap: str) -> None:
    error = JobError(file="a.toml", place=f"board '{gap}x'", problem=f"one{gap}two", remedy=f"{gap}three{gap}")
    assert str(error) == "a.toml: board ' x': one two; three"


def test_a_job_error_needs_its_parts_by_name() -> None:
    with pytest.raises(TypeError):
        JobError("a.toml", "corner", "wrong", "right")  # type: ignore[call-arg]


def test_a_job_error_survives_copying_and_pickling() -> None:
    error = JobError(file="a.toml", place="paper", problem="no such size", remedy="use A4")
    assert str(copy.copy(error)) == str(error)
    assert str(pickle.loads(pickle.dumps(error))) == "a.toml: paper: no such size; use A4"
