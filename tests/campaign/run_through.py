"""One job through the whole program: it works, or it says in a DovelayoutError why not. Anything else is a fault."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.glueup.plan import plan_glue_up
from dovelayout.job.reader import Job, load_job
from dovelayout.planning.fit import corner_fit
from dovelayout.planning.rehearsal import cheek_counts, rehearse
from dovelayout.planning.suggest import suggest
from dovelayout.report.files import book_of
from dovelayout.report.findings import findings_json
from dovelayout.report.season import season_of
from dovelayout.verdict.verdict import judged

FEW = 200
MOST_CORNERS = 8


def run(data: Mapping[str, Any], *, drawn: bool, searched: bool, pictured: bool = False) -> str:
    """How far a job came: 'refused', 'read' or 'drawn'. Raises whatever is no DovelayoutError."""
    try:
        job = load_job(data, source="job.toml")
    except JobError as error:
        line = str(error)
        assert line.isprintable(), line
        assert line.startswith("job.toml: "), line
        assert len(line) < 20_000, len(line)
        return "refused"
    _planned(job)
    if searched and job.joints:
        _or_said(lambda: suggest(job.joints[0], job.shop, unit=job.unit))
    verdict = judged(job)
    json.dumps(findings_json(verdict.all_findings), allow_nan=False)
    for finding in verdict.for_people:
        assert finding.message, finding
    if not drawn:
        return "read"
    book = _or_said(lambda: book_of(verdict, pictures=pictured))
    if book is not None:
        for sheet in book:
            assert sheet.width_mm > 0
    return "drawn"


def _planned(job: Job) -> None:
    _or_said(lambda: season_of(job))
    for joint in job.joints[:MOST_CORNERS]:
        fit = _or_said(lambda joint=joint: corner_fit(joint, job.shop))
        most_mm = None if fit is None else fit.chosen.inner_fit_mm
        if fit is not None and most_mm is not None:
            rehearse(cheeks=cheek_counts(joint), fit_mm=fit.fit_mm, most_mm=most_mm, hand=job.shop.hand, joints=FEW)
    _or_said(lambda: plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop))


def _or_said(work: Any) -> Any:
    try:
        return work()
    except DovelayoutError:
        return None
