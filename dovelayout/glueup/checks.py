"""Whether each stage fits the open time of the glue in wood that warm, and what would."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.assembly import Assembly, hosts_in
from dovelayout.casework.wishes import GlueUpWishes, StageWish
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level, not_checked
from dovelayout.checks.rule import Rule
from dovelayout.errors import LayoutError
from dovelayout.glueup.closing import smaller_goes
from dovelayout.glueup.order import Stage, plan_stages
from dovelayout.glueup.timing import TABLE_C
from dovelayout.glueup.work import TimedStage, Work, timed_stages
from dovelayout.place import Place
from dovelayout.wood.glue import Glue, corner_glues

CHECK_OPEN = "open-time"
CHECK_COLD = "cold-wood"
CHECK_CLOSING = "closing-order"

MOST_HANDS = 4
"""More people than this stand in each other's way; ours."""

_TIMES = f"open times and the 10 degrees rule: {COMMON_PRACTICE}; limits: {OURS}"

CAUTIOUS = Rule(
    check=CHECK_OPEN,
    measures="minutes of a stage as a share of the glue's open time, its cautious figure",
    unit="of the open time",
    note=0.6,
    warn=0.8,
    below=False,
    source=_TIMES,
)
HOPEFUL = Rule(
    check=CHECK_OPEN,
    measures="minutes of a stage as a share of the longest open time that any label gives",
    unit="of the longest open time",
    stop=1.0,
    below=False,
    source=_TIMES,
)
COLD = Rule(
    check=CHECK_COLD,
    measures="temperature of the wood above the least that the glue needs",
    unit="°C",
    stop=0.0,
    source=f"{COMMON_PRACTICE}; the bottle's label comes first",
)
RULES = (CAUTIOUS, HOPEFUL, COLD)

MOST_SEARCHED = 8
"""Stages of one job that ways out are searched for, which takes hundreds of plans each; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """One way out: in words, and as keys of the job."""

    words: str
    changes: tuple[Change, ...]


def level_of(row: TimedStage) -> tuple[Level, float, float | None, Rule]:
    """How loud a stage's minutes are: level, share used, limit crossed, and the rule that speaks."""
    if row.open_minutes is None:
        return Level.OK, 0.0, None, CAUTIOUS
    cautious, hopeful = row.open_minutes
    level, limit = HOPEFUL.judge(row.minutes / hopeful)
    if level is not Level.OK:
        return level, row.minutes / hopeful, limit, HOPEFUL
    level, limit = CAUTIOUS.judge(row.minutes / cautious)
    return level, row.minutes / cautious, limit, CAUTIOUS


def time_findings(work: Work, chains: Sequence[Assembly], stages: Sequence[TimedStage]) -> Iterator[Finding]:
    """Cold wood, stages that can't close, stages that take too long; and what could not be checked."""
    yield from _cold(work)
    searched = 0
    for row in stages:
        if row.stage.groups is None:
            yield _cannot_close(work, chains, row)
        loud = level_of(row)[0] is not Level.OK
        yield from _too_long(*_local(work, chains, row), row, looked_for=searched < MOST_SEARCHED)
        searched += loud


def _local(work: Work, chains: Sequence[Assembly], row: TimedStage) -> tuple[Work, tuple[Assembly, ...]]:
    """The part of the work that one stage belongs to: what is tried for it is tried there alone."""
    names = set(row.stage.joins)
    near = tuple(
        chain
        for chain in chains
        if names & {joint.name for joint in chain.corners}
        or any(hosts_in(divider, chain) for divider in row.stage.dividers)
    )
    joints = tuple(joint for chain in near for joint in chain.corners)
    dividers = tuple(
        divider
        for divider in work.dividers
        if divider in row.stage.dividers or any(hosts_in(divider, chain) for chain in near)
    )
    corners = {joint.name for joint in joints}
    captured = tuple(part for part in work.wishes.captured if corners & set(part.held_by))
    units = corners | {divider.name for divider in dividers} | {part.name for part in captured}
    kept = {wish.name for wish in work.wishes.stages if units & set(wish.joins)}
    stages = tuple(
        replace(
            wish,
            joins=tuple(name for name in wish.joins if name in units),
            before=tuple(name for name in wish.before if name in kept),
            after=tuple(name for name in wish.after if name in kept),
        )
        for wish in work.wishes.stages
        if wish.name in kept
    )
    wishes = replace(work.wishes, stages=stages, captured=captured)
    return replace(work, joints=joints, dividers=dividers, wishes=wishes), near


