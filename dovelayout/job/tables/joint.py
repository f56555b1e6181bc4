"""[[corner]], [[box]] and [[divider]]: which boards meet and how the joint is laid out, with the small tables of a joint."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    AcrossLength,
    Angle,
    EndName,
    Flag,
    Inline,
    Leaning,
    Name,
    Position,
    Proud,
    Small,
    Stretch,
    Table,
    TailCount,
    Thick,
    length_between,
    texts,
)
from dovelayout.joints import KINDS
from dovelayout.joints.board import Groove, Lip, When
from dovelayout.joints.cant import SQUARE
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.lid import LidCut
from dovelayout.joints.sliding import SLIP_MM, Bit, Cheek, Datum, HostFace, Sloped
from dovelayout.joints.spacing import Spacing

MOST_TAILS_AT = 200


class GrooveTable(Inline):
    """groove = { from_edge = ..., width = ..., depth = ... }"""

    from_edge: Position
    width: AcrossLength
    depth: Thick
    ploughed: When = When.BEFORE

    def value(self) -> Groove:
        """The groove."""
        return Groove(
            from_edge_mm=self.from_edge,
            width_mm=self.width,
            depth_mm=self.depth,
            ploughed_first=self.ploughed is When.BEFORE,
        )


class LipTable(Inline):
    """lip = { overhang = ..., thickness = ... }"""

    overhang: AcrossLength
    thickness: Thick

    def value(self) -> Lip:
        """The lip."""
        return Lip(overhang_mm=self.overhang, thickness_mm=self.thickness)


class LidTable(Inline):
    """lid = { at = ..., kerf = ..., clean_up = ... }"""

    at: Position
    kerf: Small = 1.0
    clean_up: Small = 1.0

    def value(self) -> LidCut:
        """The cut."""
        return LidCut(at_mm=self.at, kerf_mm=self.kerf, clean_up_mm=self.clean_up)


class MitreTable(Table):
    """mitre = { face_edge = ..., far_edge = ... }"""

    face_edge: Position = 0.0
    far_edge: Position = 0.0


class ProudTable(Table):
    """proud = { tails = ..., pins = ... }"""

    tails: Proud = 0.0
    pins: Proud = 0.0


def _proud_lengths(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, dict):
        return value
    both_mm = length_between(-10.0, 10.0)(value, info)
    # already mm: handed on whole, so that it is not read as inches a second time
    return ProudTable.model_construct(tails=both_mm, pins=both_mm)


ProudOfBoth = Annotated[ProudTable, BeforeValidator(_proud_lengths)]
"""One length for tails and pins, or a table."""


def _joint(value: Any) -> Any:
    if not isinstance(value, str) or value not in KINDS:
        raise FieldError(f"joint {value!r} is not known", remedy=f"known: {', '.join(sorted(KINDS))}")
    return value


class LayoutTable(Table):
    """The keys that lay out a corner, the same for a single corner and for a box."""

    joint: Annotated[str, BeforeValidator(_joint)] = ThroughJoint.kind
    tail_count: TailCount | None = None
    tails_at: tuple[Stretch, ...] | None = Field(default=None, max_length=MOST_TAILS_AT)
    pin: AcrossLength | None = None
    lap: AcrossLength | None = None
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


_TAPER = re.compile(r"\s*1\s*(?::|/|in)\s*(\d{1,5}(?:\.\d{1,4})?)\s*")


def _taper(value: Any) -> float:
    """'1:320' -> 320. Tapers are far finer than slopes, so they have a reading of their own."""
    found = _TAPER.fullmatch(value) if isinstance(value, str) and len(value) <= 40 else None
    if found is None or not 10 <= float(found[1]) <= 2000:
        raise FieldError(f"{value!r} is no taper", remedy='write it like "1:320", from 1:10 to 1:2000')
    return float(found[1])


_HOSTS = texts(
    range(1, 3),
    "one host or two are wanted",
    remedy='write "side.left", or ["left side.left", "right side.right"]',
)


class BitTable(Inline):
    """bit = { diameter = ..., angle = ..., plough_first = ... }"""

    diameter: AcrossLength
    angle: Leaning
    plough_first: Flag = False

    def value(self) -> Bit:
        """The bit."""
        return Bit(diameter_mm=self.diameter, slope=self.angle, ploughed_first=self.plough_first)


class DividerTable(Table):
    """[[divider]]

    `host` names the board with the housing and the end that `at` is measured from; two of them for a divider that
    stands between two boards. `stop`, `set_back` and `glue_zone` are measured from the front edge, which is the face edge.
    """

    name: Name
    host: Annotated[tuple[EndName, ...], _HOSTS]
    key: EndName
    at: Position
    face: HostFace = HostFace.INSIDE
    measured_to: Datum = Datum.LOWER
    depth: Thick | None = None
    wide: AcrossLength | None = None
    cheeks: Sloped = Sloped.BOTH
    slope: Leaning | None = None
    taper: Annotated[float, BeforeValidator(_taper)] | None = None
    taper_on: Cheek | None = None
    stop: Position | None = None
    set_back: Position = 0.0
    slip: Small = SLIP_MM
    clearance: Small = 0.0
    glue_zone: AcrossLength | None = None
    cup: Small = 0.0
    bit: BitTable | None = None

    @model_validator(mode="after")
    def _taper_for_its_cheek(self) -> DividerTable:
        if self.taper_on is not None and self.taper is None:
            raise FieldError(
                "taper_on names a cheek and there is no taper", remedy='add taper = "1:320", or leave taper_on out'
            )
        return self
