"""What may stand in a job file (TOML), and how its words become numbers.

Bare numbers are in the job's `units`; a string may carry its own unit. Unknown keys are errors.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import (
    BeforeValidator,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from dovelayout.errors import FieldError
from dovelayout.job.tables.cutout import MOST_CUTOUTS, CutoutTable, one_or_more
from dovelayout.job.tables.divider import BitTable, DividerTable
from dovelayout.job.tables.drawer import MOST_DRAWERS, BankTable, DrawerKeys, DrawerTable
from dovelayout.job.tables.edges import GrooveTable, LidTable, LipTable
from dovelayout.job.tables.fields import (
    Across,
    Celsius,
    Count,
    Degrees,
    EndName,
    Long,
    Name,
    Number,
    Position,
    Proud,
    Ratio,
    Small,
    Table,
    Thick,
    length_between,
)
from dovelayout.job.tables.glue import GlueTable
from dovelayout.job.tables.glueup import MOST_STAGES, CapturedTable, GlueUpTable, StageTable
from dovelayout.job.tables.paper import PaperTable
from dovelayout.job.tables.rehearsal import RehearsalTable
from dovelayout.job.tables.season import MOST_PARTS, AcrossTable, HomeTable, PanelTable, SlotTable
from dovelayout.joints import KINDS

MOST_BOARDS = 500
MOST_CORNERS = 1000
MOST_TAILS_AT = 200


def _pair(value: Any) -> Any:
    two = isinstance(value, list | tuple) and len(value) == 2 and all(isinstance(name, str) for name in value)
    if not two and not isinstance(value, str):
        raise FieldError(
            "two boards are wanted", remedy='write ["one", "other"], or one text for a pair of equal boards'
        )
    return value


def _joint(value: Any) -> Any:
    if not isinstance(value, str) or value not in KINDS:
        raise FieldError(f"joint {value!r} is not known", remedy=f"known: {', '.join(sorted(KINDS))}")
    return value


class ShopTable(Table):
    """[shop]"""

    humidity: tuple[Number, Number] | None = None
    built_at: Annotated[Number, Field(ge=0, le=100)] | None = None
    temperature: Celsius | None = None
    kerf: Small | None = None
    chisels: tuple[Across, ...] = Field(default=(), max_length=100)
    knife: Small | None = None
    glue: Annotated[str, Field(strict=True, max_length=60)] = ""
    fit: Annotated[float, BeforeValidator(length_between(0.0, 2.0))] | None = None
    hands: Annotated[Count, Field(ge=1, le=20)] = 1

    @field_validator("humidity")
    @classmethod
    def _humidity_makes_sense(cls, value: tuple[float, float] | None) -> tuple[float, float] | None:
        if value is not None:
            low, high = value
            if not 0 <= low <= high <= 100:
                raise FieldError(
                    f"[{low:g}, {high:g}] won't do", remedy="driest first, then dampest, in percent from 0 to 100"
                )
        return value


class BoardTable(Table):
    """[[board]]"""

    name: Name
    species: Name
    length: Long
    width: Across
    thickness: Thick
    rings: Literal["flat", "quarter", "rift"] = "flat"
    grain: Literal["straight", "figured", "interlocked"] = "straight"
    runout: Ratio | None = None
    out_of_square: Small = 0.0
    count: Annotated[Count, Field(ge=1, le=1000)] = 1
    moisture: Annotated[Number, Field(ge=0, le=30)] | None = None
    cutout: Annotated[tuple[CutoutTable, ...], BeforeValidator(one_or_more), Field(max_length=MOST_CUTOUTS)] = ()


class WoodTable(Table):
    """[[wood]]: a wood that the table doesn't hold, with what is known of it."""

    name: Name
    kind: Literal["hardwood", "softwood", "unknown"] = "unknown"
    sg: Annotated[Number, Field(gt=0.05, le=1.5)] | None = None
    mor_mpa: Annotated[Number, Field(gt=0, le=400)] | None = None
    moe_gpa: Annotated[Number, Field(gt=0, le=40)] | None = None
    comp_perp_mpa: Annotated[Number, Field(gt=0, le=60)] | None = None
    shrink_radial_pct: Annotated[Number, Field(gt=0, le=20)] | None = None
    shrink_tangential_pct: Annotated[Number, Field(gt=0, le=30)] | None = None
    notes: Annotated[str, Field(strict=True, max_length=400)] = ""


class MitreTable(Table):
    """mitre = { face_edge = ..., far_edge = ... }"""

    face_edge: Position = 0.0
    far_edge: Position = 0.0


