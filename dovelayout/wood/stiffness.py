"""How stiff a wood is across its grain, where a cheek presses on it.

`data/elastic_ratios.csv` is Table 5-1 of the Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282, 2021): stiffness across the
grain as a share of that along it, E_T/E_L and E_R/E_L, at about 12 % moisture content. Its provenance columns say which
ratios were read in a copy of the table ('handbook') and which were recalled and not seen again ('memory').

E_L here is the modulus of elasticity of the strength tables as it is printed. That comes from a bent beam, and the true
E_L is about a tenth higher (Wood Handbook, chapter 5): pressures would come out a tenth higher with it, less than what
one board differs from the next. The limits that use them were set with the printed value.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from statistics import fmean

from dovelayout.wood.moisture import Direction
from dovelayout.wood.species import Wood, WoodKind

MPA_PER_GPA = 1000.0
"""By definition."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratios:
    """One row of Table 5-1: stiffness along the rings and across them, as shares of that along the grain."""

    species: str
    kind: WoodKind
    tangential: float
    radial: float
    provenance: str

    def towards(self, direction: Direction) -> float:
        """The share in one direction; between the two (rings at 45 degrees) their mean, which is ours."""
        match direction:
            case Direction.TANGENTIAL:
                return self.tangential
            case Direction.RADIAL:
                return self.radial
            case Direction.MEAN:
                return (self.tangential + self.radial) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossStiffness:
    """Modulus of elasticity across the grain, and what to doubt about it ('' where nothing is to be)."""

    mpa: float
    doubt: str = ""


@cache
def all_ratios() -> tuple[Ratios, ...]:
    """Every row of the table."""
    return tuple(ratios for _, ratios in _rows())


@cache
def _rows() -> tuple[tuple[str, Ratios], ...]:
    text = (files("dovelayout.wood") / "data" / "elastic_ratios.csv").read_text(encoding="utf-8")
    return tuple((row["ids"], _ratios(row)) for row in csv.DictReader(text.splitlines()))


def _ratios(row: Mapping[str, str]) -> Ratios:
    return Ratios(
        species=row["species"],
        kind=WoodKind(row["kind"]),
        tangential=float(row["ET_EL"]),
        radial=float(row["ER_EL"]),
        provenance=row["provenance_ET_ER"],
    )


@cache
def _by_id() -> dict[str, Ratios]:
    return {one: ratios for ids, ratios in _rows() for one in ids.split(";") if one}


@cache
def mean_ratios(kind: WoodKind) -> Ratios:
    """Mean of the table's rows of a kind; of all of them where the kind is not known."""
    rows = [row for row in all_ratios() if kind is WoodKind.UNKNOWN or row.kind is kind]
    return Ratios(
        species=f"mean of {len(rows)} {'woods' if kind is WoodKind.UNKNOWN else f'{kind}s'}",
        kind=kind,
        tangential=fmean(row.tangential for row in rows),
        radial=fmean(row.radial for row in rows),
        provenance="mean of the table's rows",
    )


def cross_stiffness(wood: Wood, direction: Direction) -> CrossStiffness | None:
    """Modulus of elasticity of a wood across its grain, MPa; None where that along it is not known, and for plywood.

    A wood without a row of its own gets the mean of its kind, and the doubt says so.
    """
    if wood.moe_gpa is None or wood.kind is WoodKind.PLYWOOD:
        return None
    ratios = _by_id().get(wood.id)
    doubts = []
    if ratios is None:
        ratios = mean_ratios(wood.kind)
        doubts.append(
            f"stiffness of {wood.name} across the grain: {ratios.species} in Table 5-1, it has no row of its own"
        )
    elif ratios.provenance == "memory":
        doubts.append(f"stiffness of {wood.name} across the grain: from memory of Table 5-1")
    if direction is Direction.MEAN:
        doubts.append("rings at 45 degrees: the mean of two stiffnesses, ours")
    return CrossStiffness(mpa=wood.moe_gpa * MPA_PER_GPA * ratios.towards(direction), doubt="; ".join(doubts))
