"""The year as wood feels it: its moisture content when it was fitted, in the driest month and in the dampest."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from dovelayout.joints.moving import emc_built_pct, emc_seen_pct
from dovelayout.shop import Shop
from dovelayout.wood.moisture import Direction, size_change_share
from dovelayout.wood.species import Wood

UNKNOWN_HOME_PCT = (6.0, 14.0)
"""Moisture contents to reckon with where nothing is known of the home (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """How far a dimension moves from what it is when fitted, as shares of it, both 0 or more."""

    grows: float
    shrinks: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seasons:
    """Moisture contents over the year, percent. `assumed`: the job says nothing of its air."""

    driest_pct: float
    built_pct: float
    dampest_pct: float
    assumed: bool = False

    def fitted_at(self, moisture_pct: float | None) -> Seasons:
        """The same year for wood that was fitted at a measured moisture content."""
        if moisture_pct is None:
            return self
        return replace(
            self,
            built_pct=moisture_pct,
            driest_pct=min(self.driest_pct, moisture_pct),
            dampest_pct=max(self.dampest_pct, moisture_pct),
        )

    def swing(self, wood: Wood, direction: Direction) -> Swing | None:
        """How far a dimension of that wood moves over the year; None: the wood's movement isn't known."""
        grows = size_change_share(wood, direction, from_mc_pct=self.built_pct, to_mc_pct=self.dampest_pct)
        shrinks = size_change_share(wood, direction, from_mc_pct=self.built_pct, to_mc_pct=self.driest_pct)
        if grows is None or shrinks is None:
            return None
        return Swing(grows=max(0.0, grows), shrinks=max(0.0, -shrinks))


def seasons(shop: Shop) -> Seasons:
    """The year of the air that the piece will live in, fitted at `built_at` or at the middle of the shop's range."""
    shop_pct = shop.humidity_pct or shop.seen_pct
    if shop.built_at_pct is not None:
        built_pct = emc_built_pct(shop.built_at_pct, shop)
    elif shop_pct is not None:
        built_pct = emc_built_pct(math.fsum(shop_pct) / 2, shop)
    else:
        built_pct = math.fsum(UNKNOWN_HOME_PCT) / 2
    if shop.seen_pct is None:
        driest_pct, dampest_pct = UNKNOWN_HOME_PCT
    else:
        driest_pct, dampest_pct = (emc_seen_pct(humidity, shop) for humidity in shop.seen_pct)
    year = Seasons(driest_pct=driest_pct, built_pct=built_pct, dampest_pct=dampest_pct, assumed=shop.seen_pct is None)
    return year.fitted_at(built_pct)
