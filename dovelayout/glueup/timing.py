"""Faces, glue and minutes: what there is to spread, how long the glue lets one, and what that makes of each stage.

A face is one cheek, brushed once. Open times are those of the glue table or of the bottle's label at 21 degrees C; they
halve for every 10 degrees above and double below (common practice, no source), by the temperature of the wood.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from dovelayout.casework.assembly import Assembly
from dovelayout.casework.divider import Divider
from dovelayout.casework.glue_up_spec import GlueUpSpec, Pace
from dovelayout.glueup.order import Stage, plan_stages
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import Sloped
from dovelayout.shop import Shop
from dovelayout.wood.glue import Glue

TABLE_C = 21.0
"""Wood so warm has the open times of the table or the label (common practice, no source: 21 degrees C, 70 degrees F)."""
HALVING_C = 10.0
"""So many degrees warmer halve an open time, so many colder double it (common practice, no source)."""
CLAMP_PITCH_MM = 125.0
"""One clamp so far from the next across a joint (common practice, no source: 100 to 150 mm)."""
ONE_CLAMP_MM = 76.0
"""A joint wider than this takes two clamps, drawn up alternately (common practice, no source: 3 in)."""


def open_minutes(glue: Glue, pace: Pace, temperature_c: float | None) -> tuple[float, float]:
    """(Cautious, hopeful) open time in minutes in wood of that temperature (None: taken as 21 degrees C). Both are the
    label's own figure where the job gives it."""
    low, high = glue.open_minutes if pace.open_minutes is None else (pace.open_minutes, pace.open_minutes)
    factor = 2.0 ** ((TABLE_C - (TABLE_C if temperature_c is None else temperature_c)) / HALVING_C)
    return low * factor, high * factor


def minutes_words(minutes: tuple[float, float]) -> str:
    """'5.0 to 10.0 min', or one figure where both are the same."""
    low, high = minutes
    return f"{low:.1f} min" if low == high else f"{low:.1f} to {high:.1f} min"


def people(hands: int) -> str:
    """'one person', '2 people'."""
    return "one person" if hands == 1 else f"{hands} people"


def corner_faces(joint: CornerJoint) -> int:
    """Cheeks of a corner that take glue: two for each pin between tails, one for a half pin, one for a mitre."""
    return sum(1 if pin.half else 2 for pin in joint.pins) + len(joint.mitres)


def corner_area_mm2(joint: CornerJoint) -> float:
    """Area of its cheeks, one side: each as long as the tail is deep, along the slope, and as wide as the tail board is
    thick; a mitre along its own slant."""
    cheeks, thick_mm = corner_faces(joint) - len(joint.mitres), joint.tail_board.thickness_mm
    cheek_mm, slant_mm = math.hypot(joint.depth_mm, joint.flare_mm), math.hypot(joint.depth_mm, thick_mm)
    return cheeks * cheek_mm * thick_mm + math.fsum(mitre.width_mm * slant_mm for mitre in joint.mitres)


def divider_faces(divider: Divider) -> int:
    """Cheeks of a divider's housings that take glue."""
    return 2 * len(divider.joints)


def divider_area_mm2(divider: Divider) -> float:
    """Area of its tongues' cheeks over the glue zone, one side: sloped ones along their slope."""
    joint = divider.joint
    sloped_mm = math.hypot(joint.tongue_mm, joint.slope.flare_mm(joint.tongue_mm))
    sides_mm = 2 * sloped_mm if joint.spec.sloped is Sloped.BOTH else sloped_mm + joint.tongue_mm
    return len(divider.joints) * sides_mm * divider.glue_zone_mm


def clamps_across(joint: CornerJoint) -> int:
    """Clamps on one corner's tails; a clamp from end to end of the pin board serves the corner opposite as well."""
    least = 2 if joint.covers.width_mm > ONE_CLAMP_MM else 1
    return max(least, math.ceil(joint.covers.width_mm / CLAMP_PITCH_MM - 1e-9))


