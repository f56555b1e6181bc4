"""`dovelayout drawers CSV -o JOB`, and `dovelayout drawers JOB` for the cut list."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dovelayout.casework.drawer.choices import Fit
from dovelayout.cli.command import exit_on_stop, one_line_errors, option
from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written
from dovelayout.place import Place
from dovelayout.units import Unit

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.errors import JobError
    from dovelayout.job.openings import Openings
    from dovelayout.job.reader import Job

FEW = 4
"""Up to so many drawers have all their sums shown; ours."""

MOST_BAD_SHOWN = 20


@one_line_errors
def drawers(
    source: Annotated[
        Path, typer.Argument(help="A table of openings (CSV), or a job (TOML) to see its cut list.", show_default=False)
    ],
    out: Annotated[Path | None, option("-o, --out", "The job to write.")] = None,
    species: Annotated[str | None, option("--species", "The drawers' wood.", default="hard maple")] = None,
    fit: Annotated[Fit, option("--fit", "How closely they run.")] = Fit.GOOD,
    units: Annotated[
        Unit | None, option("--units", "What bare numbers mean.", default="mm, or what the heads say")
    ] = None,
    title: Annotated[str | None, option("--title", "The job's title.", default="the table's name")] = None,
    skip_bad: Annotated[bool, option("--skip-bad", "Write the good rows all the same, and list the bad ones.")] = False,
    force: Annotated[bool, option("--force", "Write over a job that is there already.")] = False,
    cuts: Annotated[Path | None, option("--cut-list", "Write the cut list as CSV.")] = None,
    as_json: Annotated[bool, option("--json", "As JSON on standard output.")] = False,
) -> None:
    """Make a job of a table of openings; or show the cut list of a job's drawers, and whether its parts add up.

    A job whose drawers would jam or whose parts don't add up is exit 1.
    """
    from dovelayout.checks.drawers import TWICE, check_drawer
    from dovelayout.errors import JobError
    from dovelayout.job.bank_job import job_of_openings
    from dovelayout.job.openings import read_openings
    from dovelayout.render.files import MayReplace, may_be_written, write_files
    from dovelayout.report.drawers import cut_csv
    from dovelayout.report.findings import findings_json

    if source.suffix.lower() == ".toml":
        if out is not None:
            problem, remedy = "a job is there already", "name a table of openings (.csv)"
            raise JobError(file=str(source), place=Place(kind="--out"), problem=problem, remedy=remedy)
        _of_job(source, cuts, force=force, as_json=as_json)
        return
    if out is None:
        raise JobError(file=str(source), problem="no job to write is named", remedy="add -o JOB.toml")
    may_be_written(out, MayReplace.if_forced(force=force, otherwise=MayReplace.NOTHING))
    common = {"fit": fit.value} if species is None else {"species": species, "fit": fit.value}
    text, made, openings = job_of_openings(
        read_openings(source, unit=units), title=title or source.stem, source=source.name, common=common
    )
    if made is None or (openings.bad and not skip_bad):
        raise _bad_rows(openings, source)
    files = {out: text.encode("utf-8")}
    if cuts is not None:
        files[cuts] = cut_csv(made.drawers).encode("utf-8")
    write_files(files, may_replace=MayReplace.if_forced(force=force))
    screen = console(to_stderr=as_json)
    _show_bad(screen, openings, source)
    twice = [f for drawer in made.drawers for f in check_drawer(drawer) if f.check == TWICE.check]
    put_findings(screen, twice)
    put_written(screen, files)
    _show_made(screen, made, is_wood_named=species is not None or all("species" in row.values for row in openings.rows))
    screen.print(clean(f"now: dovelayout check {out}"), soft_wrap=True)
    if as_json:
        put_json(
            {
                "job": str(out),
                "drawers": [drawer.name for drawer in made.drawers],
                "adds_up": all(drawer.adds_up for drawer in made.drawers),
                "bad": [
                    {"row": bad.line, "column": bad.column, "problem": bad.problem, "remedy": bad.remedy}
                    for bad in openings.bad
                ],
                "findings": findings_json(twice),
            }
        )


def _bad_rows(openings: Openings, source: Path) -> JobError:
    """The first bad row as the error that stops the command, with how many more there are."""
    others = len(openings.bad) - 1
    more = f" (and {_rows(others, 'more bad')})" if others else ""
    if openings.rows:
        more += f"; --skip-bad writes the {_rows(len(openings.rows), 'good')}"
    return openings.bad[0].error(str(source), more)


def _show_made(screen: Console, job: Job, *, is_wood_named: bool) -> None:
    from dovelayout.casework.drawer.cut_list import all_add_up

    screen.print(clean(f"{len(job.drawers)} drawers. {all_add_up(job.drawers)}"))
    if not is_wood_named:
        screen.print(
            "No wood was named: hard maple is taken, which moves most of the usual ones. Write your own under [drawers]."
        )


def _rows(count: int, kind: str) -> str:
    return f"{count} {kind} {'row' if count == 1 else 'rows'}"


def _show_bad(screen: Console, openings: Openings, source: Path) -> None:
    for bad in openings.bad[:MOST_BAD_SHOWN]:
        screen.print(clean(f"left out: {bad.error(str(source))}"), soft_wrap=True)
    if len(openings.bad) > MOST_BAD_SHOWN:
        screen.print(f"and {len(openings.bad) - MOST_BAD_SHOWN} more bad rows")


def _of_job(source: Path, cuts: Path | None, *, force: bool, as_json: bool) -> None:
    from dovelayout.checks.drawers import check_drawers
    from dovelayout.checks.finding import in_unit, merged, worst_level
    from dovelayout.checks.movement.acclimatised import check_air
    from dovelayout.errors import JobError
    from dovelayout.job.reader import read_job
    from dovelayout.render.files import MayReplace, write_files
    from dovelayout.report.check import part_json
    from dovelayout.report.drawers import cut_csv, drawer_json
    from dovelayout.report.findings import findings_json
    from dovelayout.verdict.verdict import judged

    job = read_job(source)
    if not job.drawers:
        raise JobError(file=str(source), problem="has no drawers", remedy="add a [[drawer]] or a [[bank]]")
    rows = judged(job).drawers
    whole = (*check_drawers(job.drawers), *check_air(job.shop, job.boards))
    found = (*whole, *(finding for _, findings in rows for finding in findings))
    worst = worst_level(found)
    screen = console(to_stderr=as_json)
    show_drawers(screen, job)
    put_findings(screen, [in_unit(finding, job.unit) for finding in merged(found)])
    if cuts is not None:
        write_files({cuts: cut_csv(job.drawers).encode("utf-8")}, may_replace=MayReplace.if_forced(force=force))
        put_written(screen, (cuts,))
    if as_json:
        put_json(
            {
                "title": job.title,
                "worst": worst.value,
                "adds_up": all(drawer.adds_up for drawer in job.drawers),
                "parts": [part_json(part.board) for drawer in job.drawers for part in drawer.parts],
                "drawers": [drawer_json(drawer, findings) for drawer, findings in rows],
                "findings": findings_json(whole),
            }
        )
    exit_on_stop(worst)


def show_drawers(out: Console, job: Job) -> None:
    """The drawers of a job for people: sizes and air, the cut list, and that it adds up; nothing where there are none."""
    from dovelayout.casework.drawer.cut_list import all_add_up, assumed_cases
    from dovelayout.report.drawers import (
        COLUMNS,
        CORNER_COLUMNS,
        CUT_COLUMNS,
        corner_rows,
        cut_rows,
        drawer_rows,
        spacer_lines,
    )

    if not job.drawers:
        return
    unit = "in" if job.unit.value == "in" else "mm"
    in_drawers = {part.board.name for drawer in job.drawers for part in drawer.parts}
    alone = all(board.name in in_drawers for board in job.boards)
    title = f"{job.title}: the boards as understood, a cut list" if alone else "Cut list of the drawers"
    put_table(out, f"{title} ({unit}; lengths along the grain)", CUT_COLUMNS, cut_rows(job.drawers, job.unit))
    put_table(
        out, f"Drawers ({unit}; worst month: side, above, behind, mm)", COLUMNS, drawer_rows(job.drawers, job.unit)
    )
    if len(job.drawers) <= FEW:
        rows = [(drawer.name, one.what, one.words) for drawer in job.drawers for one in drawer.sums]
        put_table(out, "Sums, mm", ("", "", ""), rows)
    corners = corner_rows(job.drawers, job.unit)
    if corners:
        put_table(out, f"Drawers' corners ({unit})", CORNER_COLUMNS, corners)
    if len(job.drawers) <= FEW:
        for line in spacer_lines(job.drawers):
            out.print(clean(line))
    for line in (*assumed_cases(job.drawers), all_add_up(job.drawers)):
        out.print(clean(line))
