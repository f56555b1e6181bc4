"""Whether each stage fits the open time of the glue at the wood's temperature, and what would help."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.assembly import Assembly, hosts_in
from dovelayout.casework.glue_up_spec import StageSpec
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.rule import Breach, rule
from dovelayout.errors import LayoutError
from dovelayout.glueup.closing import smaller_groups
from dovelayout.glueup.order import Stage, plan_stages
from dovelayout.glueup.timing import TABLE_C, TimedStage, Work, minutes_words, people, timed_stages
from dovelayout.place import Place
from dovelayout.texts import Texts
from dovelayout.wood.glue import Glue, corner_glues

TEXTS = Texts("glueup", "findings")
RULE_WORDS = Texts("glueup", "rules")

MOST_HANDS = 4
"""More people than this stand in each other's way; ours."""
MOST_SEARCHED = 8
"""Stages of one job that ways out are searched for, which takes hundreds of plans each; ours."""
MOST_GLUES = 3
"""Slower glues that are named; ours."""

_TIMES = f"open times and the 10 degrees rule: {COMMON_PRACTICE}; limits: {OURS}"

CAUTIOUS = rule(
    "open-time", unit="of the open time", note=0.6, warn=0.8, below=False, source=_TIMES, **RULE_WORDS.table("cautious")
)
HOPEFUL = rule(
    "open-time", unit="of the longest open time", stop=1.0, below=False, source=_TIMES, **RULE_WORDS.table("hopeful")
)
COLD = rule(
    "cold-wood",
    unit="°C",
    stop=0.0,
    source=f"{COMMON_PRACTICE}; the bottle's label comes first",
    **RULE_WORDS.table("cold"),
)
CLOSING = rule("closing-order", source="by definition: geometry of the joint", **RULE_WORDS.table("closing"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Option:
    """One option for a stage that takes too long: in words, as changes of the job, the work after them, and the names of
    the stages that replace it."""

    words: str
    changes: tuple[Change, ...]
    work: Work
    stages: Collection[str]

    def together_with(self, other: _Option) -> _Option:
        """Both at once, where this one was found in the other's work."""
        words = TEXTS("too_long.both", one=self.words, other=other.words)
        return replace(self, words=words, changes=(*self.changes, *other.changes))


def breach_of(row: TimedStage) -> Breach | None:
    """The limit that a stage's minutes break."""
    if row.open_minutes is None:
        return None
    cautious, hopeful = row.open_minutes
    return HOPEFUL.breach(row.minutes / hopeful) or CAUTIOUS.breach(row.minutes / cautious)


def time_findings(work: Work, chains: Sequence[Assembly], stages: Sequence[TimedStage]) -> Iterator[Finding]:
    """Cold wood, stages that can't close, stages that take too long; and what could not be checked."""
    yield from _cold(work)
    searched = 0
    for row in stages:
        if row.stage.groups is None:
            texts = TEXTS.finding("closing", boards=", ".join(row.stage.joins))
            changes = _closing_changes(work, chains)
            yield CLOSING.said(Level.STOP, Place(kind="stage", name=row.name), **texts, changes=changes)
        if breach := breach_of(row):
            searched += 1
            yield _too_long(*_around(work, chains, row), row, breach, search=searched <= MOST_SEARCHED)


def _around(work: Work, chains: Sequence[Assembly], row: TimedStage) -> tuple[Work, tuple[Assembly, ...]]:
    """The part of the work that one stage belongs to: what is tried for it is tried there alone."""
    names, own = set(row.stage.joins), row.stage.dividers
    near = tuple(
        chain
        for chain in chains
        if names & {joint.name for joint in chain.corners} or any(hosts_in(divider, chain) for divider in own)
    )
    joints = tuple(joint for chain in near for joint in chain.corners)
    corners = {joint.name for joint in joints}
    dividers = tuple(one for one in work.dividers if one in own or any(hosts_in(one, chain) for chain in near))
    captured = tuple(part for part in work.spec.captured if corners & set(part.held_by))
    units = corners | {divider.name for divider in dividers} | {part.name for part in captured}
    stages = tuple(one for one in work.spec.stages if units & set(one.joins))
    spec = replace(work.spec, stages=stages, captured=captured)
    return replace(work, joints=joints, dividers=dividers, spec=spec), near


def _cold(work: Work) -> Iterator[Finding]:
    place, glue = Place(kind="glue-up"), work.glue
    if glue is None:
        yield CAUTIOUS.not_checked(place, **TEXTS.unchecked("no_glue"))
    elif work.temperature_c is None:
        yield COLD.not_checked(place, **TEXTS.unchecked("no_temperature", degrees=TABLE_C))
    elif breach := COLD.breach(work.temperature_c - glue.floor_c):
        texts = TEXTS.finding("cold", degrees=work.temperature_c, glue=glue.name, floor=glue.floor_c)
        if others := ", ".join(other.name for other in corner_glues() if other.floor_c <= work.temperature_c):
            texts["fix"] += TEXTS("cold.glues", glues=others)
        warmer = _set("shop", temperature=glue.floor_c)
        if work.spec.pace.wood_c is not None:
            warmer = _set("glueup", wood_temperature=glue.floor_c)
        yield breach.finding(place, **texts, changes=warmer)


def _set(table: str, **values: object) -> tuple[Change, ...]:
    """Keys to set in a table that is there only once."""
    return changes_of(table, table, values)


def _closing_changes(work: Work, chains: Sequence[Assembly]) -> tuple[Change, ...]:
    """The maker's stages with the corners of a box shared out so that they close; none where it takes more than that."""
    corners = {joint.name for joint in work.joints}
    wished = {one.name: one for one in work.spec.stages if set(one.joins) & corners}
    names = [stage.name for stage in plan_stages(chains, work.dividers, work.spec) if stage.name in wished]
    free = plan_stages(chains, work.dividers, replace(work.spec, stages=()))
    groups = free[0].groups if free and {joint.name for joint in free[0].corners} == corners else None
    if groups is None or len(names) > len(groups):
        return ()

    def joins(name: str, group: Iterable[str]) -> list[str]:
        return [*group, *(other for other in wished[name].joins if other not in corners)]

    return tuple(
        Change(table="stage", name=name, key="joins", value=joins(name, (joint.name for joint in group)))
        for name, group in zip(names, groups, strict=False)
    )


def _too_long(work: Work, chains: Sequence[Assembly], row: TimedStage, breach: Breach, *, search: bool) -> Finding:
    assert work.glue is not None
    assert row.open_minutes is not None
    options = _options(work, chains, row, breach.level) if search else []
    labour = {"faces": row.labour.faces, "seats": row.labour.seats, "clamps": row.labour.clamps}
    glue = {"glue": work.glue.name, "open": minutes_words(row.open_minutes), "degrees": work.degrees_c}
    hands = people(work.shop.hands)
    message = TEXTS("too_long.message", minutes=row.minutes, people=hands, **labour, **glue)
    none = TEXTS("too_long.nothing") if search else TEXTS("too_long.not_searched", most=MOST_SEARCHED)
    fix = "; or ".join(option.words for option in options) or none
    changes = options[0].changes if options else ()
    return breach.finding(Place(kind="stage", name=row.name), message, fix=fix, changes=changes)


def _options(work: Work, chains: Sequence[Assembly], row: TimedStage, level: Level) -> list[_Option]:
    """What gets this stage out of the level it is at: smaller stages, a slower glue, more hands; else two of these."""
    target = Level.NOTE if level.rank > Level.NOTE.rank else Level.OK

    def fits(option: _Option) -> bool:
        try:
            stages = [stage for stage in timed_stages(option.work, chains) if stage.name in option.stages]
        except LayoutError:  # the order of the smaller stages goes round in a circle
            return False
        breaches = [breach_of(stage) for stage in stages]
        quick = all(breach is None or breach.level.rank <= target.rank for breach in breaches)
        return quick and bool(stages) and all(stage.stage.groups is not None for stage in stages)

    glues = [_glued(work, glue, row.name) for glue in _slower(work)]
    helpers = [_helped(work, hands, row.name) for hands in range(work.shop.hands + 1, MOST_HANDS + 1)]
    found = list(itertools.islice(filter(fits, _split(work, row)), 1))
    if slower := list(filter(fits, glues)):
        named = TEXTS("too_long.glues", glues=", ".join(option.words for option in slower[:MOST_GLUES]))
        found.append(replace(slower[0], words=named))
    found += list(itertools.islice(filter(fits, helpers), 1))
    for others in () if found else (glues, helpers):
        both = (option.together_with(other) for other in others for option in filter(fits, _split(other.work, row)))
        found += itertools.islice(both, 1)
    return found


def _helped(work: Work, hands: int, stage: str) -> _Option:
    words = TEXTS("too_long.people", people=people(hands))
    return _Option(words=words, changes=_set("shop", hands=hands), work=work.varied(hands=hands), stages=(stage,))


def _slower(work: Work) -> list[Glue]:
    """Glues that the wood is warm enough for, the quickest first."""
    rows = (glue for glue in corner_glues() if glue.floor_c <= work.degrees_c and glue != work.glue)
    return sorted(rows, key=lambda glue: glue.open_minutes)


def _glued(work: Work, glue: Glue, stage: str) -> _Option:
    changes = _set("shop", glue=glue.id)
    if work.spec.pace.open_minutes is not None:
        # a figure from the old label would be kept: the new bottle's cautious one takes its place
        changes += _set("glueup", open_minutes=glue.open_minutes[0])
    spec = replace(work.spec, pace=replace(work.spec.pace, open_minutes=None))
    other = work.varied(glue=glue, spec=spec)
    opened = "" if other.open_minutes is None else f" ({other.open_minutes[0]:.0f} min)"
    return _Option(words=f"{glue.name}{opened}", changes=changes, work=other, stages=(stage,))


def _split(work: Work, row: TimedStage) -> Iterator[_Option]:
    """The stage's corners in two goes or more, by tail boards where that will do."""
    if row.stage.groups is None or len(row.stage.corners) < 2:
        return
    for groups in smaller_groups(row.stage.groups):
        parts = _parts(work, row.stage, groups)
        others = tuple(one for one in work.spec.stages if one.name != row.name)
        goes = {2: "two", 3: "three", 4: "four"}.get(len(parts), str(len(parts)))
        yield _Option(
            words=TEXTS("too_long.stages", goes=goes, groups=", then ".join(", ".join(part.joins) for part in parts)),
            changes=tuple(change for part in parts for change in _row(part)),
            work=work.varied(spec=replace(work.spec, stages=(*others, *parts))),
            stages={part.name for part in parts},
        )


def _parts(work: Work, stage: Stage, groups: Sequence[Sequence[str]]) -> list[StageSpec]:
    """One stage in several, one after the other; what isn't a corner stays with the last of them."""
    own = next((one for one in work.spec.stages if one.name == stage.name), None)
    rest = tuple(name for name in stage.joins if name not in {joint.name for joint in stage.corners})
    used_names = {stage.name for stage in work.spec.stages}
    parts: list[StageSpec] = []
    for number, group in enumerate(groups, 1):
        wished = own if number == len(groups) else None
        name = stage.name if wished else f"{stage.name[:50]} {number}"
        while not wished and name in used_names:
            name += "+"
        used_names.add(name)
        before = wished.before if wished else ()
        after = (parts[-1].name,) if parts else own.after if own else ()
        parts.append(StageSpec(name=name, joins=(*group, *(rest if wished else ())), before=before, after=after))
    return parts


def _row(stage: StageSpec) -> tuple[Change, ...]:
    """A stage as a row of [[stage]]; a stage that the job does not have is added."""
    values = {"joins": list(stage.joins), "before": list(stage.before), "after": list(stage.after)}
    return changes_of("stage", stage.name, {key: names for key, names in values.items() if names})
