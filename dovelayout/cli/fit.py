"""`dovelayout fit JOB`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import Force, clean, console, put_findings, put_json, put_table, told, verdict

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.planning.fit import CornerFit, GlueFit
    from dovelayout.planning.rehearsal import Rehearsal
    from dovelayout.render.files import Over
    from dovelayout.units import Unit

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
    from dovelayout.checks.finding import Level, at_same_spot, spoken, worst_level
    from dovelayout.job.reader import read_job
    from dovelayout.planning.fit import corner_fit
    from dovelayout.render.files import Over

    understood = read_job(job)
    rows = [(corner, corner_fit(corner, understood.shop)) for corner in understood.joints]
    fits = [row for _, row in rows]
    worst = worst_level(finding for row in fits for finding in row.findings)
    rehearsed = _rehearsed(fits, understood.shop.hand, joints, seed)
    screen = console(to_stderr=as_json)
    for same in _alike(fits):
        _show(screen, same, understood.unit)
        rehearsal = rehearsed[same[0].joint.name]
        if rehearsal is None:
            screen.print("Not rehearsed, because what goes home is not known for these boards.")
        else:
            _show_rehearsal(screen, rehearsal)
    if not fits:
        screen.print("There is no corner in this job: a fit is looked at where tails and pins meet.")
    told_once = at_same_spot((row.joint.name, row.findings) for row in fits)
    put_findings(screen, tuple(spoken(finding, unit=understood.unit) for finding in told_once))
    screen.print(verdict(worst))
    files = [] if out is None else _charts(out, _alike(fits), rehearsed, understood.title, Over.told(force))
    if out is not None and not files:
        screen.print("No chart was written: nothing could be rehearsed.")
    for entry in files:
        screen.print(f"wrote {clean(entry['path'])}", soft_wrap=True)
    if as_json:
        put_json(_json(fits, rehearsed, understood.shop.hand, (joints, seed), worst.value, files))
    if worst is Level.STOP:
        raise typer.Exit(1)


def _rehearsed(fits: Sequence[CornerFit], hand: Any, joints: int, seed: int) -> dict[str, Rehearsal | None]:
    """Every corner's rehearsal; corners with the same numbers share one."""
    from dovelayout.planning.rehearsal import cheek_counts, rehearse

    done: dict[tuple[tuple[int, int], float, float], Rehearsal] = {}
    by_name: dict[str, Rehearsal | None] = {}
    for row in fits:
        most_mm = row.chosen.inner_fit_mm
        if most_mm is None:
            by_name[row.joint.name] = None
            continue
        key = (cheek_counts(row.joint), row.fit_mm, most_mm)
        if key not in done:
            done[key] = rehearse(cheeks=key[0], fit_mm=row.fit_mm, most_mm=most_mm, hand=hand, joints=joints, seed=seed)
        by_name[row.joint.name] = done[key]
    return by_name


def _alike(fits: Iterable[CornerFit]) -> list[list[CornerFit]]:
    """Corners with the same numbers together, so that they are said once."""
    from dovelayout.planning.rehearsal import cheek_counts

    groups: dict[Any, list[CornerFit]] = {}
    for row in fits:
        numbers = [_numbers(one) for one in (row.chosen, *row.others)]
        key = (row.fit_mm, cheek_counts(row.joint), str(numbers))
        groups.setdefault(key, []).append(row)
    return list(groups.values())


def _names(same: Sequence[CornerFit]) -> str:
    names = [clean(row.joint.name) for row in same]
    said = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    return f"corner{'s' if len(names) > 1 else ''} {said}"


def _show(out: Console, same: Sequence[CornerFit], unit: Unit) -> None:
    from dovelayout.everyday import shaving_words

    row = same[0]
    chosen = row.chosen
    where = "as the job says" if row.fit_given else "the fullest that suits, since the job gives none"
    names = _names(same)
    put_table(
        out,
        f"{names[:1].upper()}{names[1:]}: a dry fit of {_fine(row.fit_mm, unit)} at each cheek, {where}",
        ("glue", "swells it by", "presses", "to drive home", "half pin", "verdict", "dry fit to aim for"),
        [_cells(one, unit) for one in (chosen, *row.others)],
    )
    if chosen.dry_fit_mm is None:
        return
    glue = "dry" if chosen.glue is None else f"with {clean(chosen.glue.name)}"
    if chosen.dry_fit_mm >= 0:
        out.print(f"Aim for {_fine(chosen.dry_fit_mm, unit)} {glue}: {shaving_words(chosen.dry_fit_mm)}.")
    else:
        out.print(
            f"Even cut to the line the cheeks are {_fine(-chosen.dry_fit_mm, unit)} too full {glue}: ease them by that, "
            "or take a glue that swells less."
        )
    if chosen.inner_fit_mm is not None and chosen.inner_fit_mm > max(0.0, chosen.dry_fit_mm):
        out.print(
            f"With the outer cheeks relieved to that, the others may be {_fine(chosen.inner_fit_mm, unit)} full: "
            "it is the half pins that set the first figure."
        )
    squeezed = chosen.tight.squeezed if chosen.tight else None
    if squeezed is not None and squeezed.doubts:
        out.print(f"To doubt: {'; '.join(clean(doubt) for doubt in squeezed.doubts)}.")


