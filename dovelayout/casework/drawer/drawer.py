"""A drawer: from its opening to boards, sums and clearances.

x runs across the opening, the drawer's length from the front's outside face backwards, heights from the drawer's lower
edge, which is the face edge of its boards. Sizes are those at which the parts are fitted; what the year does to them is
in the clearances.

Dovetailed: the front and the back are as wide as the drawer, the tails are on the sides. Butted: the front and the back
stand between the sides.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from dovelayout.casework.drawer.measures import MUNTIN_MM, SLIP_MM, DrawerSizes, Measures, drawer_sizes, up
from dovelayout.casework.drawer.spec import DrawerSpec
from dovelayout.casework.drawer.sums import drawer_sums
from dovelayout.casework.sums import Sum
from dovelayout.joints.board import Board, Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop

GUIDE_MM = (25.0, 13.0)
"""Height and width of a centre guide's tongue (common practice, no source: 1 x 1/2 in)."""

SCREW_MM = 4.0
"""Shank of the one screw that holds a solid bottom up to the back; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerPart:
    """A board of a drawer by what it is there: 'front', 'side', 'back', 'bottom', 'slip', 'muntin', 'centre guide'."""

    role: str
    board: Board


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearances:
    """Air around a drawer, mm: as fitted, and what the year leaves of it at worst. Below 0: jammed.

    `side_...` is at each side, `top_...` over the drawer, `behind_...` behind it. `top_dampest_mm` is over the front or
    the sides, whichever grow more, `top_driest_mm` the gap that shows: over an inset front, or over the sides behind a lip.
    """

    side_mm: float
    side_dampest_mm: float
    side_driest_mm: float
    top_mm: float
    top_dampest_mm: float
    top_driest_mm: float
    behind_mm: float
    behind_dampest_mm: float
    behind_driest_mm: float

    @property
    def behind_least_mm(self) -> float:
        """The least that is ever left behind it."""
        return min(self.behind_mm, self.behind_dampest_mm, self.behind_driest_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bottom:
    """The bottom's fit, mm: how far it reaches past the back, how that moves, and the slot for its screw.

    It grows and shrinks at worst so far from the day it is fitted, and moves by `moves_mm` over the year. `in_groove_mm` is
    how deep one end still sits when the other is home in its groove.
    """

    overhang_mm: float
    grows_mm: float
    shrinks_mm: float
    moves_mm: float
    slot_mm: float
    in_groove_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawer:
    """A drawer worked out."""

    sizes: DrawerSizes
    measures: Measures
    parts: tuple[DrawerPart, ...]
    sums: tuple[Sum, ...]
    clearances: Clearances
    bottom: Bottom
    joints: tuple[CornerJoint, ...] = ()

    @property
    def spec(self) -> DrawerSpec:
        """Its specification."""
        return self.sizes.spec

    @property
    def assumed_case(self) -> str:
        """What is assumed of the case's wood, in words; '' where the job names it."""
        case = self.spec.case
        return (
            ""
            if self.spec.case_named
            else f"the case is taken as {case.wood.name}, {case.rings}-sawn, since none is named"
        )

    @property
    def name(self) -> str:
        """The drawer's name."""
        return self.spec.name

    @property
    def groove(self) -> Groove:
        """The groove of its sides (or slips) and its front."""
        return self.measures.groove

    @property
    def width_mm(self) -> float:
        """Width of the box, without lips."""
        return self.measures.width_mm

    @property
    def height_mm(self) -> float:
        """Height of the sides."""
        return self.measures.height_mm

    @property
    def adds_up(self) -> bool:
        """Whether all sums come out."""
        return all(one.adds_up for one in self.sums)

    def board(self, role: str) -> Board:
        """The board of a role. KeyError where the drawer has none."""
        return {part.role: part.board for part in self.parts}[role]


