"""The whole glue-up of a job: stages with their minutes, steps, cauls, spreaders, diagonals, and findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.assembly import Assembly, Member, assemblies, hosts_in, seat_of
from dovelayout.casework.divider import Divider
from dovelayout.casework.glue_up_spec import GlueUpSpec
from dovelayout.checks.finding import Finding, worst_first
from dovelayout.glueup import squareness
from dovelayout.glueup.caul import Caul, caul_findings, caul_for
from dovelayout.glueup.checks import time_findings
from dovelayout.glueup.steps import TEXTS, Step, plan_steps
from dovelayout.glueup.timing import TimedStage, Work, timed_stages
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreader:
    """A stick cut to the inside width, and where it stands."""

    where: str
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueUp:
    """A plan for a glue-up."""

    work: Work
    assemblies: tuple[Assembly, ...]
    stages: tuple[TimedStage, ...]
    steps: tuple[Step, ...]
    spreaders: tuple[Spreader, ...]
    diagonals: tuple[squareness.Diagonal, ...]
    cauls: tuple[Caul, ...]
    findings: tuple[Finding, ...] = ()


def plan_glue_up(*, joints: Sequence[CornerJoint], dividers: Sequence[Divider], spec: GlueUpSpec, shop: Shop) -> GlueUp:
    """The plan of a job. Raises LayoutError where the order goes round in a circle, WoodError for an unknown glue."""
    work = Work(joints=tuple(joints), dividers=tuple(dividers), spec=spec, shop=shop)
    chains = assemblies(work.joints)
    stages = timed_stages(work, chains)
    cauls = tuple(caul_for(joint) for joint in work.joints)
    found = (
        *time_findings(work, chains, stages),
        *(finding for chain in chains for finding in squareness.size_findings(chain)),
        *(finding for chain in chains for finding in squareness.twist_findings(chain, captured_in(chain, spec))),
        *(finding for caul in cauls for finding in caul_findings(caul)),
    )
    return GlueUp(
        work=work,
        assemblies=chains,
        stages=stages,
        steps=plan_steps([row.stage for row in stages]),
        spreaders=tuple(_spreaders(work, chains, stages)),
        diagonals=tuple(row for chain in chains for row in squareness.diagonals(chain)),
        cauls=cauls,
        findings=worst_first(found),
    )


def captured_in(chain: Assembly, spec: GlueUpSpec) -> tuple[str, ...]:
    """Names of the captured parts that an assembly holds."""
    names = {joint.name for joint in chain.corners}
    return tuple(part.name for part in spec.captured if names & set(part.held_by))


def _spreaders(work: Work, chains: Sequence[Assembly], stages: Sequence[TimedStage]) -> Iterator[Spreader]:
    """Wherever clamps would draw boards in: beside what is captured, where a divider will come, at free ends."""
    for chain in chains:
        apart_mm = squareness.tail_boards_apart_mm(chain)
        if apart_mm is None:
            continue
        between = [("captured", name) for name in captured_in(chain, work.spec)]
        for divider in work.dividers:
            hosts = hosts_in(divider, chain)
            if len(hosts) == 2 and all(chain.carries_tails(host) for host in hosts):
                between.append(("divider", divider.name))
        for text, part in between:
            yield Spreader(where=TEXTS(f"spreader.{text}", box=chain.name, part=part), length_mm=apart_mm)
    for chain in chains:
        closed: set[str] = set()
        for row in stages:
            own = {joint.name for joint in chain.corners} & {joint.name for joint in row.stage.corners}
            if own:
                closed |= own
                yield from _free_ends(chain, closed, row.name)


def _free_ends(chain: Assembly, closed: set[str], stage: str) -> Iterator[Spreader]:
    """After a stage: a board with both its neighbours on it, whose far ends nothing holds."""
    joined = [joint for joint in chain.corners if joint.name in closed]
    if len(joined) == 4 and chain.ring:
        return
    for base in chain.members:
        arms = [_other(chain, joint, base) for joint in joined if joint in chain.corners_of(base)]
        if len(arms) == 2:
            hosts = " and ".join(arm.label for arm in arms)
            where = TEXTS("spreader.free_ends", box=chain.name, stage=stage, hosts=hosts)
            yield Spreader(where=where, length_mm=base.inside_mm)


def _other(chain: Assembly, joint: CornerJoint, member: Member) -> Member:
    tails = seat_of(joint.spec.tails) == member.seat
    return chain.member(joint.spec.pins if tails else joint.spec.tails)
