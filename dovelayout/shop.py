"""The maker's shop, as far as a layout depends on it. Values in, no behaviour."""

from __future__ import annotations

from dataclasses import dataclass

KNIFE_MM = 1.2
"""Thickness of a marking knife where the job gives none (common practice, no source: blades of 0.5 to 1.2 mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Tools and air of the shop; None or empty where the job doesn't say.

    `humidity_pct` is the relative humidity, driest and dampest; `built_at_pct` that of the days when parts were fitted.
    """

    chisels_mm: tuple[float, ...] = ()
    knife_mm: float = KNIFE_MM
    kerf_mm: float | None = None
    humidity_pct: tuple[float, float] | None = None
    built_at_pct: float | None = None
    temperature_c: float | None = None
    glue: str = ""
    fit_mm: float | None = None
    hands: int = 1
