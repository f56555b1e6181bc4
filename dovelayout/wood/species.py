"""The woods that are known by name, with their strengths and their movement, and the maker's own.

`data/species.csv` holds values of the Wood Handbook (Forest Products Laboratory, FPL-GTR-190, 2010, and
FPL-GTR-282, 2021; US Government work, public domain): shrinkage from green to ovendry from Tables 4-3 and
4-4, strengths at 12 % moisture content from Tables 5-3 and 5-5, coefficients of dimensional change from Table
13-5. Each group of numbers carries its provenance: 'handbook' was read in a copy of the table; 'memory' was
written down from recollection and not seen again, so lean on it lightly; 'memory, confirmed by rule' also
agrees with the rule of Table 13-5's footnote. `notes` keeps misprints and disagreements between tables. A
number that isn't printed or wasn't found is None, never a guess. All are averages of small clear
straight-grained specimens: good for comparing, never design values.

`data/names.csv` holds everyday names of the timber trade. A name with several rows is honestly ambiguous, and
asking for it is an error that lists them.
"""

from __future__ import annotations

import csv
import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.errors import WoodError

__all__ = ["TreeKind", "Wood", "WoodKind", "all_woods", "find_wood", "maker_wood"]


class WoodKind(StrEnum):
    """Hardwood and softwood are the botanist's, not a measure of hardness."""

    HARDWOOD = "hardwood"
    SOFTWOOD = "softwood"
    PLYWOOD = "plywood"
    UNKNOWN = "unknown"


class TreeKind(StrEnum):
    """What a job may say of a wood of its own: anything but a sheet."""

    HARDWOOD = "hardwood"
    SOFTWOOD = "softwood"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """One wood. Numbers are None where not known; strengths are at 12 % moisture content.

    sg_12 and sg_basic: density over that of water, ovendry weight on volume at 12 % and green. shrink_*_pct:
    percent of the green dimension, green to ovendry. coeff_*: change of dimension per percent of moisture
    content (Wood Handbook Eq 13-2), printed in Table 13-5 for the wood or its commercial group;
    coeff_*_from_shrink: worked out from the wood's own shrinkage by the same table's rule, with coeff_fsp_pct
    as the moisture content where shrinking starts.
    """

    id: str
    name: str
    botanical_name: str = ""
    origin: str = ""
    kind: WoodKind
    sg_12: float | None = None
    sg_basic: float | None = None
    mor_mpa: float | None = None
    moe_gpa: float | None = None
    comp_parallel_mpa: float | None = None
    comp_perp_mpa: float | None = None
    shear_parallel_mpa: float | None = None
    tension_perp_mpa: float | None = None
    side_hardness_n: float | None = None
    shrink_radial_pct: float | None = None
    shrink_tangential_pct: float | None = None
    shrink_volumetric_pct: float | None = None
    coeff_radial: float | None = None
    coeff_tangential: float | None = None
    coeff_fsp_pct: float | None = None
    coeff_radial_from_shrink: float | None = None
    coeff_tangential_from_shrink: float | None = None
    mechanical_provenance: str = ""
    shrinkage_provenance: str = ""
    coefficient_provenance: str = ""
    notes: str = ""


SATURATION_PCT = 30.0
"""Moisture content where shrinking starts, for a wood whose row gives none (Wood Handbook, chapter 4)."""

_NUMBERS: tuple[str, ...] = tuple(f.name for f in fields(Wood) if f.type == "float | None")
_PROPER_NAMES = ("Douglas", "Spanish")
_JOINED = {"redcedar": "red cedar", "baldcypress": "bald cypress"}
_SHEETS = frozenset({"ply", "plywood"})
_NO_OWN: Mapping[str, Wood] = {}
_Key = tuple[str, ...]


@cache
def all_woods() -> tuple[Wood, ...]:
    """Every wood in the table, in its order: North American hardwoods, softwoods, then imported woods."""
    return tuple(_wood(row) for row in _rows("species.csv"))


def find_wood(name: str, *, own: Mapping[str, Wood] = _NO_OWN) -> Wood:
    """The wood called `name`; capitals, accents, hyphens and the order of the words don't matter.

    The maker's own entries win, then a name in full (common, botanical or id), an everyday name, and last a
    name in part, if it says which tree and only one fits. Plywood is a wood of kind PLYWOOD under the name
    typed, with no numbers. Raises WoodError where several fit, naming them, and where none does, naming close
    ones.
    """
    key = _key(name)
    if not key:
        raise WoodError("a wood has no name: write it like 'black cherry'")
    for own_name, wood in own.items():
        if _key(own_name) == key:
            return wood
    if found := _exact_names().get(key):
        return _only(name, found)
    if _SHEETS.intersection(key):
        return _plywood(name)
    if found := _everyday_names().get(key):
        return _only(name, found)
    if found := tuple(w for w, words, tree in _searchable() if tree in key and words.issuperset(key)):
        return _only(name, found)
    near = _close_names(name, own)
    hint = f"; close names: {', '.join(near)}" if near else ""
    raise WoodError(
        f"no wood is known as '{_shown(name)}'{hint}", remedy="a wood of your own can be given with its numbers"
    )