def _cold(work: Work) -> Iterator[Finding]:
    if work.glue is None:
        yield not_checked(
            CHECK_OPEN, Place(kind="all stages"), "the job names no glue", 'glue = "pva" in [shop], or another'
        )
        return
    if work.temperature_c is None:
        yield not_checked(
            CHECK_COLD,
            Place(kind="all stages"),
            f"the wood's temperature isn't given; open times are taken at {TABLE_C:g} °C",
            "temperature = 20 in [shop], or wood_temperature in [glueup] where the boards come in from the cold",
        )
        return
    above = work.temperature_c - work.glue.floor_c
    level, limit = COLD.judge(above)
    if level is Level.OK:
        return
    given_for_wood = work.wishes.pace.wood_c is not None
    table, key = ("glueup", "wood_temperature") if given_for_wood else ("shop", "temperature")
    others = [glue.name for glue in corner_glues() if glue.floor_c <= work.temperature_c]
    instead = f"; or a glue that sets in the cold: {', '.join(others)}" if others else ""
    yield Finding(
        check=CHECK_COLD,
        level=level,
        place=Place(kind="all stages"),
        measured=round(above, 2),
        limit=limit,
        unit=COLD.unit,
        message=f"the wood is at {work.temperature_c:g} °C and {work.glue.name} needs {work.glue.floor_c:g} °C: it chalks, "
        "a white dry line without strength. It is the wood that counts, not the air alone",
        fix=f"boards, glue and room warmed to {work.glue.floor_c:g} °C and kept so until the clamps are off{instead}",
        source=COLD.source,
        changes=changes_of(table, table, {key: work.glue.floor_c}),
    )


def _cannot_close(work: Work, chains: Sequence[Assembly], row: TimedStage) -> Finding:
    return Finding(
        check=CHECK_CLOSING,
        level=Level.STOP,
        place=Place(kind="stage", name=row.name),
        message=f"{', '.join(row.stage.joins)} can't close so: each tail board has to move straight on to its pins, and what "
        "is glued before keeps it from that. A pin board can't go in between two sides that are fixed",
        fix="stages by tail boards: one board with tails and both its corners first, then the board across; "
        "a divider on sliding dovetails between two such boards after both, from the back",
        source="geometry of the joint",
        changes=_closing_changes(work, chains),
    )


def _closing_changes(work: Work, chains: Sequence[Assembly]) -> tuple[Change, ...]:
    """The maker's stages with the corners of a box shared out so that they close; none where it takes more than that."""
    corners = {joint.name for joint in work.joints}
    wished = {wish.name: wish for wish in work.wishes.stages if set(wish.joins) & corners}
    names = [stage.name for stage in plan_stages(chains, work.dividers, work.wishes) if stage.name in wished]
    free = plan_stages(chains, work.dividers, replace(work.wishes, stages=()))
    groups = free[0].groups if free and {joint.name for joint in free[0].corners} == corners else None
    if groups is None or len(names) > len(groups):
        return ()
    return tuple(
        Change(
            table="stage",
            name=name,
            key="joins",
            value=[
                *(joint.name for joint in group),
                *(other for other in wished[name].joins if other not in corners),
            ],
        )
        for name, group in zip(names, groups, strict=False)
    )


def _too_long(work: Work, chains: Sequence[Assembly], row: TimedStage, *, looked_for: bool) -> Iterator[Finding]:
    level, share, limit, rule = level_of(row)
    if level is Level.OK or row.open_minutes is None or work.glue is None:
        return
    cautious, hopeful = row.open_minutes
    ways = list(_ways(work, chains, row, level)) if looked_for else []
    none = (
        "no other stages, glue or number of people that fits: rehearse until it goes faster, or a joint with fewer faces"
        if looked_for
        else f"not looked for, because {MOST_SEARCHED} stages before it take too long as well: what helps them will help it"
    )
    degrees = TABLE_C if work.temperature_c is None else work.temperature_c
    range_ = f"{cautious:.1f} min" if hopeful == cautious else f"{cautious:.1f} to {hopeful:.1f} min"
    yield Finding(
        check=CHECK_OPEN,
        level=level,
        place=Place(kind="stage", name=row.name),
        measured=round(share, 4),
        limit=limit,
        unit=rule.unit,
        message=f"{row.labour.faces} faces to spread, {row.labour.seats} things to seat and {row.labour.clamps} clamps take "
        f"{row.minutes:.1f} min with {_people(work.shop.hands)}; {work.glue.name} stays open {range_} in wood of "
        f"{degrees:g} °C. The label on the bottle comes first",
        fix="; or ".join(way.words for way in ways) or none,
        source=rule.source,
        changes=next((way.changes for way in ways if way.changes), ()),
    )


def _people(hands: int) -> str:
    return "one person" if hands == 1 else f"{hands} people"


def _ways(work: Work, chains: Sequence[Assembly], row: TimedStage, level: Level) -> Iterator[_Way]:
    """What gets this stage out of the level it is at: smaller stages, a slower glue, more hands; else two of these."""
    target = Level.NOTE if level.rank > Level.NOTE.rank else Level.OK

    def fits(other: Work, names: Callable[[str], bool]) -> bool:
        rows = [stage for stage in timed_stages(other, chains) if names(stage.name)]
        return bool(rows) and all(
            stage.stage.groups is not None and level_of(stage)[0].rank <= target.rank for stage in rows
        )

    def same(name: str) -> bool:
        return name == row.name

    staged = list(itertools.islice(_staged(work, row, fits), 1))
    slower = [_glued(work, glue) for glue in _slower(work) if fits(_with_glue(work, glue), same)]
    helped = [_helped(hands) for hands in _more(work) if fits(work.varied(hands=hands), same)]
    found = [*staged, *_listed(slower), *helped[:1]]
    if found:
        yield from found
        return
    slow = (
        _both(way, _glued(work, glue)) for glue in _slower(work) for way in _staged(_with_glue(work, glue), row, fits)
    )
    many = (_both(way, _helped(hands)) for hands in _more(work) for way in _staged(work.varied(hands=hands), row, fits))
    yield from itertools.chain(itertools.islice(slow, 1), itertools.islice(many, 1))


