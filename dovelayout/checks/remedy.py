"""Finding a change that passes: try the maker's own keys in the order of least disturbance, rebuild, measure again."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from dovelayout.checks.finding import Change
from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.units import format_slope


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """A change and the corner it gives."""

    joint: CornerJoint
    changes: tuple[Change, ...]
    words: str


def mm_text(value_mm: float) -> str:
    """A length as it stands in a job, with its unit."""
    return f"{round(value_mm, 3):g} mm"


def first_passing(
    joint: CornerJoint, candidates: Iterable[Mapping[str, Any]], passes: Callable[[CornerJoint], bool]
) -> Remedy | None:
    """The first candidate (changes to the CornerSpec) whose corner can be built and passes; None when none does."""
    for candidate in candidates:
        try:
            varied = joint.varied(**candidate)
        except (LayoutError, ValueError):
            continue
        if passes(varied):
            return Remedy(joint=varied, changes=_changes(joint, candidate), words=_words(joint, candidate))
    return None


_JOB_KEYS = {"pin_mm": "pin", "half_pin_mm": "half_pin", "lap_mm": "lap"}


def _job_value(value: Any) -> Any:
    match value:
        case Slope():
            return f"1:{value.ratio:g}"
        case float():
            return mm_text(value)
        case tuple():
            return [[mm_text(span.start_mm), mm_text(span.end_mm)] for span in value]
        case _:
            return value


def _changes(joint: CornerJoint, candidate: Mapping[str, Any]) -> tuple[Change, ...]:
    """Nothing to apply where one table lays out pieces of several heights and a count suits only one of them."""
    if _only_for_this(joint, candidate):
        return ()
    table, name = joint.spec.origin
    prefix = joint.spec.key_prefix
    values = {prefix + _JOB_KEYS.get(key, key): _job_value(value) for key, value in candidate.items()}
    return (Change(table=table, name=name, values=values),)


def _only_for_this(joint: CornerJoint, candidate: Mapping[str, Any]) -> bool:
    return "tail_count" in candidate and joint.spec.piece not in ("", joint.spec.origin[1])


def _words(joint: CornerJoint, candidate: Mapping[str, Any]) -> str:
    said = []
    prefix = joint.spec.key_prefix
    for key, value in candidate.items():
        name = prefix + _JOB_KEYS.get(key, key)
        match value:
            case Slope():
                said.append(f"{name} {format_slope(value.ratio)}")
            case tuple():
                spans = ", ".join(f"{span.start_mm:.1f}-{span.end_mm:.1f}" for span in value)
                said.append(f"tails at {spans} mm")
            case float():
                said.append(f"{name} {mm_text(value)}")
            case _:
                said.append(f"{name} {value}")
    alone = f" (for {joint.spec.piece} alone, as a [[drawer]] of its own)" if _only_for_this(joint, candidate) else ""
    return ", ".join(said) + alone


def wider_pins(joint: CornerJoint) -> Iterator[dict[str, Any]]:
    """Pins wider by half millimetres, then the same with fewer tails; fewer tails alone where the kind sets the pins."""
    if joint.spec.tails_at is not None:
        narrowest = min((pin.width_mm for pin in joint.full_pins), default=0.0)
        for step in range(1, 60):
            yield {"tails_at": _pulled_apart(joint, least_pin_mm=_half_up(narrowest, step))}
        return
    if "pin_mm" in joint.settles:
        yield from other_counts(joint, fewer=True)
        return
    now_mm = min((pin.width_mm for pin in joint.full_pins), default=0.0)
    for fewer in range(3):
        for step in range(1, 60):
            changes: dict[str, Any] = {"pin_mm": _half_up(now_mm, step)}
            if fewer:
                changes["tail_count"] = len(joint.tails) - fewer
            yield changes


def wider_half_pins(joint: CornerJoint) -> Iterator[dict[str, Any]]:
    """Half pins wider by half millimetres, then the same with fewer tails, or fewer alone, as for `wider_pins`."""
    now_mm = min(_half_pin_widths(joint))
    if joint.spec.tails_at is not None:
        for step in range(1, 60):
            yield {"tails_at": _away_from_edges(joint, least_mm=_half_up(now_mm, step))}
        return
    if "half_pin_mm" in joint.settles:
        yield from other_counts(joint, fewer=True)
        return
    for fewer in range(3):
        for step in range(1, 60):
            changes: dict[str, Any] = {"half_pin_mm": _half_up(now_mm, step)}
            if fewer:
                changes["tail_count"] = len(joint.tails) - fewer
            yield changes


def other_counts(joint: CornerJoint, *, fewer: bool) -> Iterator[dict[str, Any]]:
    """The same corner with fewer tails, or with more, nearest count first."""
    if joint.spec.tails_at is not None:
        return
    now = len(joint.tails)
    counts = range(now - 1, 0, -1) if fewer else range(now + 1, now + 40)
    for count in counts:
        yield {"tail_count": count}


def _half_up(now_mm: float, step: int) -> float:
    return (int(now_mm * 2) + step) / 2


def _half_pin_widths(joint: CornerJoint) -> tuple[float, float]:
    return (
        joint.tails[0].start_mm - joint.covers.start_mm,
        joint.covers.end_mm - joint.tails[-1].end_mm,
    )


def _pulled_apart(joint: CornerJoint, *, least_pin_mm: float) -> tuple[Span, ...]:
    """The maker's own tails, each pair that stands too close trimmed by halves."""
    edges = [[tail.start_mm, tail.end_mm] for tail in joint.tails]
    for left, right in itertools.pairwise(edges):
        short_mm = least_pin_mm - (right[0] - left[1])
        if short_mm > 0:
            left[1] -= short_mm / 2
            right[0] += short_mm / 2
    return tuple(Span(start, end) for start, end in edges)


def _away_from_edges(joint: CornerJoint, *, least_mm: float) -> tuple[Span, ...]:
    edges = [[tail.start_mm, tail.end_mm] for tail in joint.tails]
    edges[0][0] = max(edges[0][0], joint.covers.start_mm + least_mm)
    edges[-1][1] = min(edges[-1][1], joint.covers.end_mm - least_mm)
    return tuple(Span(start, end) for start, end in edges)
