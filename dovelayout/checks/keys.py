"""Changes of a joint's spec as changes of the job that it was written in, and values as they stand there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dovelayout.change import Change, changes_of, mm_text
from dovelayout.joints.board import Groove
from dovelayout.joints.keys import CORNER_KEYS, SLIDING_KEYS
from dovelayout.joints.sliding import Bit, SlidingSpec
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.joints.spec import CornerSpec


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
