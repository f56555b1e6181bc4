"""A drawer's four corners: half-blind at the front, through at the back, laid out so that a row of drawers looks like
one family: the same pins and half pins for boards of one kind, and only the count of tails grows with the height.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from dovelayout.casework.box import box_corners
from dovelayout.casework.drawer.choices import Corners
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.kinds.half_blind import HalfBlindJoint
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span, proposed_half_pin_mm, proposed_pin_mm
from dovelayout.joints.spec import CornerSpec, LayoutSpec

TAIL_TO_THICKNESS = 2.4
"""Width of a tail against the side's thickness that the counts aim at: 2 to 3 tails in sides of 100 mm, 3 to 4 in 150
(common practice, no source)."""

SLOPES = (7.0, 6.0, 8.0)
"""Slopes 1:n that are tried where the job gives none, the first of them first (common practice, no source: 1:6 to 1:8;
their order is ours)."""

MOST_TAILS = 40
"""No more tails than this are tried in one corner; ours."""


def with_corners(drawer: Drawer, *, clean: Callable[[CornerJoint], bool]) -> Drawer:
    """The drawer with its corners: front left, front right, back right, back left. Raises LayoutError.

    `clean` says whether no limit stands against a layout: the first such is taken. How full a cheek is cut should have no
    say in it: that is a matter of the plane, and drawers of one family should not differ by it.
    """
    spec = drawer.spec
    if spec.corners is not Corners.DOVETAILED:
        return drawer
    if not all(one.adds_up for one in drawer.sums if one.what.startswith("the back")):
        return drawer  # a back that can't stand where it should has no corner to draw: the sums say so
    side, front_board, back_board = (drawer.board(role) for role in ("side", "front", "back"))
    # a lipped front is longer than the box that its corners close
    closing = replace(front_board, length_mm=back_board.length_mm)
    corners = box_corners(tails=(side, side), pins=(closing, back_board))
    joints: dict[str, CornerJoint] = {}
    for corner in corners:
        front = corner.where.startswith("front")
        wanted = CornerSpec(
            name=f"{drawer.name} {corner.where}",
            tails=corner.tails,
            pins=replace(corner.pins, board=front_board) if front else corner.pins,
            covers=_covers(drawer, front=front),
            proud_pins_mm=-spec.shaving_mm,
            groove=None if drawer.slips else drawer.groove,
            lap_mm=drawer.lap_mm if front else None,
            lip=drawer.lip if front else None,
            origin=spec.origin,
            piece=drawer.name,
            key_prefix="" if front else "back_",
        )
        twin = joints.get("front left" if front else "back right")
        kind: type[CornerJoint] = HalfBlindJoint if front else ThroughJoint
        if twin is None:
            pattern = spec.front_pattern if front else spec.back_pattern
            joints[corner.where] = _first_clean(_candidates(wanted, pattern, drawer), kind, clean, drawer)
        else:  # the other hand of the same corner takes the same layout
            joints[corner.where] = kind.worked_out(wanted.laid_out(twin.spec.layout))
    return replace(drawer, joints=tuple(joints.values()))


def _covers(drawer: Drawer, *, front: bool) -> Span | None:
    """What a joint covers of the sides: all of them at the front; behind, from the groove's upper side on."""
    if front:
        return Span(0.0, drawer.height_mm) if drawer.lip is not None else None
    start_mm = drawer.groove.far_mm
    return Span(start_mm, min(drawer.height_mm, start_mm + drawer.board("back").width_mm))


def _first_clean(
    candidates: Iterable[CornerSpec],
    kind: type[CornerJoint],
    clean: Callable[[CornerJoint], bool],
    drawer: Drawer,
) -> CornerJoint:
    """The first layout that neither a limit nor the groove stands against; else the first that can be built."""
    first: CornerJoint | None = None
    trouble: LayoutError | None = None
    for candidate in candidates:
        try:
            joint = kind.worked_out(candidate)
        except LayoutError as error:
            trouble = trouble or error
            continue
        if _hides_groove(joint) and clean(joint):
            return joint
        first = first or joint
    if first is None:
        raise trouble or LayoutError(f"{drawer.name}: no corner can be laid out", remedy="check the sizes")
    return first


def _hides_groove(joint: CornerJoint) -> bool:
    groove = joint.spec.groove
    if groove is None or groove.far_mm <= joint.covers.start_mm + 1e-6:
        return True
    return joint.tails[0].neck.holds(Span(groove.from_edge_mm, groove.far_mm))


def _candidates(spec: CornerSpec, pattern: LayoutSpec, drawer: Drawer) -> Iterator[CornerSpec]:
    """Layouts in the order of preference: what the maker gave stays, the rest moves away from the family's as little
    as it must."""
    room_mm = drawer.height_mm if spec.covers is None else spec.covers.width_mm
    least_mm = proposed_pin_mm(thickness_mm=spec.thinner_mm)
    pins = [pattern.pin_mm] if pattern.pin_mm else [least_mm + step / 2 for step in range(9)]
    slopes = [pattern.slope] if pattern.slope else [Slope(n) for n in SLOPES]
    for slope, pin_mm in itertools.product(slopes, pins):
        if pattern.half_pin_mm is not None:
            half_pins = [pattern.half_pin_mm]
        else:
            half_mm = proposed_half_pin_mm(pin_mm=pin_mm)
            under_groove_mm = drawer.groove.from_edge_mm - slope.flare_mm(spec.depth_mm) - 0.3
            if spec.groove is not None and spec.key_prefix == "":
                half_mm = min(half_mm, int(under_groove_mm * 2) / 2)
            half_pins = [half for half in (half_mm, half_mm - 0.5, half_mm - 1, half_mm + 0.5, half_mm + 1) if half > 0]
        for half_pin_mm in half_pins:
            for count in [pattern.tail_count] if pattern.tail_count else _counts(room_mm, pin_mm, half_pin_mm, spec):
                yield replace(
                    spec,
                    slope=slope,
                    tail_count=count,
                    pin_mm=pin_mm,
                    half_pin_mm=half_pin_mm,
                )


def _counts(room_mm: float, pin_mm: float, half_pin_mm: float, spec: CornerSpec) -> list[int]:
    """The counts whose tails come nearest to the width aimed at, nearest first."""
    aim_mm = min(TAIL_TO_THICKNESS * spec.tails.board.thickness_mm, 60.0)

    def tail_mm(count: int) -> float:
        return (room_mm - 2 * half_pin_mm - (count - 1) * pin_mm) / count

    counts = [count for count in range(1, MOST_TAILS + 1) if tail_mm(count) > 0]
    return sorted(counts, key=lambda count: (abs(tail_mm(count) - aim_mm), count))[:4] or [1]
