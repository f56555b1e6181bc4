"""The whole glue-up of a job: stages with their minutes, steps, cauls, spreaders, diagonals, and what stands against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.assembly import Assembly, Member, assemblies, hosts_in, seat_of
from dovelayout.casework.divider import Divider
from dovelayout.casework.wishes import GlueUpWishes
from dovelayout.checks.finding import Finding, worst_first
from dovelayout.glueup import squareness
from dovelayout.glueup.caul import Caul, caul_findings, caul_for
from dovelayout.glueup.checks import time_findings
from dovelayout.glueup.steps import Step, plan_steps
from dovelayout.glueup.work import TimedStage, Work, timed_stages
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place
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


def plan_glue_up(
    *, joints: Sequence[CornerJoint], dividers: Sequence[Divider], wishes: GlueUpWishes, shop: Shop
) -> GlueUp:
    """The plan of a job. Raises LayoutError where the order goes round in a circle, WoodError for an unknown glue."""
    work = Work(joints=tuple(joints), dividers=tuple(dividers), wishes=wishes, shop=shop, glue=shop.glue)
    chains = assemblies(work.joints)
    stages = timed_stages(work, chains)
    cauls = tuple(caul_for(joint) for joint in work.joints)
    found = (
        *time_findings(work, chains, stages),
        *(finding for chain in chains for finding in squareness.size_findings(chain)),
        *(finding for chain in chains for finding in _wind(chain, work)),
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


def captured_in(chain: Assembly, wishes: GlueUpWishes) -> tuple[str, ...]:
    """Names of the captured parts that an assembly holds."""
    names = {joint.name for joint in chain.corners}
    return tuple(part.name for part in wishes.captured if names & set(part.held_by))


def _wind(chain: Assembly, work: Work) -> Iterator[Finding]:
    """A long thin box with something captured takes a twist that no diagonal shows."""
    share = squareness.length_over_width(chain)
    level, limit = squareness.LONG_THIN.judge(share)
    held = captured_in(chain, work.wishes)
    sides = chain.grain_sides
    if limit is None or not held or sides is None:
        return
    yield Finding(
        check=squareness.LONG_THIN.check,
        level=level,
        place=Place(kind=chain.name),
        measured=round(share, 3),
        limit=limit,
        unit=squareness.LONG_THIN.unit,
        message=f"{share:.1f} times as long as wide, with {', '.join(held)} held in it: it sets in whatever twist the clamps "
        "give it, and equal diagonals don't show that. Check wind; bed to flat",
        fix=f"two straight battens {sides[0].outside_mm:.0f} mm long on a flat bench as a bed: draw the joints up, "
        "slacken, sight across winding sticks, tighten lightly again",
        source=squareness.LONG_THIN.source,
    )


def _spreaders(work: Work, chains: Sequence[Assembly], stages: Sequence[TimedStage]) -> Iterator[Spreader]:
    """Wherever clamps would draw boards in: beside what is captured, where a divider will come, at free ends."""
    for chain in chains:
        apart_mm = squareness.tail_boards_apart_mm(chain)
        if apart_mm is None:
            continue
        for name in captured_in(chain, work.wishes):
            yield Spreader(where=f"{chain.name}: beside {name}, between the boards with the tails", length_mm=apart_mm)
        for divider in work.dividers:
            hosts = hosts_in(divider, chain)
            if len(hosts) == 2 and all(chain.carries_tails(host) for host in hosts):
                yield Spreader(
                    where=f"{chain.name}: where {divider.name} will come, until it is in", length_mm=apart_mm
                )
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
            labels = " and ".join(arm.label for arm in arms)
            yield Spreader(
                where=f"{chain.name}, after stage {stage}: between the free ends of {labels}",
                length_mm=base.inside_mm,
            )


def _other(chain: Assembly, joint: CornerJoint, member: Member) -> Member:
    tails = seat_of(joint.spec.tails) == member.seat
    return chain.member(joint.spec.pins if tails else joint.spec.tails)
