"""From [drawers], [[drawer]] and [[bank]] tables to drawers with their boards and corners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace

from dovelayout.casework.bank import HeightRule, shared_heights_mm
from dovelayout.casework.drawer.corners import with_corners
from dovelayout.casework.drawer.drawer import Drawer, build_drawer
from dovelayout.casework.drawer.spec import (
    BACK_DROP_MM,
    RUNNER_MM,
    SHAVING_MM,
    BottomGlue,
    Corners,
    DrawerSpec,
    Fit,
    Front,
    Opening,
    Pattern,
    Sizes,
    Stock,
)
from dovelayout.checks import measures_clean
from dovelayout.errors import DovelayoutError, LayoutError
from dovelayout.job.places import ErrorAt, each_once, told
from dovelayout.job.tables.drawer import MOST_DRAWERS, SIZES, BankTable, DrawerKeys, DrawerTable
from dovelayout.job.tables.schema import JobTable
from dovelayout.joints.board import Grain, Groove, Rings
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.units import MM_PER_INCH, Unit
from dovelayout.wood.species import Wood, find_wood

THICKNESSES_MM = {"front": 20.0, "side": 12.0, "bottom": 8.0}
"""Where the job gives none (common practice, no source: fronts 16 to 22, sides 8 to 15, bottoms 8 mm solid)."""

PLYWOOD_MM = 6.0
"""A plywood bottom where the job gives none (common practice, no source)."""

PLYWOOD = "birch plywood"


def read_drawers(
    table: JobTable, *, own: Mapping[str, Wood], shop: Shop, unit: Unit, error: ErrorAt, taken: Set[str]
) -> tuple[Drawer, ...]:
    """The drawers of a job; `own` are the woods that it names itself, `taken` names of boards and corners. Raises
    JobError."""
    reader = DrawerReader(own=own, shop=shop, unit=unit, error=error)
    return tuple(reader.read(table.drawer, table.bank, table.drawers, taken=taken))


class DrawerReader:
    """Reads the drawers of a job; `own` are the woods that the job names itself."""

    def __init__(self, *, own: Mapping[str, Wood], shop: Shop, unit: Unit, error: ErrorAt) -> None:
        self._own = own
        self._shop = shop
        self._unit = unit
        self._error = error

    def read(
        self,
        drawers: Sequence[DrawerTable],
        banks: Sequence[BankTable],
        common: DrawerKeys,
        *,
        taken: Set[str],
    ) -> Iterator[Drawer]:
        """Every drawer, banks after the single ones; `taken` are names of boards and corners. Raises JobError."""
        names: set[str] = set()
        for table, place, origin in (*self._single(drawers), *self._banked(banks)):
            if table.name in names:
                raise self._error(place, "is there twice", "give each drawer a name of its own")
            names.add(table.name)
            if len(names) > MOST_DRAWERS:
                raise self._error(place, "is one drawer too many", f"{MOST_DRAWERS} is the most in one job: split it")
            drawer = self._drawer(table.over(common), place, origin)
            clash = {part.board.name for part in drawer.parts} | {joint.name for joint in drawer.joints}
            clash &= taken
            if clash:
                raise self._error(place, f"its {min(clash)!r} is there already", "give the drawer another name")
            yield drawer

    def _single(self, tables: Sequence[DrawerTable]) -> Iterator[tuple[DrawerTable, Place, tuple[str, str]]]:
        for table in tables:
            yield table, Place(kind="drawer", name=table.name), ("drawer", table.name)

    def _banked(self, banks: Sequence[BankTable]) -> Iterator[tuple[DrawerTable, Place, tuple[str, str]]]:
        for bank, place in each_once(banks, "bank", self._error):
            step_mm = bank.round_to or (float(MM_PER_INCH) / 16 if self._unit is Unit.IN else 1.0)
            try:
                heights = shared_heights_mm(
                    height_mm=bank.height,
                    count=bank.count,
                    rule=HeightRule(bank.rule),
                    rail_mm=bank.rail,
                    grows=bank.grows,
                    step_mm=step_mm,
                )
            except LayoutError as error:
                raise told(error, place, self._error) from None
            said = {key: getattr(bank, key) for key in bank.model_fields_set if key in DrawerKeys.model_fields}
            for number, height_mm in enumerate(heights, 1):
                table = DrawerTable.model_construct(
                    _fields_set={*said, "name", "width", "height", "depth"},
                    **{key: field.default for key, field in DrawerTable.model_fields.items()},
                ).model_copy(
                    update={
                        **said,
                        "name": f"{bank.name} {number}",
                        "width": bank.width,
                        "height": height_mm,
                        "depth": bank.depth,
                    }
                )
                yield table, replace(place, part=f"drawer {number} from the top"), ("bank", bank.name)

    def _drawer(self, table: DrawerTable, place: Place, origin: tuple[str, str]) -> Drawer:
        spec = self._spec(table, place, origin)
        try:
            return with_corners(build_drawer(spec, self._shop), clean=_clean)
        except LayoutError as error:
            raise told(error, place, self._error) from None

    def _wood(self, name: str, place: Place) -> Wood:
        try:
            return find_wood(name, own=self._own)
        except DovelayoutError as error:
            raise told(error, place, self._error) from None

    def _stock(self, table: DrawerKeys, role: str, place: Place) -> Stock:
        """The wood of a part: its own key, or the drawer's."""
        species = getattr(table, f"{role}_species")
        if role == "bottom" and table.bottom == "plywood":
            species = species or PLYWOOD
        key = "species" if species is None else f"{role}_species"
        species = species or table.species
        if species is None:
            raise self._error(place, "names no wood", 'add species = "..." here or under [drawers]')
        thickness_mm = getattr(table, f"{role}_thickness", None)
        if thickness_mm is None:
            plywood = role == "bottom" and table.bottom == "plywood"
            side_mm = table.side_thickness or THICKNESSES_MM["side"]
            thickness_mm = PLYWOOD_MM if plywood else THICKNESSES_MM.get(role, side_mm)
        return Stock(
            wood=self._wood(species, place.at(key=key)),
            thickness_mm=thickness_mm,
            rings=Rings(getattr(table, f"{role}_rings")),
            grain=Grain(table.front_grain) if role == "front" else Grain.STRAIGHT,
            moisture_pct=None if role == "case" else table.moisture,
        )

    def _spec(self, table: DrawerTable, place: Place, origin: tuple[str, str]) -> DrawerSpec:
        if table.lip is not None and table.front != "lipped":
            raise self._error(place.at(key="lip"), "an inset front has no lip", 'leave it out, or say front = "lipped"')
        front, side, back, bottom, case = (
            self._stock(table, role, place) for role in ("front", "side", "back", "bottom", "case")
        )
        return DrawerSpec(
            name=table.name,
            opening=Opening(
                width_mm=table.width,
                height_mm=table.height,
                depth_mm=table.depth,
                width2_mm=table.width2,
                height2_mm=table.height2,
                depth2_mm=table.depth2,
            ),
            front=front,
            side=side,
            back=back,
            bottom=bottom,
            case=case,
            case_named=table.case_species is not None,
            style=Front(table.front),
            corners=Corners(table.corners),
            fit=Fit(table.fit),
            lap_mm=table.lap,
            lip=None if table.lip is None else table.lip.lip(),
            groove=self._groove(table, side, front, place),
            front_pattern=_pattern(table, ""),
            back_pattern=_pattern(table, "back_"),
            side_gap_mm=table.side_gap,
            top_gap_mm=table.top_gap,
            runner_mm=RUNNER_MM if table.runner is None else table.runner,
            runner_length_mm=table.runner_length,
            back_drop_mm=BACK_DROP_MM if table.back_drop is None else table.back_drop,
            shaving_mm=SHAVING_MM if table.shaving is None else table.shaving,
            bow_mm=table.bow,
            bottom_glue=BottomGlue(table.bottom_glue),
            slips=table.slips,
            muntin=table.muntin,
            centre_guide=table.centre_guide,
            sizes=Sizes(**{f"{key}_mm": getattr(table, key) for key in SIZES}),
            origin=origin,
        )

    def _groove(self, table: DrawerTable, side: Stock, front: Stock, place: Place) -> Groove | None:
        if table.groove is None:
            return None
        for stock, what in ((side, "side"), (front, "front")):
            if table.groove.depth >= stock.thickness_mm:
                raise self._error(
                    place.at(key="groove"),
                    f"{table.groove.depth:g} mm deep goes through the {what}, {stock.thickness_mm:g} mm thick",
                    f"{stock.thickness_mm / 3:.1f} mm is a third of it",
                )
        return table.groove.groove()


def _clean(joint: CornerJoint) -> bool:
    """Whether no limit stands against a layout, whatever the shop."""
    return measures_clean(joint, Shop())


def _pattern(table: DrawerKeys, prefix: str) -> Pattern:
    slope = getattr(table, f"{prefix}slope")
    return Pattern(
        tail_count=getattr(table, f"{prefix}tail_count"),
        pin_mm=getattr(table, f"{prefix}pin"),
        half_pin_mm=getattr(table, f"{prefix}half_pin"),
        slope=None if slope is None else Slope(slope),
    )
