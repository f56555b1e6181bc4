"""The page's fields for drawers and banks of drawers."""

from __future__ import annotations

from collections.abc import Iterator

from dovelayout.job.tables.drawer import SIZES
from dovelayout.page.field import Field

RINGS = ("flat", "quarter", "rift")
ROLES = ("front", "side", "back", "bottom")


def _woods() -> Iterator[Field]:
    for role in ROLES:
        yield Field(key=f"{role}_species", label=f"Wood of the {role}", kind="wood", group="woods")
        yield Field(key=f"{role}_thickness", label=f"Thickness, {role}", group="woods")
        yield Field(key=f"{role}_rings", label=f"Rings, {role}", kind="choice", choices=RINGS, group="woods")
    yield Field(
        key="front_grain",
        label="Grain, front",
        kind="choice",
        choices=("straight", "figured", "interlocked"),
        group="woods",
    )
    yield Field(key="case_species", label="Wood of the case", kind="wood", group="woods")
    yield Field(key="case_rings", label="Rings, case", kind="choice", choices=RINGS, group="woods")


_STYLE = (
    Field(key="front", label="Front", kind="choice", choices=("inset", "lipped"), term="lip"),
    Field(key="fit", label="Fit in the opening", kind="choice", choices=("piston", "good", "workaday")),
    Field(key="species", label="Wood", kind="wood"),
    Field(key="corners", label="Corners", kind="choice", choices=("dovetailed", "butted"), term="joint"),
    *_woods(),
    Field(key="bottom", label="Bottom", kind="choice", choices=("solid", "plywood"), group="bottom"),
    Field(
        key="bottom_glue", label="Bottom glued", kind="choice", choices=("front", "dry", "all round"), group="bottom"
    ),
    Field(key="groove.from_edge", label="Groove from the lower edge", term="groove", group="bottom"),
    Field(key="groove.width", label="Groove width", group="bottom"),
    Field(key="groove.depth", label="Groove depth", group="bottom"),
    Field(key="groove.ploughed", label="Ploughed", kind="choice", choices=("before", "after"), group="bottom"),
    Field(key="slips", label="Slips for thin sides", kind="flag", group="bottom"),
    Field(key="muntin", label="Muntin", kind="flag", group="bottom"),
    Field(key="centre_guide", label="Centre guide", kind="flag", group="bottom"),
    Field(key="slope", label="Slope", kind="slope", term="slope", slider=(4, 12, 0.5), group="front joint"),
    Field(key="tail_count", label="Tails", kind="count", term="tail", slider=(1, 12, 1), group="front joint"),
    Field(key="pin", label="Pin, narrow side", term="pin", slider=(1, 20, 0.5), group="front joint"),
    Field(key="half_pin", label="Half pin", term="half-pin", slider=(0, 25, 0.5), group="front joint"),
    Field(key="lap", label="Lap", term="lap", group="front joint"),
    Field(key="lip.overhang", label="Lip overhang", group="front joint"),
    Field(key="lip.thickness", label="Lip thickness", group="front joint"),
    Field(key="back_slope", label="Slope, back", kind="slope", group="back joint"),
    Field(key="back_tail_count", label="Tails, back", kind="count", group="back joint"),
    Field(key="back_pin", label="Pin, back", group="back joint"),
    Field(key="back_half_pin", label="Half pin, back", group="back joint"),
    Field(key="back_drop", label="Back below the sides", group="back joint"),
    Field(key="side_gap", label="Gap at each side", group="clearances"),
    Field(key="top_gap", label="Gap over the front", group="clearances"),
    Field(key="runner", label="Runner proud of the rail", group="clearances"),
    Field(key="runner_length", label="Runner length", group="clearances"),
    Field(key="shaving", label="Pins short by", group="clearances"),
    Field(key="bow", label="Bow of a side, outward", group="clearances"),
    Field(key="moisture", label="Moisture as measured %", kind="number", group="clearances"),
)

_OPENING = (
    Field(key="name", label="Name", kind="text"),
    Field(key="width", label="Opening width", term="board"),
    Field(key="height", label="Opening height"),
    Field(key="depth", label="Opening depth"),
)

DRAWER_FORMS: dict[str, tuple[Field, ...]] = {
    "drawers": _STYLE,
    "drawer": (
        *_OPENING,
        *(
            Field(key=f"{side}2", label=f"{side.capitalize()}, measured again", group="measured twice")
            for side in ("width", "height", "depth")
        ),
        *_STYLE,
        *(Field(key=key, label=key.replace("_", " ").capitalize(), group="cut already") for key in SIZES),
    ),
    "bank": (
        *_OPENING,
        Field(key="count", label="Drawers", kind="count", slider=(2, 20, 1)),
        Field(key="rule", label="Heights", kind="choice", choices=("equal", "arithmetic", "geometric")),
        Field(key="grows", label="Each lower one grows by", kind="number"),
        Field(key="rail", label="Rail between"),
        Field(key="round_to", label="Heights rounded to"),
        *_STYLE,
    ),
}
