"""Glues by type, as data: `data/glues.toml`, where their sources stand too. The maker's label comes before all of it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.errors import WoodError

OWN_ID = "own"
"""The id of a glue that the table doesn't hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue:
    """One type of glue. Times are (cautious, hopeful) minutes at 21 degrees C; `spread_g_m2` is on one side.

    `swell_factor` is the share of its water's swelling to reckon with at a cheek (ours); `slippery` glues ease a long
    sliding joint home; `floor_c` is the coldest the wood may be. `spots_only` glues mend a chip or tack a slip: they
    set too fast for a whole corner.
    """

    id: str
    name: str
    open_minutes: tuple[float, float]
    closed_minutes: tuple[float, float]
    clamp_minutes: tuple[float, float]
    floor_c: float
    gap_mm: float
    water_share: float
    spread_g_m2: float
    swell_factor: float
    reversible: bool
    slippery: bool
    spots_only: bool = False
    cautions: tuple[str, ...] = ()
    also: tuple[str, ...] = ()

    @property
    def has_water(self) -> bool:
        """Whether it wets the wood, and so swells it."""
        return self.water_share > 0


@cache
def all_glues() -> Mapping[str, Glue]:
    """Every glue by its id, in the table's order."""
    table = tomllib.loads((files("dovelayout.wood") / "data" / "glues.toml").read_text(encoding="utf-8"))
    return {name: _glue(name, row) for name, row in table.items()}


def _glue(name: str, row: Mapping[str, Any]) -> Glue:
    values: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
    return Glue(id=name, **values)


def corner_glues() -> tuple[Glue, ...]:
    """The glues that whole corners are glued with: not those for spots."""
    return tuple(glue for glue in all_glues().values() if not glue.spots_only)


def find_glue(name: str) -> Glue:
    """The glue of that name, capitals and hyphens aside. Raises WoodError that names those there are."""
    wanted = _key(name)
    for glue in all_glues().values():
        if wanted in {_key(word) for word in (glue.id, glue.name, *glue.also)}:
            return glue
    ids = {_key(word): glue.id for glue in all_glues().values() for word in (glue.id, glue.name, *glue.also)}
    near = get_close_matches(wanted, ids, 1, 0.5)
    hint = f"did you mean {ids[near[0]]}?" if near else f"known: {', '.join(all_glues())}"
    raise WoodError(f"glue {name!r} is not known", remedy=f"{hint}")


def _key(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").split())
