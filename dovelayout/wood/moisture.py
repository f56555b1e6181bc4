"""Moisture in wood: what the air makes of it, and how far that moves a board.

Wood Handbook FPL-GTR-190 and FPL-GTR-282: Eq 4-5 for the equilibrium moisture content, Eq 13-2 and 13-3 for the change
of dimension. Real boards are seldom perfectly flat or quarter sawn, so a width moves a little less than this says and a
thickness a little more (the handbook's own caveat). Along the grain wood hardly moves (0.1 to 0.2 % from green to
ovendry); here it doesn't.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.wood.species import SATURATION_PCT, Wood, WoodKind

ROOM_C = 20.0
"""Where the job gives no temperature; it hardly matters (20 to 25 degrees C: 0.1 point); ours."""

LINEAR_PCT = (6.0, 14.0)
"""Moisture contents between which Eq 13-2 holds (Wood Handbook, chapter 13); beyond, Eq 13-3 takes over."""

THROUGH_PLIES = 0.00256
"""Change of plywood's thickness per percent of moisture content, as a share: yellow birch's, radially (Wood Handbook, Table
13-5); the first wetting after the press adds more."""

_PIVOT_PCT = 10.0  # the moisture content at which Table 13-5's coefficients are those of Eq 13-3


class Direction(StrEnum):
    """How a dimension lies to the growth rings. `MEAN`: rings at 45 degrees, the mean of the two (ours)."""

    TANGENTIAL = "tangential"
    RADIAL = "radial"
    MEAN = "mean"


def emc_pct(humidity_pct: float, temperature_c: float = ROOM_C) -> float:
    """Moisture content that wood comes to in air of that relative humidity, percent (Eq 4-5)."""
    h, t = humidity_pct / 100, temperature_c
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    return (1800 / w) * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh))


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficient:
    """How far a dimension moves: its change per percent of moisture content, as a share, where it comes from, and what
    to doubt about it ('' where nothing is to be)."""

    per_pct: float
    provenance: str
    doubt: str = ""


def coefficient(wood: Wood, direction: Direction) -> Coefficient | None:
    """The coefficient of dimensional change of a wood; None: not known.

    Where the coefficient printed in Table 13-5 and the one worked out from the wood's own shrinkage (Tables 4-3 and
    4-4) differ, the larger counts, as is prudent where a fit hangs on it, and the doubt says so. Plywood counts as still
    in its plane; through its thickness, which is radial to its peeled veneers, it moves as solid wood does.
    """
    if wood.kind is WoodKind.PLYWOOD and direction is Direction.RADIAL:
        return Coefficient(
            per_pct=THROUGH_PLIES, provenance="as yellow birch moves radially, Table 13-5; ours for plywood"
        )
    if wood.kind is WoodKind.PLYWOOD:
        return Coefficient(per_pct=0.0, provenance="plywood hardly moves: common practice, no source")
    if direction is Direction.MEAN:
        both = [coefficient(wood, one) for one in (Direction.TANGENTIAL, Direction.RADIAL)]
        known = [one for one in both if one is not None]
        if len(known) < 2:
            return None
        doubts = dict.fromkeys(one.doubt for one in known if one.doubt)
        return Coefficient(
            per_pct=math.fsum(one.per_pct for one in known) / 2,
            provenance="; ".join(dict.fromkeys(one.provenance for one in known)),
            doubt="; ".join((*doubts, "rings at 45 degrees: the mean of two coefficients, ours")),
        )
    if direction is Direction.TANGENTIAL:
        printed, own = wood.coeff_tangential, wood.coeff_tangential_from_shrink
    else:
        printed, own = wood.coeff_radial, wood.coeff_radial_from_shrink
    if printed is None and own is None:
        return None
    if printed is None or own is None:
        value = printed if own is None else own
        table = "Table 13-5" if own is None else "from its shrinkage"
        provenance = wood.coefficient_provenance if own is None else wood.shrinkage_provenance
        return Coefficient(per_pct=value or 0.0, provenance=f"{table} ({provenance})")
    doubt = ""
    if abs(printed - own) > 0.05 * min(printed, own):
        doubt = f"Table 13-5 gives {printed:.5f} and its own shrinkage {own:.5f}: the larger counts here"
    provenance = wood.coefficient_provenance if printed >= own else wood.shrinkage_provenance
    table = "Table 13-5" if printed >= own else "from its shrinkage"
    return Coefficient(per_pct=max(printed, own), provenance=f"{table} ({provenance})", doubt=doubt)


def size_change_share(wood: Wood, direction: Direction, *, from_mc_pct: float, to_mc_pct: float) -> float | None:
    """Change of a dimension from one moisture content to another, as a share of what it is at the first; None: not known.

    Eq 13-2 where both are within 6 to 14 %, else Eq 13-3, which with the shrinkage S that belongs to the coefficient C
    by the rule of Table 13-5 reads (M_F - M_I) / (1/C - 10 + M_I): the two agree at 10 %. Above fibre saturation
    nothing moves.
    """
    known = coefficient(wood, direction)
    if known is None:
        return None
    if known.per_pct == 0:
        return 0.0
    saturation_pct = wood.coeff_fsp_pct or SATURATION_PCT
    start, end = (min(saturation_pct, mc) for mc in (from_mc_pct, to_mc_pct))
    if all(LINEAR_PCT[0] <= mc <= LINEAR_PCT[1] for mc in (start, end)):
        return known.per_pct * (end - start)
    return (end - start) / (1 / known.per_pct - _PIVOT_PCT + start)
