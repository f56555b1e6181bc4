"""The order of a glue-up, from a graph: a captured part goes in before the corner that would shut it out.

Stages are what is glued in one go. Those that the job defines come first; the corners left over are glued box by box. A
captured part belongs to the stage that closes its last corner, a dovetailed divider to the same one where the boards with
its housings don't move any more when that stage closes, and else to a stage of its own afterwards: it slides in from the
back.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from graphlib import CycleError, TopologicalSorter
from typing import TypeVar

from dovelayout.casework.assembly import Assembly, hosts_in
from dovelayout.casework.divider import Divider
from dovelayout.casework.glue_up_spec import Captured, GlueUpSpec
from dovelayout.errors import LayoutError
from dovelayout.glueup.closing import Groups, Tie, can_close, sequence
from dovelayout.joints.corner import CornerJoint

T = TypeVar("T", bound=Hashable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What is glued in one go.

    `groups`: its corners in the order they close, None where they can't close so. `shut_in`: names of those of its
    dividers that have to be in before the last group closes; the others slide in after it.
    """

    name: str
    corners: tuple[CornerJoint, ...] = ()
    dividers: tuple[Divider, ...] = ()
    captured: tuple[Captured, ...] = ()
    groups: Groups | None = ()
    shut_in: tuple[str, ...] = ()

    @property
    def corner_names(self) -> set[str]:
        """Names of its corners."""
        return {joint.name for joint in self.corners}

    @property
    def joins(self) -> tuple[str, ...]:
        """Names of all that it joins."""
        return (
            *(joint.name for joint in self.corners),
            *(divider.name for divider in self.dividers),
            *(part.name for part in self.captured),
        )


def ordered(nodes: Sequence[T], before: Mapping[tuple[T, T], str]) -> tuple[T, ...]:
    """The nodes so that for every pair (one, other) the one comes before the other, else as they were listed.

    `before` holds the reason for each pair. Raises LayoutError that names all members of a circle.
    """
    graph: TopologicalSorter[T] = TopologicalSorter({node: set() for node in nodes})
    for one, other in before:
        graph.add(other, one)
    try:
        graph.prepare()
    except CycleError as error:
        rows = (f"{one!r} before {other!r} ({before[one, other]})" for one, other in itertools.pairwise(error.args[1]))
        problem = f"the order goes round in a circle: {', '.join(rows)}"
        raise LayoutError(problem, remedy="take one of these out") from None
    place = {node: index for index, node in enumerate(nodes)}
    ready: list[T] = []
    done: list[T] = []
    while graph.is_active():
        ready = sorted({*ready, *graph.get_ready()}, key=place.__getitem__)
        done.append(ready.pop(0))
        graph.done(done[-1])
    return tuple(done)


def plan_stages(assemblies: Sequence[Assembly], dividers: Sequence[Divider], spec: GlueUpSpec) -> tuple[Stage, ...]:
    """The stages of a job, in order. Raises LayoutError where the stages go round in a circle."""
    stages = _specified(assemblies, dividers, spec)
    before: dict[tuple[str, str], str] = {}
    for stage in spec.stages:
        pairs = [(stage.name, later) for later in stage.before] + [(earlier, stage.name) for earlier in stage.after]
        before |= {pair: f"stage {stage.name!r} says so" for pair in pairs if stages.keys() >= set(pair)}
    wanted = ordered(list(stages), before)
    own = {part.name: name for name in wanted for part in stages[name].captured}

    def closing(corners: Collection[str]) -> str:
        """The last stage with one of these corners."""
        return next(name for name in reversed(wanted) if not stages[name].corner_names.isdisjoint(corners))

    for part in spec.captured:
        last = closing(part.held_by)
        if part.name not in own:
            stages[last] = replace(stages[last], captured=(*stages[last].captured, part))
        elif own[part.name] != last:
            corner = next(joint.name for joint in reversed(stages[last].corners) if joint.name in part.held_by)
            before[own[part.name], last] = f"{part.name} is captured by corner {corner}"
    there = {divider.name for name in wanted for divider in stages[name].dividers}
    for divider in (divider for divider in dividers if divider.name not in there):
        home = assembly_of(divider, assemblies)
        corners = set() if home is None else {joint.name for joint in home.corners}
        if home is not None and precedes_last_corners(divider, home):
            last = closing(corners)
            stages[last] = replace(stages[last], dividers=(*stages[last].dividers, divider))
            continue
        name = _free_name(f"divider {divider.name}", stages)
        stages[name] = Stage(name=name, dividers=(divider,))
        because = f"{divider.name} slides in from the back when the boards stand"
        before |= {(other, name): because for other in wanted if corners & stages[other].corner_names}
    _carried_first(stages, before)
    return tuple(_worked_out([stages[name] for name in ordered(list(stages), before)], assemblies))


