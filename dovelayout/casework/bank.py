"""A bank of drawers: a height divided among its openings, with rails between them."""

from __future__ import annotations

import math
from enum import StrEnum
from fractions import Fraction

from dovelayout.errors import LayoutError

GROWS = 2.0
"""The lowest opening over the topmost one where the job doesn't say; ours."""

LEAST_OPENING_MM = 20.0
"""An opening lower than this holds no drawer; ours."""


class HeightRule(StrEnum):
    """How the heights of openings grow downwards: equal, by equal steps, or in one ratio."""

    EQUAL = "equal"
    ARITHMETIC = "arithmetic"
    GEOMETRIC = "geometric"


def shared_heights_mm(
    *, height_mm: float, count: int, rule: HeightRule, rail_mm: float, grows: float = GROWS, step_mm: float = 1.0
) -> tuple[float, ...]:
    """Heights of the openings from the top down: with the rails between them they come to `height_mm` exactly.

    All but the lowest are whole multiples of `step_mm`, shared out so that each stands nearest to the rule; the lowest
    takes what is left. `grows` is the lowest over the topmost. Raises LayoutError when they come out too low.
    """
    total_mm = Fraction(str(height_mm)) - (count - 1) * Fraction(str(rail_mm))
    step = Fraction(str(step_mm))
    shares = [_share(rule, grows, index / (count - 1) if count > 1 else 0.0) for index in range(count)]
    if total_mm <= 0 or float(total_mm) * min(shares) / math.fsum(shares) < LEAST_OPENING_MM:
        raise LayoutError(
            f"{count} openings with {count - 1} rails of {rail_mm:g} mm between them don't go into {height_mm:g} mm",
            remedy=f"each needs {LEAST_OPENING_MM:g} mm at least",
        )
    heights: list[Fraction] = []
    so_far = 0.0
    for share in shares[:-1]:
        # each lower edge is put nearest to where the rule has it, so that errors don't add up
        so_far += float(total_mm) * share / math.fsum(shares)
        heights.append(round(Fraction(so_far) / step) * step - sum(heights, Fraction(0)))
    heights.append(total_mm - sum(heights, Fraction(0)))
    return tuple(float(height) for height in heights)


def _share(rule: HeightRule, grows: float, place: float) -> float:
    """How high an opening is against the topmost, `place` being 0 at the top and 1 at the bottom."""
    if rule is HeightRule.GEOMETRIC:
        return math.pow(grows, place)
    return 1.0 + (grows - 1.0) * place if rule is HeightRule.ARITHMETIC else 1.0
