"""The steps of a glue-up, one after the other, from a graph of what must come before what."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.casework.wishes import Captured, Reach
from dovelayout.glueup.order import Stage, ordered
from dovelayout.joints.corner import CornerJoint


class Kind(StrEnum):
    """What a step is."""

    FINISH = "finish"
    CORNERS = "corners"
    CAPTURED = "captured"
    INSIDE = "inside"
    DIVIDER = "divider"
    FLUSH = "flush"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step: of which stage, which parts of the job it names, and what to do."""

    kind: Kind
    names: tuple[str, ...]
    stage: str
    words: str


class _Steps:
    """Steps and what they wait for, by the words of the step."""

    def __init__(self) -> None:
        self.steps: dict[str, Step] = {}
        self.before: dict[tuple[str, str], str] = {}

    def add(self, kind: Kind, names: tuple[str, ...], stage: Stage, words: str) -> str:
        self.steps[words] = Step(kind=kind, names=names, stage=stage.name, words=words)
        return words

    def chain(self, keys: Sequence[str]) -> None:
        self.before.update(dict.fromkeys(itertools.pairwise(keys), "in this order"))

    def first(self, earlier: Sequence[str], later: Sequence[str]) -> None:
        self.before.update(dict.fromkeys(itertools.product(earlier, later), "it comes first"))


def plan_steps(stages: Sequence[Stage]) -> tuple[Step, ...]:
    """Every step of these stages. Raises LayoutError where they go round in a circle."""
    rows = _Steps()
    finished = {
        part.name: rows.add(
            Kind.FINISH,
            (part.name,),
            stage,
            f"finish {part.name} first, its glue faces masked; it can't be reached later",
        )
        for stage in stages
        for part in stage.captured
        if part.finish_first
    }
    earlier: list[str] = []
    for stage in stages:
        here = len(rows.steps)
        _stage_steps(rows, stage, finished)
        own = list(rows.steps)[here:]
        rows.first(earlier, own)
        earlier = own or earlier
    after = [*_planed_flush(rows, stages)]
    rows.first(earlier, after)
    return tuple(rows.steps[key] for key in ordered(list(rows.steps), rows.before))


def _stage_steps(rows: _Steps, stage: Stage, finished: dict[str, str]) -> None:
    groups = (stage.corners,) if stage.groups is None else stage.groups
    shut = [_corners_step(rows, stage, group) for group in groups if group]
    rows.chain(shut)
    places = [{joint.name for joint in group} for group in groups if group]
    for part in stage.captured:
        holding = [index for index, names in enumerate(places) if names & set(part.held_by)]
        last = holding[-1] if holding else len(shut)  # held by a later stage: as soon as anything stands here
        keys = _captured_steps(rows, stage, part, "" if last >= len(shut) else ", ".join(_held(part, groups[last])))
        if part.name in finished:
            rows.chain([finished[part.name], keys[0]])
        rows.chain([*shut[max(0, last - 1) : last], *keys, *shut[last : last + 1]])
    for divider in stage.dividers:
        zone = divider.joint.spec.glue_zone_mm
        glue = "glue all along its tongue" if zone is None else f"glue on the front {zone:g} mm of its tongue"
        if divider.name in stage.shut_in:
            words = (
                f"slide {divider.name} in from the back, {glue}: before corners {', '.join(sorted(places[-1]))} close"
            )
            rows.chain([*shut[-2:-1], rows.add(Kind.DIVIDER, (divider.name,), stage, words), shut[-1]])
        else:
            words = f"slide {divider.name} in from the back, {glue}"
            rows.chain([*shut[-1:], rows.add(Kind.DIVIDER, (divider.name,), stage, words)])


def _held(part: Captured, group: Sequence[CornerJoint]) -> list[str]:
    return [joint.name for joint in group if joint.name in part.held_by]


def _corners_step(rows: _Steps, stage: Stage, group: Sequence[CornerJoint]) -> str:
    names = tuple(joint.name for joint in group)
    tails = dict.fromkeys(_board(joint.spec.tails.board.name, joint.spec.tails.instance) for joint in group)
    pins = dict.fromkeys(_board(joint.spec.pins.board.name, joint.spec.pins.instance) for joint in group)
    return rows.add(
        Kind.CORNERS,
        names,
        stage,
        f"close {_corners(names)}: {' and '.join(tails)} on to the pins of {' and '.join(pins)}",
    )


def _corners(names: Sequence[str]) -> str:
    return f"corner{'s' if len(names) > 1 else ''} {', '.join(names)}"


def _board(name: str, instance: str) -> str:
    return f"{name} ({instance})" if instance else name


def _captured_steps(rows: _Steps, stage: Stage, part: Captured, corners: str) -> list[str]:
    shut = f": nothing gets past corner{'s' if ',' in corners else ''} {corners} afterwards" if corners else ""
    keys = [rows.add(Kind.CAPTURED, (part.name,), stage, f"put {part.name} in{shut}")]
    if part.reach is Reach.INSIDE:
        words = f"fix {part.name} from inside, while a hand still reaches it"
        keys.append(rows.add(Kind.INSIDE, (part.name,), stage, words))
    return keys


def _planed_flush(rows: _Steps, stages: Sequence[Stage]) -> list[str]:
    """What waits until the glue has set."""
    keys = []
    for stage in stages:
        for part in stage.captured:
            if part.left_long:
                words = f"when the glue has set: saw and plane {part.name}, left long, flush"
                keys.append(rows.add(Kind.FLUSH, (part.name,), stage, words))
    corners = [joint for stage in stages for joint in stage.corners]
    proud = tuple(joint.name for joint in corners if joint.spec.proud_pins_mm > 0 or joint.spec.proud_tails_mm > 0)
    if proud:
        words = f"when the glue has set: plane the proud ends of {_corners(proud)} flush"
        keys.append(rows.add(Kind.FLUSH, proud, stages[-1], words))
    lids = tuple(joint.name for joint in corners if joint.saw_line_mm is not None)
    if lids:
        words = f"last of all saw the lid off through {_corners(lids)}"
        keys.append(rows.add(Kind.FLUSH, lids, stages[-1], words))
    rows.chain(keys[-2:] if lids and proud else [])
    return keys