def _specified(assemblies: Sequence[Assembly], dividers: Sequence[Divider], spec: GlueUpSpec) -> dict[str, Stage]:
    """The maker's stages, and one for what is left of each assembly."""
    stages: dict[str, Stage] = {}
    for own in spec.stages:
        corners = (joint for assembly in assemblies for joint in assembly.corners if joint.name in own.joins)
        stages[own.name] = Stage(
            name=own.name,
            corners=tuple(corners),
            dividers=tuple(divider for divider in dividers if divider.name in own.joins),
            captured=tuple(part for part in spec.captured if part.name in own.joins),
        )
    glued = {name for one in spec.stages for name in one.joins}
    for assembly in assemblies:
        if left := tuple(joint for joint in assembly.corners if joint.name not in glued):
            name = _free_name(assembly.name, stages)
            stages[name] = Stage(name=name, corners=left)
    return stages


def _free_name(name: str, stages: Mapping[str, Stage]) -> str:
    """The name, or the name with words behind it where it is taken."""
    while name in stages:
        name = f"{name}, the rest"
    return name


def _carried_first(stages: Mapping[str, Stage], before: dict[tuple[str, str], str]) -> None:
    """A divider that stands in another divider is fitted on the bench, before the other goes in."""
    for stage, other in itertools.permutations(stages.values(), 2):
        for divider, host in itertools.product(stage.dividers, other.dividers):
            if host.joint.key.name in {joint.host.name for joint in divider.joints}:
                before.setdefault((stage.name, other.name), f"{divider.name} stands in {host.name}")


def assembly_of(divider: Divider, assemblies: Sequence[Assembly]) -> Assembly | None:
    """The assembly that a divider's housings lie in; None where they lie in a board of its own."""
    return next((assembly for assembly in assemblies if hosts_in(divider, assembly)), None)


def tie_of(divider: Divider, assembly: Assembly) -> Tie | None:
    """The two boards of an assembly that a divider holds to each other once it is in."""
    hosts = hosts_in(divider, assembly)
    return (hosts[0].seat, hosts[1].seat) if len(hosts) == 2 else None


def precedes_last_corners(divider: Divider, assembly: Assembly) -> bool:
    """Whether a divider between two boards of an assembly can be in when its last corners close: not between boards
    that close towards each other, which its dovetails would keep apart."""
    tie = tie_of(divider, assembly)
    if tie is None or not assembly.ring:
        return False
    groups = sequence(assembly, closed=(), closing=assembly.corners)
    if groups is None or len(groups) < 2:
        return False
    done = [joint for group in groups[:-1] for joint in group]
    return can_close(assembly, closed=done, closing=groups[-1], ties=[tie])


def _worked_out(stages: Sequence[Stage], assemblies: Sequence[Assembly]) -> Iterator[Stage]:
    """The stages with their corners in groups, each seen with what is closed and held before it."""
    closed: set[str] = set()
    held: list[Divider] = []
    for stage in stages:
        own = stage.corner_names
        groups: Groups | None = ()
        shut_in: list[str] = []
        for assembly in assemblies:
            closing = [joint for joint in assembly.corners if joint.name in own]
            before = [joint for joint in assembly.corners if joint.name in closed]
            ties = [tie for divider in held if (tie := tie_of(divider, assembly)) is not None]
            found = sequence(assembly, closed=before, closing=closing, ties=ties)
            groups = None if found is None or groups is None else (*groups, *found)
            if found and len(found) > 1:
                before += [joint for group in found[:-1] for joint in group]
                for divider in stage.dividers:
                    tie = tie_of(divider, assembly)
                    if tie is not None and can_close(assembly, closed=before, closing=found[-1], ties=[*ties, tie]):
                        shut_in.append(divider.name)
        yield replace(stage, groups=groups, shut_in=tuple(shut_in))
        closed |= own
        held += stage.dividers
