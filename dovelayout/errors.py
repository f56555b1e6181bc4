"""Everything that dovelayout raises on purpose.

    DovelayoutError
    ├── JobError                   a job file that can't be read as a job
    ├── LayoutError (ValueError)   numbers that can't make a joint
    ├── PrintError                 a drawing that can't go on paper or to disk
    ├── UnitsError (ValueError)    a length, slope or temperature that can't be read one way only
    └── WoodError (LookupError)    a wood that isn't known, or that could be several

The command line catches `DovelayoutError` and nothing wider: any other exception is our own mistake and
should be seen as one. A finding about a joint that is possible but poor is not an error; checks return those.
"""

from __future__ import annotations

__all__ = ["DovelayoutError", "JobError", "LayoutError", "PrintError", "UnitsError", "WoodError", "problem_and_remedy"]

MOST_LETTERS = 1000
"""Of each part of an error: a list of five hundred boards says no more than its beginning; ours."""
LAST_LETTERS = 200
"""Of those, how many are kept of the end, where a long value's sentence says what is wrong with it; ours."""


class DovelayoutError(Exception):
    """Base of every error that dovelayout raises on purpose."""


class JobError(DovelayoutError):
    """A job file that can't be read; `str()` is one line: `file: place: problem; remedy`.

    Parameters are text and keyword-only. An empty part is left out of the line. Newlines, control characters
    and anything else that doesn't print are collapsed to one space, because the parts quote the maker's own
    file.
    """

    def __init__(self, *, file: str, place: str, problem: str, remedy: str) -> None:
        self.file = file
        self.place = place
        self.problem = problem
        self.remedy = remedy
        super().__init__(file, place, problem, remedy)

    def __str__(self) -> str:
        head = ": ".join(part for part in map(_one_line, (self.file, self.place, self.problem)) if part)
        return "; ".join(part for part in (head, _one_line(self.remedy)) if part)

    def __reduce__(self) -> tuple[object, ...]:
        # Exceptions are copied by calling the class with their positional args, which a keyword-only
        # signature refuses; without this a JobError could not cross a process boundary.
        return (_rebuild_job_error, (self.file, self.place, self.problem, self.remedy))


class LayoutError(DovelayoutError, ValueError):
    """Numbers that can't make a joint: a negative pin, tails wider than the board, an impossible angle."""


class PrintError(DovelayoutError):
    """A drawing that can't go on the paper asked for, or a file that can't be written."""


class UnitsError(DovelayoutError, ValueError):
    """A length, slope or temperature that can't be read, or that could be read two ways."""


class WoodError(DovelayoutError, LookupError):
    """A wood that isn't known or that could be several, or a maker's own entry that can't be a wood."""

    # LookupError shows its argument plainly (KeyError would show its repr), so messages stay readable.


def problem_and_remedy(said: Exception | str) -> tuple[str, str]:
    """Both halves of a refusal: 'what is wrong; what would be right'. The second may be empty."""
    problem, _, remedy = str(said).partition("; ")
    return problem, remedy


def _rebuild_job_error(file: str, place: str, problem: str, remedy: str) -> JobError:
    return JobError(file=file, place=place, problem=problem, remedy=remedy)


def _one_line(text: str) -> str:
    if len(text) > MOST_LETTERS:
        text = f"{text[: MOST_LETTERS - LAST_LETTERS]} ... {text[-LAST_LETTERS:]}"
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
