"""The specification of a drawer: its opening, its style, its wood, and sizes that are fixed already."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.casework.drawer.choices import BottomGlue, Corners, Fit, Front
from dovelayout.joints.board import Board, Grain, Groove, Lip, Rings
from dovelayout.joints.spec import PROPOSED, LayoutSpec
from dovelayout.wood.species import Wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaps:
    """What is left in the dampest month: at each side, and over the drawer."""

    side_mm: float
    top_mm: float


FITS: dict[Fit, Gaps] = {
    Fit.PISTON: Gaps(side_mm=0.10, top_mm=0.3),
    Fit.GOOD: Gaps(side_mm=0.25, top_mm=0.5),
    Fit.WORKADAY: Gaps(side_mm=0.60, top_mm=1.0),
}
"""Sides: common practice, no source (0.05 to 0.15, about 0.25, 0.4 to 0.8 mm); over the drawer: ours."""

SHAVING_MM = 0.2
"""Pins are left this much shorter than the sides are thick, so that the sides plane down to them and the fitted front
is never touched (common practice, no source: a shaving, up to 0.8 mm)."""

RUNNER_MM = 0.3
"""Runners stand this proud of the rail, so that the front doesn't scrape on it; ours."""

BACK_DROP_MM = 4.0
"""The back stops this far below the sides' upper edges (common practice, no source: 3 to 10 mm, for air)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The opening, each side as measured; a second measurement where one was taken (None: it wasn't). The smaller
    counts."""

    width_mm: float
    height_mm: float
    depth_mm: float
    width2_mm: float | None = None
    height2_mm: float | None = None
    depth2_mm: float | None = None

    @property
    def clear_width_mm(self) -> float:
        """The smaller of the two widths."""
        return min(self.width_mm, self.width2_mm or self.width_mm)

    @property
    def clear_height_mm(self) -> float:
        """The smaller of the two heights."""
        return min(self.height_mm, self.height2_mm or self.height_mm)

    @property
    def clear_depth_mm(self) -> float:
        """The smaller of the two depths."""
        return min(self.depth_mm, self.depth2_mm or self.depth_mm)

    @property
    def measured_twice(self) -> tuple[tuple[str, float, float], ...]:
        """What was measured twice: (name, first, second)."""
        rows = (
            ("width", self.width_mm, self.width2_mm),
            ("height", self.height_mm, self.height2_mm),
            ("depth", self.depth_mm, self.depth2_mm),
        )
        return tuple((name, first, second) for name, first, second in rows if second is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The wood of a part: species, thickness, rings, grain, and its moisture content where it was metered."""

    wood: Wood
    thickness_mm: float
    rings: Rings = Rings.FLAT
    grain: Grain = Grain.STRAIGHT
    moisture_pct: float | None = None

    def cut(self, name: str, length_mm: float, width_mm: float, *, count: int = 1) -> Board:
        """A board of this stock, or `count` equal ones."""
        return Board(
            name=name,
            wood=self.wood,
            length_mm=round(length_mm, 6),
            width_mm=round(width_mm, 6),
            thickness_mm=self.thickness_mm,
            rings=self.rings,
            grain=self.grain,
            count=count,
            moisture_pct=self.moisture_pct,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Sizes that the job fixes, or that are cut already; None where they are worked out."""

    front_width_mm: float | None = None
    front_height_mm: float | None = None
    side_length_mm: float | None = None
    back_width_mm: float | None = None
    back_height_mm: float | None = None
    bottom_width_mm: float | None = None
    bottom_depth_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """A drawer as the job specifies it; None where the job leaves a value open.

    `bow_mm`: how far each side bows outward (below 0: inward). `case`: the wood of the case's sides, whose width is the
    opening's depth; it is the drawer's own where the job doesn't name it (`case_named`). `origin`: its place in the job,
    (table, name).
    """

    name: str
    opening: Opening
    front: Stock
    side: Stock
    back: Stock
    bottom: Stock
    case: Stock
    case_named: bool = True
    style: Front = Front.INSET
    corners: Corners = Corners.DOVETAILED
    fit: Fit = Fit.GOOD
    lap_mm: float | None = None
    lip: Lip | None = None
    groove: Groove | None = None
    front_pattern: LayoutSpec = PROPOSED
    back_pattern: LayoutSpec = PROPOSED
    side_gap_mm: float | None = None
    top_gap_mm: float | None = None
    runner_mm: float = RUNNER_MM
    runner_length_mm: float | None = None
    back_drop_mm: float = BACK_DROP_MM
    shaving_mm: float = SHAVING_MM
    bow_mm: float = 0.0
    bottom_glue: BottomGlue = BottomGlue.FRONT
    slips: bool | None = None
    muntin: bool = False
    centre_guide: bool = False
    sizes: Sizes = Sizes()
    origin: tuple[str, str] = ("drawer", "")
