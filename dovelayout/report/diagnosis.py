"""What a job knows of a trouble: its piece, or one corner or drawer of it, and the repair commands with its figures."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Protocol, TypeVar

from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks.finding import Finding
from dovelayout.errors import DovelayoutError, LayoutError
from dovelayout.glueup.plan import plan_glue_up
from dovelayout.job.reader import Job
from dovelayout.joints.corner import CornerJoint
from dovelayout.repair.symptoms import KnownPiece, Symptom
from dovelayout.verdict.verdict import untried

JOB = " JOB"
"""Where a symptom's command takes the job's file."""

GIVEN = {
    "gap": ("--species", "--wood-thickness", "--slope", "--rings"),
    "corner": ("--species", "--thickness", "--board-width", "--hand"),
    "loose joint": ("--depth", "--length", "--cheeks"),
    "broken pin": ("--narrow", "--wide", "--length", "--thickness"),
    "broken baseline": ("--socket", "--thickness"),
    "broken tail": ("--tail-length",),
    "broken socket": ("--board-length",),
}
"""Options of a repair that a job gives, with their values."""


def piece_of(
    job: Job,
    *,
    corner: str | None = None,
    drawer: str | None = None,
    air_pct: tuple[float | None, float | None] = (None, None),
) -> KnownPiece:
    """A job as the piece that something is wrong with, or one corner or drawer of it; `air_pct`: relative humidity when all
    was well and now. Raises LayoutError for a corner or a drawer that the job hasn't."""
    whole = KnownPiece(
        called="your job",
        shop=job.shop,
        boards=(*job.boards, *(part.board for one in job.drawers for part in one.parts)),
        joints=job.joints,
        dividers=job.dividers,
        drawers=job.drawers,
        across=job.across,
        panels=job.panels,
        findings=(*untried(job).all_findings, *_glue_up_findings(job)),
        then_pct=air_pct[0],
        now_pct=air_pct[1],
    )
    if drawer is not None:
        own = _named(drawer, job.drawers, f"--drawer {drawer!r} is not in {job.source}")
        return _part(whole, f"drawer {drawer}", own.joints, (own,))
    if corner is not None:
        joint = _named(corner, job.joints, f"--corner {corner!r} is not in {job.source}")
        return _part(whole, f"corner {corner}", (joint,), ())
    return whole


class _Named(Protocol):
    @property
    def name(self) -> str: ...


N = TypeVar("N", bound=_Named)


def _named(name: str, known: Sequence[N], problem: str) -> N:
    """The one of that name. Raises LayoutError."""
    for one in known:
        if one.name == name:
            return one
    raise LayoutError(problem, remedy=f"one of {', '.join(one.name for one in known)}" if known else "it has none")


def _part(whole: KnownPiece, called: str, joints: tuple[CornerJoint, ...], drawers: tuple[Drawer, ...]) -> KnownPiece:
    """Some joints of a piece, or a drawer with its joints: what is known of them alone."""
    boards = tuple(part.board for row in drawers for part in row.parts)
    boards = boards or tuple(board for joint in joints for board in (joint.tail_board, joint.pin_board))
    names = {*(one.name for one in boards), *(one.name for one in joints), *(one.name for one in drawers)}
    return replace(
        whole,
        called=called,
        boards=boards,
        joints=joints,
        drawers=drawers,
        dividers=(),
        across=(),
        panels=(),
        findings=tuple(row for row in whole.findings if names & {row.place.name, *row.place.also}),
    )


def _glue_up_findings(job: Job) -> tuple[Finding, ...]:
    """What stands against the glue-up; nothing where the job has none that can be planned."""
    try:
        plan = plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop)
    except DovelayoutError:
        return ()
    return plan.findings


def for_job(symptom: Symptom, path: Path | None, corner: CornerJoint | None) -> Symptom:
    """The symptom whose command names the job's file, and takes from it what it gives of a corner; without a path, that of
    any job. A half-blind pin stands on its lap and isn't let in, so its command stays as it is."""
    if path is None or not symptom.command_form:
        return symptom
    file = shlex.quote(str(path))
    words = symptom.command_form.split()
    if words[1] != "repair":
        return replace(symptom, command_form=symptom.command_form.replace(JOB, f" {file}"))
    given = GIVEN.get(words[2]) or GIVEN.get(f"{words[2]} {words[3]}", ())
    if not given or corner is None or (corner.lap_mm > 0 and words[2:4] == ["broken", "pin"]):
        return symptom
    kept: list[str] = []
    for before, word in zip(["", *words], words, strict=False):
        if word not in given and before not in given:
            kept.append(word)
    return replace(symptom, command_form=" ".join([*kept, "--job", file, "--corner", shlex.quote(corner.name)]))