def _both(way: _Way, other: _Way) -> _Way:
    """Two ways at once."""
    return _Way(words=f"{way.words}, with {other.words}", changes=(*way.changes, *other.changes))


def _listed(slower: Sequence[_Way]) -> Iterator[_Way]:
    """Up to three glues as one way; the keys are those of the first."""
    if slower:
        words = ", ".join(way.words for way in slower[:3])
        yield _Way(words=f"a slower glue: {words}", changes=slower[0].changes)


def _more(work: Work) -> range:
    return range(work.shop.hands + 1, MOST_HANDS + 1)


def _helped(hands: int) -> _Way:
    return _Way(words=f"{_people(hands)} spreading", changes=changes_of("shop", "shop", {"hands": hands}))


def _slower(work: Work) -> list[Glue]:
    """Glues that the wood is warm enough for, the quickest first."""
    degrees = TABLE_C if work.temperature_c is None else work.temperature_c
    rows = [glue for glue in corner_glues() if glue.floor_c <= degrees and glue != work.glue]
    return sorted(rows, key=lambda glue: glue.open_minutes)


def _with_glue(work: Work, glue: Glue) -> Work:
    """The label's open time is that of the other bottle: it goes with it."""
    pace = replace(work.wishes.pace, open_minutes=None)
    return work.varied(glue=glue, wishes=replace(work.wishes, pace=pace))


def _glued(work: Work, glue: Glue) -> _Way:
    minutes = _with_glue(work, glue).open_minutes
    opened = "" if minutes is None else f" ({minutes[0]:.0f} min)"
    changes = changes_of("shop", "shop", {"glue": glue.id})
    if work.wishes.pace.open_minutes is not None:
        # a figure from the old label would be kept: the new bottle's cautious one takes its place
        changes += changes_of("glueup", "glueup", {"open_minutes": glue.open_minutes[0]})
    return _Way(words=f"{glue.name}{opened}", changes=changes)


def _staged(work: Work, row: TimedStage, fits: Callable[[Work, Callable[[str], bool]], bool]) -> Iterator[_Way]:
    """The stage's corners in two goes or more, by tail boards where that will do."""
    if row.stage.groups is None or len(row.stage.corners) < 2:
        return
    for groups in smaller_goes(row.stage.groups):
        wishes = _split(work.wishes, row.stage, groups)
        names = [wish.name for wish in wishes.stages if wish not in work.wishes.stages]
        try:
            good = fits(work.varied(wishes=wishes), lambda name, names=names: name in names)  # type: ignore[misc]
        except LayoutError:
            continue
        if good:
            yield _Way(words=_split_words(wishes, names), changes=_split_changes(wishes, names))


def _split(wishes: GlueUpWishes, stage: Stage, groups: Sequence[Sequence[str]]) -> GlueUpWishes:
    """The wishes with one stage in several, one after the other; what isn't a corner stays with the last of them."""
    corners = {joint.name for joint in stage.corners}
    own = next((wish for wish in wishes.stages if wish.name == stage.name), None)
    rest = tuple(name for name in stage.joins if name not in corners)
    parts: list[StageWish] = []
    taken = {wish.name for wish in wishes.stages}
    for number, group in enumerate(groups, 1):
        last = number == len(groups)
        name = stage.name if own is not None and last else _free_name(stage.name, number, taken)
        taken.add(name)
        parts.append(
            StageWish(
                name=name,
                joins=(*group, *(rest if last and own is not None else ())),
                before=own.before if own is not None and last else (),
                after=(parts[-1].name,) if parts else (() if own is None else own.after),
            )
        )
    others = tuple(wish for wish in wishes.stages if wish is not own)
    return replace(wishes, stages=(*others, *parts))


def _free_name(name: str, number: int, taken: set[str]) -> str:
    words = f"{name[:50]} {number}"
    while words in taken:
        words += "+"
    return words


def _split_words(wishes: GlueUpWishes, names: Sequence[str]) -> str:
    rows = [f"{', '.join(wish.joins)}" for wish in wishes.stages if wish.name in names]
    goes = {2: "two", 3: "three", 4: "four"}.get(len(rows), str(len(rows)))
    return f"{goes} goes, each set before the next: {', then '.join(rows)}"


def _split_changes(wishes: GlueUpWishes, names: Sequence[str]) -> tuple[Change, ...]:
    """Rows of [[stage]]; those that aren't there yet are new."""
    return tuple(
        Change(table="stage", name=wish.name, key=key, value=list(joined))
        for wish in wishes.stages
        if wish.name in names
        for key, joined in (("joins", wish.joins), ("before", wish.before), ("after", wish.after))
        if joined or key == "joins"
    )
