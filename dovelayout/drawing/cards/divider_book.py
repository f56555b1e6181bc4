"""The sheets of a divider: its cards set on the job's paper, or all on a sheet of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider
from dovelayout.drawing.cards.card import card_pages, card_sheet
from dovelayout.drawing.cards.slide import slide_cards
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.sheets.frame import Legend, Page
from dovelayout.drawing.sheets.pieces import SheetPiece
from dovelayout.drawing.style import Heading, Style
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.paper import Paper
from dovelayout.units import format_slope


def divider_pages(divider: Divider, style: Style, on: Paper) -> Iterator[Page]:
    """The sheets of a divider on one paper. Raises PrintError when a card doesn't fit."""
    for joint in divider.joints:
        for content in card_pages(slide_cards(joint, style), on):
            yield Page.of(content, _heading(joint, style), Legend.CARD)


def divider_pieces(dividers: Sequence[Divider], style: Style) -> Iterator[SheetPiece]:
    """All cards of all dividers, to nest, each under the name of its divider."""
    for joint in (joint for divider in dividers for joint in divider.joints):
        for card in slide_cards(joint, style):
            what = card.title.partition(" ")[0].lower()
            yield SheetPiece.of_drawing(card, of=joint.name, what=what, name=divider_name(joint))


def divider_sheet(joint: SlidingJoint, style: Style) -> Sheet:
    """All cards of one sliding dovetail in a row, on a sheet just large enough."""
    return card_sheet(slide_cards(joint, style), _heading(joint, style), Legend.CARD)


def divider_name(joint: SlidingJoint) -> str:
    """'Divider shelf: shelf.left into side'."""
    return f"Divider {joint.name}: {joint.spec.key.label} into {joint.spec.host.label}"


def _heading(joint: SlidingJoint, style: Style) -> Heading:
    numbers = [
        f"housing {style.setting(joint.depth_mm)} deep",
        f"tongue {style.setting(joint.tongue_mm)} high",
        f"bevel {format_slope(joint.slope.ratio)}",
    ]
    if joint.spec.taper_ratio is not None:
        numbers.append(f"taper 1:{joint.spec.taper_ratio:g} on the {joint.taper_on.value} cheek")
    if joint.front_mm > 0:
        numbers.append(f"stopped {style.setting(joint.front_mm)} from the front")
    return style.heading(divider_name(joint), " · ".join(numbers))
