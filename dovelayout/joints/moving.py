"""How wood moves: its width and its thickness, from the day it is fitted to the driest and the dampest air after that.

The only model of movement: drawers, panels, dividers, parts across others, the season and the sheets all use it.
Sizes are those of the day the wood is fitted. One assumption holds for every sum: where neither `built_at` nor a moisture
meter says what the wood held on that day, it was fitted at either extreme of the air around it, whichever is worse for the
sum at hand. `assumption` says so for people.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from dovelayout.joints.board import Board, Rings
from dovelayout.shop import Shop
from dovelayout.wood.moisture import ROOM_C, Coefficient, Direction, coefficient, emc_pct, size_change_share
from dovelayout.wood.species import Wood, WoodKind

UNKNOWN_HOME_PCT = (6.0, 14.0)
"""Moisture contents to reckon with where nothing is known of the home (common practice, no source)."""


class Axis(StrEnum):
    """The two dimensions of a board that move; its length hardly does."""

    WIDTH = "width"
    THICKNESS = "thickness"


class SawnWood(Protocol):
    """The properties of a piece of wood that its movement depends on: a board, or stock not cut yet."""

    @property
    def wood(self) -> Wood: ...
    @property
    def rings(self) -> Rings: ...
    @property
    def moisture_pct(self) -> float | None: ...


def direction(sawn: SawnWood, axis: Axis) -> Direction:
    """How a dimension lies to the growth rings: plies are peeled and lie flat, whatever the rings are said to be."""
    rings = Rings.FLAT if sawn.wood.kind is WoodKind.PLYWOOD else sawn.rings
    return rings.across_width if axis is Axis.WIDTH else rings.across_thickness


def home_moisture_pct(humidity_pct: float, shop: Shop) -> float:
    """Moisture content that wood comes to where the piece lives."""
    return emc_pct(humidity_pct, ROOM_C if shop.home_temperature_c is None else shop.home_temperature_c)


def shop_moisture_pct(humidity_pct: float, shop: Shop) -> float:
    """Moisture content that wood comes to where the piece is fitted."""
    return emc_pct(humidity_pct, ROOM_C if shop.temperature_c is None else shop.temperature_c)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moisture:
    """Moisture contents of a piece of wood: those it may be fitted at (one, or the driest and the dampest of them), and
    its driest and dampest after that."""

    fitted_pct: tuple[float, ...]
    driest_pct: float
    dampest_pct: float


def moisture(sawn: SawnWood, shop: Shop) -> Moisture | None:
    """What wood may be fitted at, and its extremes after that; None where the job doesn't say what air the piece will see."""
    return None if shop.home_humidity_pct is None else moisture_or_assumed(sawn, shop)


def moisture_or_assumed(sawn: SawnWood, shop: Shop) -> Moisture:
    """The same, but within UNKNOWN_HOME_PCT where nothing is said of the air. What a meter showed counts before `built_at`,
    and that before the assumption."""
    driest, dampest = UNKNOWN_HOME_PCT
    if shop.home_humidity_pct is not None:
        driest, dampest = (home_moisture_pct(humidity, shop) for humidity in shop.home_humidity_pct)
    in_the_shop = shop.humidity_pct or () if shop.built_at_pct is None else (shop.built_at_pct,)
    if sawn.moisture_pct is not None:
        fitted: tuple[float, ...] = (sawn.moisture_pct,)
    else:
        fitted = tuple(shop_moisture_pct(humidity, shop) for humidity in in_the_shop) or (driest, dampest)
    return Moisture(fitted_pct=fitted, driest_pct=driest, dampest_pct=dampest)


def assumption(shop: Shop) -> str:
    """The one assumption in words, without a full stop; '' where the job says in what air it is fitted, or where that makes
    no difference."""
    low, high, of = *UNKNOWN_HOME_PCT, "moisture in the wood"
    if shop.fitting_humidity_pct:
        low, high, of = shop.fitting_humidity_pct[0], shop.fitting_humidity_pct[-1], "relative humidity"
    if low == high:
        return ""
    return f"it isn't said in what air it is fitted: each figure is the worse of fitted at {low:g} % and at {high:g} % {of}"


