"""One joint by itself: what is found on it, and fixes that were tried on it alone."""

from __future__ import annotations

from dovelayout.checks import corner_findings
from dovelayout.checks.finding import Finding
from dovelayout.checks.remedy import Joint, Remedy
from dovelayout.checks.sliding.housing import sliding_findings
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from dovelayout.verdict.found import Found
from dovelayout.verdict.search import Search


def joint_findings(joint: Joint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one joint of any kind, worst first, their remedies not yet tried."""
    return corner_findings(joint, shop) if isinstance(joint, CornerJoint) else sliding_findings(joint, shop)


def check_joint(joint: CornerJoint, shop: Shop) -> tuple[Finding, ...]:
    """All findings on one corner, worst first. Changes of the corner are tried on it before they are offered; those of the
    shop or of a board, such as a looser fit, are tried by `judged` alone, on the whole job."""
    found = corner_findings(joint, shop)

    def after(remedy: Remedy) -> Found | None:
        if remedy.joint is not None:
            return Found(joint_findings(remedy.joint, shop))
        of_the_corner = any((change.table, change.name) == joint.spec.origin for change in remedy.changes)
        return None if of_the_corner else Found(())

    return tuple(Search(Found(found), after=after, alone=lambda other: joint_findings(other, shop)).offered(found))
