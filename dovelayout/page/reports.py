"""The page's panels: season, fit, glue-up, repair, pictures and sheets, as tables, lines, drawings and findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from dovelayout.checks.finding import Finding, in_unit, merged
from dovelayout.drawing.cards.caul import caul_sheet
from dovelayout.drawing.cards.patch import slip_card
from dovelayout.drawing.charts.rehearsal import rehearsal_sheet
from dovelayout.drawing.charts.year import year_sheet
from dovelayout.drawing.lettering import printable
from dovelayout.drawing.picture.picture_book import picture_drawing
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.style import Style
from dovelayout.errors import DovelayoutError, JobError
from dovelayout.glueup.words import cauls_by_shape, grouped_findings
from dovelayout.job.bank_job import job_of_openings
from dovelayout.job.openings import openings_of
from dovelayout.joints import KINDS
from dovelayout.joints.corner import CornerSpec
from dovelayout.page.requests import length_of, name_of, text_of, word_of
from dovelayout.page.view import corners_of, inline_svg, job_of
from dovelayout.paper import paper
from dovelayout.planning.rehearsal import words as rehearsal_words
from dovelayout.repair.gap import Gap, GapPlace, Slip, gap_advice, plan_gap
from dovelayout.repair.symptoms import KnownPiece, all_symptoms, diagnose, facts, favoured, question_for
from dovelayout.report.diagnosis import piece_of
from dovelayout.report.files import book_of
from dovelayout.report.findings import finding_json
from dovelayout.report.fit import TEXTS as FIT_TEXTS
from dovelayout.report.fit import corner_names, fit_lines, fit_table, grouped_fits, job_fits, rehearsed
from dovelayout.report.glueup import glue_up_findings, glue_up_of, glue_up_tables, verdict
from dovelayout.report.season import (
    drawn_from,
    movement_findings,
    season_lines,
    season_of,
    season_tables,
    year_of,
)
from dovelayout.report.tables import ReportTable
from dovelayout.units import Unit
from dovelayout.verdict.verdict import judged

REHEARSED_JOINTS, SEED = 4000, 1
"""Enough joints for a picture; the command rehearses more."""

MOST_SHEETS = 24
"""Sheets shown small; a bank of drawers has hundreds."""

MOST_GROUPS = 12


def _panel(
    *,
    lines: Iterable[str] = (),
    tables: Iterable[ReportTable] = (),
    pictures: Iterable[Sheet] = (),
    findings: Iterable[Finding] = (),
    unit: Unit = Unit.MM,
) -> dict[str, Any]:
    """A panel; the findings are said in the job's unit."""
    shown = [in_unit(finding, unit) for finding in findings]
    return {
        "lines": list(lines),
        "tables": [{"title": table.title, "columns": table.columns, "rows": table.rows} for table in tables],
        "pictures": [{"title": sheet.title, "svg": inline_svg(sheet)} for sheet in pictures],
        "findings": [{**finding_json(finding), "corners": corners_of(finding), "spots": []} for finding in shown],
    }


def season(request: Mapping[str, Any]) -> dict[str, Any]:
    """How far every part moves, what that does to each fixing, and the year as a chart."""
    job = job_of(text_of(request), name_of(request))
    if job.shop.home_humidity_pct is None:
        raise DovelayoutError(
            "the job doesn't say how dry and how damp the room gets: fill in the air under Home or Shop"
        )
    plan = season_of(job)
    year = year_of(plan, job.unit)
    style = Style(job=printable(job.title) or "job", unit=job.unit)
    charts = [year_sheet(year, style, fitted=drawn_from(job))] if year.rows else []
    return _panel(
        lines=season_lines(plan),
        tables=season_tables(job, plan),
        pictures=charts,
        findings=movement_findings(judged(job)),
    )


def fit(request: Mapping[str, Any]) -> dict[str, Any]:
    """The dry fit that suits the glue, and the joints rehearsed with a hand's errors."""
    job = job_of(text_of(request), name_of(request))
    rows = job_fits(job)
    groups = grouped_fits(rows)[:MOST_GROUPS]
    tried = rehearsed([group[0] for group in groups], job.shop.hand, REHEARSED_JOINTS, SEED)
    lines: list[str] = []
    charts: list[Sheet] = []
    for group in groups:
        lines += fit_lines(group, job.unit)
        rehearsal = tried[group[0].joint.name]
        if rehearsal is not None:
            lines += rehearsal_words(rehearsal)
            charts.append(rehearsal_sheet(rehearsal, title=f"{corner_names(group)}, rehearsed"))
    if not rows:
        lines.append(FIT_TEXTS("no_corner"))
    return _panel(
        lines=dict.fromkeys(lines),
        tables=[fit_table(group, job.unit) for group in groups],
        pictures=charts,
        findings=merged(finding for row in rows for finding in row.findings),
        unit=job.unit,
    )


def glue_up(request: Mapping[str, Any]) -> dict[str, Any]:
    """Stages against the open time, the order, spreaders, diagonals and cauls."""
    job = job_of(text_of(request), name_of(request))
    plan = glue_up_of(job)
    findings = glue_up_findings(job, plan)
    style = Style(job=printable(job.title) or "job", unit=job.unit)
    cauls = [caul_sheet(caul, corners, style) for caul, corners in cauls_by_shape(plan.cauls)[:MOST_GROUPS]]
    return _panel(
        lines=(verdict(findings),),
        tables=glue_up_tables(job, plan),
        pictures=cauls,
        findings=grouped_findings(findings),
        unit=job.unit,
    )


