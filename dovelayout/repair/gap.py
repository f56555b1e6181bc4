"""A gap in a dovetail: what fills it, how that will look, and when it is better left alone.

The table of methods by width is common practice, no source. Where the place changes the method (nothing is driven
against a lap, dust holds on end grain alone) the judgement is ours, as are the sizes of slips and wedges. What is said
stands in `data/gap.toml`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Rings
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, SHRINKAGE, Advice, RepairFigure, both, cautions, figures
from dovelayout.texts import Texts
from dovelayout.wood.glue import Glue
from dovelayout.wood.moisture import Direction, emc_pct, size_change_share
from dovelayout.wood.species import Wood

TEXTS = Texts("repair", "gap")
RULE_WORDS = Texts("repair", "rules")


class GapPlace(StrEnum):
    """Where the gap is. `END`: where the end grain of tails or pins shows; `CHEEK`: down a sloping side, through the
    joint; `BASELINE`: along the shoulder; `LAP`: between a tail's end and the lap of a half-blind front."""

    END = "end"
    CHEEK = "cheek"
    BASELINE = "baseline"
    LAP = "lap"

    @property
    def part(self) -> str:
        """What it is called as a part of a joint."""
        return TEXTS(f"place.{self}")


class GapMethod(StrEnum):
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
        return self in (GapMethod.SHAVING, GapMethod.SLIP, GapMethod.SLIVER, GapMethod.PATCH)

    @property
    def fills(self) -> bool:
        """Whether anything is done about this gap now, in this joint."""
        return self not in (GapMethod.WAIT, GapMethod.RECUT)


LEAVE_MM = 0.1
"""Up to this a gap is left alone: glue and finish close it (common practice, no source)."""
DUST_MM = 0.3
"""Up to this it is filled with dust in glue (common practice, no source)."""
SLIVER_MM = 1.5
"""Up to this a sliver or a shaving goes in (common practice, no source)."""
PATCH_MM = 3.0
"""Up to this a patch is glued in; beyond, the joint is cut again (common practice, no source)."""

BANDS = {GapMethod.LEAVE: LEAVE_MM, GapMethod.DUST: DUST_MM, GapMethod.SLIVER: SLIVER_MM, GapMethod.PATCH: PATCH_MM}
"""This method up to and with this width; beyond the last, recut. Common practice, no source."""

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

SLACK_MM = 1e-9
"""A gap at a limit is within it, whatever the last bit of the arithmetic."""

GAP = rule(
    "joint-gap",
    unit="mm",
    note=LEAVE_MM,
    warn=SLIVER_MM,
    stop=PATCH_MM,
    below=False,
    source=COMMON_PRACTICE,
    **RULE_WORDS.table("gap"),
)
LOOSE = rule("loose-joint", unit="mm", stop=LEAVE_MM, below=False, source=COMMON_PRACTICE, **RULE_WORDS.table("loose"))
SEASON = rule(
    "season-gap", unit="mm", source=f"{SHRINKAGE}; which dimension counts: {OURS}", **RULE_WORDS.table("season")
)
GAP_GLUE = rule("gap-glue", source=COMMON_PRACTICE, **RULE_WORDS.table("gap_glue"))


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedBoard:
    """The board that moved, and the air when the joint was last tight and now, percent relative humidity."""

    wood: Wood
    thickness_mm: float
    tight_pct: float
    now_pct: float
    rings: Rings | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A gap as it was measured; None for what the user didn't give.

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
    season: MovedBoard | None = None


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


@dataclass(frozen=True, slots=True, kw_only=True)
class GapPlan:
    """What is decided about a gap: `fill_mm` is what stays of it once the season has taken its part back, `opening_mm` the
    least and the most of that part (None: no season given, or not known)."""

    method: GapMethod
    fill_mm: float
    opening_mm: tuple[float, float] | None = None
    slip: Slip | None = None


