"""`dovelayout new [KIND] -o FILE`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.console import clean
from dovelayout.job.starter import Start, starter


@one_line_errors
def new(
    kind: Annotated[Start, typer.Argument(help="What to start from.")] = Start.BOX,
    out: Annotated[Path, option("-o, --out", "The file to write.")] = Path("job.toml"),
    force: Force = False,
) -> None:
    """Write a commented job to start from. An existing file is left alone."""
    from dovelayout.render.files import MayReplace, write_files

    may_replace = MayReplace.if_forced(force=force, otherwise=MayReplace.NOTHING)
    write_files({out: starter(kind).encode("utf-8")}, may_replace=may_replace)
    name = clean(str(out))
    typer.echo(f"wrote {name}; edit it, then: dovelayout check {name}")
