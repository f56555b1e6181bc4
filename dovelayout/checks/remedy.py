"""Remedies: changes of the job that may mend a finding, nearest first. A check proposes them; `verdict` tries them. A
remedy is worked out only when it is needed. One that varies a joint carries the joint as it would be, so that whoever
tries it can look at that alone before it tries the whole job.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeVar

from dovelayout.change import Change, change_words, changes_of, mm_text
from dovelayout.checks.keys import spec_changes
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.joints.spacing import Span

__all__ = ["Fields", "Joint", "Remedies", "Remedy", "by_setting", "by_varying", "in_turn", "mm_text", "no_remedies"]

Fields = Mapping[str, Any]
"""Fields of a joint's spec and what they would be."""

Joint = CornerJoint | SlidingJoint
J = TypeVar("J", CornerJoint, SlidingJoint)

MOST_STEPS = 60
"""So many half millimetres a pin is widened in search of one that holds: 30 mm are wider than any pin. Ours."""

MOST_MORE = 40
"""So many tails more are tried; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Changes of the job that may mend a finding, in words for people too.

    `joint`: where they change one joint alone, that joint as they make it.
    """

    changes: tuple[Change, ...]
    words: str
    joint: Joint | None = None


Remedies = Callable[[], Iterable[Remedy]]
"""A function that yields what may mend a finding, nearest first."""


def no_remedies() -> Iterable[Remedy]:
    """No key of the job mends it."""
    return ()


def in_turn(*several: Remedies) -> Remedies:
    """One after the other."""
    return lambda: itertools.chain.from_iterable(remedies() for remedies in several)


def by_setting(table: str, name: str, values: Mapping[str, Any], words: str = "{}") -> Remedies:
    """Keys of one table set. `words`: for people, with {} where the keys and values stand."""
    changes = changes_of(table, name, values)
    return lambda: (Remedy(changes=changes, words=words.replace("{}", change_words(changes))),)


def by_varying(joint: J, candidates: Callable[[J], Iterable[Fields]] | Sequence[Fields], words: str = "{}") -> Remedies:
    """The candidates with which the joint can be built, as changes of the table that it was written in."""
    return partial(_varied, joint, candidates, words)


def _varied(joint: J, candidates: Callable[[J], Iterable[Fields]] | Sequence[Fields], words: str) -> Iterator[Remedy]:
    for fields in candidates(joint) if callable(candidates) else candidates:
        if "tail_count" in fields and _is_one_of_a_bank(joint):
            continue
        try:
            varied = joint.varied(**fields)
        except ValueError:  # as all numbers are that can't make a joint
            continue
        changes = spec_changes(joint.spec, fields)
        yield Remedy(changes=changes, words=words.replace("{}", change_words(changes)), joint=varied)


def _is_one_of_a_bank(joint: Joint) -> bool:
    """Whether its table lays out pieces of several heights: a count suits only one of them."""
    spec = joint.spec
    return isinstance(joint, CornerJoint) and joint.spec.piece not in ("", spec.origin[1])


def wider_pins(joint: CornerJoint) -> Iterable[Fields]:
    """Pins wider by half millimetres, then the same with fewer tails; fewer tails alone where the kind sets the pins."""
    now_mm = min((pin.width_mm for pin in joint.full_pins), default=0.0)
    return _wider(joint, "pin_mm", now_mm, _pulled_apart)


def wider_half_pins(joint: CornerJoint) -> Iterable[Fields]:
    """Half pins wider by half millimetres, then the same with fewer tails, or fewer alone, as for `wider_pins`."""
    first, last = joint.tails[0], joint.tails[-1]
    now_mm = min(first.start_mm - joint.covers.start_mm, joint.covers.end_mm - last.end_mm)
    return _wider(joint, "half_pin_mm", now_mm, _away_from_edges)


def _wider(
    joint: CornerJoint, field: str, now_mm: float, trimmed: Callable[[CornerJoint, float], tuple[Span, ...]]
) -> Iterator[Fields]:
    widths = [(int(now_mm * 2) + step) / 2 for step in range(1, MOST_STEPS)]
    if joint.spec.tails_at is not None:
        yield from ({"tails_at": trimmed(joint, width_mm)} for width_mm in widths)
    elif field in joint.settles:
        yield from fewer_tails(joint)
    else:
        yield from ({field: width_mm} for width_mm in widths)
        counts = (len(joint.tails) - 1, len(joint.tails) - 2)
        yield from ({field: width_mm, "tail_count": count} for count in counts for width_mm in widths)


def fewer_tails(joint: CornerJoint) -> Iterable[Fields]:
    """The same corner with fewer tails, nearest count first; none where the maker set the tails out."""
    return _counts(joint, range(len(joint.tails) - 1, 0, -1))


def more_tails(joint: CornerJoint) -> Iterable[Fields]:
    """The same corner with more tails, nearest count first; none where the maker set the tails out."""
    return _counts(joint, range(len(joint.tails) + 1, len(joint.tails) + MOST_MORE))


def _counts(joint: CornerJoint, counts: range) -> Iterable[Fields]:
    return () if joint.spec.tails_at is not None else [{"tail_count": count} for count in counts]


def _pulled_apart(joint: CornerJoint, least_pin_mm: float) -> tuple[Span, ...]:
    """The maker's own tails, each pair that stands too close trimmed by halves."""
    edges = [[tail.start_mm, tail.end_mm] for tail in joint.tails]
    for left, right in itertools.pairwise(edges):
        short_mm = least_pin_mm - (right[0] - left[1])
        if short_mm > 0:
            left[1] -= short_mm / 2
            right[0] += short_mm / 2
    return tuple(Span(start, end) for start, end in edges)


def _away_from_edges(joint: CornerJoint, least_mm: float) -> tuple[Span, ...]:
    edges = [[tail.start_mm, tail.end_mm] for tail in joint.tails]
    edges[0][0] = max(edges[0][0], joint.covers.start_mm + least_mm)
    edges[-1][1] = min(edges[-1][1], joint.covers.end_mm - least_mm)
    return tuple(Span(start, end) for start, end in edges)
