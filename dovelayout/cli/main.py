"""The `dovelayout` command."""

from __future__ import annotations

import io
import sys
from typing import Annotated

import typer

from dovelayout import __version__
from dovelayout.cli import (
    calibrate,
    check,
    draw,
    drawers,
    fit,
    glueup,
    new,
    page,
    repair,
    season,
    slope,
    species,
    suggest,
)

app = typer.Typer(
    name="dovelayout",
    help="Dovetails before the first saw cut: lay out, check, and print full-size templates.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _version(*, wanted: bool) -> None:
    if wanted:
        typer.echo(f"dovelayout {__version__}")
        raise typer.Exit


@app.callback()
def _top(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version and stop.")
    ] = False,
) -> None:
    """Dovetails before the first saw cut: lay out, check, and print full-size templates."""


MODULES = (new, check, draw, drawers, fit, season, slope, glueup, suggest, page, species, calibrate)
"""The commands in the order of the help; each is the function of its module's name."""
for _module in MODULES:
    _name = _module.__name__.rpartition(".")[2]
    app.command(_name)(getattr(_module, _name))
app.add_typer(repair.app, name="repair")


def main() -> None:
    """Entry point."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal that has no '≈' shows '?'
    app()
