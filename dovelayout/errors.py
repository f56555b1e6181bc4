"""The exceptions that dovelayout raises on purpose.

    DovelayoutError
    ├── FieldError (ValueError)    a value that can't stand in a field of a job, a table of openings or the page
    ├── JobError                   a job file that can't be read as a job
    ├── LayoutError (ValueError)   numbers that can't make a joint
    ├── PrintError                 a drawing that can't go on paper or to disk
    ├── UnitsError (ValueError)    a length, slope or temperature that has no or several readings
    └── WoodError (LookupError)    a wood that isn't known, or that could be several

Each says what is wrong (`problem`) and, where that is known, what would be right (`remedy`); no code parses the text.
The command line catches `DovelayoutError` and nothing wider: any other exception is a mistake in dovelayout and is
seen as one. A finding about a joint that is possible but poor is not an error; checks return those.
"""

from __future__ import annotations

from dovelayout.place import Place

__all__ = ["DovelayoutError", "FieldError", "JobError", "LayoutError", "PrintError", "UnitsError", "WoodError"]

MOST_LETTERS = 1000
"""Most characters of each part of an error: a list of five hundred boards is cut; ours."""
LAST_LETTERS = 200
"""How many of them are kept from the end, where a long message says what is wrong; ours."""


class DovelayoutError(Exception):
    """Base of every error that dovelayout raises on purpose. `str()` is 'problem; remedy'."""

    def __init__(self, problem: str = "", *, remedy: str = "") -> None:
        self.problem = problem
        self.remedy = remedy
        super().__init__(problem)

    def __str__(self) -> str:
        return "; ".join(part for part in (self.problem, self.remedy) if part)

    def __reduce__(self) -> tuple[object, ...]:
        # copied by calling the class with its positional args alone, an exception would lose the remedy between processes
        return (_rebuilt, (type(self), self.problem, self.remedy))


class JobError(DovelayoutError):
    """A job file that can't be read; `str()` is one line: `file: place: problem; remedy`.

    An empty part is left out of the line. Newlines, control characters and anything else that doesn't print are collapsed to
    one space, because the parts quote the maker's own file.
    """

    def __init__(self, *, file: str, problem: str, remedy: str = "", place: Place | None = None) -> None:
        self.file = file
        self.place = place
        super().__init__(problem, remedy=remedy)

    def __str__(self) -> str:
        place = self.place.quoted if self.place else ""
        head = ": ".join(part for part in map(_one_line, (self.file, place, self.problem)) if part)
        return "; ".join(part for part in (head, _one_line(self.remedy)) if part)

    def __reduce__(self) -> tuple[object, ...]:
        return (_rebuilt_job_error, (self.file, self.place, self.problem, self.remedy))


class FieldError(DovelayoutError, ValueError):
    """A value that can't stand in a field; the reader of tables adds its place."""


class LayoutError(DovelayoutError, ValueError):
    """Numbers that can't make a joint: a negative pin, tails wider than the board, an impossible angle."""


class PrintError(DovelayoutError):
    """A drawing that can't go on the paper asked for, or a file that can't be written."""


class UnitsError(DovelayoutError, ValueError):
    """A length, slope or temperature that can't be read, or that could be read two ways."""


class WoodError(DovelayoutError, LookupError):
    """A wood that isn't known or that could be several, or a maker's own entry that can't be a wood."""


def _rebuilt(kind: type[DovelayoutError], problem: str, remedy: str) -> DovelayoutError:
    return kind(problem, remedy=remedy)


def _rebuilt_job_error(file: str, place: Place | None, problem: str, remedy: str) -> JobError:
    return JobError(file=file, place=place, problem=problem, remedy=remedy)


def _one_line(text: str) -> str:
    if len(text) > MOST_LETTERS:
        text = f"{text[: MOST_LETTERS - LAST_LETTERS]} ... {text[-LAST_LETTERS:]}"
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