def method_for(width_mm: float, place: GapPlace, kerf_mm: float | None = None) -> GapMethod:
    """The method for a gap of this width at this place."""
    method = next((method for method, up_to in BANDS.items() if width_mm <= up_to + SLACK_MM), GapMethod.RECUT)
    if method is GapMethod.DUST and place is not GapPlace.END:
        return GapMethod.SHAVING
    low, high = ONE_KERF_MM if kerf_mm is None else (kerf_mm - KERF_SLACK_MM, kerf_mm + KERF_SLACK_MM)
    one_kerf = low - SLACK_MM <= width_mm <= high + SLACK_MM
    return GapMethod.SLIP if method is GapMethod.SLIVER and (place is GapPlace.LAP or one_kerf) else method


def slip_for(method: GapMethod, width_mm: float, length_mm: float, depth_mm: float) -> Slip | None:
    """The piece of wood that a method puts into a gap; None where it takes none."""
    if not method.wooden:
        return None
    mouth_mm = tip_mm = head_mm = width_mm + (PATCH_OVER_MM if method is GapMethod.PATCH else 0.0)
    if method is GapMethod.SLIVER:
        depth_mm = min(depth_mm, (width_mm - TIP_MM) * WEDGE_RATIO)
        tip_mm, head_mm = width_mm - depth_mm / WEDGE_RATIO, width_mm + HANDLE_MM / WEDGE_RATIO
    return Slip(mouth_mm=mouth_mm, tip_mm=tip_mm, head_mm=head_mm, depth_mm=depth_mm, length_mm=length_mm + LONGER_MM)


def season_opening_mm(board: MovedBoard, place: GapPlace, slope: Slope | None = None) -> tuple[float, float] | None:
    """The least and the most that the air can have opened a gap since the joint was tight, mm; None: not known.

    The board's thickness shrinks by d, a tail's length doesn't: at end, baseline and lap all of d may show in one place; at
    a cheek of 1:n it is d / n. Without `rings` both directions are reckoned with. Below 0: the wood has grown.
    """
    directions = (Direction.RADIAL, Direction.TANGENTIAL) if board.rings is None else (board.rings.across_thickness,)
    start, end = emc_pct(board.tight_pct), emc_pct(board.now_pct)
    shares = [size_change_share(board.wood, one, from_mc_pct=start, to_mc_pct=end) for one in directions]
    known = [-share * board.thickness_mm for share in shares if share is not None]
    if len(known) < len(directions):
        return None
    parts = (slope or STEEPEST_USUAL).ratio if place is GapPlace.CHEEK else 1.0
    return min(known) / parts, max(known) / parts


def plan_gap(gap: Gap) -> GapPlan:
    """The method for a gap, with its piece of wood where there is one and the depth is known."""
    opening = None if gap.season is None else season_opening_mm(gap.season, gap.place, gap.slope)
    most_mm = 0.0 if opening is None else max(0.0, opening[1])
    if opening is not None and gap.width_mm <= most_mm + SLACK_MM:
        return GapPlan(method=GapMethod.WAIT, fill_mm=0.0, opening_mm=opening)
    fill_mm = gap.width_mm - most_mm
    loose = gap.loose and LOOSE.breach(fill_mm) is not None
    method = GapMethod.RECUT if loose else method_for(fill_mm, gap.place, gap.kerf_mm)
    slip = None if gap.depth_mm is None else slip_for(method, fill_mm, gap.length_mm, gap.depth_mm)
    return GapPlan(method=method, fill_mm=fill_mm, opening_mm=opening, slip=slip)


def gap_advice(gap: Gap, plan: GapPlan) -> Advice:
    """What to do about a gap, and what it will look like."""
    method = plan.method
    return Advice(
        trouble=TEXTS("trouble", width=both(gap.width_mm), length=both(gap.length_mm), place=gap.place.part),
        method=method.value,
        looks=TEXTS(_key("looks", method, gap.place)),
        glue=TEXTS(_key("glue", method, gap.place)),
        steps=tuple(_steps(gap, plan)),
        cautions=_cautions(gap, method),
        figures=tuple(_figures(gap, plan)),
        findings=tuple(_findings(gap, plan)),
    )


def _key(what: str, method: GapMethod, place: GapPlace) -> str:
    """What is said of a method: at this place, where that is another thing."""
    usual = f"{method.name.lower()}.{what}"
    return f"{usual}_{place}" if f"{usual}_{place}" in TEXTS else usual


