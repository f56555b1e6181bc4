"""The pictures of a job: joints that look the same once, set on the job's paper, or each on a sheet of its own."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.divider import Divider
from dovelayout.drawing.flow import Line, flowed
from dovelayout.drawing.panel import Panel, picture
from dovelayout.drawing.picture import corner_panels, corner_words, slide_panels, slide_words
from dovelayout.drawing.primitives import Item, Sheet, moved
from dovelayout.drawing.sheet import Heading, framed, made_to_measure, room_mm
from dovelayout.drawing.slide import Card, arranged
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.paper import Paper

AIR_MM = 2.0
FREE_ROOM_MM = (176.0, 250.0)  # for a picture on a sheet of its own
MOST_PICTURES = 24
"""More pictures than this in one job are told, not drawn; ours."""
MOST_NAMES = 12
"""More names than this in one title are counted; ours."""

PICTURE_LINE = (
    "PICTURES: nothing is measured on them. Broken lines: along the grain. Close lines: end grain, a pattern and not your "
    "board's rings."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturePage:
    """What stands on one sheet, in the coordinates of the paper's room, with its heading."""

    content: tuple[Item, ...]
    heading: Heading


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Joints that look the same: the first of them, and what all are called. Of a divider between two hosts the first
    end is drawn."""

    joint: CornerJoint | Divider
    names: tuple[str, ...]

    @property
    def title(self) -> str:
        """'Corners A, C'."""
        what = "Divider" if isinstance(self.joint, Divider) else "Corner"
        shown = ", ".join(self.names[:MOST_NAMES])
        more = len(self.names) - MOST_NAMES
        return f"{what}{'s' if len(self.names) > 1 else ''} {shown}" + (f" and {more} more" if more > 0 else "")


def alike(joints: Sequence[CornerJoint], dividers: Sequence[Divider]) -> tuple[Alike, ...]:
    """The joints of a job, those that look the same together. A left-hand corner doesn't look like a right-hand one."""
    found: dict[Hashable, tuple[CornerJoint | Divider, list[str]]] = {}
    for joint in joints:
        found.setdefault(_looks(joint), (joint, []))[1].append(joint.name)
    for divider in dividers:
        looks = tuple(_slide_looks(slide) for slide in divider.joints)
        found.setdefault(looks, (divider, []))[1].append(divider.name)
    return tuple(Alike(joint=joint, names=tuple(names)) for joint, names in found.values())


def _stock(board: Board) -> Hashable:
    return (board.width_mm, board.thickness_mm, board.wood.name, board.rings)


def _looks(joint: CornerJoint) -> Hashable:
    """All that a corner's picture shows, but for names."""
    spec = joint.spec
    return (
        joint.kind,
        spec.tails.end,
        _stock(joint.tail_board),
        _stock(joint.pin_board),
        joint.pin_offset_mm,
        joint.slope,
        joint.tails,
        joint.pins,
        joint.covers,
        joint.mitres,
        joint.saw_line_mm,
        (spec.proud_tails_mm, spec.proud_pins_mm, spec.groove, spec.lap_mm, spec.lip),
    )


def _slide_looks(joint: SlidingJoint) -> Hashable:
    spec = joint.spec
    return (
        joint.end_on_the_left,
        (_stock(joint.host), joint.host.length_mm, _stock(joint.key)),
        (joint.neck_lower_mm, joint.wide_mm, joint.taper_on),
        (spec.depth_mm, spec.sloped, spec.slope, spec.taper_ratio, spec.stop_mm, spec.set_back_mm),
        (spec.slip_mm, spec.clearance_mm),
    )


def _panels(joint: CornerJoint | Divider) -> tuple[Panel, ...]:
    return slide_panels(joint.joint) if isinstance(joint, Divider) else corner_panels(joint)


def _words(group: Alike) -> tuple[str, ...]:
    """What the picture shows, and how its likes differ."""
    joint = group.joint
    if isinstance(joint, Divider):
        first = joint.joint
        rows = [f"{first.spec.key.label} into {first.spec.host.label}", slide_words(first)]
        for other in joint.joints[1:]:
            mirrored = other.end_on_the_left is not first.end_on_the_left
            same = "the mirror image of this" if mirrored else "the same"
            rows.append(f"{other.spec.key.label} into {other.spec.host.label}: {same}")
        return tuple(rows)
    ends = f"{joint.spec.tails.label} (tails) to {joint.spec.pins.label} (pins)"
    return (f"{joint.name}: {ends}" if len(group.names) > 1 else ends, corner_words(joint))


def _card(group: Alike, wide_mm: float, high_mm: float) -> Card:
    return picture(group.title, _words(group), _panels(group.joint), wide_mm=wide_mm, high_mm=high_mm)


def picture_pages(
    joints: Sequence[CornerJoint], dividers: Sequence[Divider], *, job: str, stamp: str, on: Paper
) -> Iterator[PicturePage]:
    """The sheets of pictures of a job on one paper."""
    groups = alike(joints, dividers)
    wide_mm, high_mm = (side - 2 * AIR_MM for side in room_mm(on))
    cards = [_card(group, wide_mm, high_mm) for group in groups[:MOST_PICTURES]]
    heading = Heading(job=job, what="How the joints look", stamp=stamp)
    for content in arranged(cards, wide_mm=wide_mm, high_mm=high_mm):
        if content:
            yield PicturePage(content=tuple(moved(item, AIR_MM, AIR_MM) for item in content), heading=heading)
    left = groups[MOST_PICTURES:]
    if left:
        text = f"{len(left)} more joints that look different aren't pictured; draw --only NAME pictures one. They are: "
        names = ", ".join(name for group in left for name in group.names)
        for content in flowed([Line(text=text + names)], on):
            yield PicturePage(content=content, heading=heading)


def picture_drawing(joint: CornerJoint | Divider) -> Sheet:
    """The picture of one joint bare, for a screen."""
    card = _card(Alike(joint=joint, names=(joint.name,)), *FREE_ROOM_MM)
    return Sheet(
        width_mm=card.width_mm, height_mm=card.height_mm, items=card.items, title=f"{joint.name}: how it looks"
    )


def picture_sheet(group: Alike, *, job: str, stamp: str) -> Sheet:
    """The picture of one joint, and of its likes, on a sheet just large enough."""
    card = _card(group, *FREE_ROOM_MM)
    heading = Heading(job=job, what=f"{group.title}: how it looks", stamp=stamp)
    on = made_to_measure(card.width_mm + 2 * AIR_MM, card.height_mm + 2 * AIR_MM)
    up_mm = room_mm(on)[1] - card.height_mm - AIR_MM  # the sheet is as high as its bar at least
    return framed(
        tuple(moved(item, AIR_MM, up_mm) for item in card.items),
        on=on,
        heading=heading,
        number=1,
        of=1,
        legend=PICTURE_LINE,
        title=f"{job}: {heading.what}",
        description=_words(group)[1],
    )
