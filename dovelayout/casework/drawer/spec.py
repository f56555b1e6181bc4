"""What is asked of a drawer: its opening, its style, its wood, and what the maker has decided already."""

from __future__ import annotations

from dataclasses import dataclass, field

from dovelayout.casework.drawer.choices import BottomGlue, Corners, Fit, Front
from dovelayout.joints.board import Grain, Groove, Lip, Rings
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

LIP_GAP_MM = 0.75
"""Behind a lip the play at both sides together is kept to 1.6 mm (common practice, no source)."""

RUNNER_MM = 0.3
"""Runners stand this proud of the rail, so that the front doesn't scrape on it; ours."""

BACK_DROP_MM = 4.0
"""The back stops this far below the sides' upper edges (common practice, no source: 3 to 10 mm, for air)."""

GROOVE_UP_MM = 10.0
"""From a side's lower edge to the groove (common practice, no source: 6 to 12 mm)."""

LOW_MM = 36.0
"""Sides lower than this have their groove nearer to the edge; ours."""

LOW_GROOVE_UP_MM = 8.0
"""From a low side's lower edge to its groove; ours."""

SLIPS_UNDER_MM = 10.0
"""Sides thinner than this take slips instead of a groove (common practice, no source)."""

SLIP_MM = 12.0
"""Width of a slip from the side inwards; ours."""

MUNTIN_MM = (50.0, 16.0)
"""Width and thickness of a centre muntin (common practice, no source)."""

GUIDE_MM = (25.0, 13.0)
"""Height and width of a centre guide's tongue (common practice, no source: 1 x 1/2 in)."""

BOTTOM_PLAY_MM = 2.0
"""A bottom is this much shorter than from groove floor to groove floor (common practice, no source: 2.4 mm or less)."""

BACK_GAP_MM = 3.0
"""Left behind the drawer in the worst month: a drawer never stops on the case's back (the amount is ours)."""

OVERHANG_MM = 6.0
"""A solid bottom reaches this far past the back when fitted (common practice, no source)."""

OVERHANG_LEFT_MM = 2.0
"""What must be left of that in the driest month; ours."""

SCREW_MM = 4.0
"""Shank of the one screw that holds a solid bottom up to the back; ours."""

LEAST_BACK_MM = 12.0
"""A back lower than this is a strip, not a board; ours."""


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
    def twice(self) -> tuple[tuple[str, float, float], ...]:
        """What was measured twice: (name, first, second)."""
        rows = (
            ("width", self.width_mm, self.width2_mm),
            ("height", self.height_mm, self.height2_mm),
            ("depth", self.depth_mm, self.depth2_mm),
        )
        return tuple((name, first, second) for name, first, second in rows if second is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The wood of a part: species, thickness, rings and grain."""

    wood: Wood
    thickness_mm: float
    rings: Rings = Rings.FLAT
    grain: Grain = Grain.STRAIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Sizes that the maker has decided, or has cut already; None where they are worked out."""

    front_width_mm: float | None = None
    front_height_mm: float | None = None
    side_length_mm: float | None = None
    back_width_mm: float | None = None
    back_height_mm: float | None = None
    bottom_width_mm: float | None = None
    bottom_depth_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """A drawer as asked for. `bow_mm`: how far each side bows outward (below 0: inward). `case`: the wood of the case's
    sides, whose width is the opening's depth. `origin`: where the job has it, (table, name)."""

    name: str
    opening: Opening
    front: Stock
    side: Stock
    back: Stock
    bottom: Stock
    case: Stock
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
    moisture_pct: float | None = None
    sizes: Sizes = field(default_factory=Sizes)
    origin: tuple[str, str] = ("drawer", "")
