"""How much of a wood's strength along the grain is left when the load meets the fibres at an angle.

Source: Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282, 2021), Eq 5-2, which has
the form of Hankinson's formula, with the constants that p. 5-30 fits to its Table 5-12 (strength against
slope of grain). They describe averages of small clear specimens: good for comparing layouts, never design
values. Against that table the curves are on the safe side at gentle slopes (1 in 25 to 1 in 15) and close at
1 in 10 and 1 in 5.
"""

from __future__ import annotations

import math

from dovelayout.errors import LayoutError

__all__ = ["bending_share", "impact_share", "strength_share"]


def strength_share(angle_deg: float, *, cross_grain_share: float, exponent: float) -> float:
    """Share of the strength along the grain, 0 to 1, that is left at `angle_deg` between load and fibres.

    share = q / (sin^n t + q cos^n t), with q `cross_grain_share` (strength across the grain over strength
    along it, above 0, at most 1) and n `exponent` (above 0). 1 at 0 degrees, q at 90 degrees.

    Raises LayoutError (a ValueError) for an angle outside 0 to 90 degrees or constants outside their range.
    Source: Wood Handbook Eq 5-2, p. 5-30.
    """
    if not 0 <= angle_deg <= 90:
        raise LayoutError(f"the angle between load and grain must be 0 to 90 degrees, not {angle_deg}")
    if not 0 < cross_grain_share <= 1:
        raise LayoutError(f"cross_grain_share must be above 0 and at most 1, not {cross_grain_share}")
    if not (0 < exponent < math.inf):
        raise LayoutError(f"exponent must be a number above 0, not {exponent}")
    angle = math.radians(angle_deg)
    sine, cosine = math.sin(angle), math.cos(angle)
    share: float = cross_grain_share / (sine**exponent + cross_grain_share * cosine**exponent)
    # Above an exponent of 2 the form rises to 1.00002 or so before it falls; no share is more than all of it.
    return min(1.0, share)


def bending_share(angle_deg: float) -> float:
    """Share of the modulus of rupture left at `angle_deg` (0 to 90) to the grain.

    q = 0.10, n = 1.5. Raises LayoutError outside the range. Source: Wood Handbook p. 5-30, Eq 5-2.
    """
    return strength_share(angle_deg, cross_grain_share=0.10, exponent=1.5)


def impact_share(angle_deg: float) -> float:
    """Share of the impact bending strength left at `angle_deg` (0 to 90) to the grain.

    q = 0.05, n = 1.5. Raises LayoutError outside the range. Source: Wood Handbook p. 5-30, Eq 5-2.
    """
    return strength_share(angle_deg, cross_grain_share=0.05, exponent=1.5)
