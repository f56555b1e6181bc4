"""A gap in a dovetail: what fills it, how that will look, and when it is better left alone.

The table of methods by width is common practice, no source. Where the place changes the method (nothing is driven
against a lap, dust holds on end grain alone) the judgement is ours, as are the sizes of slips and wedges.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE
from dovelayout.checks.rule import Rule
from dovelayout.joints.board import Rings
from dovelayout.joints.slope import Slope
from dovelayout.wood.glue import Glue
from dovelayout.wood.moisture import Direction, emc_pct, size_change_share
from dovelayout.wood.species import Wood


class GapPlace(StrEnum):
    """Where the gap is. `END`: where the end grain of tails or pins shows; `CHEEK`: down a sloping side, through the
    joint; `BASELINE`: along the shoulder; `LAP`: between a tail's end and the lap of a half-blind front."""

    END = "end"
    CHEEK = "cheek"
    BASELINE = "baseline"
    LAP = "lap"


class Method(StrEnum):
    """What is done about a gap."""

    WAIT = "wait for the season"
    LEAVE = "leave or peen"
    DUST = "dust and glue"
    SHAVING = "shaving"
    SLIP = "slip"
    SLIVER = "sliver"
    PATCH = "patch"
    RECUT = "recut"

    @property
    def wooden(self) -> bool:
        """Whether a piece of wood goes into the gap."""
        return self in (Method.SHAVING, Method.SLIP, Method.SLIVER, Method.PATCH)


LEAVE_MM = 0.1
"""Up to this a gap is left alone: glue and finish close it (common practice, no source)."""
DUST_MM = 0.3
"""Up to this it is filled with dust in glue (common practice, no source)."""
SLIVER_MM = 1.5
"""Up to this a sliver or a shaving goes in (common practice, no source)."""
PATCH_MM = 3.0
"""Up to this a patch is glued in; beyond, the joint is cut again (common practice, no source)."""

BANDS: tuple[tuple[float, Method], ...] = (
    (LEAVE_MM, Method.LEAVE),
    (DUST_MM, Method.DUST),
    (SLIVER_MM, Method.SLIVER),
    (PATCH_MM, Method.PATCH),
)
"""Up to and with this width, this method; beyond the last, recut. Common practice, no source."""

ONE_KERF_MM = (0.5, 0.8)
"""Gaps that are likely one saw kerf where the saw's own isn't given: common practice, no source."""
KERF_SLACK_MM = 0.1
"""How near to the saw's kerf a gap counts as one kerf: ours."""

WEDGE_RATIO = 60.0
"""A sliver tapers 1 in this over its depth: shallow, as a fast taper splits the side. The figure is ours."""
TIP_MM = 0.1
"""A sliver isn't pared thinner than this: it would crumple on its way in. Ours."""
HANDLE_MM = 15.0
"""How much of a slip stands out to hold it by: ours."""
LONGER_MM = 2.0
"""How much longer than the gap a slip is cut, to be pared to length: ours."""
PATCH_OVER_MM = 0.3
"""How much thicker than the gap a patch is sawn, to be planed down until it slides in by hand: ours."""

STEEPEST_USUAL = Slope(6.0)
"""The slope to reckon with at a cheek where none is given: the coarsest of the usual ones opens most. Ours."""

GAP = Rule(
    check="joint-gap",
    measures="width of the gap",
    unit="mm",
    note=LEAVE_MM,
    warn=SLIVER_MM,
    stop=PATCH_MM,
    below=False,
    source=COMMON_PRACTICE,
)
RULES = (GAP,)

SLACK_MM = 1e-9
"""A gap at a limit is within it, whatever the last bit of the arithmetic."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The air when the joint was last tight and the air now, percent relative humidity, and the board that moved."""

    wood: Wood
    thickness_mm: float
    tight_pct: float
    now_pct: float
    rings: Rings | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A gap as it was measured; None where the maker didn't say.

    `depth_mm` is how far it goes in, `kerf_mm` that of the saw that made it, `loose` that the whole joint has it.
    """

    width_mm: float
    length_mm: float
    place: GapPlace
    depth_mm: float | None = None
    kerf_mm: float | None = None
    slope: Slope | None = None
    loose: bool = False
    glue: Glue | None = None
    season: Season | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A piece of wood for a gap: `mouth_mm` thick where it enters, `tip_mm` at its inner end, `head_mm` where it is held.

    Its grain runs along `depth_mm + handle_mm`, so that its end grain shows beside the end grain of the pin.
    """

    mouth_mm: float
    tip_mm: float
    head_mm: float
    depth_mm: float
    length_mm: float
    handle_mm: float = HANDLE_MM

    @property
    def tapered(self) -> bool:
        """Whether it is a wedge."""
        return self.head_mm > self.tip_mm


