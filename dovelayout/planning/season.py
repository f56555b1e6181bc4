"""The season: how far every part of a job moves, what that does to each fixing, and what a maker sees against what it
explains."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.across import Across
from dovelayout.casework.divider import Divider
from dovelayout.casework.panel import Glued, Panel
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement import across as across_checks
from dovelayout.checks.movement import panels as panel_checks
from dovelayout.checks.movement.acclimatised import thickness_steps_mm
from dovelayout.checks.movement.neighbours import apart_mm, meetings
from dovelayout.checks.movement.rules import CHECK_STEP, HANDBOOK, MARGIN_MM, NEIGHBOURS
from dovelayout.checks.sliding.housing import FRONT_ONLY_MM
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import (
    Axis,
    Movement,
    emc_built_pct,
    emc_seen_pct,
    moisture,
    movement,
    size_at,
    swing,
    unknown,
)
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.moisture import Direction, coefficient

CHECK_STUCK = "stuck"

LEAST_MM = 0.05
"""Boards that part company by less move together; ours."""

STEP_TOLERANCE = 1.25
"""A step up to a quarter larger than predicted is still the season's: boards differ that much from the mean (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """What the season does to one fixing: how far the wood moves there, how far it is let, and what would work."""

    name: str
    what: str
    over_mm: float
    moves_mm: float | None
    now: str
    works: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """A job through the year. `unmoved` are the boards whose movement isn't known, with why."""

    shop: Shop
    parts: tuple[Movement, ...]
    unmoved: tuple[tuple[str, str], ...]
    fixings: tuple[Fixing, ...]

    @property
    def air(self) -> tuple[tuple[str, float, float], ...]:
        """Columns of the year: (name, relative humidity, moisture content); twelve months, or the two extremes."""
        if self.shop.months_pct:
            named = list(zip(MONTH_NAMES, self.shop.months_pct, strict=True))
        else:
            named = list(zip(("driest", "dampest"), self.shop.seen_pct or (), strict=True))
        return tuple((name, humidity, emc_seen_pct(humidity, self.shop)) for name, humidity in named)

    def through_the_year(self, part: Movement) -> tuple[float, ...]:
        """How much larger than as fitted a part's dimension is in each column of `air`, mm."""
        sizes = (size_at(part.board, humidity, self.shop, part.axis) for _, humidity, _ in self.air)
        return tuple((size or part.dimension_mm) - part.dimension_mm for size in sizes)


MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def season(
    shop: Shop,
    *,
    boards: Sequence[Board],
    across: Sequence[Across] = (),
    panels: Sequence[Panel] = (),
    dividers: Sequence[Divider] = (),
    joints: Sequence[CornerJoint] = (),
) -> Season:
    """A job through the year. The shop has to say what air the piece will see."""
    parts, unmoved = [], []
    for board in boards:
        both = [movement(board, shop, axis) for axis in Axis]
        known = [row for row in both if row is not None]
        parts.extend(known)
        if len(known) < len(both):
            unmoved.append((board.name, unknown(board, shop)[0]))
    fixings = (
        *_of_corners(joints, shop),
        *(_of_divider(divider, shop) for divider in dividers),
        *(_of_across(part, shop) for part in across),
        *(_of_panel(panel, shop) for panel in panels),
    )
    return Season(shop=shop, parts=tuple(parts), unmoved=tuple(unmoved), fixings=fixings)


def _of_corners(joints: Sequence[CornerJoint], shop: Shop) -> Iterator[Fixing]:
    """Corners of two boards that move differently; like boards move together, and there is nothing to say."""
    for pair in meetings(joints):
        moves_mm = apart_mm(pair.tails, pair.pins, pair.over_mm, shop)
        if moves_mm is not None and moves_mm > LEAST_MM:
            widest_mm = (NEIGHBOURS.warn or 0) / moves_mm * pair.over_mm
            yield Fixing(
                name=", ".join(pair.names),
                what=f"corners: {pair.tails.name} and {pair.pins.name}",
                over_mm=pair.over_mm,
                moves_mm=moves_mm,
                now=f"glued over {pair.over_mm:g} mm",
                works=f"boards that move alike, or at most {widest_mm:.0f} mm wide",
            )


def _of_divider(divider: Divider, shop: Shop) -> Fixing:
    host, key = divider.joint.host, divider.joint.key
    swings = swing(host, shop)
    shrinks_mm = None if swings is None else host.width_mm * swings.shrinks_share
    gap = "the host's shrinkage and 1 mm" if shrinks_mm is None else f"{shrinks_mm + MARGIN_MM:.1f} mm or more"
    return Fixing(
        name=divider.name,
        what=f"divider: {key.name} in {host.name}",
        over_mm=host.width_mm,
        moves_mm=None if swings is None else host.width_mm * swings.most_share,
        now=f"glue on the front {divider.glue_zone_mm:g} mm; {divider.rear_gap_mm:g} mm free behind",
        works=f"glue on the front {min(FRONT_ONLY_MM, divider.joint.length_mm):g} mm or less; {gap} free behind",
    )


