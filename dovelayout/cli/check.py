"""`dovelayout check JOB`."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Annotated

from dovelayout.cli.command import JobFile, exit_on_stop, one_line_errors, option
from dovelayout.cli.console import console, put_findings, put_json, put_table, verdict

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.verdict.verdict import Verdict


@one_line_errors
def check(
    job: JobFile,
    as_json: Annotated[bool, option("--json", "The verdict as JSON on standard output.")] = False,
) -> None:
    """Say what would break, bind or show, before the first saw cut. Exit 1 when something stops the job."""
    from dovelayout.job.reader import read_job
    from dovelayout.report.check import verdict_json
    from dovelayout.verdict.verdict import judged

    judgement = judged(read_job(job))
    if as_json:
        put_json(verdict_json(judgement))
    else:
        show(console(), judgement)
    exit_on_stop(judgement.worst)


def show(out: Console, judgement: Verdict) -> None:
    """What was understood, the corners' numbers, the findings and the verdict, for people."""
    from dovelayout.cli.drawers import show_drawers
    from dovelayout.report.dividers import COLUMNS, divider_rows
    from dovelayout.units import format_both

    job = judgement.job
    both = partial(format_both, unit=job.unit)
    in_drawers = {part.board.name for drawer in job.drawers for part in drawer.parts}
    boards = [board for board in job.boards if board.name not in in_drawers]
    if boards:
        put_table(
            out,
            f"{job.title}: the boards as understood",
            ("board", "wood", "length", "width", "thickness"),
            ((b.name, b.wood.name, both(b.length_mm), both(b.width_mm), both(b.thickness_mm)) for b in boards),
        )
    show_drawers(out, job)
    shown = {joint.name for drawer in job.drawers for joint in drawer.joints}
    rows = []
    for joint in (joint for joint, _ in judgement.corners if joint.name not in shown):
        tails, pins = joint.end_faces()
        full = joint.full_pins
        proposed = f" (proposed: {', '.join(joint.proposed)})" if joint.proposed else ""
        rows.append(
            (
                joint.name,
                f"{joint.spec.tails.label} to {joint.spec.pins.label}",
                f"{len(joint.tails)}{proposed}",
                both(min(pin.width_mm for pin in full)) if full else "none",
                joint.slope.words.removeprefix("slope "),
                f"{both(tails.baseline_mm)} / {both(pins.baseline_mm)}",
            )
        )
    columns = ("", "tails to pins", "tails", "pin, narrow", "slope", "gauge: tail / pin board")
    if rows:
        put_table(out, "Corners", columns, rows)
    if job.dividers:
        put_table(out, "Dividers", COLUMNS, divider_rows(job.dividers, job.unit))
    put_findings(out, judgement.for_people)
    out.print(verdict(judgement.worst))
