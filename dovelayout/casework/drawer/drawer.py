"""A drawer: from its opening to boards, sums and clearances.

x runs across the opening, the drawer's length from the front's outside face backwards, heights from the drawer's lower
edge, which is the face edge of its boards. Sizes are those at which the parts are fitted, at the moisture content of
that day; what the year does to them is in the clearances.

Dovetailed: the front and the back are as wide as the drawer, the tails are on the sides. Butted: the front and the back
stand between the sides.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from dovelayout.casework.drawer.measures import Maker, Measures, up
from dovelayout.casework.drawer.spec import GUIDE_MM, MUNTIN_MM, SCREW_MM, SLIP_MM, DrawerSpec, Stock
from dovelayout.casework.drawer.sums import drawer_sums
from dovelayout.casework.seasons import Seasons
from dovelayout.casework.sums import Sum
from dovelayout.joints.board import Board, Groove, Lip
from dovelayout.joints.corner import CornerJoint


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A board of a drawer by what it is there: 'front', 'side', 'back', 'bottom', 'slip', 'muntin', 'centre guide'."""

    role: str
    board: Board


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearances:
    """Air around a drawer, mm: as fitted, and what the year leaves of it.

    `side_...` is at each side, `top_...` over the drawer, `behind_least_mm` behind it in the worst month. Below 0: jammed.
    """

    side_mm: float
    side_dampest_mm: float
    side_driest_mm: float
    top_mm: float
    top_dampest_mm: float
    top_driest_mm: float
    behind_mm: float
    behind_least_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bottom:
    """The bottom's fit, mm: how far it reaches past the back, how that moves, and the slot for its screw.

    `in_groove_mm` is how deep one end still sits when the other is home in its groove.
    """

    overhang_mm: float
    grows_mm: float
    shrinks_mm: float
    slot_mm: float
    in_groove_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawer:
    """A drawer worked out."""

    spec: DrawerSpec
    year: Seasons
    parts: tuple[Part, ...]
    sums: tuple[Sum, ...]
    clearances: Clearances
    bottom: Bottom
    measures: Measures
    lap_mm: float
    lip: Lip | None
    slips: bool
    unknown: tuple[str, ...]  # parts whose wood's movement is not known
    joints: tuple[CornerJoint, ...] = ()

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
    def length_mm(self) -> float:
        """From the front's outside face to the sides' ends."""
        return self.measures.length_mm

    @property
    def adds_up(self) -> bool:
        """Whether all sums come out."""
        return all(one.adds_up for one in self.sums)

    def board(self, role: str) -> Board:
        """The board of a role. KeyError where the drawer has none."""
        for part in self.parts:
            if part.role == role:
                return part.board
        raise KeyError(role)


def build_drawer(spec: DrawerSpec, year: Seasons) -> Drawer:
    """Works out a drawer's parts, sums and clearances; its corners come after (`drawer_corners`). Raises LayoutError."""
    maker = Maker(spec, year.fitted_at(spec.moisture_pct))
    measures = maker.measures(spec.sizes)
    return Drawer(
        spec=spec,
        year=maker.year,
        parts=_parts(maker, measures),
        sums=drawer_sums(maker, measures),
        clearances=_clearances(maker, measures),
        bottom=_bottom(maker, measures),
        measures=measures,
        lap_mm=maker.lap_mm,
        lip=maker.lip,
        slips=maker.slips,
        unknown=tuple(dict.fromkeys(maker.unknown)),
    )


def _parts(maker: Maker, m: Measures) -> tuple[Part, ...]:
    """The boards: what is cut from which wood, in the order of a cut list."""
    spec = maker.spec
    slip, muntin, guide = (
        replace(spec.side, thickness_mm=thickness_mm) for thickness_mm in (SLIP_MM, MUNTIN_MM[1], GUIDE_MM[1])
    )
    rows: list[tuple[str, Stock, float, float, int]] = [
        ("front", spec.front, m.front_width_mm, m.front_height_mm, 1),
        ("side", spec.side, m.side_length_mm, m.height_mm, 2),
        ("back", spec.back, m.back_width_mm, m.back_height_mm, 1),
        ("bottom", spec.bottom, m.bottom_width_mm, m.bottom_depth_mm, m.panels),
    ]
    if maker.slips:
        rows.append(("slip", slip, m.inside_length_mm, m.groove.far_mm + 4.0, 2))
    if spec.muntin:
        rows.append(("muntin", muntin, m.home_mm, MUNTIN_MM[0], 1))
    if spec.centre_guide:
        rows.append(("centre guide", guide, m.inside_length_mm, GUIDE_MM[0], 1))
    return tuple(
        Part(
            role=role,
            board=Board(
                name=f"{spec.name} {role}",
                wood=stock.wood,
                length_mm=round(length_mm, 6),
                width_mm=round(width_mm, 6),
                thickness_mm=stock.thickness_mm,
                rings=stock.rings,
                grain=stock.grain,
                count=count,
                moisture_pct=spec.moisture_pct,
            ),
        )
        for role, stock, length_mm, width_mm, count in rows
    )


def _bottom(maker: Maker, m: Measures) -> Bottom:
    """A solid bottom is sawn in from its rear edge for the screw, as far as the screw comes to stand in the dampest
    month, and half a mm more."""
    grows_mm = maker.bottom_swing.grows * m.bottom_depth_mm
    screw_mm = m.overhang_mm + grows_mm + maker.spec.back.thickness_mm / 2 + SCREW_MM / 2
    play_mm = m.panel_room_mm - m.panels * m.bottom_width_mm
    return Bottom(
        overhang_mm=m.overhang_mm,
        grows_mm=grows_mm,
        shrinks_mm=maker.bottom_swing.shrinks * m.bottom_depth_mm,
        slot_mm=up(screw_mm + 0.5, 0.5) if maker.solid_bottom else 0.0,
        in_groove_mm=m.groove.depth_mm - max(0.0, play_mm),
    )


def _clearances(maker: Maker, m: Measures) -> Clearances:
    spec = maker.spec
    side_mm = (spec.opening.clear_width_mm - m.width_mm) / 2
    straight_mm = side_mm - max(0.0, spec.bow_mm)
    top_mm = spec.opening.clear_height_mm - spec.runner_mm - m.height_mm
    depth_mm = spec.opening.clear_depth_mm
    reach_mm = m.length_mm + m.overhang_mm - (0.0 if maker.lip is None else maker.lip.thickness_mm)
    behind_mm = (
        depth_mm - reach_mm,
        depth_mm * (1 - maker.case_swing.shrinks) - reach_mm + maker.bottom_swing.shrinks * m.bottom_depth_mm,
        depth_mm * (1 + maker.case_swing.grows) - reach_mm - maker.bottom_swing.grows * m.bottom_depth_mm,
    )
    return Clearances(
        side_mm=side_mm,
        side_dampest_mm=straight_mm - maker.thick_swing.grows * spec.side.thickness_mm,
        side_driest_mm=straight_mm + maker.thick_swing.shrinks * spec.side.thickness_mm,
        top_mm=top_mm,
        top_dampest_mm=top_mm - maker.height_swing.grows * m.height_mm,
        top_driest_mm=top_mm + maker.height_swing.shrinks * m.height_mm,
        behind_mm=behind_mm[0],
        behind_least_mm=min(behind_mm),
    )
