"""What the commands show: tables and findings for people, JSON for machines."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.checks.finding import Finding, Level

_STYLES = {"stop": "bold red", "warn": "yellow", "note": "", "ok": "green"}


def console(*, to_stderr: bool = False) -> Console:
    """A console as wide as the terminal; 110 columns where there is none."""
    from rich.console import Console

    width = None if sys.stdout.isatty() and not to_stderr else 110
    return Console(stderr=to_stderr, highlight=False, width=width, markup=False, emoji=False)


def put_json(value: Any) -> None:
    """JSON to stdout, and nothing else there; escaped is what stdout can't hold, and what a terminal would obey."""
    everything = (sys.stdout.encoding or "").lower().replace("-", "").startswith("utf")
    text = json.dumps(value, ensure_ascii=not everything, indent=2, allow_nan=False)
    typer.echo("".join(ch if ch.isprintable() or ch == "\n" else _escaped(ch) for ch in text))


def _escaped(ch: str) -> str:
    """A letter as JSON writes it in ASCII."""
    return json.dumps(ch)[1:-1]


def clean(text: str) -> str:
    """A text from a job without control characters, which a terminal would obey."""
    return "".join(ch if ch.isprintable() else " " for ch in text)


def put_table(out: Console, title: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A plain table, numbers as they come."""
    from rich import box
    from rich.table import Table

    table = Table(title=clean(title), title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    for column in columns:
        table.add_column(column, overflow="fold")
    for row in rows:
        table.add_row(*(clean(cell) for cell in row))
    out.print(table)


def put_findings(out: Console, findings: Sequence[Finding]) -> None:
    """Every finding, worst first: the level in words, colour only beside it."""
    from rich.text import Text

    from dovelayout.checks.finding import MARKS

    for finding in findings:
        out.print(
            Text.assemble((MARKS[finding.level.value], _STYLES[finding.level.value]), f"  {clean(finding.where)}")
        )
        measured = ""
        if finding.measured is not None:
            limit = f", limit {finding.limit:g}" if finding.limit is not None else ""
            measured = f" [{finding.measured:g} {finding.unit}{limit}; {finding.source}]"
        out.print(f"      {finding.check}: {clean(finding.message)}{measured}")
        if finding.fix:
            out.print(f"      what would do: {clean(finding.fix)}")


def put_written(out: Console, paths: Iterable[object]) -> None:
    """A line for every file that was written."""
    for path in paths:
        out.print(f"wrote {clean(str(path))}", soft_wrap=True)


def verdict(worst: Level) -> str:
    """The last line of a check, in a maker's words."""
    return {
        "ok": "Verdict: clean. Nothing stands against sawing.",
        "note": "Verdict: good, with notes worth reading.",
        "warn": "Verdict: it can be made; a careful maker would change it or prepare for what is warned of.",
        "stop": "Verdict: STOP. It can't be made so, or will very likely break.",
    }[worst.value]
