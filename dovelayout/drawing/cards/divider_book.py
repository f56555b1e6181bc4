"""The sheets of a divider: its cards set on the job's paper, or all on a sheet of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from dovelayout.casework.divider import Divider
from dovelayout.drawing.cards.slide import arranged, exact, row_size_mm, slide_cards
from dovelayout.drawing.primitives import Item, Sheet, moved
from dovelayout.drawing.sheets.frame import CARD_LINE, Heading, framed, made_to_measure, room_mm
from dovelayout.drawing.sheets.pieces import Piece
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.paper import Paper
from dovelayout.units import Unit, format_slope

AIR_MM = 2.0  # between the cards and the edge of the sheet's room


@dataclass(frozen=True, slots=True, kw_only=True)
class DividerPage:
    """What stands on one sheet, in the coordinates of the paper's room, with its heading."""

    content: tuple[Item, ...]
    heading: Heading


def divider_pages(divider: Divider, *, job: str, unit: Unit, stamp: str, on: Paper) -> Iterator[DividerPage]:
    """The sheets of a divider on one paper. Raises PrintError when a card doesn't fit."""
    wide_mm, high_mm = (side - 2 * AIR_MM for side in room_mm(on))
    for joint in divider.joints:
        for content in arranged(slide_cards(joint, unit), wide_mm=wide_mm, high_mm=high_mm):
            yield DividerPage(content=_placed(content), heading=_heading(joint, job, unit, stamp))


def divider_pieces(dividers: Sequence[Divider], unit: Unit) -> tuple[Piece, ...]:
    """All cards of all dividers, to nest, each under the name of its divider."""
    return tuple(
        Piece(
            of=joint.name,
            what=card.title.partition(" ")[0].lower(),
            name=f"Divider {joint.name}: {joint.spec.key.label} into {joint.spec.host.label}",
            numbers=(),
            width_mm=card.width_mm,
            height_mm=card.height_mm,
            draw=partial(_itself, card.items),
        )
        for divider in dividers
        for joint in divider.joints
        for card in slide_cards(joint, unit)
    )


def _itself(items: tuple[Item, ...]) -> tuple[Item, ...]:
    return items


def divider_sheet(joint: SlidingJoint, *, job: str, unit: Unit, stamp: str) -> Sheet:
    """All cards of one sliding dovetail in a row, on a sheet just large enough."""
    cards = slide_cards(joint, unit)
    wide_mm, high_mm = row_size_mm(cards)
    (content,) = arranged(cards, wide_mm=wide_mm, high_mm=high_mm)
    heading = _heading(joint, job, unit, stamp)
    return framed(
        _placed(content),
        on=made_to_measure(wide_mm + 2 * AIR_MM, high_mm + 2 * AIR_MM),
        heading=heading,
        number=1,
        of=1,
        legend=CARD_LINE,
        title=f"{job}: {heading.what}",
        description=heading.numbers,
    )


def _placed(content: tuple[Item, ...]) -> tuple[Item, ...]:
    return tuple(moved(item, AIR_MM, AIR_MM) for item in content)


def _heading(joint: SlidingJoint, job: str, unit: Unit, stamp: str) -> Heading:
    numbers = [
        f"housing {exact(joint.depth_mm, unit)} deep",
        f"tongue {exact(joint.tongue_mm, unit)} high",
        f"bevel {format_slope(joint.slope.ratio)}",
    ]
    if joint.spec.taper_ratio is not None:
        numbers.append(f"taper 1:{joint.spec.taper_ratio:g} on the {joint.taper_on.value} cheek")
    if joint.front_mm > 0:
        numbers.append(f"stopped {exact(joint.front_mm, unit)} from the front")
    return Heading(
        job=job,
        what=f"Divider {joint.name}: {joint.spec.key.label} into {joint.spec.host.label}",
        numbers=" · ".join(numbers),
        stamp=stamp,
    )
