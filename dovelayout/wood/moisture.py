"""Moisture in wood: what the air makes of it, and how far that moves a board.

Wood Handbook FPL-GTR-190: Eq 4-5 for the equilibrium moisture content, Eq 13-2 for the change of dimension. Real boards
are seldom perfectly flat or quarter sawn, so a width moves a little less than this says.
"""

from __future__ import annotations

from dovelayout.wood.species import Wood

ROOM_C = 20.0
"""Where the job gives no temperature; it hardly matters (20 to 25 degrees C: 0.1 point)."""


def emc_pct(humidity_pct: float, temperature_c: float = ROOM_C) -> float:
    """Moisture content that wood comes to in air of that relative humidity, percent (Eq 4-5)."""
    h, t = humidity_pct / 100, temperature_c
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    return (1800 / w) * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh))


def movement_share(
    wood: Wood, *, tangential: bool, humidity_pct: tuple[float, float], temperature_c: float
) -> float | None:
    """Change of a dimension between the driest and the dampest air, as a share of it (Eq 13-2); None: not known.

    Of two published coefficients the larger counts, as is prudent where a fit hangs on it.
    """
    if tangential:
        known = (wood.coeff_tangential, wood.coeff_tangential_from_shrink)
    else:
        known = (wood.coeff_radial, wood.coeff_radial_from_shrink)
    coefficients = [value for value in known if value is not None]
    if not coefficients:
        return None
    driest, dampest = (emc_pct(humidity, temperature_c) for humidity in humidity_pct)
    return max(coefficients) * (dampest - driest)
