"""The order of a glue-up, from a graph: what is captured goes in before the corner that would shut it out.

Stages are what is glued in one go. Those that the maker wants come first; the corners left over are glued box by box. A
captured part belongs to the stage that closes its last corner, a dovetailed divider to the same one where the boards with
its housings don't move any more when that stage closes, and else to a stage of its own afterwards: it slides in from the
back.
"""

from __future__ import annotations

import itertools
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from graphlib import CycleError, TopologicalSorter
from typing import TypeVar

from dovelayout.casework.assembly import Assembly, hosts_in
from dovelayout.casework.divider import Divider
from dovelayout.casework.wishes import Captured, GlueUpWishes
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
    def joins(self) -> tuple[str, ...]:
        """Names of all that it joins."""
        return (
            *(joint.name for joint in self.corners),
            *(divider.name for divider in self.dividers),
            *(part.name for part in self.captured),
        )


@dataclass(slots=True)
class _Draft:
    """A stage while it is put together."""

    name: str
    corners: list[CornerJoint] = field(default_factory=list)
    dividers: list[Divider] = field(default_factory=list)
    captured: list[Captured] = field(default_factory=list)

    @property
    def corner_names(self) -> set[str]:
        return {joint.name for joint in self.corners}


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


def plan_stages(assemblies: Sequence[Assembly], dividers: Sequence[Divider], wishes: GlueUpWishes) -> tuple[Stage, ...]:
    """The stages of a job, in order. Raises LayoutError where the wishes go round in a circle."""
    drafts = _wished(assemblies, dividers, wishes)
    before: dict[tuple[str, str], str] = {}
    for wish in wishes.stages:
        pairs = [(wish.name, later) for later in wish.before] + [(earlier, wish.name) for earlier in wish.after]
        before |= {pair: f"stage {wish.name!r} says so" for pair in pairs if drafts.keys() >= set(pair)}
    wanted = [drafts[name] for name in ordered(list(drafts), before)]
    own = {part.name: draft for draft in wanted for part in draft.captured}
    for part in wishes.captured:
        last = _closing(wanted, part.held_by)
        draft = own.get(part.name)
        if draft is None:
            last.captured.append(part)
        elif draft is not last:
            corner = next(joint.name for joint in reversed(last.corners) if joint.name in part.held_by)
            before[draft.name, last.name] = f"{part.name} is captured by corner {corner}"
    there = {divider.name for draft in wanted for divider in draft.dividers}
    for divider in (divider for divider in dividers if divider.name not in there):
        home = home_of(divider, assemblies)
        corners = set() if home is None else {joint.name for joint in home.corners}
        if home is not None and goes_in_before_the_last(divider, home):
            _closing(wanted, corners).dividers.append(divider)
            continue
        name = _free_name(f"divider {divider.name}", drafts)
        drafts[name] = _Draft(name=name, dividers=[divider])
        because = f"{divider.name} slides in from the back when the boards stand"
        before |= {(draft.name, name): because for draft in wanted if corners & draft.corner_names}
    _carried_first(drafts, before)
    return tuple(_worked_out([drafts[name] for name in ordered(list(drafts), before)], assemblies))


def _closing(drafts: Sequence[_Draft], held_by: Iterable[str]) -> _Draft:
    """The last stage with one of these corners."""
    names = set(held_by)
    return next(draft for draft in reversed(drafts) if names & draft.corner_names)


def _wished(assemblies: Sequence[Assembly], dividers: Sequence[Divider], wishes: GlueUpWishes) -> dict[str, _Draft]:
    """The maker's stages, and one for what is left of each assembly."""
    drafts: dict[str, _Draft] = {}
    glued: set[str] = set()
    for wish in wishes.stages:
        glued |= set(wish.joins)
        drafts[wish.name] = _Draft(
            name=wish.name,
            corners=[joint for assembly in assemblies for joint in assembly.corners if joint.name in wish.joins],
            dividers=[divider for divider in dividers if divider.name in wish.joins],
            captured=[part for part in wishes.captured if part.name in wish.joins],
        )
    for assembly in assemblies:
        left = [joint for joint in assembly.corners if joint.name not in glued]
        if left:
            name = _free_name(assembly.name, drafts)
            drafts[name] = _Draft(name=name, corners=left)
    return drafts


def _free_name(name: str, drafts: Mapping[str, _Draft]) -> str:
    """The name, or the name with words behind it where it is taken."""
    while name in drafts:
        name = f"{name}, the rest"
    return name


def _carried_first(drafts: Mapping[str, _Draft], before: dict[tuple[str, str], str]) -> None:
    """A divider that stands in another divider is fitted on the bench, before the other goes in."""
    for draft, other in itertools.permutations(drafts.values(), 2):
        for divider, host in itertools.product(draft.dividers, other.dividers):
            if host.joint.key.name in {joint.host.name for joint in divider.joints}:
                before.setdefault((draft.name, other.name), f"{divider.name} stands in {host.name}")


def home_of(divider: Divider, assemblies: Sequence[Assembly]) -> Assembly | None:
    """The assembly that a divider's housings lie in; None where they lie in a board of its own."""
    return next((assembly for assembly in assemblies if hosts_in(divider, assembly)), None)


def tie_of(divider: Divider, assembly: Assembly) -> Tie | None:
    """The two boards of an assembly that a divider holds to each other once it is in."""
    hosts = hosts_in(divider, assembly)
    return (hosts[0].seat, hosts[1].seat) if len(hosts) == 2 else None


def goes_in_before_the_last(divider: Divider, assembly: Assembly) -> bool:
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


def _worked_out(drafts: Sequence[_Draft], assemblies: Sequence[Assembly]) -> Iterator[Stage]:
    """The drafts with their corners in groups, each seen with what is closed and held before it."""
    closed: set[str] = set()
    held: list[Divider] = []
    for draft in drafts:
        own = draft.corner_names
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
                for divider in draft.dividers:
                    tie = tie_of(divider, assembly)
                    if tie is not None and can_close(assembly, closed=before, closing=found[-1], ties=[*ties, tie]):
                        shut_in.append(divider.name)
        yield Stage(
            name=draft.name,
            corners=tuple(draft.corners),
            dividers=tuple(draft.dividers),
            captured=tuple(draft.captured),
            groups=groups,
            shut_in=tuple(shut_in),
        )
        closed |= own
        held += draft.dividers
