"""From [shop], [home], [paper], [rehearsal] and [glue] to the shop and its paper."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from dovelayout.errors import WoodError
from dovelayout.job.places import Here
from dovelayout.job.tables.schema import JobTable
from dovelayout.job.tables.shop import GlueTable
from dovelayout.paper import Paper, paper, sized
from dovelayout.shop import Hand, Home, Shop
from dovelayout.wood.glue import OWN_ID, Glue, find_glue


def read_shop(table: JobTable, here: Here) -> Shop:
    """The shop, its air, its glue and its hand; what a job leaves out is as in `Shop` and `Hand`. Raises JobError."""
    shop, home = table.shop, table.home
    misses = table.rehearsal.model_dump(exclude={"held_flush"}, exclude_none=True)
    return Shop(
        chisels_mm=tuple(sorted(shop.chisels)),
        knife_mm=shop.knife,
        kerf_mm=shop.kerf,
        humidity_pct=shop.humidity,
        home=None if home is None else Home(humidity_pct=home.humidity, temperature_c=home.temperature),
        built_at_pct=shop.built_at,
        temperature_c=shop.temperature,
        glue=_read_glue(shop.glue.strip(), table.glue, here),
        fit_mm=shop.fit,
        hands=shop.hands,
        hand=Hand(held_flush=table.rehearsal.held_flush, **{f"{key}_mm": value for key, value in misses.items()}),
    )


def read_paper(table: JobTable, here: Here) -> Paper:
    """The paper to print on. Raises JobError."""
    size, margin_mm = table.paper.size, table.paper.margin
    with here.entry("paper").at("size").reading():
        return sized(*size, margin_mm) if isinstance(size, tuple) else paper(size, margin_mm, unit=table.units)


_NUMBERS = {
    "open": "open_minutes",
    "closed": "closed_minutes",
    "clamp": "clamp_minutes",
    "floor": "floor_c",
    "gap": "gap_mm",
    "water": "water_share",
    "spread": "spread_g_m2",
    "swell": "swell_factor",
}
"""Keys that a glue can't be without -> fields of a Glue."""


def _read_glue(named: str, label: GlueTable | None, here: Here) -> Glue | None:
    """The job's glue: the row that [shop] glue or the label's own name means, with the label's numbers over it.

    None where the job names none. A glue of a name unknown to the table needs every number. Raises JobError.
    """
    if label is None:
        return _row(named, here.entry("shop").at("glue")) if named else None
    name = label.name or ""
    if not named and not name:
        remedy = 'name its type: [shop] glue = "pva"'
        raise here.entry("glue").error("says which numbers, but not of which glue", remedy)
    try:
        row = find_glue(name)
    except WoodError:
        if name and (not named or _same(named, name)):
            return _labelled(_all_own(name, label, here), label, here)
    if named:
        row = _row(named, here.entry("shop").at("glue"))
    return _labelled(row, label, here)


def _same(one: str, other: str) -> bool:
    return one.casefold().split() == other.casefold().split()


def _row(name: str, where: Here) -> Glue:
    with where.reading():
        return find_glue(name)


def _all_own(name: str, label: GlueTable, here: Here) -> Glue:
    missing = [key for key in _NUMBERS if getattr(label, key) is None]
    if missing:
        raise here.entry("glue").error(
            f"{name!r} is not in the glue table, and its {', '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing",
            'add them, or name the type it is like: [shop] glue = "pva"',
        )
    values: dict[str, Any] = {field: getattr(label, key) for key, field in _NUMBERS.items()}
    return Glue(id=OWN_ID, name=name, reversible=False, slippery=False, **values)


def _labelled(row: Glue, label: GlueTable, here: Here) -> Glue:
    """A row of the glue table with what the label says instead."""
    values = label.model_dump(exclude_none=True)
    glue = replace(row, **{_NUMBERS.get(key, key): value for key, value in values.items()})
    if not glue.has_water and glue.swell_factor > 0:
        if label.swell is not None:
            problem = f"{glue.swell_factor:g} of no water at all"
            raise here.entry("glue").at("swell").error(problem, "swell = 0, or its water share")
        glue = replace(glue, swell_factor=0.0)
    elif glue.has_water and glue.swell_factor == 0 and label.swell is None:
        # water over the row of a glue without any: the worst, until the label says otherwise
        glue = replace(glue, swell_factor=1.0)
    return _in_order(glue, label, here)


def _in_order(glue: Glue, label: GlueTable, here: Here) -> Glue:
    """The glue with its clamps on no sooner than its open time ends: what the label doesn't say gives way."""
    pairs = tuple(zip(glue.open_minutes, glue.closed_minutes, strict=True))
    if all(open_minutes <= closed_minutes for open_minutes, closed_minutes in pairs):
        return glue
    if label.closed is None:
        return replace(glue, closed_minutes=(max(pairs[0]), max(pairs[1])))
    if label.open is None:
        return replace(glue, open_minutes=(min(pairs[0]), min(pairs[1])))
    problem = f"{glue.closed_minutes[1]:g} minutes is less than the {glue.open_minutes[1]:g} it may stay open"
    remedy = "closed counts from the first spread to the clamps: at least as long as open"
    raise here.entry("glue").at("closed").error(problem, remedy)
