"""How a board moves: its width and its thickness between the day it is fitted and the driest and dampest air after it.

Sizes are measured when the wood is fitted. Where the job doesn't say at which moisture that is, every sum here takes the
worse of what it may have been.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.joints.board import Board
from dovelayout.shop import Shop
from dovelayout.wood.moisture import ROOM_C, Coefficient, Direction, coefficient, emc_pct, size_change_share


class Axis(StrEnum):
    """The two dimensions of a board that move; its length hardly does."""

    WIDTH = "width"
    THICKNESS = "thickness"


def direction(board: Board, axis: Axis) -> Direction:
    """How a dimension of a board lies to its rings."""
    return board.rings.across_width if axis is Axis.WIDTH else board.rings.across_thickness


def dimension_mm(board: Board, axis: Axis) -> float:
    """The dimension as measured."""
    return board.width_mm if axis is Axis.WIDTH else board.thickness_mm


def emc_seen_pct(humidity_pct: float, shop: Shop) -> float:
    """Moisture content that wood comes to where the piece lives."""
    return emc_pct(humidity_pct, ROOM_C if shop.seen_c is None else shop.seen_c)


def emc_built_pct(humidity_pct: float, shop: Shop) -> float:
    """Moisture content that wood comes to where the piece is fitted."""
    return emc_pct(humidity_pct, ROOM_C if shop.temperature_c is None else shop.temperature_c)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moisture:
    """Moisture contents of a board: what it may have when it is fitted, and its driest and dampest after that."""

    built_pct: tuple[float, ...]
    driest_pct: float
    dampest_pct: float

    @property
    def reference_pct(self) -> float:
        """The moisture content its measured size is taken to belong to: the middle of what it may be (ours)."""
        return math.fsum(self.built_pct) / len(self.built_pct)


def moisture(board: Board, shop: Shop) -> Moisture | None:
    """None where the job doesn't say what air the piece will see. A measured moisture content wins over the shop's air."""
    if shop.seen_pct is None:
        return None
    driest, dampest = (emc_seen_pct(humidity, shop) for humidity in shop.seen_pct)
    if board.moisture_pct is not None:
        built: tuple[float, ...] = (board.moisture_pct,)
    elif shop.built_at_pct is None and (shop.home is None or shop.humidity_pct is None):
        built = (driest, dampest)
    else:
        built = tuple(emc_built_pct(humidity, shop) for humidity in shop.built_pct)
    return Moisture(built_pct=built, driest_pct=driest, dampest_pct=dampest)


def unknown(board: Board, shop: Shop) -> tuple[str, str]:
    """Why a board's movement isn't known, and what would make it known."""
    if shop.seen_pct is None:
        return "the job doesn't say how dry and how damp the room gets", "say it: [shop] humidity = [35, 65]"
    return f"the movement of {board.wood.name} isn't known", "allow what a similar wood would need"


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """How much of itself a dimension loses and gains at most after it is fitted, as shares; neither is below 0."""

    shrinks_share: float
    grows_share: float

    @property
    def most_share(self) -> float:
        """The larger of the two."""
        return max(self.shrinks_share, self.grows_share)


STILL = Swing(shrinks_share=0.0, grows_share=0.0)


def _changes(board: Board, shop: Shop, axis: Axis) -> tuple[tuple[float, float], ...] | None:
    """(to the driest, to the dampest) as shares, one pair for each moisture it may be fitted at; None: not known."""
    at = moisture(board, shop)
    if at is None:
        return None
    pairs = []
    for built in at.built_pct:
        ends = [
            size_change_share(board.wood, direction(board, axis), from_mc_pct=built, to_mc_pct=end)
            for end in (at.driest_pct, at.dampest_pct)
        ]
        known = [end for end in ends if end is not None]
        if len(known) < 2:
            return None
        pairs.append((known[0], known[1]))
    return tuple(pairs)


def _swing(pairs: Sequence[tuple[float, float]]) -> Swing:
    every = [change for pair in pairs for change in pair]
    return Swing(shrinks_share=max(0.0, -min(every)), grows_share=max(0.0, *every))


def swing(board: Board, shop: Shop, axis: Axis = Axis.WIDTH) -> Swing | None:
    """How a dimension of a board swings; None: not known."""
    pairs = _changes(board, shop, axis)
    return None if pairs is None else _swing(pairs)


def swing_between(board: Board, beside: Board, shop: Shop) -> Swing | None:
    """How the width of one board swings against that of another that it lies along; None: not known.

    Where neither was metered both are fitted in the same air, so their candidates go in pairs.
    """
    one, other = _changes(board, shop, Axis.WIDTH), _changes(beside, shop, Axis.WIDTH)
    if one is None or other is None:
        return None
    count = max(len(one), len(other))
    one, other = (pairs * (count // len(pairs)) for pairs in (one, other))
    return _swing([(a[0] - b[0], a[1] - b[1]) for a, b in zip(one, other, strict=True)])


def size_at_mc(board: Board, mc_pct: float, shop: Shop, axis: Axis = Axis.WIDTH) -> float | None:
    """A dimension at a moisture content, mm, from its measured size; None: not known."""
    at = moisture(board, shop)
    if at is None:
        return None
    start = at.reference_pct
    share = size_change_share(board.wood, direction(board, axis), from_mc_pct=start, to_mc_pct=mc_pct)
    return None if share is None else dimension_mm(board, axis) * (1 + share)


def size_at(board: Board, humidity_pct: float, shop: Shop, axis: Axis = Axis.WIDTH) -> float | None:
    """A dimension in air of that relative humidity, once the board has come to it, mm; None: not known."""
    return size_at_mc(board, emc_seen_pct(humidity_pct, shop), shop, axis)


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """One dimension of a board through the year, mm; `shrinks_mm` and `grows_mm` from the day it is fitted, at worst."""

    board: Board
    axis: Axis
    coefficient: Coefficient
    moisture: Moisture
    dimension_mm: float
    driest_mm: float
    dampest_mm: float
    shrinks_mm: float
    grows_mm: float

    @property
    def change_mm(self) -> float:
        """From the driest to the dampest."""
        return self.dampest_mm - self.driest_mm


def movement(board: Board, shop: Shop, axis: Axis = Axis.WIDTH) -> Movement | None:
    """A dimension of a board through the year; None: not known."""
    at = moisture(board, shop)
    known = coefficient(board.wood, direction(board, axis))
    swings = swing(board, shop, axis)
    if at is None or known is None or swings is None:
        return None
    driest_mm, dampest_mm = (size_at_mc(board, mc, shop, axis) for mc in (at.driest_pct, at.dampest_pct))
    if driest_mm is None or dampest_mm is None:
        return None
    measured_mm = dimension_mm(board, axis)
    return Movement(
        board=board,
        axis=axis,
        coefficient=known,
        moisture=at,
        dimension_mm=measured_mm,
        driest_mm=driest_mm,
        dampest_mm=dampest_mm,
        shrinks_mm=measured_mm * swings.shrinks_share,
        grows_mm=measured_mm * swings.grows_share,
    )
