"""The settings of a job for the bench: every setting of a marking gauge once, and the bevel's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider
from dovelayout.drawing.bench.sheet import Gauge, Number, setting
from dovelayout.joints.corner import CornerJoint
from dovelayout.units import Unit, format_slope
from dovelayout.words import grouped, listed_by_kind


def all_settings(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> tuple[Gauge, ...]:
    """Every setting of a marking gauge once, and which ends it scribes, settings of most ends first; then the bevel's."""
    return (*_gauges(joints, dividers, unit), *_bevels(joints, dividers))


def slope_number(ratio: float) -> Number:
    """A slope as a ratio, its degrees below."""
    text, _, degrees = format_slope(ratio).partition(" (")
    return Number(text=text, other=degrees.removesuffix(")"))


def _bevels(joints: Sequence[CornerJoint], dividers: Sequence[Divider]) -> Iterator[Gauge]:
    corners = [joint for joint in joints if not joint.slope.is_straight and joint.spec.cant.is_square]
    whose = [(joint.slope.ratio, ("corner", joint.name)) for joint in corners]
    whose += [(divider.joint.slope.ratio, ("divider", divider.name)) for divider in dividers]
    ratios = grouped(whose)
    for ratio, users in ratios.items():
        named = (
            f"{kind}{'s' if len(names) > 1 else ''} {listed_by_kind(names)}" for kind, names in grouped(users).items()
        )
        words = "all corners" if len(ratios) == 1 and not dividers else "; ".join(named)
        yield Gauge(setting=slope_number(ratio), scribes=(f"bevel: {words}",))


def _gauges(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> Iterator[Gauge]:
    lines = [line for joint in joints for line in _scribed(joint)]
    for divider in dividers:
        for slide in divider.joints:
            lines.append((slide.depth_mm, "housing's depth", slide.host.name))
            lines.append((slide.tongue_mm, "tongue's height", slide.key.name))
    settings = grouped((round(value_mm, 3), (where, board)) for value_mm, where, board in lines)
    for value_mm, scribed in sorted(settings.items(), key=lambda one: -len(one[1])):
        boards = grouped(dict.fromkeys(scribed))
        scribes = tuple(f"{where}: {listed_by_kind(names)}" for where, names in boards.items())
        yield Gauge(setting=setting(value_mm, unit), scribes=scribes)


def _scribed(joint: CornerJoint) -> Iterator[tuple[float, str, str]]:
    """(setting in mm, what it scribes, on which board) of a corner."""
    tails, pins = joint.end_faces()
    comb = joint.slope.is_straight
    yield tails.baseline_mm, "ends" if comb else "tails", joint.tail_board.name
    inside = "ends" if comb else "pins" if pins.end_gauge_mm is None else "pins, inside face"
    yield pins.baseline_mm, inside, joint.pin_board.name
    if pins.end_gauge_mm is not None:
        yield pins.end_gauge_mm, "sockets, on the end grain", joint.pin_board.name
