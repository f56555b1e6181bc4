"""[[corner]] and [[box]]: which boards meet, and how the joint is laid out."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from dovelayout.errors import FieldError
from dovelayout.job.tables.edges import GrooveTable, LidTable, LipTable, MitreTable, ProudOfBoth, ProudTable
from dovelayout.job.tables.fields import (
    Across,
    Angle,
    EndName,
    Leaning,
    Name,
    Position,
    Stretch,
    Table,
    TailCount,
    texts,
)
from dovelayout.joints import KINDS
from dovelayout.joints.cant import SQUARE
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.spacing import Spacing

MOST_TAILS_AT = 200


def _joint(value: Any) -> Any:
    if not isinstance(value, str) or value not in KINDS:
        raise FieldError(f"joint {value!r} is not known", remedy=f"known: {', '.join(sorted(KINDS))}")
    return value


class LayoutTable(Table):
    """The keys that lay out a corner, the same for a single corner and for a box."""

    joint: Annotated[str, BeforeValidator(_joint)] = ThroughJoint.kind
    tail_count: TailCount | None = None
    tails_at: tuple[Stretch, ...] | None = Field(default=None, max_length=MOST_TAILS_AT)
    pin: Across | None = None
    lap: Across | None = None
    half_pin: Position | None = None
    slope: Leaning | None = None
    spacing: Spacing = Spacing.EVEN
    covers: Stretch | None = None
    proud: ProudOfBoth = ProudTable()
    groove: GrooveTable | None = None
    lid: LidTable | None = None
    lip: LipTable | None = None
    mitre: MitreTable = MitreTable()

    @model_validator(mode="after")
    def _one_source_of_tails(self) -> LayoutTable:
        if self.tails_at is not None:
            double = [key for key in ("tail_count", "pin", "half_pin") if getattr(self, key) is not None]
            if double:
                raise FieldError(
                    "tails_at already says where the tails stand", remedy=f"leave out {' and '.join(double)}"
                )
        return self


class CornerTable(LayoutTable):
    """[[corner]]"""

    name: Name
    tails: EndName
    pins: EndName
    angle: Angle = SQUARE


_Pair = Annotated[
    tuple[Name, ...],
    texts(
        range(2, 3), "two boards are wanted", remedy='write ["one", "other"], or one text for a pair of equal boards'
    ),
]


class BoxTable(LayoutTable):
    """[[box]]"""

    name: Name
    tails: _Pair
    pins: _Pair