def _fine(value_mm: float, unit: Unit) -> str:
    """Hundredths of a mm; in a job in inches with thousandths behind them."""
    from dovelayout.units import Unit

    mm = f"{value_mm:.2f} mm"
    return f"{mm} ({value_mm / 25.4:.4f} in)" if unit is Unit.IN else mm


def _cells(one: GlueFit, unit: Unit) -> tuple[str, ...]:
    from dovelayout.checks.finding import MARKS

    name = "none: dry" if one.glue is None else one.glue.name
    aim = one.dry_fit_mm
    aimed = "not known" if aim is None else _fine(aim, unit) if aim >= 0 else f"{_fine(-aim, unit)} clear"
    if one.tight is None:
        return (name, *("not known",) * 5, aimed)
    squeezed, swelling_mm = one.tight.squeezed, one.tight.swelling_mm
    share = squeezed.half_pin_share
    return (
        name,
        "not known" if swelling_mm is None else f"{swelling_mm:.3f} mm",
        f"{squeezed.pressure_mpa:.1f} MPa{', crushes' if squeezed.crushed else ''}",
        f"{squeezed.drive_n / 1000:.1f} kN",
        "none" if share is None else f"{share:.0%}",
        "not known" if one.worst is None else MARKS[one.worst.value],
        aimed,
    )


def _show_rehearsal(out: Console, rehearsal: Rehearsal) -> None:
    from dovelayout.planning.rehearsal import words

    for sentence in words(rehearsal):
        out.print(sentence)


def _charts(
    folder: Path, groups: Sequence[Sequence[CornerFit]], rehearsed: dict[str, Rehearsal | None], title: str, over: Over
) -> list[dict[str, Any]]:
    """Writes a chart of each rehearsed corner as SVG, and all of them as one PDF."""
    from dovelayout.drawing.lettering import printable
    from dovelayout.drawing.rehearsal_chart import rehearsal_sheet
    from dovelayout.render.files import safe_name, unique_names, write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    sheets = []
    for same in groups:
        rehearsal = rehearsed[same[0].joint.name]
        if rehearsal is not None:
            glue = same[0].chosen.glue
            with_glue = "dry" if glue is None else f"with {glue.name}"
            sheets.append(
                (same[0].joint.name, rehearsal_sheet(rehearsal, title=f"{_names(same)}, rehearsed {with_glue}"))
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


def _numbers(one: GlueFit) -> dict[str, Any]:
    squeezed = one.tight.squeezed if one.tight else None
    swelling_mm = one.tight.swelling_mm if one.tight else None
    share = squeezed.half_pin_share if squeezed else None
    return {
        "glue": None if one.glue is None else one.glue.name,
        "swelling_mm": None if swelling_mm is None else round(swelling_mm, 4),
        "pressure_mpa": None if squeezed is None else round(squeezed.pressure_mpa, 3),
        "crushes": None if squeezed is None else squeezed.crushed,
        "drive_kn": None if squeezed is None else round(squeezed.drive_n / 1000, 3),
        "tail_drive_kn": None if squeezed is None else round(squeezed.tail_drive_n / 1000, 3),
        "half_pin_share": None if share is None else round(share, 4),
        "dry_fit_mm": one.dry_fit_mm,
        "inner_dry_fit_mm": one.inner_fit_mm,
        "verdict": None if one.worst is None else one.worst.value,
    }


def _json(
    fits: Sequence[CornerFit],
    rehearsed: dict[str, Rehearsal | None],
    hand: Any,
    run: tuple[int, int],
    worst: str,
    files: list[dict[str, Any]],
) -> dict[str, Any]:
    from dovelayout.report.findings import findings_json

    return {
        "worst": worst,
        "corners": [
            {
                "name": row.joint.name,
                "fit_mm": round(row.fit_mm, 4),
                "fit_given": row.fit_given,
                **_numbers(row.chosen),
                "doubts": list(row.chosen.tight.squeezed.doubts) if row.chosen.tight else [],
                "others": [_numbers(other) for other in row.others],
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
