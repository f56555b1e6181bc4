"""The pictures of a job: joints that look the same once, set on the job's paper, or each on a sheet of its own."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.divider import Divider
from dovelayout.drawing.cards.card import Card, card_pages
from dovelayout.drawing.picture.panel import picture
from dovelayout.drawing.picture.picture import corner_panels, corner_words, slide_panels, slide_words
from dovelayout.drawing.primitives import Sheet, Size, placed
from dovelayout.drawing.sheets.flow import Paragraph, flowed
from dovelayout.drawing.sheets.frame import AIR_MM, Legend, Page, framed, inset_room_mm, paper_around, room_mm
from dovelayout.drawing.style import Style
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.paper import Paper
from dovelayout.texts import Texts
from dovelayout.words import grouped

TEXTS = Texts("drawing", "sheets")

FREE_ROOM_MM = (176.0, 250.0)  # for a picture on a sheet of its own
MOST_PICTURES = 24
"""More pictures than this in one job are named, not drawn; ours."""
MOST_NAMES = 12
"""More names than this in one title are counted; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureGroup:
    """Joints that look the same: the first of them, and the names of all. Of a divider between two hosts the first end is
    drawn."""

    joint: CornerJoint | Divider
    names: tuple[str, ...]

    @property
    def title(self) -> str:
        """'Corners A, C'."""
        what = "Divider" if isinstance(self.joint, Divider) else "Corner"
        shown = ", ".join(self.names[:MOST_NAMES])
        more = len(self.names) - MOST_NAMES
        return f"{what}{'s' if len(self.names) > 1 else ''} {shown}" + (f" and {more} more" if more > 0 else "")

    @property
    def short_title(self) -> str:
        """'Corner A, and 3 like it'."""
        title = replace(self, names=self.names[:1]).title
        return title if len(self.names) == 1 else f"{title}, and {len(self.names) - 1} like it"

    @property
    def words(self) -> tuple[str, ...]:
        """What the picture shows, and how the others of the group differ."""
        joint = self.joint
        if isinstance(joint, Divider):
            first = joint.joint
            rows = [f"{first.spec.key.label} into {first.spec.host.label}", slide_words(first)]
            for other in joint.joints[1:]:
                is_mirrored = other.end_on_the_left is not first.end_on_the_left
                same = "the mirror image of this" if is_mirrored else "the same"
                rows.append(f"{other.spec.key.label} into {other.spec.host.label}: {same}")
            return tuple(rows)
        ends = f"{joint.spec.tails.label} (tails) to {joint.spec.pins.label} (pins)"
        return (f"{joint.name}: {ends}" if len(self.names) > 1 else ends, corner_words(joint))

    def card(self, room_mm: Size) -> Card:
        """The picture, with its title and words, in a room."""
        joint = self.joint
        panels = slide_panels(joint.joint) if isinstance(joint, Divider) else corner_panels(joint)
        return picture(self.title, self.words, panels, room_mm)


def picture_groups(joints: Sequence[CornerJoint], dividers: Sequence[Divider]) -> tuple[PictureGroup, ...]:
    """The joints of a job, those that look the same together. A left-hand corner doesn't look like a right-hand one."""
    looks: list[tuple[Hashable, CornerJoint | Divider]] = [(_looks(joint), joint) for joint in joints]
    looks += [(tuple(map(_slide_looks, divider.joints)), divider) for divider in dividers]
    return tuple(
        PictureGroup(joint=same[0], names=tuple(joint.name for joint in same)) for same in grouped(looks).values()
    )


def _stock(board: Board) -> Hashable:
    return (board.width_mm, board.thickness_mm, board.wood.name, board.rings)


def _looks(joint: CornerJoint) -> Hashable:
    """All that a corner's picture shows, but for names."""
    spec = joint.spec
    return (
        (joint.kind, spec.tails.end, _stock(joint.tail_board), _stock(joint.pin_board)),
        (joint.pin_offset_mm, joint.slope, joint.tails, joint.pins, joint.covers, joint.mitres, joint.saw_line_mm),
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


def picture_pages(
    joints: Sequence[CornerJoint], dividers: Sequence[Divider], style: Style, on: Paper
) -> tuple[Page, ...]:
    """The sheets of pictures of a job on one paper. Raises PrintError where a picture doesn't fit."""
    groups = picture_groups(joints, dividers)
    contents = card_pages([group.card(inset_room_mm(on)) for group in groups[:MOST_PICTURES]], on)
    left = groups[MOST_PICTURES:]
    if left:
        names = ", ".join(name for group in left for name in group.names)
        text = TEXTS("unpictured", count=len(left), names=names)
        contents += flowed([Paragraph(text=text)], on)
    heading = style.heading("How the joints look")
    return tuple(Page.of(content, heading, Legend.PICTURE) for content in contents)


def picture_drawing(joint: CornerJoint | Divider) -> Sheet:
    """The picture of one joint without a sheet round it, for a screen."""
    card = PictureGroup(joint=joint, names=(joint.name,)).card(FREE_ROOM_MM)
    title = f"{joint.name}: how it looks"
    return Sheet(width_mm=card.width_mm, height_mm=card.height_mm, items=card.items, title=title)


def picture_sheet(group: PictureGroup, style: Style) -> Sheet:
    """The picture of a group of joints, on a sheet just large enough."""
    card = group.card(FREE_ROOM_MM)
    on = paper_around((card.width_mm, card.height_mm))
    up_mm = room_mm(on)[1] - card.height_mm - AIR_MM  # the sheet is as high as its bar at least
    heading = style.heading(f"{group.title}: how it looks")
    page = Page.of(placed(card.items, AIR_MM, up_mm), heading, Legend.PICTURE)
    return framed(replace(page, description=group.words[1]), on)