def maker_wood(
    *,
    name: str,
    kind: WoodKind = WoodKind.UNKNOWN,
    botanical_name: str = "",
    notes: str = "",
    **numbers: float | None,
) -> Wood:
    """The maker's own entry: any of Wood's number fields by name, in its units; the rest stay None.

    Coefficients of movement are worked out from its shrinkage. Raises WoodError without a name, for a number that Wood
    doesn't have, and for one that isn't above 0.
    """
    key = _key(name)
    if not key:
        raise WoodError("a wood of your own needs a name")
    known: dict[str, float | None] = dict.fromkeys(_NUMBERS)
    for field, value in numbers.items():
        if field not in known:
            near = get_close_matches(field, _NUMBERS, n=1, cutoff=0.4) or _NUMBERS
            raise WoodError(
                f"wood '{_shown(name)}' has no number called '{_shown(field)}'", remedy=f"there is {', '.join(near)}"
            )
        if value is None:
            continue
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < value < math.inf:
            raise WoodError(f"wood '{_shown(name)}': {field} must be a number above 0, not {value!r}")
        known[field] = float(value)
    for way in ("radial", "tangential"):
        shrink_pct = known[f"shrink_{way}_pct"]
        if shrink_pct is not None and known[f"coeff_{way}_from_shrink"] is None:
            known[f"coeff_{way}_from_shrink"] = _coefficient(shrink_pct, known["coeff_fsp_pct"] or SATURATION_PCT)
    own = "the maker's own figure"
    wood = Wood(
        id="_".join(_words(name)),
        name=" ".join(name.split()),
        botanical_name=botanical_name,
        kind=kind,
        mechanical_provenance=own,
        shrinkage_provenance=own,
        coefficient_provenance=own,
        notes=notes,
    )
    return _with_numbers(wood, known)


def _coefficient(shrink_pct: float, saturation_pct: float) -> float:
    """Table 13-5's rule (its footnote, from memory): change of dimension per percent from shrinkage green to ovendry."""
    share = shrink_pct / 100
    return share / saturation_pct / (1 - share * (saturation_pct - 10) / saturation_pct)


def _wood(row: Mapping[str, str]) -> Wood:
    wood = Wood(
        id=row["id"],
        name=_reading_order(row["common_name"]),
        botanical_name=row["botanical_name"],
        origin=row["origin"],
        kind=WoodKind(row["kind"]),
        mechanical_provenance=row["mechanical_provenance"],
        shrinkage_provenance=row["shrinkage_provenance"],
        coefficient_provenance=row["coefficient_provenance"],
        notes=row["notes"],
    )
    return _with_numbers(wood, {field: float(row[field]) if row[field] else None for field in _NUMBERS})


def _with_numbers(wood: Wood, numbers: Mapping[str, float | None]) -> Wood:
    changes: dict[str, Any] = dict(numbers)  # replace() can't be typed by field name
    return replace(wood, **changes)


def _plywood(name: str) -> Wood:
    return Wood(
        id="plywood",
        name=" ".join(name.split()),
        kind=WoodKind.PLYWOOD,
        notes="plywood differs by maker and lay-up: no strengths and no movement are known for it",
    )


def _reading_order(common_name: str) -> str:
    """'Mahogany, African (khaya)' -> 'African mahogany (khaya)'."""
    plain, bracket, aside = common_name.partition(" (")
    tree, _, kind = plain.partition(", ")
    tree = tree if tree.startswith(_PROPER_NAMES) else tree.lower()
    return f"{kind} {tree}".strip() + bracket + aside


@cache
def _rows(file: str) -> tuple[dict[str, str], ...]:
    text = files("dovelayout.wood").joinpath("data").joinpath(file).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def _exact_names() -> dict[_Key, tuple[Wood, ...]]:
    index: dict[_Key, tuple[Wood, ...]] = {}
    for wood in all_woods():
        without_aside = wood.name.partition(" (")[0]
        for key in {_key(name) for name in (wood.id, wood.name, without_aside, wood.botanical_name)}:
            index[key] = (*index.get(key, ()), wood)
    return index


@cache
def _everyday_names() -> dict[_Key, tuple[Wood, ...]]:
    by_id = {wood.id: wood for wood in all_woods()}
    index: dict[_Key, tuple[Wood, ...]] = {}
    for row in _rows("names.csv"):
        key = _key(row["everyday_name"])
        index[key] = (*index.get(key, ()), by_id[row["id"]])
    return index


@cache
def _searchable() -> tuple[tuple[Wood, frozenset[str], str], ...]:
    """Each wood, the words of its name, and the word that says which tree ('silver' is no maple yet)."""
    trees = (_words(wood.name.partition(" (")[0])[-1] for wood in all_woods())
    return tuple((wood, frozenset(_key(wood.name)), tree) for wood, tree in zip(all_woods(), trees, strict=True))


def _close_names(name: str, own: Mapping[str, Wood]) -> tuple[str, ...]:
    spelled = {" ".join(own_name.split()).lower(): own_name for own_name in own}
    spelled |= {wood.name.lower(): wood.name for wood in all_woods()}
    spelled |= {row["everyday_name"]: row["everyday_name"] for row in _rows("names.csv")}
    near = [spelled[n] for n in get_close_matches(" ".join(name.lower().split()), spelled, n=3, cutoff=0.6)]
    for wood, _, tree in _searchable():
        if get_close_matches(tree, _words(name), n=1, cutoff=0.8):
            near.append(wood.name)
    return tuple(dict.fromkeys(near))[:5]


def _only(name: str, found: tuple[Wood, ...]) -> Wood:
    if len(found) == 1:
        return found[0]
    raise WoodError(f"'{_shown(name)}' could be: {', '.join(wood.name for wood in found)}: say which")


def _words(name: str) -> list[str]:
    plain = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c)).casefold()
    words = re.findall(r"[^\W_]+", plain)
    return [part for word in words for part in _JOINED.get(word, word).split()]


def _key(name: str) -> _Key:
    return tuple(sorted(_words(name)))


def _shown(name: str) -> str:
    return "".join(c if c.isprintable() else " " for c in name)[:60]
