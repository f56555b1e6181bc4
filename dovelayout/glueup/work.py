"""What is glued in a job, by whom and with what; and its stages with the minutes they take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.assembly import Assembly
from dovelayout.casework.divider import Divider
from dovelayout.casework.wishes import GlueUpWishes
from dovelayout.glueup.order import Stage, plan_stages
from dovelayout.glueup.timing import Labour, labour, open_minutes, wood_c
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from dovelayout.wood.glue import Glue


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What is glued in a job, and by whom: all that a plan is made from. `glue` None: the job names none."""

    joints: tuple[CornerJoint, ...]
    dividers: tuple[Divider, ...]
    wishes: GlueUpWishes
    shop: Shop
    glue: Glue | None

    @property
    def temperature_c(self) -> float | None:
        """The temperature of the wood, None where it isn't known."""
        return wood_c(self.shop, self.wishes.pace)

    @property
    def open_minutes(self) -> tuple[float, float] | None:
        """(Cautious, hopeful) open time in that wood; None without a glue."""
        return None if self.glue is None else open_minutes(self.glue, self.wishes.pace, self.temperature_c)

    def varied(self, *, hands: int | None = None, glue: Glue | None = None, wishes: GlueUpWishes | None = None) -> Work:
        """The same work with more hands, another glue, or other stages."""
        return replace(
            self,
            shop=self.shop if hands is None else replace(self.shop, hands=hands),
            glue=glue or self.glue,
            wishes=wishes or self.wishes,
        )


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

    @property
    def share(self) -> float | None:
        """Of the cautious open time, None without one."""
        return None if self.open_minutes is None else self.minutes / self.open_minutes[0]


def timed_stages(work: Work, chains: Sequence[Assembly]) -> tuple[TimedStage, ...]:
    """The stages of some work, with their minutes. Raises LayoutError where the order goes round in a circle."""
    pace, hands = work.wishes.pace, work.shop.hands
    rows = []
    for stage in plan_stages(chains, work.dividers, work.wishes):
        own = labour(stage.corners, stage.dividers, (part.faces for part in stage.captured))
        rows.append(
            TimedStage(
                stage=stage,
                labour=own,
                spread_minutes=own.spread_minutes(pace, hands),
                minutes=own.minutes(pace, hands),
                open_minutes=work.open_minutes,
            )
        )
    return tuple(rows)
