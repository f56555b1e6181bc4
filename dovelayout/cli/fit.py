"""`dovelayout fit JOB`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from dovelayout.cli.command import Force, JobFile, exit_on_stop, one_line_errors, option
from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written, verdict
from dovelayout.report.numbers import rounded

if TYPE_CHECKING:
    from dovelayout.job.reader import Job
    from dovelayout.planning.fit import CornerFit
    from dovelayout.planning.rehearsal import Rehearsal
    from dovelayout.render.files import MayReplace

JOINTS = 10_000
"""Enough that a share is known to half a percent."""
MOST_JOINTS = 200_000
"""A few seconds a corner of many tails; more says nothing new."""


@one_line_errors
def fit(
    *,
    job: JobFile,
    out: Annotated[Path | None, option("-o, --out", "Folder for the rehearsal's charts.", default="none")] = None,
    joints: Annotated[int, option("--joints", "How many joints are rehearsed.", min=100, max=MOST_JOINTS)] = JOINTS,
    seed: Annotated[int, option("--seed", "The same seed rehearses the same joints.", min=0)] = 1,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "All of it as JSON on standard output.")] = False,
) -> None:
    """Say which dry fit suits the glue, and rehearse the joints with a hand's errors. Exit 1 on a stop."""
    from dovelayout.checks.finding import in_unit, merged, worst_level
    from dovelayout.job.reader import read_job
    from dovelayout.planning.rehearsal import words
    from dovelayout.render.files import MayReplace
    from dovelayout.report.fit import TEXTS, fit_lines, fit_table, grouped_fits, job_fits, rehearsed

    understood = read_job(job)
    fits = job_fits(understood)
    findings = [finding for row in fits for finding in row.findings]
    rehearsals = rehearsed(fits, understood.shop.hand, joints, seed)
    screen = console(to_stderr=as_json)
    for same in grouped_fits(fits):
        table, rehearsal = fit_table(same, understood.unit), rehearsals[same[0].joint.name]
        put_table(screen, table.title, table.columns, table.rows)
        lines = (TEXTS("not_rehearsed"),) if rehearsal is None else words(rehearsal)
        for line in (*fit_lines(same, understood.unit), *lines):
            screen.print(clean(line))
    if not fits:
        screen.print(TEXTS("no_corner"))
    put_findings(screen, tuple(in_unit(finding, understood.unit) for finding in merged(findings)))
    screen.print(verdict(worst_level(findings)))
    files = (
        []
        if out is None
        else _charts(understood, grouped_fits(fits), rehearsals, out, may_replace=MayReplace.if_forced(force=force))
    )
    if out is not None and not files:
        screen.print("No chart was written: nothing could be rehearsed.")
    put_written(screen, (entry["path"] for entry in files))
    if as_json:
        put_json(_json(understood, fits, rehearsals, run={"joints": joints, "seed": seed}) | {"files": files})
    exit_on_stop(worst_level(findings))


def _charts(
    job: Job,
    groups: Sequence[Sequence[CornerFit]],
    rehearsals: Mapping[str, Rehearsal | None],
    folder: Path,
    *,
    may_replace: MayReplace,
) -> list[dict[str, Any]]:
    """Writes a chart of each rehearsed corner as SVG, and all of them as one PDF."""
    from dovelayout.cli.drawn import write_drawn
    from dovelayout.drawing.charts.rehearsal import rehearsal_sheet
    from dovelayout.drawing.lettering import printable
    from dovelayout.render.files import safe_name, unique_names
    from dovelayout.report.fit import corner_names, with_glue

    sheets = {}
    for same in groups:
        if (rehearsal := rehearsals[same[0].joint.name]) is not None:
            title = f"{corner_names(same)}, rehearsed {with_glue(same[0].chosen)}"
            sheets[same[0].joint.name] = rehearsal_sheet(rehearsal, title=title)
    if not sheets:
        return []
    names = (f"{name}-rehearsal" for name in unique_names(list(sheets), fallback="corner"))
    alone = dict(zip(names, sheets.values(), strict=True))
    pdf = folder / f"{safe_name(job.title)}-rehearsal.pdf"
    return write_drawn(
        pdf, list(sheets.values()), title=printable(job.title) or "job", alone=alone, may_replace=may_replace
    )


_OUTCOME_DIGITS = {"fit_mm": 4, "home_share": 5, "home_doubt": 5, "worst_gap_mm": 4, "tight_cheeks": 3}


def _json(
    job: Job, fits: Sequence[CornerFit], rehearsals: Mapping[str, Rehearsal | None], *, run: Mapping[str, int]
) -> dict[str, Any]:
    from dataclasses import asdict

    from dovelayout.checks.finding import worst_level
    from dovelayout.report.findings import findings_json
    from dovelayout.report.fit import fit_numbers

    corners = [
        {
            "name": row.joint.name,
            "fit_mm": round(row.fit_mm, 4),
            "fit_given": row.fit_given,
            **fit_numbers(row.chosen),
            "doubts": row.chosen.tight.squeezed.doubts if row.chosen.tight else (),
            "others": [fit_numbers(other) for other in row.others],
            "findings": findings_json(row.findings),
        }
        for row in fits
    ]
    made = [{"name": name, **_rehearsal_json(one)} for name, one in rehearsals.items() if one is not None]
    return {
        "worst": worst_level(finding for row in fits for finding in row.findings).value,
        "corners": corners,
        "rehearsal": {**run, "errors": asdict(job.shop.hand), "corners": made},
    }


def _rehearsal_json(rehearsal: Rehearsal) -> dict[str, Any]:
    methods = [
        {
            "method": outcome.method.value,
            **rounded(outcome, _OUTCOME_DIGITS),
            "worst_gap_one_in_twenty_mm": round(outcome.worst_gap_95_mm, 4),
            "edge_step_mm": round(outcome.step_mm, 4),
            "four_of_five": rounded(outcome.sure, {"fit_mm": 4, "worst_gap_mm": 4}),
        }
        for outcome in rehearsal.outcomes
    ]
    return {**rounded(rehearsal, {"most_mm": 4}), "better": rehearsal.better, "methods": methods}