def _diagnosed(report: str, piece: KnownPiece | None) -> dict[str, Any]:
    """What a trouble in words comes from, by what is known of the piece; the nearest, and a question that tells them apart,
    where it isn't sure."""
    found = diagnose(report, favoured={} if piece is None else favoured(piece))
    question = None if found.sure else question_for(found.symptoms)
    tables = [
        ReportTable(
            title=row.title,
            columns=("", ""),
            rows=(
                ("what it looks like", row.seen),
                *(("it comes from", cause) for cause in row.causes),
                ("how to tell", row.tell),
                *(("your piece", fact.text) for fact in (facts(piece, row) if piece is not None else ())),
                *row.stages,
                ("when to leave it", row.leave),
                *(
                    (("next time", row.next_time), *(("take care", text) for text in row.cautions))
                    if found.sure
                    else ()
                ),
            ),
        )
        for row in found.symptoms
    ]
    if question is not None:
        titles = ((text, all_symptoms()[name].title) for name, text in question.answers)
        tables.insert(0, ReportTable(title=question.ask, columns=("if", "then it is"), rows=tuple(titles)))
    lines = () if piece is not None else ("The open job can't be read, so nothing of it counts here.",)
    unsure = () if found.sure else (f"Not sure, because {found.doubt}. The nearest:",)
    return _panel(lines=(*lines, *unsure), tables=tables)


def _piece(request: Mapping[str, Any]) -> KnownPiece | None:
    """The open job as the piece that something is wrong with; None where it can't be read: a trouble is answered all the
    same."""
    try:
        return piece_of(job_of(text_of(request), name_of(request)))
    except DovelayoutError:
        return None


def repair(request: Mapping[str, Any]) -> dict[str, Any]:
    """What to do about a gap of a width, length and place, or what a trouble in words comes from."""
    symptom = word_of(request, "symptom")
    if symptom:
        return _diagnosed(symptom, _piece(request))
    place = word_of(request, "place")
    gap = Gap(
        width_mm=length_of(request, "width", label="the gap's width", limits_mm=(0.01, 50)),
        length_mm=length_of(request, "length", label="the gap's length", limits_mm=(0.5, 3000)),
        place=GapPlace(place) if place in set(GapPlace) else GapPlace.END,
        depth_mm=length_of(request, "depth", label="the gap's depth", limits_mm=(0.5, 300))
        if word_of(request, "depth")
        else None,
    )
    plan = plan_gap(gap)
    advice = gap_advice(gap, plan)
    steps = ReportTable(
        title="Steps",
        columns=("", "do"),
        rows=tuple((str(number), step) for number, step in enumerate(advice.steps, 1)),
    )
    return _panel(
        lines=(advice.trouble, f"Method: {advice.method}", f"Glue: {advice.glue}", advice.looks, *advice.cautions),
        tables=(steps,),
        pictures=() if plan.slip is None else (_slip(plan.slip, plan.method.value),),
        findings=advice.findings,
    )


def _slip(slip: Slip, method: str) -> Sheet:
    card = slip_card(slip, method)
    return Sheet(width_mm=card.width_mm, height_mm=card.height_mm, items=card.items, title=card.title)


@lru_cache(maxsize=32)
def _picture_of(kind: str, spec: CornerSpec) -> str:
    return inline_svg(picture_drawing(KINDS[kind].worked_out(spec)))


def picture(request: Mapping[str, Any]) -> dict[str, Any]:
    """A corner or a divider apart and put together, with its faces as they will look."""
    job = job_of(text_of(request), name_of(request))
    wanted = word_of(request, "corner")
    for joint in job.joints:
        if joint.name == wanted:
            return {"corner": wanted, "svg": _picture_of(joint.kind, joint.spec)}
    for divider in job.dividers:
        if divider.name == wanted:
            return {"corner": wanted, "svg": inline_svg(picture_drawing(divider))}
    raise DovelayoutError(f"there is no corner or divider {wanted!r}")


def sheets(request: Mapping[str, Any]) -> dict[str, Any]:
    """The sheets that printing would make, small, and how many."""
    job = job_of(text_of(request), name_of(request))
    on = word_of(request, "paper")
    if on:
        job = replace(job, paper=paper(on, job.paper.margin_mm, unit=job.unit))
    book = book_of(judged(job))
    shown: Sequence[Sheet] = [sheet for sheet, _ in zip(book, range(MOST_SHEETS), strict=False)]
    count = len(book)
    more = f"; the first {len(shown)} are shown" if count > len(shown) else ""
    return {
        "words": f"{count} {'sheet' if count == 1 else 'sheets'} of {book.on.name}{more}",
        "count": count,
        "sheets": [{"title": sheet.title.removeprefix(f"{book.job}: "), "svg": inline_svg(sheet)} for sheet in shown],
    }


def bank(request: Mapping[str, Any]) -> dict[str, Any]:
    """A table of openings (CSV) as a job with a drawer for each good row; the bad rows are listed."""
    csv = request.get("csv")
    if not isinstance(csv, str) or not csv.strip():
        raise JobError(file=name_of(request), problem="is empty", remedy="name, width, height and depth are needed")
    source = name_of(request)
    openings = openings_of(csv, source=source)
    title = source.rpartition(".")[0] or "Drawers"
    text, _, openings = job_of_openings(openings, title=title, source=source, common={})
    if not text:
        raise openings.bad[0].error(source)
    return {"text": text, "bad": [str(bad.error("")).lstrip(": ") for bad in openings.bad]}
