"""The verdict on a job: every check run on everything in it, every fix tried on all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

from dovelayout.casework.divider import Divider
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks import corner_findings
from dovelayout.checks.cutouts import check_cutouts
from dovelayout.checks.drawers import check_drawer, check_drawers
from dovelayout.checks.finding import Finding, Level, in_unit, merged, worst_first, worst_level
from dovelayout.checks.movement.job import check_movement
from dovelayout.checks.sliding.housing import divider_findings, sliding_findings
from dovelayout.job.reader import Job
from dovelayout.joints.corner import CornerJoint
from dovelayout.verdict.corner import joint_findings
from dovelayout.verdict.found import Found
from dovelayout.verdict.search import Search
from dovelayout.verdict.trial import Trials


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """All findings of a job: corner by corner, divider by divider, drawer by drawer, and those of the job as a whole."""

    job: Job
    corners: tuple[tuple[CornerJoint, tuple[Finding, ...]], ...]
    findings: tuple[Finding, ...] = ()
    dividers: tuple[tuple[Divider, tuple[Finding, ...]], ...] = ()
    drawers: tuple[tuple[Drawer, tuple[Finding, ...]], ...] = ()

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first."""
        return worst_first(self._in_order)

    @property
    def for_people(self) -> tuple[Finding, ...]:
        """Every finding for people to read: what holds for several corners is said once, in the job's own terms."""
        return tuple(in_unit(finding, self.job.unit) for finding in merged(self._in_order))

    @property
    def worst(self) -> Level:
        """The worst level."""
        return worst_level(self._in_order)

    @property
    def _in_order(self) -> tuple[Finding, ...]:
        rows = (*self.corners, *self.dividers, *self.drawers)
        return (*self.findings, *(finding for _, findings in rows for finding in findings))

    def with_fixes(self, search: Search) -> Verdict:
        """The same with the fixes that were found for its findings, in their order."""
        fixed = iter(search.offered(self._in_order))
        return replace(
            self,
            findings=tuple(islice(fixed, len(self.findings))),
            corners=tuple((joint, tuple(islice(fixed, len(found)))) for joint, found in self.corners),
            dividers=tuple((divider, divider_findings(islice(fixed, len(found)))) for divider, found in self.dividers),
            drawers=tuple((drawer, tuple(islice(fixed, len(found)))) for drawer, found in self.drawers),
        )


def judged(job: Job) -> Verdict:
    """Runs every check on a job. A fix that is offered clears its finding when the changes are made, and brings no warning
    or stop anywhere in the job."""
    found = untried(job)
    return found.with_fixes(search_on(job, Found(found.all_findings)))


def with_fixes(job: Job, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Some of the findings on a job, with fixes as in `judged`."""
    return tuple(search_on(job, Found(untried(job).all_findings)).offered(findings))


def untried(job: Job) -> Verdict:
    """Runs every check on every corner, divider and drawer of a job, on what moves in it, and on the boards alone; fixes
    are as the checks propose them."""
    drawers, cutouts = check_drawers(job.drawers), check_cutouts(job.boards, job.joints)
    return Verdict(
        job=job,
        corners=tuple((joint, corner_findings(joint, job.shop)) for joint in job.joints),
        dividers=tuple(
            (divider, tuple(f for joint in divider.joints for f in sliding_findings(joint, job.shop)))
            for divider in job.dividers
        ),
        drawers=tuple((drawer, check_drawer(drawer)) for drawer in job.drawers),
        findings=worst_first((*drawers, *cutouts, *movement_findings(job))),
    )


def movement_findings(job: Job) -> tuple[Finding, ...]:
    """What is said of everything that moves in a job; fixes are as the checks propose them."""
    return check_movement(
        job.shop,
        boards=job.boards,
        joints=job.joints,
        across=job.across,
        panels=job.panels,
        slides=[joint for divider in job.dividers for joint in divider.joints],
    )


def search_on(job: Job, before: Found) -> Search:
    """A search for remedies on a job; `before` is all that was found on it."""
    trials = Trials(job, lambda changed: Found(untried(changed).all_findings))
    return Search(
        before,
        after=lambda remedy: trials.after(remedy.changes),
        alone=lambda joint: joint_findings(joint, job.shop),
        spent=lambda: trials.spent,
    )
