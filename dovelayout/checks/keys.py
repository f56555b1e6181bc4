"""The keys of a job and the fields of a joint's spec that they set: the one table of both, and values as a job has them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.change import Change, changes_of, mm_text
from dovelayout.joints.board import Groove
from dovelayout.joints.sliding import Bit, SlidingSpec
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.joints.spec import CornerSpec

CORNER_KEYS = {
    "slope": "slope",
    "tail_count": "tail_count",
    "pin_mm": "pin",
    "half_pin_mm": "half_pin",
    "tails_at": "tails_at",
    "spacing": "spacing",
    "covers": "covers",
    "groove": "groove",
    "lap_mm": "lap",
}
"""Fields of `CornerSpec` and the keys of a [[corner]] or a [[box]] that set them."""

SLIDING_KEYS = {
    "at_mm": "at",
    "depth_mm": "depth",
    "slope": "slope",
    "taper_ratio": "taper",
    "clearance_mm": "clearance",
    "glue_zone_mm": "glue_zone",
    "bit": "bit",
}
"""Fields of `SlidingSpec` and the keys of a [[divider]] that set them."""

INSTEAD_OF = {
    "tails_at": ("tail_count", "pin", "half_pin", "spacing"),
    "tail_count": ("tails_at",),
    "pin": ("tails_at",),
}
"""Keys that stand for others: a table that is given one of these loses those."""


def key_of(spec: CornerSpec | SlidingSpec, field: str) -> str:
    """The key of the job that sets a field of a spec, with the prefix that the keys have there: 'back_pin'."""
    if isinstance(spec, CornerSpec):
        return spec.key_prefix + CORNER_KEYS[field]
    return SLIDING_KEYS[field]


def spec_changes(spec: CornerSpec | SlidingSpec, fields: Mapping[str, Any]) -> tuple[Change, ...]:
    """Fields of a spec set, as changes of the table that it was written in."""
    return changes_of(*spec.origin, {key_of(spec, field): job_value(field, value) for field, value in fields.items()})


def job_value(field: str, value: Any) -> Any:
    """A field's value as it stands in a job."""
    match value:
        case Slope():
            return f"1:{value.ratio:.12g}"
        case Span():
            return [mm_text(value.start_mm), mm_text(value.end_mm)]
        case Groove():
            return {
                "from_edge": mm_text(value.from_edge_mm),
                "width": mm_text(value.width_mm),
                "depth": mm_text(value.depth_mm),
                "ploughed": "before" if value.ploughed_first else "after",
            }
        case Bit():
            return {
                "diameter": mm_text(value.diameter_mm),
                "angle": job_value("slope", value.slope),
                "plough_first": value.ploughed_first,
            }
        case tuple():
            return [job_value(field, part) for part in value]
        case float():
            return f"1:{value:g}" if field == "taper_ratio" else mm_text(value)
        case _:
            return value
