"""The fit of a job for people: tables of glues, the fit to aim for in words, corners that are alike once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from dovelayout.checks.finding import MARKS
from dovelayout.everyday import shaving_words
from dovelayout.job.reader import Job
from dovelayout.planning.fit import CornerFit, GlueFit, corner_fit
from dovelayout.planning.rehearsal import Rehearsal, cheek_counts, rehearse
from dovelayout.report.tables import Table
from dovelayout.shop import Hand
from dovelayout.units import Unit
from dovelayout.verdict.verdict import with_fixes


def job_fits(job: Job) -> list[CornerFit]:
    """Every corner's fit; fixes of what is found at the job's own fit were tried on the whole job."""
    fits = [corner_fit(joint, job.shop) for joint in job.joints]
    if job.shop.fit_mm is None:
        return fits
    fixed = iter(with_fixes(job, [finding for row in fits for finding in row.findings]))
    return [replace(row, findings=tuple(islice(fixed, len(row.findings)))) for row in fits]


def rehearsed(fits: Sequence[CornerFit], hand: Hand, joints: int, seed: int) -> dict[str, Rehearsal | None]:
    """Every corner's rehearsal; corners with the same numbers share one."""
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


def alike(fits: Iterable[CornerFit]) -> list[list[CornerFit]]:
    """Corners with the same numbers together, so that they are said once."""
    groups: dict[Any, list[CornerFit]] = {}
    for row in fits:
        numbers = [fit_numbers(one) for one in (row.chosen, *row.others)]
        key = (row.fit_mm, cheek_counts(row.joint), str(numbers))
        groups.setdefault(key, []).append(row)
    return list(groups.values())


def corner_names(same: Sequence[CornerFit]) -> str:
    """'corners A, B and 3 more'."""
    names = [row.joint.name for row in same]
    said = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    return f"corner{'s' if len(names) > 1 else ''} {said}"


def fit_table(same: Sequence[CornerFit], unit: Unit) -> Table:
    """The job's glue and every other for corners with the same numbers."""
    row = same[0]
    where = "as the job says" if row.fit_given else "the fullest that suits, since the job gives none"
    names = corner_names(same)
    return Table(
        title=f"{names[:1].upper()}{names[1:]}: a dry fit of {_fine(row.fit_mm, unit)} at each cheek, {where}",
        columns=("glue", "swells it by", "presses", "to drive home", "half pin", "verdict", "dry fit to aim for"),
        rows=tuple(_cells(one, unit) for one in (row.chosen, *row.others)),
    )


def fit_lines(same: Sequence[CornerFit], unit: Unit) -> tuple[str, ...]:
    """The dry fit to aim for, in words, and what is to be doubted."""
    chosen = same[0].chosen
    if chosen.dry_fit_mm is None:
        return ()
    lines = []
    glue = "dry" if chosen.glue is None else f"with {chosen.glue.name}"
    if chosen.dry_fit_mm >= 0:
        lines.append(f"Aim for {_fine(chosen.dry_fit_mm, unit)} {glue}: {shaving_words(chosen.dry_fit_mm)}.")
    else:
        lines.append(
            f"Even cut to the line the cheeks are {_fine(-chosen.dry_fit_mm, unit)} too full {glue}: ease them by that, "
            "or take a glue that swells less."
        )
    if chosen.inner_fit_mm is not None and chosen.inner_fit_mm > max(0.0, chosen.dry_fit_mm):
        lines.append(
            f"With the outer cheeks relieved to that, the others may be {_fine(chosen.inner_fit_mm, unit)} full: "
            "it is the half pins that set the first figure."
        )
    squeezed = chosen.tight.squeezed if chosen.tight else None
    if squeezed is not None and squeezed.doubts:
        lines.append(f"To doubt: {'; '.join(squeezed.doubts)}.")
    return tuple(lines)


def _fine(value_mm: float, unit: Unit) -> str:
    """Hundredths of a mm; in a job in inches with thousandths behind them."""
    mm = f"{value_mm:.2f} mm"
    return f"{mm} ({value_mm / 25.4:.4f} in)" if unit is Unit.IN else mm


def _cells(one: GlueFit, unit: Unit) -> tuple[str, ...]:
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


def fit_numbers(one: GlueFit) -> dict[str, Any]:
    """One glue's numbers, for machines."""
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