def method_for(width_mm: float, place: GapPlace, kerf_mm: float | None = None) -> Method:
    """The method for a gap of this width at this place."""
    method = next((method for up_to, method in BANDS if width_mm <= up_to + SLACK_MM), Method.RECUT)
    if method is Method.DUST and place is not GapPlace.END:
        return Method.SHAVING
    if method is Method.SLIVER and (place is GapPlace.LAP or _one_kerf(width_mm, kerf_mm)):
        return Method.SLIP
    return method


def _one_kerf(width_mm: float, kerf_mm: float | None) -> bool:
    if kerf_mm is not None:
        return abs(width_mm - kerf_mm) <= KERF_SLACK_MM + SLACK_MM
    return ONE_KERF_MM[0] - SLACK_MM <= width_mm <= ONE_KERF_MM[1] + SLACK_MM


def slip_for(method: Method, width_mm: float, length_mm: float, depth_mm: float) -> Slip | None:
    """The piece of wood that a method puts into a gap; None where it takes none."""
    if method in (Method.SLIP, Method.SHAVING):
        tip_mm = mouth_mm = head_mm = width_mm
    elif method is Method.PATCH:
        tip_mm = mouth_mm = head_mm = width_mm + PATCH_OVER_MM
    elif method is Method.SLIVER:
        depth_mm = min(depth_mm, (width_mm - TIP_MM) * WEDGE_RATIO)
        mouth_mm, tip_mm = width_mm, width_mm - depth_mm / WEDGE_RATIO
        head_mm = width_mm + HANDLE_MM / WEDGE_RATIO
    else:
        return None
    return Slip(mouth_mm=mouth_mm, tip_mm=tip_mm, head_mm=head_mm, depth_mm=depth_mm, length_mm=length_mm + LONGER_MM)


def season_opening_mm(season: Season, place: GapPlace, slope: Slope | None = None) -> tuple[float, float] | None:
    """The least and the most that the air can have opened a gap since the joint was tight, mm; None: not known.

    The board's thickness shrinks by d, a tail's length doesn't: at end, baseline and lap all of d may show in one place; at
    a cheek of 1:n it is d / n. Without `rings` both directions are reckoned with. Below 0: the wood has grown.
    """
    directions = (Direction.RADIAL, Direction.TANGENTIAL) if season.rings is None else (season.rings.across_thickness,)
    start, end = emc_pct(season.tight_pct), emc_pct(season.now_pct)
    shares = [size_change_share(season.wood, one, from_mc_pct=start, to_mc_pct=end) for one in directions]
    known = [-share * season.thickness_mm for share in shares if share is not None]
    if len(known) < len(directions):
        return None
    parts = (slope or STEEPEST_USUAL).ratio if place is GapPlace.CHEEK else 1.0
    return min(known) / parts, max(known) / parts


@dataclass(frozen=True, slots=True, kw_only=True)
class GapPlan:
    """What is decided about a gap: `fill_mm` is what stays of it once the season has taken its part back, `opening_mm` the
    least and the most of that part (None: no season given, or not known)."""

    method: Method
    fill_mm: float
    opening_mm: tuple[float, float] | None = None
    slip: Slip | None = None


def plan_gap(gap: Gap) -> GapPlan:
    """The method for a gap, with its piece of wood where there is one and the depth is known."""
    opening = None if gap.season is None else season_opening_mm(gap.season, gap.place, gap.slope)
    most_mm = 0.0 if opening is None else max(0.0, opening[1])
    if opening is not None and gap.width_mm <= most_mm + SLACK_MM:
        return GapPlan(method=Method.WAIT, fill_mm=0.0, opening_mm=opening)
    fill_mm = gap.width_mm - most_mm
    method = method_for(fill_mm, gap.place, gap.kerf_mm)
    if gap.loose and fill_mm > LEAVE_MM + SLACK_MM:
        method = Method.RECUT
    slip = None if gap.depth_mm is None else slip_for(method, fill_mm, gap.length_mm, gap.depth_mm)
    return GapPlan(method=method, fill_mm=fill_mm, opening_mm=opening, slip=slip)