def build_drawer(spec: DrawerSpec, shop: Shop) -> Drawer:
    """Works out a drawer's parts, sums and clearances; its corners come after (`with_corners`). Raises LayoutError."""
    sizes = drawer_sizes(spec, shop)
    measures = sizes.measures(spec.sizes)
    return Drawer(
        sizes=sizes,
        measures=measures,
        parts=_parts(sizes, measures),
        sums=drawer_sums(sizes, measures),
        clearances=_clearances(sizes, measures),
        bottom=_bottom(sizes, measures),
    )


def _parts(sizes: DrawerSizes, m: Measures) -> tuple[DrawerPart, ...]:
    """The boards, in the order of a cut list."""
    spec = sizes.spec
    slip, muntin, guide = (
        replace(spec.side, thickness_mm=thickness_mm) for thickness_mm in (SLIP_MM, MUNTIN_MM[1], GUIDE_MM[1])
    )
    rows = [
        ("front", spec.front, m.front_width_mm, m.front_height_mm, 1),
        ("side", spec.side, m.side_length_mm, m.height_mm, 2),
        ("back", spec.back, m.back_width_mm, m.back_height_mm, 1),
        ("bottom", spec.bottom, m.bottom_width_mm, m.bottom_depth_mm, m.panels),
    ]
    if sizes.slips:
        rows.append(("slip", slip, m.inside_length_mm, m.groove.far_mm + 4.0, 2))
    if spec.muntin:
        rows.append(("muntin", muntin, m.home_mm, MUNTIN_MM[0], 1))
    if spec.centre_guide:
        rows.append(("centre guide", guide, m.inside_length_mm, GUIDE_MM[0], 1))
    return tuple(
        DrawerPart(role=role, board=stock.cut(f"{spec.name} {role}", length_mm, width_mm, count=count))
        for role, stock, length_mm, width_mm, count in rows
    )


def _bottom(sizes: DrawerSizes, m: Measures) -> Bottom:
    """A solid bottom is sawn in from its rear edge for the screw, as far as the screw comes to stand in the dampest
    month, and half a mm more."""
    moves, depth_mm = sizes.bottom, m.bottom_depth_mm
    screw_mm = m.overhang_mm + moves.grows_share * depth_mm + sizes.spec.back.thickness_mm / 2 + SCREW_MM / 2
    return Bottom(
        overhang_mm=m.overhang_mm,
        grows_mm=moves.grows_share * depth_mm,
        shrinks_mm=moves.shrinks_share * depth_mm,
        moves_mm=moves.year_share * depth_mm,
        slot_mm=up(screw_mm + 0.5, 0.5) if sizes.solid_bottom else 0.0,
        in_groove_mm=m.groove.depth_mm - max(0.0, m.panel_room_mm - m.panels * m.bottom_width_mm),
    )


def _clearances(sizes: DrawerSizes, m: Measures) -> Clearances:
    spec, opening, case, bottom = sizes.spec, sizes.spec.opening, sizes.case, sizes.bottom
    side_mm = (opening.clear_width_mm - m.width_mm) / 2
    straight_mm = side_mm - max(0.0, spec.bow_mm)
    top_mm = opening.clear_height_mm - spec.runner_mm - m.height_mm
    shows = sizes.front if sizes.lip is None else sizes.side
    depth_mm = opening.clear_depth_mm
    behind_mm = depth_mm - m.length_mm - m.overhang_mm + (0.0 if sizes.lip is None else sizes.lip.thickness_mm)
    return Clearances(
        side_mm=side_mm,
        side_dampest_mm=straight_mm - sizes.thickness.grows_share * spec.side.thickness_mm,
        side_driest_mm=straight_mm + sizes.thickness.shrinks_share * spec.side.thickness_mm,
        top_mm=top_mm,
        top_dampest_mm=top_mm - sizes.height_grows_share * m.height_mm,
        top_driest_mm=top_mm + shows.shrinks_share * m.height_mm,
        behind_mm=behind_mm,
        behind_dampest_mm=behind_mm + case.grows_share * depth_mm - bottom.grows_share * m.bottom_depth_mm,
        behind_driest_mm=behind_mm - case.shrinks_share * depth_mm + bottom.shrinks_share * m.bottom_depth_mm,
    )
