"""The fit of a job for people: tables of glues, the fit to aim for in words, corners that are alike once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import islice
from typing import Any

from dovelayout.checks.corner.fit import Tight
from dovelayout.checks.finding import MARKS
from dovelayout.everyday import shaving_words
from dovelayout.job.reader import Job
from dovelayout.planning.fit import CornerFit, GlueFit, corner_fit
from dovelayout.planning.rehearsal import Rehearsal, cheek_counts, rehearse
from dovelayout.report.tables import ReportTable
from dovelayout.shop import Hand
from dovelayout.texts import Texts
from dovelayout.units import Unit
from dovelayout.verdict.verdict import with_fixes
from dovelayout.words import capital, grouped

TEXTS = Texts("report", "fit")
NOT_KNOWN = "not known"


def job_fits(job: Job) -> list[CornerFit]:
    """Every corner's fit; fixes of what is found at the job's own fit were tried on the whole job."""
    fits = [corner_fit(joint, job.shop) for joint in job.joints]
    if job.shop.fit_mm is None:
        return fits
    fixed = iter(with_fixes(job, [finding for row in fits for finding in row.findings]))
    return [replace(row, findings=tuple(islice(fixed, len(row.findings)))) for row in fits]


def rehearsed(fits: Sequence[CornerFit], hand: Hand, joints: int, seed: int) -> dict[str, Rehearsal | None]:
    """Every corner's rehearsal, None where what goes home isn't known; corners with the same numbers share one."""
    once = cache(rehearse)

    def of(row: CornerFit) -> Rehearsal | None:
        most_mm, cheeks = row.chosen.inner_fit_mm, cheek_counts(row.joint)
        if most_mm is None:
            return None
        return once(cheeks=cheeks, fit_mm=row.fit_mm, most_mm=most_mm, hand=hand, joints=joints, seed=seed)

    return {row.joint.name: of(row) for row in fits}


def grouped_fits(fits: Iterable[CornerFit]) -> list[list[CornerFit]]:
    """Corners with the same numbers together, so that they are said once."""

    def numbers(row: CornerFit) -> tuple[object, ...]:
        return (row.fit_mm, cheek_counts(row.joint), str([fit_numbers(one) for one in (row.chosen, *row.others)]))

    return list(grouped((numbers(row), row) for row in fits).values())


def corner_names(same: Sequence[CornerFit]) -> str:
    """'corners A, B and 3 more'."""
    names = [row.joint.name for row in same]
    more = f" and {len(names) - 8} more" if len(names) > 8 else ""
    return f"corner{'s' if len(names) > 1 else ''} {', '.join(names[:8])}{more}"


def fit_table(same: Sequence[CornerFit], unit: Unit) -> ReportTable:
    """The job's glue and every other for corners with the same numbers."""
    row = same[0]
    where = TEXTS("given" if row.fit_given else "fullest")
    return ReportTable(
        title=TEXTS("title", corners=capital(corner_names(same)), fit=_fine(row.fit_mm, unit), where=where),
        columns=("glue", "swells it by", "presses", "to drive home", "half pin", "verdict", "dry fit to aim for"),
        rows=tuple(_cells(one, unit) for one in (row.chosen, *row.others)),
    )


def fit_lines(same: Sequence[CornerFit], unit: Unit) -> Iterator[str]:
    """The dry fit to aim for, in words, and what is to be doubted."""
    chosen = same[0].chosen
    aim_mm, inner_mm = chosen.dry_fit_mm, chosen.inner_fit_mm
    if aim_mm is None:
        return
    text, fit = "aim" if aim_mm >= 0 else "too_full", _fine(abs(aim_mm), unit)
    yield TEXTS(text, fit=fit, glue=with_glue(chosen), shavings=shaving_words(max(0.0, aim_mm)))
    if inner_mm is not None and inner_mm > max(0.0, aim_mm):
        yield TEXTS("outer_relieved", fit=_fine(inner_mm, unit))
    if chosen.tight is not None and chosen.tight.squeezed.doubts:
        yield TEXTS("doubt", doubts="; ".join(chosen.tight.squeezed.doubts))


def with_glue(one: GlueFit) -> str:
    """'with white PVA', or 'dry'."""
    return "dry" if one.glue is None else f"with {one.glue.name}"


def _fine(value_mm: float, unit: Unit) -> str:
    """Hundredths of a mm; in a job in inches with thousandths behind them."""
    mm = f"{value_mm:.2f} mm"
    return f"{mm} ({value_mm / 25.4:.4f} in)" if unit is Unit.IN else mm


def _cells(one: GlueFit, unit: Unit) -> tuple[str, ...]:
    name = "none: dry" if one.glue is None else one.glue.name
    aim = one.dry_fit_mm
    aimed = NOT_KNOWN if aim is None else _fine(aim, unit) if aim >= 0 else f"{_fine(-aim, unit)} clear"
    if one.tight is None:
        return (name, *(NOT_KNOWN,) * 5, aimed)
    squeezed, swelling_mm = one.tight.squeezed, one.tight.swelling_mm
    return (
        name,
        NOT_KNOWN if swelling_mm is None else f"{swelling_mm:.3f} mm",
        f"{squeezed.pressure_mpa:.1f} MPa{', crushes' if squeezed.crushed else ''}",
        f"{squeezed.drive_n / 1000:.1f} kN",
        "none" if squeezed.half_pin_share is None else f"{squeezed.half_pin_share:.0%}",
        NOT_KNOWN if one.worst is None else MARKS[one.worst.value],
        aimed,
    )


def fit_numbers(one: GlueFit) -> dict[str, Any]:
    """One glue's numbers, for machines."""
    return {
        "glue": None if one.glue is None else one.glue.name,
        **(dict.fromkeys(_SQUEEZE_KEYS) if one.tight is None else _squeeze_numbers(one.tight)),
        "dry_fit_mm": one.dry_fit_mm,
        "inner_dry_fit_mm": one.inner_fit_mm,
        "verdict": None if one.worst is None else one.worst.value,
    }


_SQUEEZE_KEYS = ("swelling_mm", "pressure_mpa", "crushes", "drive_kn", "tail_drive_kn", "half_pin_share")


def _squeeze_numbers(tight: Tight) -> dict[str, Any]:
    squeezed, share = tight.squeezed, tight.squeezed.half_pin_share
    swelling_mm = None if tight.swelling_mm is None else round(tight.swelling_mm, 4)
    kn = (round(newtons / 1000, 3) for newtons in (squeezed.drive_n, squeezed.tail_drive_n))
    half_pin = None if share is None else round(share, 4)
    values = (swelling_mm, round(squeezed.pressure_mpa, 3), squeezed.crushed, *kn, half_pin)
    return dict(zip(_SQUEEZE_KEYS, values, strict=True))
