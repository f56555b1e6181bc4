"""Sheets that a command writes besides its answer: all in one PDF, some as SVGs of their own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dovelayout.drawing.primitives import Sheet
    from dovelayout.render.files import MayReplace


def write_drawn(
    pdf: Path, sheets: Sequence[Sheet], *, title: str, alone: Mapping[str, Sheet], may_replace: MayReplace
) -> list[dict[str, Any]]:
    """Writes the sheets, if any, as one PDF and those in `alone`, by name, as SVGs beside it; what each file holds, as JSON.

    Raises PrintError where a file can't be written; then nothing was.
    """
    from dovelayout.render.files import write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    files = {pdf: pdf_bytes(sheets, title=title)} if sheets else {}
    holds = {path: [sheet.title for sheet in sheets] for path in files}
    for name, sheet in alone.items():
        path = pdf.with_name(f"{name}.svg")
        files[path], holds[path] = svg_text(sheet).encode("utf-8"), [sheet.title]
    write_files(files, may_replace=may_replace)
    return [
        {"path": str(path), "format": path.suffix[1:], "holds": titles, "pages": len(titles)}
        for path, titles in holds.items()
    ]
