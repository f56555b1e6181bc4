"""[[divider]]: a board whose ends slide into dovetailed housings of one host or of two."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, model_validator

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    Across,
    EndName,
    Flag,
    Inline,
    Leaning,
    Name,
    Position,
    Small,
    Table,
    Thick,
    texts,
)
from dovelayout.joints.sliding import SLIP_MM, Bit, Cheek, Datum, HostFace, Sloped

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

    diameter: Across
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
    wide: Across | None = None
    cheeks: Sloped = Sloped.BOTH
    slope: Leaning | None = None
    taper: Annotated[float, BeforeValidator(_taper)] | None = None
    taper_on: Cheek | None = None
    stop: Position | None = None
    set_back: Position = 0.0
    slip: Small = SLIP_MM
    clearance: Small = 0.0
    glue_zone: Across | None = None
    cup: Small = 0.0
    bit: BitTable | None = None

    @model_validator(mode="after")
    def _taper_for_its_cheek(self) -> DividerTable:
        if self.taper_on is not None and self.taper is None:
            raise FieldError(
                "taper_on names a cheek and there is no taper", remedy='add taper = "1:320", or leave taper_on out'
            )
        return self
