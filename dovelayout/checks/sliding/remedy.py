"""A change to a sliding dovetail that passes, in the keys of the job."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from dovelayout.checks.finding import Change
from dovelayout.checks.remedy import mm_text
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board
from dovelayout.joints.sliding import Bit, SlidingJoint
from dovelayout.joints.slope import Slope
from dovelayout.units import format_slope

_JOB_KEYS = {
    "at_mm": "at",
    "depth_mm": "depth",
    "taper_ratio": "taper",
    "glue_zone_mm": "glue_zone",
    "clearance_mm": "clearance",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SlidingRemedy:
    """A change, in the job's keys and in words."""

    changes: tuple[Change, ...]
    words: str


def first_that(
    joint: SlidingJoint, candidates: Iterable[Mapping[str, Any]], passes: Callable[[SlidingJoint], bool]
) -> SlidingRemedy | None:
    """The first candidate (changes to the SlidingSpec) whose joint can be built and passes; None when none does."""
    for candidate in candidates:
        try:
            varied = joint.varied(**candidate)
        except (LayoutError, ValueError):
            continue
        if passes(varied):
            values = {_JOB_KEYS.get(key, key): _job_value(key, value) for key, value in candidate.items()}
            table, name = joint.spec.origin
            words = ", ".join(_words(key, value) for key, value in candidate.items())
            return SlidingRemedy(changes=(Change(table=table, name=name, values=values),), words=words)
    return None


def changed(board: Board, key: str, value_mm: float) -> Change:
    """A length of a board changed."""
    return Change(table="board", name=board.name, values={key: mm_text(value_mm)})


def _job_value(key: str, value: Any) -> Any:
    match value:
        case Slope():
            return f"1:{value.ratio:.12g}"
        case Bit():
            return {
                "diameter": mm_text(value.diameter_mm),
                "angle": f"1:{value.slope.ratio:.12g}",
                "plough_first": value.ploughed_first,
            }
        case _:
            return f"1:{value:g}" if key == "taper_ratio" else mm_text(value)


def _words(key: str, value: Any) -> str:
    match value:
        case Slope():
            return f"slope {format_slope(value.ratio)}"
        case Bit():
            first = ", a straight bit first" if value.ploughed_first else ""
            return f"a bit of {mm_text(value.diameter_mm)}, {value.slope.degrees:.1f}°{first}"
        case _:
            name = _JOB_KEYS.get(key, key).replace("_", " ")
            return f"{name} 1:{value:g}" if key == "taper_ratio" else f"{name} {mm_text(value)}"
