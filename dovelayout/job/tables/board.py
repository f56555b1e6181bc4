"""[[board]] with its cut-outs, and [[wood]]."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import (
    AcrossLength,
    Count,
    Long,
    MoisturePercent,
    Name,
    PlainNumber,
    Position,
    Ratio,
    Small,
    Table,
    Thick,
)
from dovelayout.joints.board import End, Grain, Rings, When
from dovelayout.wood.species import TreeKind

MOST_CUTOUTS = 50


class CutoutTable(Table):
    """cutout = { from_end = ..., from_edge = ..., length = ..., width = ..., depth = ... }; without a depth it goes
    right through. `end` is the end that `from_end` is measured from, `cut` whether it is there at the glue-up."""

    from_end: Position
    from_edge: Position
    length: AcrossLength
    width: AcrossLength
    depth: Thick | None = None
    end: Name = End.LEFT.value
    cut: When = When.BEFORE


def _one_or_more(value: Any) -> Any:
    """A single table stands for a list of one."""
    return [value] if isinstance(value, dict) else value


def _two_ends(names: tuple[str, str]) -> tuple[str, str]:
    """Names of the left and the right end, which must not say the opposite of what they are, nor look like a key."""
    left, right = names
    if left == right or left == End.RIGHT or right == End.LEFT or any("." in name for name in names):
        raise FieldError(
            f"{list(names)} won't do for the left and the right end",
            remedy='two names, seen from outside with the face edge down: ["top", "bottom"]',
        )
    return names


class BoardTable(Table):
    """[[board]]"""

    name: Name
    species: Name
    length: Long
    width: AcrossLength
    thickness: Thick
    ends: Annotated[tuple[Name, Name], AfterValidator(_two_ends)] = (End.LEFT.value, End.RIGHT.value)
    rings: Rings = Rings.FLAT
    grain: Grain = Grain.STRAIGHT
    runout: Ratio | None = None
    out_of_square: Small = 0.0
    count: Annotated[Count, Field(ge=1, le=1000)] = 1
    moisture: MoisturePercent | None = None
    cutout: Annotated[tuple[CutoutTable, ...], BeforeValidator(_one_or_more), Field(max_length=MOST_CUTOUTS)] = ()


class WoodTable(Table):
    """[[wood]]: a wood that the table doesn't hold, with what is known of it."""

    name: Name
    kind: TreeKind = TreeKind.UNKNOWN
    sg: Annotated[PlainNumber, Field(gt=0.05, le=1.5)] | None = None
    mor_mpa: Annotated[PlainNumber, Field(gt=0, le=400)] | None = None
    moe_gpa: Annotated[PlainNumber, Field(gt=0, le=40)] | None = None
    comp_perp_mpa: Annotated[PlainNumber, Field(gt=0, le=60)] | None = None
    shrink_radial_pct: Annotated[PlainNumber, Field(gt=0, le=20)] | None = None
    shrink_tangential_pct: Annotated[PlainNumber, Field(gt=0, le=30)] | None = None
    notes: Annotated[str, Field(strict=True, max_length=400)] = ""
