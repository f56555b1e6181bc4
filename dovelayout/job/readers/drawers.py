"""From [drawers], [[drawer]] and [[bank]] tables to drawers with their boards and corners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import fields
from typing import Any

from dovelayout.casework.bank import shared_heights_mm
from dovelayout.casework.drawer.choices import BottomKind, Front
from dovelayout.casework.drawer.corners import with_corners
from dovelayout.casework.drawer.drawer import Drawer, build_drawer
from dovelayout.casework.drawer.keys import DRAWER_KEYS
from dovelayout.casework.drawer.spec import DrawerSpec, Opening, Sizes, Stock
from dovelayout.checks import measures_clean
from dovelayout.job.places import Here, each_once
from dovelayout.job.tables.drawer import MOST_DRAWERS, BankTable, DrawerKeys, DrawerTable
from dovelayout.job.tables.fields import spec_values
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints.board import Grain
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.keys import CORNER_KEYS
from dovelayout.joints.spec import LayoutSpec
from dovelayout.shop import Shop
from dovelayout.units import MM_PER_INCH, Unit
from dovelayout.wood.species import Wood, find_wood

THICKNESSES_MM = {"front": 20.0, "side": 12.0, "bottom": 8.0}
"""Where the job gives none (common practice, no source: fronts 16 to 22, sides 8 to 15, bottoms 8 mm solid)."""

PLYWOOD_MM = 6.0
"""A plywood bottom where the job gives none (common practice, no source)."""

PLYWOOD = "birch plywood"


def read_drawers(
    table: JobTable, here: Here, *, woods: Mapping[str, Wood], shop: Shop, names: Set[str]
) -> tuple[Drawer, ...]:
    """The drawers of a job, banks after the single ones; `woods` are those that it names itself, `names` those of its
    boards and corners. Raises JobError."""
    drawers: dict[str, Drawer] = {}
    single = ((one, here.entry("drawer", one.name), ("drawer", one.name)) for one in table.drawer)
    banked = (drawer for bank, place in each_once(table.bank, "bank", here) for drawer in _of_bank(bank, table, place))
    for one, place, origin in (*single, *banked):
        if one.name in drawers:
            raise place.error("is there twice", "give each drawer a name of its own")
        if len(drawers) >= MOST_DRAWERS:
            raise place.error("is one drawer too many", f"{MOST_DRAWERS} is the most in one job: split it")
        with place.reading():
            spec = _spec(one.filled_from(table.drawers), woods, place, origin)
            drawer = with_corners(build_drawer(spec, shop), clean=_clean)
        clash = names & ({part.board.name for part in drawer.parts} | {joint.name for joint in drawer.joints})
        if clash:
            raise place.error(f"its {min(clash)!r} is there already", "give the drawer another name")
        drawers[one.name] = drawer
    return tuple(drawers.values())


def _of_bank(bank: BankTable, job: JobTable, here: Here) -> Iterator[tuple[DrawerTable, Here, tuple[str, str]]]:
    """The drawers of a bank, from the top."""
    step_mm = bank.round_to or (float(MM_PER_INCH) / 16 if job.units is Unit.IN else 1.0)
    with here.reading():
        heights = shared_heights_mm(
            height_mm=bank.height,
            count=bank.count,
            rule=bank.rule,
            rail_mm=bank.rail,
            grows=bank.grows,
            step_mm=step_mm,
        )
    given = {key: getattr(bank, key) for key in bank.model_fields_set & DrawerTable.model_fields.keys()}
    for number, height_mm in enumerate(heights, 1):
        own = {**given, "name": f"{bank.name} {number}", "height": height_mm}
        place = here.entry("bank", bank.name, part=f"drawer {number} from the top")
        yield DrawerTable.model_construct(**own), place, ("bank", bank.name)


def _stock(table: DrawerKeys, role: str, woods: Mapping[str, Wood], here: Here) -> Stock:
    """The wood of a part: its own key, or the drawer's."""
    plywood = role == "bottom" and table.bottom is BottomKind.PLYWOOD
    own = getattr(table, f"{role}_species") or (PLYWOOD if plywood else None)
    species = own or table.species
    if species is None:
        raise here.error("names no wood", 'add species = "..." here or under [drawers]')
    with here.at(f"{role}_species" if own else "species").reading():
        wood = find_wood(species, own=woods)
    usual_mm = THICKNESSES_MM.get(role, table.side_thickness or THICKNESSES_MM["side"])
    return Stock(
        wood=wood,
        thickness_mm=getattr(table, f"{role}_thickness", None) or (PLYWOOD_MM if plywood else usual_mm),
        rings=getattr(table, f"{role}_rings"),
        grain=table.front_grain if role == "front" else Grain.STRAIGHT,
        moisture_pct=None if role == "case" else table.moisture,
    )


def _spec(table: DrawerTable, woods: Mapping[str, Wood], here: Here, origin: tuple[str, str]) -> DrawerSpec:
    if table.lip is not None and table.front is not Front.LIPPED:
        raise here.at("lip").error("an inset front has no lip", 'leave it out, or say front = "lipped"')
    stock: dict[str, Any] = {
        role: _stock(table, role, woods, here) for role in ("front", "side", "back", "bottom", "case")
    }
    for role in ("side", "front"):
        thickness_mm = stock[role].thickness_mm
        if table.groove is not None and table.groove.depth >= thickness_mm:
            raise here.at("groove").error(
                f"{table.groove.depth:g} mm deep goes through the {role}, {thickness_mm:g} mm thick",
                f"{thickness_mm / 3:.1f} mm is a third of it",
            )
    return DrawerSpec(
        opening=Opening(**_lengths(table, Opening)),
        **stock,
        **spec_values(table, DRAWER_KEYS),
        front_pattern=_pattern(table, ""),
        back_pattern=_pattern(table, "back_"),
        sizes=Sizes(**_lengths(table, Sizes)),
        case_named=table.case_species is not None,
        origin=origin,
    )


def _clean(joint: CornerJoint) -> bool:
    """Whether no limit stands against a layout, whatever the shop."""
    return measures_clean(joint, Shop())


def _lengths(table: DrawerTable, kind: type) -> dict[str, Any]:
    """The fields of a value whose names are keys with their unit: width_mm is width."""
    return {field.name: getattr(table, field.name.removesuffix("_mm")) for field in fields(kind)}


def _pattern(table: DrawerKeys, prefix: str) -> LayoutSpec:
    pattern = ("tail_count", "pin_mm", "half_pin_mm", "slope")
    return LayoutSpec(**{field: getattr(table, prefix + CORNER_KEYS[field]) for field in pattern})
