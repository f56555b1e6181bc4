"""The steps of a glue-up, one after the other, from a graph of what must come before what."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.casework.glue_up_spec import Reach
from dovelayout.glueup.order import Stage, ordered
from dovelayout.joints.board import BoardEnd
from dovelayout.joints.corner import CornerJoint
from dovelayout.texts import Texts

TEXTS = Texts("glueup", "steps")


class StepKind(StrEnum):
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

    kind: StepKind
    names: tuple[str, ...]
    stage: str
    words: str


class _Steps:
    """Steps and what they wait for."""

    def __init__(self) -> None:
        self.steps: list[Step] = []
        self.before: dict[tuple[Step, Step], str] = {}

    def add(self, kind: StepKind, stage: Stage, names: tuple[str, ...], words: str) -> Step:
        self.steps.append(Step(kind=kind, names=names, stage=stage.name, words=words))
        return self.steps[-1]

    def part(self, kind: StepKind, stage: Stage, name: str, text: str, **filled: object) -> Step:
        return self.add(kind, stage, (name,), TEXTS(f"step.{text}", part=name, **filled))

    def chain(self, *steps: Step) -> None:
        self.before.update(dict.fromkeys(itertools.pairwise(steps), "in this order"))

    def first(self, earlier: Sequence[Step], later: Sequence[Step]) -> None:
        self.before.update(dict.fromkeys(itertools.product(earlier, later), "it comes first"))


def plan_steps(stages: Sequence[Stage]) -> tuple[Step, ...]:
    """Every step of these stages. Raises LayoutError where they go round in a circle."""
    rows = _Steps()
    finished = {
        part.name: rows.part(StepKind.FINISH, stage, part.name, "finish")
        for stage in stages
        for part in stage.captured
        if part.finish_first
    }
    earlier: list[Step] = []
    for stage in stages:
        here = len(rows.steps)
        _stage_steps(rows, stage, finished)
        own = rows.steps[here:]
        rows.first(earlier, own)
        earlier = own or earlier
    rows.first(earlier, [*_planed_flush(rows, stages)])
    return ordered(rows.steps, rows.before)


def _stage_steps(rows: _Steps, stage: Stage, finished: dict[str, Step]) -> None:
    groups = [group for group in ((stage.corners,) if stage.groups is None else stage.groups) if group]
    shut = [_corners_step(rows, stage, group) for group in groups]
    rows.chain(*shut)
    for part in stage.captured:
        held = [[joint.name for joint in group if joint.name in part.held_by] for group in groups]
        # held by a later stage: as soon as anything stands here
        last = max((number for number, names in enumerate(held) if names), default=len(groups))
        before = {"corners": _corners(held[last])} if last < len(groups) else {}
        own = [rows.part(StepKind.CAPTURED, stage, part.name, "captured_before" if before else "captured", **before)]
        if part.reach is Reach.INSIDE:
            own.append(rows.part(StepKind.INSIDE, stage, part.name, "inside"))
        if part.name in finished:
            rows.chain(finished[part.name], own[0])
        rows.chain(*shut[max(0, last - 1) : last], *own, *shut[last : last + 1])
    for divider in stage.dividers:
        zone = divider.joint.spec.glue_zone_mm
        text = "divider" if zone is None else "divider_zone"
        filled: dict[str, object] = {} if zone is None else {"zone": zone}
        shut_in = divider.name in stage.shut_in
        if shut_in:
            text, filled = f"{text}_before", filled | {"corners": _corners(sorted(shut[-1].names))}
        step = rows.part(StepKind.DIVIDER, stage, divider.name, text, **filled)
        rows.chain(*(*shut[-2:-1], step, shut[-1]) if shut_in else (*shut[-1:], step))


def _corners_step(rows: _Steps, stage: Stage, group: Sequence[CornerJoint]) -> Step:
    names = tuple(joint.name for joint in group)
    tails, pins = _boards(joint.spec.tails for joint in group), _boards(joint.spec.pins for joint in group)
    words = TEXTS("step.corners", corners=_corners(names), tails=tails, pins=pins)
    return rows.add(StepKind.CORNERS, stage, names, words)


def _corners(names: Sequence[str]) -> str:
    return f"corner{'s' if len(names) > 1 else ''} {', '.join(names)}"


def _boards(ends: Iterator[BoardEnd]) -> str:
    """'side (left) and side (right)'."""
    names = (f"{end.board.name} ({end.instance})" if end.instance else end.board.name for end in ends)
    return " and ".join(dict.fromkeys(names))


def _planed_flush(rows: _Steps, stages: Sequence[Stage]) -> Iterator[Step]:
    """What waits until the glue has set."""
    for stage in stages:
        for part in stage.captured:
            if part.left_long:
                yield rows.part(StepKind.FLUSH, stage, part.name, "left_long")
    corners = [joint for stage in stages for joint in stage.corners]
    proud = tuple(joint.name for joint in corners if joint.spec.proud_pins_mm > 0 or joint.spec.proud_tails_mm > 0)
    lids = tuple(joint.name for joint in corners if joint.saw_line_mm is not None)
    last = [
        rows.add(StepKind.FLUSH, stages[-1], names, TEXTS(f"step.{text}", corners=_corners(names)))
        for text, names in (("proud", proud), ("lid", lids))
        if names
    ]
    rows.chain(*last)
    yield from last
