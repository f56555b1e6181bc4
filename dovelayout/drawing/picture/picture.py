"""What a picture of a joint shows: its boards drawn apart, together, and its faces as they will look.

Pictures are made to be understood, not measured on: they are smaller than the work.
"""

from __future__ import annotations

import math

import numpy as np

from dovelayout.drawing.lettering import shortened
from dovelayout.drawing.picture.axonometric import View, view_from
from dovelayout.drawing.picture.joint_solid import CornerSolids, corner_solids
from dovelayout.drawing.picture.panel import LABEL_MM, WORDS_MM, PicturePanel
from dovelayout.drawing.picture.slide_solid import slide_solids, taper_times
from dovelayout.drawing.picture.solid import Vec
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.units import format_slope

CORNER_VIEW = (0.62, 0.78)  # from where a corner is viewed: so far square to the pin board, so far to the tail board
CORNER_DOWN_DEG = 28.0
SLIDE_VIEW = (0.55, 0.84)
SLIDE_DOWN_DEG = 36.0


def corner_panels(joint: CornerJoint) -> tuple[PicturePanel, ...]:
    """A corner apart and together, and both its outside faces."""
    tail, pin = joint.tail_board, joint.pin_board
    thick, wide = max(tail.thickness_mm, pin.thickness_mm), max(tail.width_mm, pin.width_mm)
    both = corner_solids(joint, stub_mm=max(1.8 * thick, 0.22 * wide))
    x, y = (CORNER_VIEW[0] * a + CORNER_VIEW[1] * b for a, b in zip(both.pin_face[:2], both.tail_face[:2], strict=True))
    view = view_from((x, y), CORNER_DOWN_DEG)
    lip_mm = 0.0 if joint.spec.lip is None else joint.spec.lip.overhang_mm
    apart_mm = tail.thickness_mm + pin.thickness_mm + lip_mm + 0.8 * thick
    drawn_off: Vec = (both.out[0] * apart_mm, both.out[1] * apart_mm, 0.0)
    lead = (apart_mm - tail.thickness_mm) / apart_mm  # the path from the tails' inner side to where they end up
    homes = [_added(both.tails.corner, both.pins.wide, mm) for mm in (joint.tails[0].start_mm, joint.tails[-1].end_mm)]
    paths = tuple((home, _added(home, drawn_off, lead)) for home in homes)
    shows = "tails and the end grain of the pins"
    other = "nothing shows: the lap covers the tails" if joint.lap_mm else "pins and the ends of the tails"
    saw = _saw_lines(joint, both)
    together = (both.tails, both.pins)
    words = ("together", *(("dots: the lid is sawn off",) if saw else ()))
    faces = ((both.tail_face, tail.name, shows), (both.pin_face, pin.name, other))
    apart = (both.tails.moved(drawn_off), both.pins)
    return (
        PicturePanel(timbers=apart, view=view, words=("apart",), named=True, paths=paths),
        PicturePanel(timbers=together, view=view, words=words, saw=saw),
        *(
            PicturePanel(timbers=together, view=_level(face), words=(f"outside of {_brief(name)}", text), saw=saw)
            for face, name, text in faces
        ),
    )


def slide_panels(joint: SlidingJoint) -> tuple[PicturePanel, ...]:
    """A sliding dovetail apart and together, the face with the housing, and both edges."""
    thick = max(joint.host.thickness_mm, joint.key.thickness_mm)
    times = taper_times(joint)
    both = slide_solids(joint, times=times, stub_mm=max(1.8 * thick, 0.2 * joint.length_mm))
    view = view_from((both.apart[0] * SLIDE_VIEW[0], SLIDE_VIEW[1]), SLIDE_DOWN_DEG)
    apart_mm = 1.2 * joint.key.thickness_mm / math.tan(math.radians(SLIDE_DOWN_DEG)) + 2 * joint.depth_mm
    apart = (both.host, both.key.moved((both.apart[0] * apart_mm, 0.0, 0.0)))
    together = (both.host, both.key)
    steeper = (f"taper drawn {times} times as steep as it is",) if times > 1 else ()
    from_behind = ("drawn apart; it slides in from the back, here in front", *steeper)
    face = (f"{joint.spec.face.value} face of {_brief(joint.host.name)}", *steeper)
    front = "the housing stops short and doesn't show" if joint.front_mm > 0 else "the housing shows"
    return (
        PicturePanel(timbers=apart, view=view, words=from_behind, named=True),
        PicturePanel(timbers=together, view=view, words=("together, seen from the back",)),
        PicturePanel(timbers=(both.host,), view=_level(both.apart), words=face),
        PicturePanel(timbers=together, view=_level((0.0, 1.0, 0.0)), words=("back edge",)),
        PicturePanel(timbers=together, view=_level((0.0, -1.0, 0.0)), words=("front edge", front)),
    )


def corner_words(joint: CornerJoint) -> str:
    """One line on what kind of corner it is."""
    kind = joint.kind.replace("_", "-")
    more = [f"{len(joint.tails)} tail{'s' if len(joint.tails) > 1 else ''}", joint.slope.words]
    if joint.lap_mm:
        more.append(f"lap {joint.lap_mm:g} mm")
    if joint.spec.lip is not None:
        more.append(f"lip {joint.spec.lip.overhang_mm:g} mm")
    if joint.mitres:
        more.append("mitred shoulder")
    return " · ".join((f"{kind} dovetail", *more))


def slide_words(joint: SlidingJoint) -> str:
    """One line on what kind of sliding dovetail it is."""
    more = ["stopped" if joint.front_mm > 0 else "through"]
    if joint.spec.taper_ratio is not None:
        more.append(f"taper 1:{joint.spec.taper_ratio:g} on the {joint.taper_on.value} cheek")
    return " · ".join(("sliding dovetail", *more, format_slope(joint.slope.ratio)))


def _brief(name: str) -> str:
    """A board's name, short enough to stand under a drawing."""
    return shortened(name, WORDS_MM, LABEL_MM)


def _level(face: Vec) -> View:
    return view_from((face[0], face[1]), 0.0)


def _added(point: Vec, direction: Vec, share: float) -> Vec:
    return (point[0] + share * direction[0], point[1] + share * direction[1], point[2] + share * direction[2])


def _saw_lines(joint: CornerJoint, both: CornerSolids) -> tuple[tuple[Vec, Vec], ...]:
    """Where a lid is sawn off, on both outside faces and before the ends that stand proud of them."""
    if joint.saw_line_mm is None:
        return ()
    lines = []
    for timber, face, proud_mm in (
        (both.tails, both.tail_face, joint.spec.proud_pins_mm),
        (both.pins, both.pin_face, joint.spec.proud_tails_mm),
    ):
        reach = max(float(np.dot(p, timber.along)) for flat in timber.solid.faces for p in flat.ring)
        start = _added((0.0, 0.0, joint.saw_line_mm), face, max(0.0, proud_mm))
        lines.append((start, _added(start, timber.along, reach)))
    return tuple(lines)