def unknown(board: Board, shop: Shop) -> tuple[str, str]:
    """Why a board's movement isn't known, and what would make it known."""
    if shop.home_humidity_pct is None:
        return "the job doesn't say how dry and how damp the room gets", "say it: [shop] humidity = [35, 65]"
    return f"the movement of {board.wood.name} isn't known", "allow what a similar wood would need"


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """How far a dimension moves, as shares of what it is when fitted, none below 0: what it loses and gains at most after
    that, and `year_share` from the driest to the dampest."""

    shrinks_share: float
    grows_share: float
    year_share: float

    @property
    def most_share(self) -> float:
        """The larger of loss and gain."""
        return max(self.shrinks_share, self.grows_share)


NO_SWING = Swing(shrinks_share=0.0, grows_share=0.0, year_share=0.0)

Changes = tuple[tuple[float, float], ...]
"""Changes of a dimension (to the driest, to the dampest) as shares: a pair for each moisture it may be fitted at."""


def _changes(sawn: SawnWood, axis: Axis, at: Moisture | None) -> Changes | None:
    if at is None:
        return None
    shares = (
        size_change_share(sawn.wood, direction(sawn, axis), from_mc_pct=fitted, to_mc_pct=end)
        for fitted in at.fitted_pct
        for end in (at.driest_pct, at.dampest_pct)
    )
    known = [share for share in shares if share is not None]  # all of them or none, by the wood
    return tuple(zip(known[::2], known[1::2], strict=True)) or None


def _swing(changes: Sequence[tuple[float, float]]) -> Swing:
    every = [change for pair in changes for change in pair]
    return Swing(
        shrinks_share=max(0.0, -min(every)),
        grows_share=max(0.0, *every),
        year_share=max(abs(dampest - driest) for driest, dampest in changes),
    )


def swing(sawn: SawnWood, shop: Shop, axis: Axis = Axis.WIDTH, *, assume_home: bool = False) -> Swing | None:
    """How far a dimension moves; None: not known. `assume_home`: by UNKNOWN_HOME_PCT where nothing is said of the air."""
    changes = _changes(sawn, axis, (moisture_or_assumed if assume_home else moisture)(sawn, shop))
    return None if changes is None else _swing(changes)


def swing_between(board: Board, beside: Board, shop: Shop) -> Swing | None:
    """How far the width of one board moves against that of another that it lies along; None: not known.

    Where neither was metered both are fitted in the same air, so what they may be fitted at goes in pairs.
    """
    one, other = (_changes(each, Axis.WIDTH, moisture(each, shop)) for each in (board, beside))
    if one is None or other is None:
        return None
    count = max(len(one), len(other))
    one, other = (changes * (count // len(changes)) for changes in (one, other))
    return _swing([(a[0] - b[0], a[1] - b[1]) for a, b in zip(one, other, strict=True)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """One dimension of a board through the year, mm.

    `driest_mm` and `dampest_mm` are what it comes to at worst, `shrinks_mm` and `grows_mm` its loss and gain from the day
    it is fitted, at worst too; `change_mm` is what it moves from the driest to the dampest air.
    """

    board: Board
    axis: Axis
    coefficient: Coefficient
    moisture: Moisture
    dimension_mm: float
    driest_mm: float
    dampest_mm: float
    change_mm: float
    shrinks_mm: float
    grows_mm: float

    def larger_mm(self, mc_pct: float) -> float:
        """How much larger than as fitted it is at a moisture content; fitted in the driest air where that isn't said."""
        share = size_change_share(
            self.board.wood,
            direction(self.board, self.axis),
            from_mc_pct=self.moisture.fitted_pct[0],
            to_mc_pct=mc_pct,
        )
        return self.dimension_mm * (share or 0.0)


def movement(board: Board, shop: Shop, axis: Axis = Axis.WIDTH) -> Movement | None:
    """A dimension of a board through the year; None: not known."""
    at = moisture(board, shop)
    known, changes = coefficient(board.wood, direction(board, axis)), _changes(board, axis, at)
    if at is None or known is None or changes is None:
        return None
    size_mm, most = board.width_mm if axis is Axis.WIDTH else board.thickness_mm, _swing(changes)
    return Movement(
        board=board,
        axis=axis,
        coefficient=known,
        moisture=at,
        dimension_mm=size_mm,
        driest_mm=size_mm * (1 + min(driest for driest, _ in changes)),
        dampest_mm=size_mm * (1 + max(dampest for _, dampest in changes)),
        change_mm=size_mm * most.year_share,
        shrinks_mm=size_mm * most.shrinks_share,
        grows_mm=size_mm * most.grows_share,
    )
