"""What makes a function a command: its options, errors in one line, exit codes."""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ParamSpec, TypeVar

import typer

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.place import Place

if TYPE_CHECKING:
    from dovelayout.checks.finding import Level

P = ParamSpec("P")
R = TypeVar("R")


def option(names: str, words: str, *, default: str | bool = True, **more: Any) -> Any:
    """An option of a command under its names, such as '-o, --out'.

    `default` is what help says of its default: the value itself unless it is given in words.
    """
    return typer.Option(*names.split(", "), help=words, show_default=default, **more)


JobFile = Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)]
Printer = Annotated[
    str | None,
    option(
        "--printer",
        "Correct for this printer (see calibrate); 'none': for no printer.",
        default="the one that calibrate --use set",
    ),
]
Force = Annotated[
    bool, option("--force", "Write over a file of that name that dovelayout didn't write, or over a link.")
]


def one_line_errors(command: Callable[P, R]) -> Callable[P, R]:
    """Bad input leaves one line on stderr and exit code 2; a closed pipe leaves quietly."""

    @functools.wraps(command)
    def wrapped(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            return command(*args, **kwargs)
        except DovelayoutError as error:
            line = " ".join("".join(ch if ch.isprintable() else " " for ch in str(error)).split())
            typer.echo(f"dovelayout: {line}", err=True)
            raise typer.Exit(2) from None
        except BrokenPipeError:
            # the reader went away; nothing is left to say to it
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            raise typer.Exit(0) from None

    return wrapped


def exit_on_stop(worst: Level) -> None:
    """Ends the command with exit code 1 where the worst level is a stop."""
    if worst.value == "stop":
        raise typer.Exit(1)


def no_corner(file: Path, name: str, names: Iterable[str]) -> JobError:
    """The error for an --only that names no corner of the job."""
    problem, remedy = f"there is no corner {name!r}", f"the corners are {', '.join(names)}"
    return JobError(file=str(file), place=Place(kind="--only"), problem=problem, remedy=remedy)
