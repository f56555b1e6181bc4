"""`dovelayout new [KIND] -o FILE`."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from dovelayout.cli.console import Force, clean, told


class StarterKind(StrEnum):
    """Kinds of starter job."""

    BOX = "box"
    CORNER = "corner"
    DRAWER = "drawer"
    PRESS = "press"


@told
def new(
    kind: Annotated[StarterKind, typer.Argument(help="What to start from.")] = StarterKind.BOX,
    out: Annotated[Path, typer.Option("-o", "--out", help="The file to write.")] = Path("job.toml"),
    force: Force = False,
) -> None:
    """Write a commented job to start from. An existing file is left alone."""
    from dovelayout.job.starter import starter
    from dovelayout.render.files import MayReplace, write_files

    write_files(
        {out: starter(kind.value).encode("utf-8")},
        may_replace=MayReplace.if_forced(force=force, otherwise=MayReplace.NOTHING),
    )
    name = clean(str(out))
    typer.echo(f"wrote {name}; edit it, then: dovelayout check {name}")
