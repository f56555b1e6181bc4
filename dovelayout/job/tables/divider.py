"""[[divider]]: a board whose ends slide into dovetailed housings of one host or of two."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, model_validator

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import Across, EndName, Name, Position, Ratio, Small, Table, Thick


def _hosts(value: Any) -> Any:
    several = isinstance(value, list | tuple) and 1 <= len(value) <= 2 and all(isinstance(name, str) for name in value)
    if not several and not isinstance(value, str):
        raise FieldError(
            "one host or two are wanted", remedy='write "side.left", or ["left side.left", "right side.right"]'
        )
    return value


_TAPER = re.compile(r"\s*1\s*(?::|/|in)\s*(\d{1,5}(?:\.\d{1,4})?)\s*")


def _taper(value: Any) -> float:
    """'1:320' -> 320. Tapers are far finer than slopes, so they have a reading of their own."""
    found = _TAPER.fullmatch(value) if isinstance(value, str) and len(value) <= 40 else None
    if found is None or not 10 <= float(found[1]) <= 2000:
        raise FieldError(f"{value!r} is no taper", remedy='write it like "1:320", from 1:10 to 1:2000')
    return float(found[1])


class BitTable(Table):
    """bit = { diameter = ..., angle = ..., plough_first = ... }"""

    diameter: Across
    angle: Ratio
    plough_first: bool = False


class DividerTable(Table):
    """[[divider]]

    `host` names the board with the housing and the end that `at` is measured from; two of them for a divider that
    stands between two boards. `stop`, `set_back` and `glue_zone` are measured from the front edge, which is the face edge.
    """

    name: Name
    host: Annotated[EndName | tuple[EndName] | tuple[EndName, EndName], BeforeValidator(_hosts)]
    key: EndName
    at: Position
    face: Literal["inside", "outside"] = "inside"
    measured_to: Literal["lower", "centre"] = "lower"
    depth: Thick | None = None
    wide: Across | None = None
    cheeks: Literal["both", "upper", "lower"] = "both"
    slope: Ratio | None = None
    taper: Annotated[float, BeforeValidator(_taper)] | None = None
    taper_on: Literal["upper", "lower"] | None = None
    stop: Position | None = None
    set_back: Position = 0.0
    slip: Small | None = None
    clearance: Small = 0.0
    glue_zone: Across | None = None
    cup: Small = 0.0
    bit: BitTable | None = None

    @model_validator(mode="after")
    def _a_cheek_without_a_taper(self) -> DividerTable:
        if self.taper_on is not None and self.taper is None:
            raise FieldError(
                "taper_on names a cheek and there is no taper", remedy='add taper = "1:320", or leave taper_on out'
            )
        return self
