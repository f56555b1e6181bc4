"""The season: how far every part of a job moves, what that does to each fixing, and whether it explains a step or a
sticking part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.across import Across
from dovelayout.casework.divider import Divider
from dovelayout.casework.panel import Glued, Panel
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.movement import across as across_checks
from dovelayout.checks.movement import panels as panel_checks
from dovelayout.checks.movement.acclimatised import STEP, thickness_steps_mm
from dovelayout.checks.movement.across import MARGIN_MM
from dovelayout.checks.movement.ladder import HANDBOOK
from dovelayout.checks.movement.neighbours import apart_mm, meetings, most_together_mm
from dovelayout.checks.rule import rule
from dovelayout.checks.sliding.housing import FRONT_ONLY_MM
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import (
    Axis,
    Movement,
    home_moisture_pct,
    moisture,
    movement,
    shop_moisture_pct,
    swing,
    unknown,
)
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.moisture import Direction, coefficient
from dovelayout.wood.species import SATURATION_PCT

STUCK = rule("stuck", "moisture content gained since it was fitted", unit="points", source=HANDBOOK)

MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

LEAST_MM = 0.05
"""Boards that part company by less move together; ours."""

STEP_TOLERANCE = 1.25
"""A step up to a quarter larger than predicted is still the season's: boards differ that much from the mean (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """What the season does to one fixing: how far the wood moves at most over a length, how it is fixed, what would work."""

    name: str
    what: str
    over_mm: float
    moves_mm: float | None
    now: str
    works: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonPlan:
    """A job through the year. `unmoved` are the boards whose movement isn't known, with why."""

    shop: Shop
    parts: tuple[Movement, ...]
    unmoved: tuple[tuple[str, str], ...]
    fixings: tuple[Fixing, ...]

    @property
    def air(self) -> tuple[tuple[str, float, float], ...]:
        """Columns of the year: (name, relative humidity, moisture content); twelve months, or the two extremes."""
        names = MONTH_NAMES if self.shop.months_pct else ("driest", "dampest")
        columns = self.shop.months_pct or self.shop.home_humidity_pct or ()
        return tuple(
            (name, humidity, home_moisture_pct(humidity, self.shop))
            for name, humidity in zip(names, columns, strict=True)
        )

    def through_the_year(self, part: Movement) -> tuple[float, ...]:
        """How much larger than as fitted a part's dimension is in each column of `air`, mm."""
        return tuple(part.larger_mm(mc_pct) for _, _, mc_pct in self.air)


def season(
    shop: Shop,
    *,
    boards: Sequence[Board],
    across: Sequence[Across] = (),
    panels: Sequence[Panel] = (),
    dividers: Sequence[Divider] = (),
    joints: Sequence[CornerJoint] = (),
) -> SeasonPlan:
    """A job through the year. The shop has to say what air the piece will see."""
    moves = {board: [movement(board, shop, axis) for axis in Axis] for board in boards}
    return SeasonPlan(
        shop=shop,
        parts=tuple(part for rows in moves.values() for part in rows if part is not None),
        unmoved=tuple((board.name, unknown(board, shop)[0]) for board, rows in moves.items() if None in rows),
        fixings=(
            *_of_corners(joints, shop),
            *(_of_divider(divider, shop) for divider in dividers),
            *(_of_across(part, shop) for part in across),
            *(_of_panel(panel, shop) for panel in panels),
        ),
    )


def _of_corners(joints: Sequence[CornerJoint], shop: Shop) -> Iterator[Fixing]:
    """Corners of two boards that move differently; boards of one kind move together, and there is nothing to say."""
    for pair in meetings(joints):
        moves_mm = apart_mm(pair.tails, pair.pins, pair.over_mm, shop)
        if moves_mm is not None and moves_mm > LEAST_MM:
            yield Fixing(
                name=", ".join(pair.names),
                what=f"corners: {pair.tails.name} and {pair.pins.name}",
                over_mm=pair.over_mm,
                moves_mm=moves_mm,
                now=f"glued over {pair.over_mm:g} mm",
                works=f"boards that move alike, or at most {most_together_mm(pair.over_mm, moves_mm):.0f} mm wide",
            )


def _of_divider(divider: Divider, shop: Shop) -> Fixing:
    host, key = divider.joint.host, divider.joint.key
    known = swing(host, shop)
    gap = "the host's shrinkage and 1 mm"
    if known is not None:
        gap = f"{host.width_mm * known.shrinks_share + MARGIN_MM:.1f} mm or more"
    return Fixing(
        name=divider.name,
        what=f"divider: {key.name} in {host.name}",
        over_mm=host.width_mm,
        moves_mm=None if known is None else host.width_mm * known.most_share,
        now=f"glue on the front {divider.glue_zone_mm:g} mm; {divider.rear_gap_mm:g} mm free behind",
        works=f"glue on the front {min(FRONT_ONLY_MM, divider.joint.length_mm):g} mm or less; {gap} free behind",
    )


