"""The verdict on a job: every check run on everything in it."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.casework.divider import Divider
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks import check_joint
from dovelayout.checks.cutouts import check_cutouts
from dovelayout.checks.drawers import check_drawer, check_drawers
from dovelayout.checks.finding import Finding, Level, in_unit, merged, worst_first, worst_level
from dovelayout.checks.movement.job import check_movement
from dovelayout.checks.sliding.housing import check_divider
from dovelayout.job.reader import Job
from dovelayout.joints.corner import CornerJoint


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """All findings of a job: corner by corner, and those of the job as a whole."""

    job: Job
    corners: tuple[tuple[CornerJoint, tuple[Finding, ...]], ...]
    findings: tuple[Finding, ...] = ()
    dividers: tuple[tuple[Divider, tuple[Finding, ...]], ...] = ()
    drawers: tuple[tuple[Drawer, tuple[Finding, ...]], ...] = ()

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first."""
        found = [finding for _, findings in self.corners for finding in findings]
        return worst_first((*self.findings, *found, *self._on_dividers, *self._on_drawers))

    @property
    def told_once(self) -> tuple[Finding, ...]:
        """Every finding for people to read: what holds for several corners is said once, in the job's own terms."""
        on_corners = tuple(finding for _, findings in self.corners for finding in findings)
        found = merged((*self.findings, *on_corners, *self._on_dividers, *self._on_drawers))
        return tuple(in_unit(finding, self.job.unit) for finding in found)

    @property
    def _on_dividers(self) -> tuple[Finding, ...]:
        return tuple(finding for _, findings in self.dividers for finding in findings)

    @property
    def _on_drawers(self) -> tuple[Finding, ...]:
        return tuple(finding for _, findings in self.drawers for finding in findings)

    @property
    def worst(self) -> Level:
        """The loudest level."""
        return worst_level(self.all_findings)


def judged(job: Job) -> Verdict:
    """Runs every check on every corner, divider and drawer of a job, on what moves in it, and on the boards alone."""
    return Verdict(
        job=job,
        corners=tuple((joint, check_joint(joint, job.shop)) for joint in job.joints),
        dividers=tuple((divider, check_divider(divider.joints, job.shop)) for divider in job.dividers),
        drawers=tuple((drawer, check_drawer(drawer)) for drawer in job.drawers),
        findings=worst_first(
            (*check_drawers(job.drawers), *check_cutouts(job.boards, job.joints), *movement_findings(job)),
        ),
    )


def movement_findings(job: Job) -> tuple[Finding, ...]:
    """What is said of everything that moves in a job."""
    return check_movement(
        job.shop,
        boards=job.boards,
        joints=job.joints,
        across=job.across,
        panels=job.panels,
        slides=[joint for divider in job.dividers for joint in divider.joints],
    )