def clamps_for(joints: Sequence[CornerJoint]) -> int:
    """Clamps for corners that are closed in one go: those at both ends of a pin board share theirs."""
    rows: dict[tuple[str, str], int] = {}
    for joint in joints:
        seat = (joint.pin_board.name, joint.spec.pins.instance)
        rows[seat] = max(rows.get(seat, 0), clamps_across(joint))
    return sum(rows.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """What one go asks of the hands."""

    faces: int = 0
    area_mm2: float = 0.0
    seats: int = 0
    clamps: int = 0

    def spread_minutes(self, pace: Pace, hands: int) -> float:
        """To brush the glue on."""
        return self.faces * pace.seconds_a_face / hands / 60

    def minutes(self, pace: Pace, hands: int) -> float:
        """From the first brush stroke until the last clamp is set; more hands only spread faster."""
        shut = self.seats * pace.seconds_a_corner + self.clamps * pace.seconds_a_clamp
        return self.spread_minutes(pace, hands) + shut / 60

    def glue_g(self, glue: Glue) -> float:
        """Grams of glue on the wood, without what stays in brush and pot."""
        return self.area_mm2 * glue.spread_g_m2 / 1e6


def labour(corners: Sequence[CornerJoint], dividers: Sequence[Divider], captured_faces: Iterable[int]) -> Labour:
    """What there is to do to glue these in one go; a captured part is one more thing to seat."""
    loose = tuple(captured_faces)
    housings = sum(len(divider.joints) for divider in dividers)
    return Labour(
        faces=sum(map(corner_faces, corners)) + sum(map(divider_faces, dividers)) + sum(loose),
        area_mm2=math.fsum(map(corner_area_mm2, corners)) + math.fsum(map(divider_area_mm2, dividers)),
        seats=len(corners) + housings + len(loose),
        clamps=clamps_for(corners) + len(dividers),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What is glued in a job, and by whom: all that a plan is made from."""

    joints: tuple[CornerJoint, ...]
    dividers: tuple[Divider, ...]
    spec: GlueUpSpec
    shop: Shop

    @property
    def glue(self) -> Glue | None:
        """The shop's glue; None: the job names none."""
        return self.shop.glue

    @property
    def temperature_c(self) -> float | None:
        """The temperature of the wood: as it was measured, or the shop's; None where neither is known."""
        return self.shop.temperature_c if self.spec.pace.wood_c is None else self.spec.pace.wood_c

    @property
    def degrees_c(self) -> float:
        """The same, with what open times are taken at where it isn't known."""
        return TABLE_C if self.temperature_c is None else self.temperature_c

    @property
    def open_minutes(self) -> tuple[float, float] | None:
        """(Cautious, hopeful) open time in that wood; None without a glue."""
        return None if self.glue is None else open_minutes(self.glue, self.spec.pace, self.temperature_c)

    def varied(self, spec: GlueUpSpec | None = None, **shop: Any) -> Work:
        """The same work with other stages, more hands or another glue."""
        return replace(self, shop=replace(self.shop, **shop), spec=spec or self.spec)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedStage:
    """One stage with its work and its minutes; `open_minutes` None where no glue is named."""

    stage: Stage
    labour: Labour
    spread_minutes: float
    minutes: float
    open_minutes: tuple[float, float] | None

    @property
    def name(self) -> str:
        """The stage's name."""
        return self.stage.name


def timed_stages(work: Work, chains: Sequence[Assembly]) -> tuple[TimedStage, ...]:
    """The stages of some work, with their minutes. Raises LayoutError where the order goes round in a circle."""
    pace, hands = work.spec.pace, work.shop.hands

    def timed(stage: Stage) -> TimedStage:
        own = labour(stage.corners, stage.dividers, (part.faces for part in stage.captured))
        times = {"spread_minutes": own.spread_minutes(pace, hands), "minutes": own.minutes(pace, hands)}
        return TimedStage(stage=stage, labour=own, open_minutes=work.open_minutes, **times)

    return tuple(timed(stage) for stage in plan_stages(chains, work.dividers, work.spec))