def _steps(gap: Gap, plan: GapPlan) -> Iterator[str]:
    method, place = plan.method, gap.place
    if gap.season is not None and method.fills and plan.fill_mm < gap.width_mm - SLACK_MM:
        yield TEXTS("wait_first", tight=gap.season.tight_pct, rest=both(plan.fill_mm))
    if method.fills and f"first.{place}" in TEXTS:
        yield TEXTS(f"first.{place}")
    yield from TEXTS.rows(_key("steps", method, place))
    if method.wooden:
        yield TEXTS("flush")


def _cautions(gap: Gap, method: GapMethod) -> tuple[str, ...]:
    if method is GapMethod.WAIT:
        return cautions()
    ca = method is GapMethod.DUST or (gap.glue is not None and gap.glue.spots_only)
    chisels, clamps = method.wooden or method is GapMethod.RECUT, method.wooden and method is not GapMethod.SLIVER
    wanted = {"chisels": chisels, "glues": True, "ca": ca, "clamps": clamps, "lap": gap.place is GapPlace.LAP}
    return cautions(*(name for name, needed in wanted.items() if needed), glue=gap.glue)


def _figures(gap: Gap, plan: GapPlan) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"gap, width": gap.width_mm, "gap, length": gap.length_mm})
    if plan.opening_mm is not None:
        rows = {"the season explains at most": max(0.0, plan.opening_mm[1])}
        rows |= {} if plan.method is GapMethod.WAIT else {"stays when the air is back": plan.fill_mm}
        yield from figures(SEASON.source, rows)
    if (slip := plan.slip) is not None:
        rows = {"thick at the mouth": slip.mouth_mm, "thick at its inner end": slip.tip_mm}
        rows |= {"thick at the head, where it is held": slip.head_mm} if slip.tapered else {}
        rows |= {"deep in the gap": slip.depth_mm, "long": slip.length_mm, "standing out, to hold it": slip.handle_mm}
        yield from figures(OURS, {f"{plan.method.value}, {what}": value for what, value in rows.items()})


def _findings(gap: Gap, plan: GapPlan) -> Iterator[Finding]:
    place = Place(kind="joint", part=gap.place.part)
    if gap.season is not None:
        yield _season_finding(gap, gap.season, plan.opening_mm, place)
    if plan.method is GapMethod.WAIT:
        return
    if breach := (LOOSE if gap.loose else GAP).breach(plan.fill_mm):
        key = "loose" if gap.loose else "no_filler" if breach.level is Level.STOP else "size"
        texts = TEXTS.finding(key, method=plan.method.value, rest=both(plan.fill_mm))
        yield breach.finding(place, **texts)
    if gap.glue is not None and plan.method.fills:
        wrong = {"foam": gap.glue.id == "polyurethane", "quick": gap.glue.spots_only and plan.method.wooden}
        for key in (key for key, so in wrong.items() if so):
            yield GAP_GLUE.said(Level.WARN, place.within(gap.glue.name), **TEXTS.finding(key))
    if plan.method.wooden and gap.depth_mm is None:
        yield GAP.not_checked(place, **TEXTS.unchecked("no_depth"))


def _season_finding(gap: Gap, board: MovedBoard, opening: tuple[float, float] | None, place: Place) -> Finding:
    if opening is None:
        return SEASON.not_checked(place, **TEXTS.unchecked("season_unknown", wood=board.wood.name))
    low_mm, high_mm = opening
    key = "none" if high_mm <= 0 else "all" if gap.width_mm <= high_mm + SLACK_MM else "part"
    opens = both(high_mm) if high_mm - low_mm < 0.005 else f"{both(low_mm)} to {both(high_mm)}"
    sizes = {"opens": opens, "width": both(gap.width_mm), "rest": both(gap.width_mm - high_mm)}
    air = {"tight": board.tight_pct, "now": board.now_pct}
    texts = TEXTS.finding(f"season_{key}", thick=board.thickness_mm, wood=board.wood.name, **sizes, **air)
    level, limit_mm = Level.WARN if key == "part" else Level.NOTE, round(max(0.0, high_mm), 4)
    return SEASON.said(level, place, **texts, measured=round(gap.width_mm, 4), limit=limit_mm, unit=SEASON.unit)
