"""The maker's shop, as far as a layout depends on it. Plain values."""

from __future__ import annotations

from dataclasses import dataclass

from dovelayout.wood.glue import Glue

KNIFE_MM = 1.2
"""Thickness of a marking knife where the job gives none (common practice, no source: blades of 0.5 to 1.2 mm)."""

MONTHS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Air of the room that the piece goes to: relative humidity, driest and dampest, or twelve months from January on."""

    humidity_pct: tuple[float, ...]
    temperature_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """How far a maker's lines and cuts miss, mm: standard deviations, so that two of three miss by less.

    `marking_mm`: a line knifed or pricked through a template. `sawing_mm`: a saw cut from its line. `transfer_mm`: a line
    knifed along a real tail. `placing_mm`: a whole template along the board. The figures are ours, for a practised hand
    in a good light; ten cuts measured with a caliper give your own. `held_flush`: the edges are held against a fence, so
    that the joint can't find its own middle.
    """

    marking_mm: float = 0.08
    sawing_mm: float = 0.06
    transfer_mm: float = 0.04
    placing_mm: float = 0.12
    held_flush: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Tools, air and glue of the shop; None or empty where the job doesn't say.

    `humidity_pct` is the relative humidity, driest and dampest; `fit_mm` how much fuller a cheek is cut than its
    socket, dry, at one cheek; `glue.name` is what to call the glue in words. `built_at_pct` is the humidity while the piece
    is fitted. A piece that goes elsewhere has a `home`, whose air counts for all that moves later.
    """

    chisels_mm: tuple[float, ...] = ()
    knife_mm: float = KNIFE_MM
    kerf_mm: float | None = None
    humidity_pct: tuple[float, float] | None = None
    temperature_c: float | None = None
    glue: Glue | None = None
    fit_mm: float | None = None
    hands: int = 1
    hand: Hand = Hand()
    home: Home | None = None
    built_at_pct: float | None = None

    @property
    def home_humidity_pct(self) -> tuple[float, float] | None:
        """Driest and dampest air that the piece will live in: the home's, or the shop's where no home is given."""
        if self.home is None:
            return self.humidity_pct
        return min(self.home.humidity_pct), max(self.home.humidity_pct)

    @property
    def home_temperature_c(self) -> float | None:
        """Temperature of that air."""
        home_c = None if self.home is None else self.home.temperature_c
        return self.temperature_c if home_c is None else home_c

    @property
    def months_pct(self) -> tuple[float, ...]:
        """Relative humidity of the home's twelve months; empty where only its extremes are known."""
        return self.home.humidity_pct if self.home is not None and len(self.home.humidity_pct) == MONTHS else ()

    @property
    def fitting_humidity_pct(self) -> tuple[float, ...]:
        """Air that the wood may have come to when it is fitted: one humidity where the job says, else the driest and the
        dampest that it may be; empty where nothing is known."""
        if self.built_at_pct is not None:
            return (self.built_at_pct,)
        return self.humidity_pct or self.home_humidity_pct or ()