class ProudTable(Table):
    """proud = { tails = ..., pins = ... }"""

    tails: Proud = 0.0
    pins: Proud = 0.0


def _proud(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, dict):
        return value
    both = length_between(-10.0, 10.0)(value, info)
    # already mm: handed on whole, so that it is not read as inches a second time
    return ProudTable.model_construct(tails=both, pins=both)


class LayoutTable(Table):
    """The keys that lay out a corner, the same for a single corner and for a box."""

    joint: Annotated[str, BeforeValidator(_joint)] = "through"
    tail_count: Annotated[Count, Field(ge=1, le=200)] | None = None
    tails_at: tuple[tuple[Position, Position], ...] | None = Field(default=None, max_length=MOST_TAILS_AT)
    pin: Across | None = None
    lap: Across | None = None
    half_pin: Position | None = None
    slope: Ratio | None = None
    spacing: Literal["even", "closer at edges", "graduated", "kerf pins"] = "even"
    covers: tuple[Position, Position] | None = None
    proud: Annotated[ProudTable, BeforeValidator(_proud)] = ProudTable()
    groove: GrooveTable | None = None
    lid: LidTable | None = None
    lip: LipTable | None = None
    mitre: MitreTable = MitreTable()

    @model_validator(mode="after")
    def _one_way_to_lay_out(self) -> LayoutTable:
        if self.tails_at is not None:
            given = {"tail_count": self.tail_count, "pin": self.pin, "half_pin": self.half_pin}
            double = [key for key, value in given.items() if value is not None]
            if double:
                raise FieldError(
                    "tails_at already says where the tails stand", remedy=f"leave out {' and '.join(double)}"
                )
        return self


class CornerTable(LayoutTable):
    """[[corner]]"""

    name: Name
    tails: EndName
    pins: EndName
    angle: Degrees = 90.0


class BoxTable(LayoutTable):
    """[[box]]"""

    name: Name
    tails: Annotated[Name | tuple[Name, Name], BeforeValidator(_pair)]
    pins: Annotated[Name | tuple[Name, Name], BeforeValidator(_pair)]


class JobTable(Table):
    """The whole file."""

    title: Annotated[str, Field(strict=True, max_length=200)] = ""
    units: Literal["mm", "cm", "in"] = "mm"
    shop: ShopTable = ShopTable()
    home: HomeTable | None = None
    paper: PaperTable = PaperTable()
    glue: GlueTable | None = None
    rehearsal: RehearsalTable = RehearsalTable()
    wood: tuple[WoodTable, ...] = Field(default=(), max_length=100)
    board: tuple[BoardTable, ...] = Field(default=(), max_length=MOST_BOARDS)
    corner: tuple[CornerTable, ...] = Field(default=(), max_length=MOST_CORNERS)
    box: tuple[BoxTable, ...] = Field(default=(), max_length=MOST_CORNERS // 4)
    divider: tuple[DividerTable, ...] = Field(default=(), max_length=MOST_CORNERS)
    drawers: DrawerKeys = DrawerKeys()
    drawer: tuple[DrawerTable, ...] = Field(default=(), max_length=MOST_DRAWERS)
    bank: tuple[BankTable, ...] = Field(default=(), max_length=MOST_DRAWERS)
    across: tuple[AcrossTable, ...] = Field(default=(), max_length=MOST_PARTS)
    panel: tuple[PanelTable, ...] = Field(default=(), max_length=MOST_PARTS)
    glueup: GlueUpTable = GlueUpTable()
    stage: tuple[StageTable, ...] = Field(default=(), max_length=MOST_STAGES)
    captured: tuple[CapturedTable, ...] = Field(default=(), max_length=MOST_STAGES)


TABLES: dict[str, type[Table]] = {
    "shop": ShopTable,
    "paper": PaperTable,
    "glue": GlueTable,
    "rehearsal": RehearsalTable,
    "wood": WoodTable,
    "board": BoardTable,
    "corner": CornerTable,
    "box": BoxTable,
    "divider": DividerTable,
    "drawers": DrawerKeys,
    "drawer": DrawerTable,
    "bank": BankTable,
    "home": HomeTable,
    "across": AcrossTable,
    "slots": SlotTable,
    "panel": PanelTable,
    "bit": BitTable,
    "cutout": CutoutTable,
    "glueup": GlueUpTable,
    "stage": StageTable,
    "captured": CapturedTable,
    "groove": GrooveTable,
    "lid": LidTable,
    "lip": LipTable,
    "mitre": MitreTable,
    "proud": ProudTable,
}
