"""A drawer's four corners: half-blind at the front, through at the back, laid out so that a row of drawers looks like
one family: the same pins and half pins for boards of one kind, and only the count of tails grows with the height.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
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
from dovelayout.joints.spec import CornerSpec

TAIL_TO_THICKNESS = 2.4
"""Width of a tail against the side's thickness that the counts aim at: 2 to 3 tails in sides of 100 mm, 3 to 4 in 150
(common practice, no source)."""

WIDEST_TAIL_MM = 60.0
"""However thick the side, tails aim at no more; ours."""

SLOPES = (7.0, 6.0, 8.0)
"""Slopes 1:n that are tried where the job gives none, the first of them first (common practice, no source: 1:6 to 1:8;
their order is ours)."""

MOST_TAILS = 40
"""No more tails than this are tried in one corner; ours."""


def with_corners(drawer: Drawer, *, clean: Callable[[CornerJoint], bool]) -> Drawer:
    """The drawer with its corners: front left, front right, back right, back left. Raises LayoutError.

    `clean` tells whether a layout breaks no limit: the first that breaks none is used. It should ignore how full a cheek is
    cut: the plane settles that, and drawers of one family should not differ by it.
    """
    spec = drawer.spec
    if spec.corners is not Corners.DOVETAILED:
        return drawer
    if not all(one.adds_up for one in drawer.sums if one.what.startswith("the back")):
        return drawer  # a back that can't stand where it should has no corner to draw: the sums say so
    side, front, back = (drawer.board(role) for role in ("side", "front", "back"))
    # a lipped front is longer than the box that its corners close
    corners = box_corners(tails=(side, side), pins=(replace(front, length_mm=back.length_mm), back))
    common = CornerSpec(
        name=drawer.name,
        tails=corners[0].tails,
        pins=corners[0].pins,
        slope=Slope(SLOPES[0]),
        proud_pins_mm=-spec.shaving_mm,
        groove=None if drawer.sizes.slips else drawer.groove,
        origin=spec.origin,
        piece=drawer.name,
    )
    covers = None if drawer.sizes.lip is None else Span(0.0, drawer.height_mm)
    before = replace(common, covers=covers, lap_mm=drawer.sizes.lap_mm, lip=drawer.sizes.lip)
    # behind, the joint starts at the groove's upper side
    covers = Span(drawer.groove.far_mm, min(drawer.height_mm, drawer.groove.far_mm + back.width_mm))
    behind = replace(common, covers=covers, key_prefix="back_")
    joints: list[CornerJoint] = []
    for pair, shared, board in ((corners[:2], before, front), (corners[2:], behind, back)):
        one, other = (
            replace(
                shared,
                name=f"{drawer.name} {corner.where}",
                tails=corner.tails,
                pins=replace(corner.pins, board=board),
            )
            for corner in pair
        )
        joint = _best_corner(one, drawer, clean)
        # the other hand of the same corner takes the same layout
        joints += [joint, joint.varied(name=other.name, tails=other.tails, pins=other.pins)]
    return replace(drawer, joints=tuple(joints))


def _best_corner(spec: CornerSpec, drawer: Drawer, clean: Callable[[CornerJoint], bool]) -> CornerJoint:
    """The first layout that breaks no limit and hides the groove; else the first that can be built."""
    kind: type[CornerJoint] = ThroughJoint if spec.lap_mm is None else HalfBlindJoint
    first: CornerJoint | None = None
    trouble: LayoutError | None = None
    for candidate in _candidates(spec, drawer):
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


def _candidates(spec: CornerSpec, drawer: Drawer) -> Iterator[CornerSpec]:
    """Layouts in the order of preference: what the maker gave stays, the rest moves away from the family's as little
    as it must."""
    pattern = drawer.spec.back_pattern if spec.key_prefix else drawer.spec.front_pattern
    least_mm = proposed_pin_mm(thickness_mm=spec.thinner_mm)
    pins = [pattern.pin_mm] if pattern.pin_mm else [least_mm + step / 2 for step in range(9)]
    slopes = [pattern.slope] if pattern.slope else [Slope(n) for n in SLOPES]
    for slope, pin_mm in itertools.product(slopes, pins):
        sloped = replace(spec, slope=slope, pin_mm=pin_mm)
        flare_mm = slope.flare_mm(spec.depth_mm)
        half_pins = [pattern.half_pin_mm] if pattern.half_pin_mm is not None else _half_pins_mm(spec, pin_mm, flare_mm)
        for half_pin_mm in half_pins:
            whole = replace(sloped, half_pin_mm=half_pin_mm)
            for count in [pattern.tail_count] if pattern.tail_count else _counts(whole, drawer.height_mm):
                yield replace(whole, tail_count=count)


def _half_pins_mm(spec: CornerSpec, pin_mm: float, flare_mm: float) -> list[float]:
    """Half pins that suit a pin: as proposed, under the groove if there is one, and up to 1 mm less or more."""
    half_mm = proposed_half_pin_mm(pin_mm=pin_mm)
    if spec.groove is not None and not spec.key_prefix:
        under_groove_mm = spec.groove.from_edge_mm - flare_mm - 0.3
        half_mm = min(half_mm, int(under_groove_mm * 2) / 2)
    return [half for half in (half_mm, half_mm - 0.5, half_mm - 1, half_mm + 0.5, half_mm + 1) if half > 0]


def _counts(spec: CornerSpec, height_mm: float) -> list[int]:
    """The counts whose tails come nearest to the width aimed at, nearest first."""
    room_mm = height_mm if spec.covers is None else spec.covers.width_mm
    aim_mm = min(TAIL_TO_THICKNESS * spec.tails.board.thickness_mm, WIDEST_TAIL_MM)
    pin_mm, half_pin_mm = spec.pin_mm or 0.0, spec.half_pin_mm or 0.0

    def tail_mm(count: int) -> float:
        return (room_mm - 2 * half_pin_mm - (count - 1) * pin_mm) / count

    counts = [count for count in range(1, MOST_TAILS + 1) if tail_mm(count) > 0]
    return sorted(counts, key=lambda count: (abs(tail_mm(count) - aim_mm), count))[:4] or [1]
