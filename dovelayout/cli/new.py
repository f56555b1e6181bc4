"""`dovelayout new [KIND] -o FILE`."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from dovelayout.cli.console import clean, told


class Kind(StrEnum):
    """Kinds of starter job."""

    BOX = "box"
    CORNER = "corner"
    DRAWER = "drawer"
    PRESS = "press"


@told
def new(
    kind: Annotated[Kind, typer.Argument(help="What to start from.")] = Kind.BOX,
    out: Annotated[Path, typer.Option("-o", "--out", help="The file to write.")] = Path("job.toml"),
) -> None:
    """Write a commented job to start from. An existing file is left alone."""
    from dovelayout.errors import PrintError
    from dovelayout.job.starter import starter
    from dovelayout.render.files import write_files

    try:
        taken = out.exists() or out.is_symlink()
    except OSError as error:
        raise PrintError(f"{out}: can't be written ({error.strerror or error})") from None
    if taken:
        raise PrintError(f"{out}: is there already; give another name")
    write_files({out: starter(kind.value).encode("utf-8")})
    name = clean(str(out))
    typer.echo(f"wrote {name}; edit it, then: dovelayout check {name}")