def _of_across(part: Across, shop: Shop) -> Fixing:
    known = part.swing(shop)
    over_mm = part.rigid_mm if part.along else part.length_mm
    if part.along:
        works = "one wood, sawn alike, of the same moisture"
    elif known is None:
        works = "one short glued stretch, slots elsewhere"
    else:
        works = across_checks.fixing_words(across_checks.well_fixed(part, known))
        if part.meets_rear:
            needed_mm = part.room_mm - across_checks.room_left_mm(part, known) + MARGIN_MM
            works += f"; {needed_mm:.1f} mm free behind it"
    return Fixing(
        name=part.name,
        what=f"{part.kind}: {part.part.name} on {part.host.name}",
        over_mm=over_mm,
        moves_mm=None if known is None else over_mm * known.most_share,
        now=across_checks.fixing_words(part) + (f"; {part.room_mm:g} mm free behind it" if part.meets_rear else ""),
        works=works,
    )


def _of_panel(panel: Panel, shop: Shop) -> Fixing:
    known = panel.swing(shop)
    works = "loose, with room to grow"
    if known is not None:
        free = panel.groove_mm is None and panel.glued is not Glued.ALL_ROUND
        better = panel if free else panel_checks.well_held(panel, known)
        works = "narrower panels with a muntin between them" if better is None else panel_checks.holding_words(better)
        if better is not None and better.board.width_mm != panel.board.width_mm:
            works += f"; {better.board.width_mm:g} mm wide"
    return Fixing(
        name=panel.name,
        what=f"panel: {panel.board.name}",
        over_mm=panel.board.width_mm,
        moves_mm=None if known is None else panel.board.width_mm * known.most_share,
        now=panel_checks.holding_words(panel),
        works=works,
    )


def explain_step(board: Board, shop: Shop, observed_mm: float) -> Finding:
    """Whether the movement of a board's thickness explains a step or a gap seen at a corner."""
    place = Place(kind="board", name=board.name, part=f"a step of {observed_mm:g} mm")
    steps, at = thickness_steps_mm(board, shop), moisture(board, shop)
    if steps is None or at is None:
        return STEP.not_checked(place, *unknown(board, shop))
    limit = round(steps[1] * STEP_TOLERANCE, 3)
    message = f"{board.thickness_mm:g} mm of {board.wood.name} move by {steps[0]:.2f} to {steps[1]:.2f} mm in this air"
    if observed_mm <= limit:
        level = Level.NOTE
        message += ": the season explains it, and takes it back"
        fix = "leave it: fill nothing, force nothing, and plane nothing before the damp half of the year"
    else:
        level = Level.WARN
        message += f", and {observed_mm:g} is more: the stock was wetter than assumed, or it has cupped"
        known = coefficient(board.wood, Direction.TANGENTIAL)
        if known is not None and known.per_pct > 0:
            mc_pct = at.driest_pct + observed_mm / board.thickness_mm / known.per_pct
            if mc_pct < SATURATION_PCT:
                message += f"; shrinking alone would take stock of {mc_pct:.0f} % when it was fitted"
        fix = (
            "what moisture had it when it was fitted, and what has it now? Meter it (its home gives "
            f"{at.driest_pct:.1f} to {at.dampest_pct:.1f} %), and lay a straightedge across the board"
        )
    return STEP.said(level, place, message, measured=observed_mm, limit=limit, fix=fix)


def explain_sticking(shop: Shop) -> Finding:
    """Whether swelling can be why something sticks now that fitted when it was made."""
    place = Place(kind="what sticks")
    if shop.built_at_pct is None or shop.home_humidity_pct is None:
        return STUCK.not_checked(
            place,
            "the job doesn't say in what air it was fitted and in what air it is now",
            "[shop] built_at = 45, and [home] humidity = [35, 65]",
        )
    damp_pct = shop.home_humidity_pct[1]
    built, dampest = shop_moisture_pct(shop.built_at_pct, shop), home_moisture_pct(damp_pct, shop)
    then = "it has swollen, which can explain it"
    fix = f"look where it rubs, and plane only after the damp weeks: it still has {dampest - built:.1f} points to lose"
    if dampest <= built:
        then = "it has shrunk since, so swelling is not why it sticks"
        fix = (
            "look for a loose part, a cupped side, a split bottom or a runner out of place; take out the drawer above it, "
            "or the back, and look in before anything is planed"
        )
    said = (
        f"wood fitted at {shop.built_at_pct:g} % relative humidity held {built:.1f} % moisture, and at {damp_pct:g} % it "
        f"holds {dampest:.1f} %: {then}"
    )
    return STUCK.said(Level.NOTE, place, said, measured=dampest - built, limit=0.0, fix=fix)


def doubts(parts: Sequence[Movement]) -> tuple[str, ...]:
    """What to doubt about the coefficients that were used, each once."""
    rows = (
        f"{part.board.wood.name}, {part.axis}: {part.coefficient.doubt}" for part in parts if part.coefficient.doubt
    )
    return tuple(dict.fromkeys(rows))
