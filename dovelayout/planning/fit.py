"""The dry fit to aim for: one corner with the job's glue and with every other."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.checks.corner.fit import Tight, fit_findings, fullest_fit_mm, tight
from dovelayout.checks.finding import Finding, Level, worst_first
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from dovelayout.wood.glue import Glue, corner_glues


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueFit:
    """One corner with one glue (None: dry) at the job's fit, and the fullest dry fit that suits the two.

    `tight` is None where the woods' stiffness isn't known. `dry_fit_mm` is the most that no rule warns of; below 0, even
    a cheek cut to the line is too full once it is wet. `inner_fit_mm` is the same with the half pins' cheeks relieved to
    `dry_fit_mm`; None where they aren't known.
    """

    glue: Glue | None
    tight: Tight | None
    dry_fit_mm: float | None
    inner_fit_mm: float | None

    @property
    def worst(self) -> Level | None:
        """The verdict at the job's fit; None: not known."""
        return None if self.tight is None or self.tight.swelling_mm is None else self.tight.worst


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerFit:
    """A corner's fit: with the job's glue first, then with the others. `fit_given` False: the fit is the aim's."""

    joint: CornerJoint
    fit_mm: float
    fit_given: bool
    chosen: GlueFit
    others: tuple[GlueFit, ...]
    findings: tuple[Finding, ...]


def corner_fit(joint: CornerJoint, shop: Shop) -> CornerFit:
    """A corner with the job's glue and with all others (but for those for spots alone), at the job's dry fit; where the
    job gives none, at the fullest that suits its glue."""
    aim_mm = fullest_fit_mm(joint, shop.glue)
    fit_mm = max(0.0, aim_mm or 0.0) if shop.fit_mm is None else shop.fit_mm
    others = [glue for glue in corner_glues() if glue != shop.glue]
    return CornerFit(
        joint=joint,
        fit_mm=fit_mm,
        fit_given=shop.fit_mm is not None,
        chosen=_with(joint, shop.glue, fit_mm),
        others=tuple(_with(joint, glue, fit_mm) for glue in others),
        findings=worst_first(fit_findings(joint, shop.glue, fit_mm)),
    )


def _with(joint: CornerJoint, glue: Glue | None, fit_mm: float) -> GlueFit:
    return GlueFit(
        glue=glue,
        tight=tight(joint, glue, fit_mm),
        dry_fit_mm=fullest_fit_mm(joint, glue),
        inner_fit_mm=fullest_fit_mm(joint, glue, outer_relieved=True),
    )
