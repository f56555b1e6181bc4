"""Small jobs for tests: one part across a host, or one panel, everything else as the test says; and a sum of our own."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.job.reader import Job
from dovelayout.verdict.verdict import movement_findings, with_fixes
from tests.jobs import loaded


def across_job(
    species: str = "black cherry",
    *,
    kind: str = "support",
    width: float = 508,
    host: Mapping[str, Any] | None = None,
    part: Mapping[str, Any] | None = None,
    shop: Mapping[str, Any] | None = None,
    home: Mapping[str, Any] | None = None,
    **across: Any,
) -> dict[str, Any]:
    """The tables of a job with one part across the whole width of a host, in mm."""
    tables: dict[str, Any] = {
        "title": "test",
        "board": [
            {"name": "host", "species": species, "length": 900, "width": width, "thickness": 19, **(host or {})},
            {"name": "part", "species": species, "length": width, "width": 50, "thickness": 19, **(part or {})},
        ],
        "across": [{"name": "one", "kind": kind, "part": "part", "host": "host", **across}],
    }
    return _in_air(tables, shop, home)


def panel_job(
    species: str = "yellow poplar",
    *,
    width: float = 229,
    thickness: float = 12,
    board: Mapping[str, Any] | None = None,
    shop: Mapping[str, Any] | None = None,
    home: Mapping[str, Any] | None = None,
    also: Mapping[str, Any] | None = None,
    **panel: Any,
) -> dict[str, Any]:
    """The tables of a job with one panel, in mm."""
    size = {"length": 400, "width": width, "thickness": thickness}
    tables: dict[str, Any] = {
        "title": "test",
        "board": [{"name": "board", "species": species, **size, **(board or {})}],
        "panel": [{"name": "one", "board": "board", **panel}],
        **(also or {}),
    }
    return _in_air(tables, shop, home)


def _in_air(tables: dict[str, Any], shop: Mapping[str, Any] | None, home: Mapping[str, Any] | None) -> dict[str, Any]:
    """With the air as given; from 30 to 65 % where nothing is."""
    tables["shop"] = dict(shop or {}) if home is not None or shop is not None else {"humidity": [30, 65]}
    if home is not None:
        tables["home"] = dict(home)
    return tables


def found(tables: Mapping[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    """The findings about movement of a job, without what is assumed of the air; or all of one check."""
    job = loaded(tables)
    return with_fixes(job, _untried(job, check))


def _untried(job: Job, check: str | None) -> list[Finding]:
    return [f for f in movement_findings(job) if f.check == check or (check is None and not is_assumption(f))]


def is_assumption(finding: Finding) -> bool:
    """Whether it only says that the job is silent on when it is fitted."""
    return finding.check == "shop-air" and finding.measured is None


def loudest(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of a job's movement, or of one check on it."""
    return worst_level(_untried(loaded(tables), check))


# --- a sum of our own, from the published equations, with nothing of the package ---


def emc(humidity_pct: float, celsius: float = 20.0) -> float:
    """Wood Handbook Eq 4-5, in its published form."""
    h, t = humidity_pct / 100, celsius
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    single = k * h / (1 - k * h)
    double = (k1 * k * h + 2 * k1 * k2 * k**2 * h**2) / (1 + k1 * k * h + k1 * k2 * k**2 * h**2)
    return 1800 / w * (single + double)


def grown(size_mm: float, coefficient: float, start_pct: float, end_pct: float) -> float:
    """A size at another moisture content: Eq 13-2 within 6 to 14 %, else Eq 13-3 with the shrinkage that belongs to C."""
    if min(start_pct, end_pct) >= 6 and max(start_pct, end_pct) <= 14:
        return size_mm * (1 + coefficient * (end_pct - start_pct))
    shrinkage_pct = 100 * 30 * coefficient / (1 + 20 * coefficient)
    return size_mm * (1 + (end_pct - start_pct) / (30 * 100 / shrinkage_pct - 30 + start_pct))


CHERRY = 0.00248
"""Black cherry across flat-sawn width, Table 13-5."""


@st.composite
def airs(draw: st.DrawFn) -> dict[str, Any]:
    """[shop] and [home] of any job: built at a known humidity, somewhere in the shop's, or not known at all."""
    low = draw(st.integers(15, 60))
    home = {"humidity": [low, low + draw(st.integers(0, 35))]}
    way = draw(st.sampled_from(("built", "shop", "unsaid")))
    if way == "built":
        return {"shop": {"built_at": draw(st.integers(15, 90))}, "home": home}
    if way == "shop":
        dry = draw(st.integers(20, 60))
        return {"shop": {"humidity": [dry, dry + draw(st.integers(0, 30))]}, "home": home}
    return {"home": home}


def built_at(air: Mapping[str, Any]) -> list[float]:
    """Moisture contents that cherry may have been fitted at in such air, by our own sum."""
    shop = air.get("shop", {})
    if "built_at" in shop:
        return [emc(shop["built_at"])]
    return [emc(h) for h in shop.get("humidity", air["home"]["humidity"])]


def close(value: float) -> float:
    """A hair, for comparing sums."""
    return 1e-6 * max(1.0, math.fabs(value))