def _of_across(part: Across, shop: Shop) -> Fixing:
    swings = part.swing(shop)
    if part.along:
        over_mm, works = part.rigid_mm, "one wood, sawn alike, of the same moisture"
    else:
        over_mm = part.length_mm
        works = (
            "one short glued stretch, slots elsewhere"
            if swings is None
            else across_checks.fixing_words(across_checks.eased(part, swings))
        )
        if swings is not None and part.meets_rear:
            needed_mm = part.room_mm - across_checks.room_left_mm(part, swings) + MARGIN_MM
            works += f"; {needed_mm:.1f} mm free behind it"
    return Fixing(
        name=part.name,
        what=f"{part.kind}: {part.part.name} on {part.host.name}",
        over_mm=over_mm,
        moves_mm=None if swings is None else over_mm * swings.most_share,
        now=across_checks.fixing_words(part) + (f"; {part.room_mm:g} mm free behind it" if part.meets_rear else ""),
        works=works,
    )


def _of_panel(panel: Panel, shop: Shop) -> Fixing:
    swings = panel.swing(shop)
    works = "loose, with room to grow"
    if swings is not None:
        free = panel.groove_mm is None and panel.glued is not Glued.ALL_ROUND
        better = panel if free else panel_checks.eased(panel, swings)
        if better is None:
            works = "narrower panels with a muntin between them"
        else:
            works = panel_checks.holding_words(better)
            if better.board.width_mm != panel.board.width_mm:
                works += f"; {better.board.width_mm:g} mm wide"
    return Fixing(
        name=panel.name,
        what=f"panel: {panel.board.name}",
        over_mm=panel.board.width_mm,
        moves_mm=None if swings is None else panel.board.width_mm * swings.most_share,
        now=panel_checks.holding_words(panel),
        works=works,
    )


def explain_step(board: Board, shop: Shop, seen_mm: float) -> Finding:
    """A step or a gap that a maker sees at a corner, against what the thickness of that board can do."""
    place = Place(kind="board", name=board.name, part=f"a step of {seen_mm:g} mm")
    steps, at = thickness_steps_mm(board, shop), moisture(board, shop)
    if steps is None or at is None:
        because, fix = unknown(board, shop)
        return not_checked(CHECK_STEP, place, because, fix)
    least, most = steps
    predicted = f"{board.thickness_mm:g} mm of {board.wood.name} move by {least:.2f} to {most:.2f} mm in this air"
    limit = round(most * STEP_TOLERANCE, 3)
    if seen_mm <= limit:
        return Finding(
            check=CHECK_STEP,
            level=Level.NOTE,
            place=place,
            measured=seen_mm,
            limit=limit,
            unit="mm",
            message=f"{predicted}: the season explains it, and takes it back",
            fix="leave it: fill nothing, force nothing, and plane nothing before the damp half of the year",
            source=HANDBOOK,
        )
    known = coefficient(board.wood, Direction.TANGENTIAL)
    wet = ""
    if known is not None and known.per_pct > 0:
        mc_pct = at.driest_pct + seen_mm / board.thickness_mm / known.per_pct
        wet = f"; shrinking alone would take stock of {mc_pct:.0f} % when it was fitted" if mc_pct < 30 else ""
    return Finding(
        check=CHECK_STEP,
        level=Level.WARN,
        place=place,
        measured=seen_mm,
        limit=limit,
        unit="mm",
        message=f"{predicted}, and {seen_mm:g} is more: the stock was wetter than assumed, or it has cupped{wet}",
        fix=f"what moisture had it when it was fitted, and what has it now? Meter it (its home gives {at.driest_pct:.1f} to "
        f"{at.dampest_pct:.1f} %), and lay a straightedge across the board",
        source=HANDBOOK,
    )


def explain_sticking(shop: Shop) -> Finding:
    """Whether swelling can be why something sticks now that fitted when it was made."""
    place = Place(kind="what sticks")
    if shop.built_at_pct is None or shop.seen_pct is None:
        return not_checked(
            CHECK_STUCK,
            place,
            "the job doesn't say in what air it was fitted and in what air it is now",
            "[shop] built_at = 45, and [home] humidity = [35, 65]",
        )
    built, dampest = emc_built_pct(shop.built_at_pct, shop), emc_seen_pct(shop.seen_pct[1], shop)
    air = (
        f"wood fitted at {shop.built_at_pct:g} % relative humidity held {built:.1f} % moisture, and at "
        f"{shop.seen_pct[1]:g} % it holds {dampest:.1f} %"
    )
    if dampest > built:
        return Finding(
            check=CHECK_STUCK,
            level=Level.NOTE,
            place=place,
            measured=round(dampest - built, 2),
            limit=0.0,
            unit="points",
            message=f"{air}: it has swollen, which can explain it",
            fix=f"look where it rubs, and plane only after the damp weeks: it still has {dampest - built:.1f} points to lose",
            source=HANDBOOK,
        )
    return Finding(
        check=CHECK_STUCK,
        level=Level.NOTE,
        place=place,
        measured=round(dampest - built, 2),
        limit=0.0,
        unit="points",
        message=f"{air}: it has shrunk since, so swelling is not why it sticks",
        fix="look for a loose part, a cupped side, a split bottom or a runner out of place; take out the drawer above it, or "
        "the back, and look in before anything is planed",
        source=HANDBOOK,
    )


def doubts(parts: Sequence[Movement]) -> tuple[str, ...]:
    """What to doubt about the coefficients that were used, each once."""
    said = (
        f"{part.board.wood.name}, {part.axis}: {part.coefficient.doubt}" for part in parts if part.coefficient.doubt
    )
    return tuple(dict.fromkeys(said))
