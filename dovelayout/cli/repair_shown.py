"""Showing a repair to people and machines, and drawing its pieces of wood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written
from dovelayout.errors import PrintError
from dovelayout.words import capital

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.drawing.cards.card import Card
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.repair.advice import Advice, RepairFigure


@dataclass(frozen=True, slots=True, kw_only=True)
class CardsToDraw:
    """What can be drawn of a repair: its cards, the title above them, what their lines mean, on which paper."""

    cards: Sequence[Card]
    what: str
    legend: Legend
    paper: str


def finish(
    advice: Advice, *, as_json: bool, drawing: CardsToDraw | None = None, out: Path | None = None, force: bool = False
) -> None:
    """Draws what is asked for, shows the advice, and ends with exit code 1 where it is to recut. Raises PrintError."""
    files = []
    if out is not None and drawing is not None:
        _draw(drawing, out, force=force)
        files.append(str(out))
    if as_json:
        put_json({**_advice_json(advice), "files": files})
    else:
        _show(console(), advice, files)
    recut = advice.worst.value == "stop"
    if out is not None and not files:
        because = "recut" if recut else f"'{advice.method}' puts in no piece of wood"
        console(to_stderr=True).print(f"{clean(str(out))} is not drawn: {because}", soft_wrap=True)
    if recut:
        raise typer.Exit(1)


def _draw(drawing: CardsToDraw, out: Path, *, force: bool) -> None:
    """Draws cards to a file, .pdf on the paper or .svg on a sheet to measure."""
    from dovelayout.drawing.cards.card import card_sheets
    from dovelayout.drawing.style import Heading
    from dovelayout.paper import paper
    from dovelayout.render.files import MayReplace, write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    ending = out.suffix.lower()
    if ending not in (".pdf", ".svg"):
        raise PrintError(f"{out}: a repair is drawn as .pdf or .svg", remedy="give the file one of these endings")
    numbers = "a repair of one's own work: try the fit on an offcut first"
    heading = Heading(job="repair", what=drawing.what, numbers=numbers)
    on = paper(drawing.paper) if ending == ".pdf" else None
    sheets = card_sheets(drawing.cards, heading, drawing.legend, on)
    data = pdf_bytes(sheets, title=sheets[0].title) if on else svg_text(sheets[0]).encode("utf-8")
    write_files({out: data}, may_replace=MayReplace.if_forced(force=force))


def _advice_json(advice: Advice) -> dict[str, Any]:
    from dovelayout.report.findings import findings_json

    keys = ("trouble", "method", "worst", "looks", "glue", "steps", "cautions")
    figures = [
        {"what": row.what, "value": round(row.value, 4), "unit": row.unit, "source": row.source}
        for row in advice.figures
    ]
    return {
        **{key: getattr(advice, key) for key in keys},
        "figures": figures,
        "findings": findings_json(advice.findings),
    }


def _show(out: Console, advice: Advice, files: Sequence[str]) -> None:
    from dovelayout.checks.finding import worst_first

    out.print(f"{clean(capital(advice.trouble))}: {advice.method.upper()}")
    put_table(out, "", ("figure", "", "source"), ((row.what, _value(row), row.source) for row in advice.figures))
    put_findings(out, worst_first(advice.findings))
    out.print(f"What it will look like: {advice.looks}")
    out.print(f"Glue: {advice.glue}")
    for number, step in enumerate(advice.steps, 1):
        out.print(f"  {number}. {clean(step)}")
    out.print("Take care:")
    for caution in advice.cautions:
        out.print(f"  - {clean(caution)}")
    recut = advice.worst.value == "stop"
    out.print("Verdict: STOP. No repair will hold: recut." if recut else f"Verdict: {advice.method}.")
    put_written(out, files)


def _value(figure: RepairFigure) -> str:
    from dovelayout.repair.advice import both

    return both(figure.value) if figure.unit == "mm" else f"{figure.value:g} {figure.unit}"
