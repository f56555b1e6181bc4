"""`dovelayout fit JOB`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import Force, clean, console, put_findings, put_json, put_table, told, verdict

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.planning.fit import CornerFit
    from dovelayout.planning.rehearsal import Rehearsal
    from dovelayout.render.files import Over

JOINTS = 10_000
"""Enough that a share is known to half a percent."""
MOST_JOINTS = 200_000
"""A few seconds a corner of many tails; more says nothing new."""


@told
def fit(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    out: Annotated[
        Path | None, typer.Option("-o", "--out", help="Folder for the rehearsal's charts.", show_default="none")
    ] = None,
    joints: Annotated[
        int, typer.Option("--joints", min=100, max=MOST_JOINTS, help="How many joints are rehearsed.")
    ] = JOINTS,
    seed: Annotated[int, typer.Option("--seed", min=0, help="The same seed rehearses the same joints.")] = 1,
    force: Force = False,
    as_json: Annotated[bool, typer.Option("--json", help="All of it as JSON on standard output.")] = False,
) -> None:
    """Say which dry fit suits the glue, and rehearse the joints with a hand's errors. Exit 1 on a stop."""
    from dovelayout.checks.finding import Level, in_unit, merged, worst_level
    from dovelayout.job.reader import read_job
    from dovelayout.render.files import Over
    from dovelayout.report.fit import alike, fit_lines, fit_table, job_fits, rehearsed

    understood = read_job(job)
    fits = job_fits(understood)
    worst = worst_level(finding for row in fits for finding in row.findings)
    tried = rehearsed(fits, understood.shop.hand, joints, seed)
    screen = console(to_stderr=as_json)
    for same in alike(fits):
        table = fit_table(same, understood.unit)
        put_table(screen, table.title, table.columns, table.rows)
        for line in fit_lines(same, understood.unit):
            screen.print(clean(line))
        rehearsal = tried[same[0].joint.name]
        if rehearsal is None:
            screen.print("Not rehearsed, because what goes home is not known for these boards.")
        else:
            _show_rehearsal(screen, rehearsal)
    if not fits:
        screen.print("There is no corner in this job: a fit is looked at where tails and pins meet.")
    found = merged(finding for row in fits for finding in row.findings)
    put_findings(screen, tuple(in_unit(finding, understood.unit) for finding in found))
    screen.print(verdict(worst))
    files = [] if out is None else _charts(out, alike(fits), tried, understood.title, Over.told(force))
    if out is not None and not files:
        screen.print("No chart was written: nothing could be rehearsed.")
    for entry in files:
        screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
    if as_json:
        put_json(_json(fits, tried, understood.shop.hand, (joints, seed), worst.value, files))
    if worst is Level.STOP:
        raise typer.Exit(1)


def _show_rehearsal(out: Console, rehearsal: Rehearsal) -> None:
    from dovelayout.planning.rehearsal import words

    for sentence in words(rehearsal):
        out.print(sentence)


def _charts(
    folder: Path, groups: Sequence[Sequence[CornerFit]], rehearsed: dict[str, Rehearsal | None], title: str, over: Over
) -> list[dict[str, Any]]:
    """Writes a chart of each rehearsed corner as SVG, and all of them as one PDF."""
    from dovelayout.drawing.charts.rehearsal import rehearsal_sheet
    from dovelayout.drawing.lettering import printable
    from dovelayout.render.files import safe_name, unique_names, write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text
    from dovelayout.report.fit import corner_names

    sheets = []
    for same in groups:
        rehearsal = rehearsed[same[0].joint.name]
        if rehearsal is not None:
            glue = same[0].chosen.glue
            with_glue = "dry" if glue is None else f"with {glue.name}"
            sheets.append(
                (same[0].joint.name, rehearsal_sheet(rehearsal, title=f"{corner_names(same)}, rehearsed {with_glue}"))
            )
    if not sheets:
        return []
    files: dict[Path, bytes] = {}
    listed = []
    for name, (_, sheet) in zip(unique_names([name for name, _ in sheets], fallback="corner"), sheets, strict=True):
        path = folder / f"{name}-rehearsal.svg"
        files[path] = svg_text(sheet).encode("utf-8")
        listed.append({"path": str(path), "format": "svg", "holds": [sheet.title], "pages": 1})
    path = folder / f"{safe_name(title)}-rehearsal.pdf"
    files[path] = pdf_bytes([sheet for _, sheet in sheets], title=printable(title) or "job")
    holds = [sheet.title for _, sheet in sheets]
    listed.append({"path": str(path), "format": "pdf", "holds": holds, "pages": len(sheets)})
    write_files(files, over=over)
    return listed


def _json(
    fits: Sequence[CornerFit],
    rehearsed: dict[str, Rehearsal | None],
    hand: Any,
    run: tuple[int, int],
    worst: str,
    files: list[dict[str, Any]],
) -> dict[str, Any]:
    from dovelayout.report.findings import findings_json
    from dovelayout.report.fit import fit_numbers

    return {
        "worst": worst,
        "corners": [
            {
                "name": row.joint.name,
                "fit_mm": round(row.fit_mm, 4),
                "fit_given": row.fit_given,
                **fit_numbers(row.chosen),
                "doubts": list(row.chosen.tight.squeezed.doubts) if row.chosen.tight else [],
                "others": [fit_numbers(other) for other in row.others],
                "findings": findings_json(row.findings),
            }
            for row in fits
        ],
        "rehearsal": {
            "joints": run[0],
            "seed": run[1],
            "errors": {
                "marking_mm": hand.marking_mm,
                "sawing_mm": hand.sawing_mm,
                "transfer_mm": hand.transfer_mm,
                "placing_mm": hand.placing_mm,
                "held_flush": hand.held_flush,
            },
            "corners": [
                {"name": name, **_rehearsal_json(rehearsal)} for name, rehearsal in rehearsed.items() if rehearsal
            ],
        },
        "files": files,
    }


def _rehearsal_json(rehearsal: Rehearsal) -> dict[str, Any]:
    return {
        "most_mm": round(rehearsal.most_mm, 4),
        "better": None if rehearsal.better is None else rehearsal.better.value,
        "methods": [
            {
                "method": outcome.method.value,
                "fit_mm": round(outcome.fit_mm, 4),
                "home_share": round(outcome.home_share, 5),
                "home_doubt": round(outcome.home_doubt, 5),
                "worst_gap_mm": round(outcome.worst_gap_mm, 4),
                "worst_gap_one_in_twenty_mm": round(outcome.worst_gap_95_mm, 4),
                "tight_cheeks": round(outcome.tight_cheeks, 3),
                "edge_step_mm": round(outcome.step_mm, 4),
                "four_of_five": {
                    "fit_mm": round(outcome.sure.fit_mm, 4),
                    "worst_gap_mm": round(outcome.sure.worst_gap_mm, 4),
                },
            }
            for outcome in rehearsal.outcomes
        ],
    }
