"""`dovelayout page [JOB]`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dovelayout.cli.command import one_line_errors
from dovelayout.cli.console import clean


@one_line_errors
def page(
    job: Annotated[
        Path | None, typer.Argument(help="The job file to open, or a folder of them.", show_default="this folder")
    ] = None,
    browser: Annotated[bool, typer.Option(help="Open it in the browser.")] = True,
) -> None:
    """Lay out, check and print in the browser: a page of this machine alone, nothing leaves it."""
    from dovelayout.errors import JobError
    from dovelayout.page.folder import Folder
    from dovelayout.page.server import serve

    where = Path.cwd() if job is None else job
    if where.is_dir():
        folder = Folder(where.resolve())
    elif where.is_file() or where.suffix == ".toml":
        if not where.parent.is_dir():
            raise JobError(file=str(where), problem="there is no such folder", remedy="name a folder that is there")
        folder = Folder(where.parent.resolve(), where.name if where.is_file() else "")
    else:
        raise JobError(file=str(where), problem="is neither a job file nor a folder", remedy="name a .toml file")

    def opened(address: str) -> None:
        typer.echo(f"The page is at {address}")
        typer.echo(clean(f"It shows the job files in {folder.path}; it answers on this machine only. Ctrl+C ends it."))
        if browser:
            import webbrowser

            webbrowser.open(address)

    serve(folder, opened=opened)
