"""The fields the page offers for each table of a job: what a key is called, how it is entered, and its picture.

What a key may hold is the schema's business alone; a test holds the two together.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from dovelayout.joints import KINDS
from dovelayout.page.drawer_forms import DRAWER_FORMS
from dovelayout.page.field import Field
from dovelayout.page.season_forms import SEASON_FORMS

_JOINT = (
    Field(key="joint", label="Joint", kind="choice", choices=tuple(KINDS), term="joint"),
    Field(key="tail_count", label="Tails", kind="count", term="tail", slider=(1, 12, 1), hint="left empty: proposed"),
    Field(key="pin", label="Pin, narrow side", term="pin", slider=(1, 20, 0.5), hint="left empty: proposed"),
    Field(key="half_pin", label="Half pin", term="half-pin", slider=(0, 25, 0.5), hint="left empty: proposed"),
    Field(key="slope", label="Slope", kind="slope", term="slope", slider=(4, 12, 0.5)),
    Field(
        key="spacing",
        label="Spacing",
        kind="choice",
        choices=("even", "closer at edges", "graduated", "kerf pins"),
        term="spacing",
    ),
    Field(key="lap", label="Lap", term="lap", hint="half-blind only"),
    Field(key="tails_at", label="Tails at", kind="list", hint="[[8, 40], [50, 90]], instead of count and pins"),
    Field(key="covers", label="Covers", kind="list", hint="[from, to] of the width", group="more"),
    Field(key="proud", label="Proud", term="proud", hint="negative: shy", group="more"),
    Field(key="groove.from_edge", label="Groove from the face edge", term="groove", group="groove"),
    Field(key="groove.width", label="Groove width", group="groove"),
    Field(key="groove.depth", label="Groove depth", group="groove"),
    Field(key="groove.ploughed", label="Ploughed", kind="choice", choices=("before", "after"), group="groove"),
    Field(key="mitre.face_edge", label="Mitre at the face edge", term="mitre", group="mitre"),
    Field(key="mitre.far_edge", label="Mitre at the far edge", group="mitre"),
    Field(key="lip.overhang", label="Lip overhang", term="lip", group="lip"),
    Field(key="lip.thickness", label="Lip thickness", group="lip"),
    Field(key="lid.at", label="Lid sawn off at", term="lid", group="lid"),
    Field(key="lid.kerf", label="Kerf", group="lid"),
    Field(key="lid.clean_up", label="Clean-up", group="lid"),
)

FORMS: dict[str, tuple[Field, ...]] = {
    "": (
        Field(key="title", label="Title", kind="text"),
        Field(key="units", label="Bare numbers are in", kind="choice", choices=("mm", "cm", "in")),
    ),
    "shop": (
        Field(key="humidity", label="Air, driest and dampest %", kind="list", hint="[35, 65]"),
        Field(key="temperature", label="Temperature", kind="text", hint='20 or "68 F"'),
        Field(key="chisels", label="Chisels", kind="list", hint="[6, 9, 12]"),
        Field(key="knife", label="Knife thickness"),
        Field(key="kerf", label="Saw kerf"),
        Field(key="glue", label="Glue", kind="glue"),
        Field(key="fit", label="Fit: dry interference", term="fit"),
        Field(key="built_at", label="Air while it is fitted %", kind="number"),
        Field(key="hands", label="People gluing", kind="count"),
    ),
    "glue": (
        Field(key="name", label="Name on the label", kind="text"),
        Field(key="open", label="Open time, minutes", kind="list", hint="5, or [5, 10]"),
        Field(key="closed", label="Closed time, minutes", kind="list"),
        Field(key="clamp", label="Clamp time, minutes", kind="list"),
        Field(key="floor", label="Not colder than", kind="text", hint='13 or "55 F"'),
        Field(key="gap", label="Gap it bridges"),
        Field(key="water", label="Share of water", kind="number"),
        Field(key="spread", label="Spread, g/m² a side", kind="number"),
        Field(key="swell", label="Swell factor", kind="number"),
        Field(key="slippery", label="Slippery", kind="flag"),
        Field(key="reversible", label="Reversible", kind="flag"),
    ),
    "paper": (
        Field(key="size", label="Paper", kind="paper"),
        Field(key="margin", label="Margin"),
        Field(key="nest", label="Several templates a sheet", kind="flag"),
    ),
    "board": (
        Field(key="name", label="Name", kind="text"),
        Field(key="species", label="Wood", kind="wood"),
        Field(key="length", label="Length", term="board"),
        Field(key="width", label="Width", term="board"),
        Field(key="thickness", label="Thickness", term="board"),
        Field(key="rings", label="Rings", kind="choice", choices=("flat", "quarter", "rift"), term="rings"),
        Field(key="grain", label="Grain", kind="choice", choices=("straight", "figured", "interlocked")),
        Field(key="runout", label="Run-out of the grain", kind="text", term="runout", hint="1:18"),
        Field(key="out_of_square", label="End out of square by", group="more"),
        Field(key="moisture", label="Moisture as measured %", kind="number", group="more"),
        Field(key="count", label="How many", kind="count", group="more"),
        Field(key="cutout", label="Cut-outs", kind="list", hint="[{ from_end = 30, ... }]", group="more"),
    ),
    "corner": (
        Field(key="name", label="Letter", kind="text"),
        Field(key="tails", label="Tails on", kind="end", term="end"),
        Field(key="pins", label="Pins on", kind="end", term="end"),
        *_JOINT,
        Field(key="angle", label="Angle", kind="angle", term="angle", hint="90 is square", group="more"),
    ),
    "box": (
        Field(key="name", label="Name", kind="text"),
        Field(key="tails", label="Tails on", kind="boards"),
        Field(key="pins", label="Pins on", kind="boards"),
        *_JOINT,
    ),
    "divider": (
        Field(key="name", label="Name", kind="text"),
        Field(key="host", label="Host", kind="list", term="housing", hint='"side.left", or two of them'),
        Field(key="key", label="Key", kind="board"),
        Field(key="at", label="At, from the end"),
        Field(key="measured_to", label="Measured to", kind="choice", choices=("lower", "centre")),
        Field(key="depth", label="Housing depth", term="housing"),
        Field(key="wide", label="Wide side"),
        Field(key="cheeks", label="Sloped cheeks", kind="choice", choices=("both", "upper", "lower")),
        Field(key="slope", label="Slope", kind="slope", term="slope"),
        Field(key="taper", label="Taper", kind="text", term="taper", hint="1:320"),
        Field(key="taper_on", label="Taper on", kind="choice", choices=("", "upper", "lower")),
        Field(key="stop", label="Stopped from the front"),
        Field(key="set_back", label="Set back", group="more"),
        Field(key="face", label="Face", kind="choice", choices=("inside", "outside"), group="more"),
        Field(key="slip", label="Slip under the tongue", group="more"),
        Field(key="clearance", label="Clearance", group="more"),
        Field(key="glue_zone", label="Glue zone"),
        Field(key="cup", label="Cup of the key", group="more"),
        Field(key="bit.diameter", label="Bit diameter", group="router bit"),
        Field(key="bit.angle", label="Bit angle", kind="slope", group="router bit"),
        Field(key="bit.plough_first", label="Plough first", kind="flag", group="router bit"),
    ),
    "wood": (
        Field(key="name", label="Name", kind="text"),
        Field(key="kind", label="Kind", kind="choice", choices=("hardwood", "softwood", "unknown")),
        Field(key="sg", label="Specific gravity", kind="number"),
        Field(key="mor_mpa", label="Bending strength, MPa", kind="number"),
        Field(key="moe_gpa", label="Stiffness, GPa", kind="number"),
        Field(key="comp_perp_mpa", label="Compression across, MPa", kind="number"),
        Field(key="shrink_radial_pct", label="Shrinkage, radial %", kind="number"),
        Field(key="shrink_tangential_pct", label="Shrinkage, tangential %", kind="number"),
        Field(key="notes", label="Notes", kind="text"),
    ),
    **DRAWER_FORMS,
    **SEASON_FORMS,
}

TERMS: dict[str, str] = {
    "joint": "Through: tails and pins both show. Half-blind: the front keeps a lap over the tails. Comb: straight fingers.",
    "tail": "The fan-shaped part, on the board whose end grain shows at the front.",
    "pin": "What stands between two tails; its width is given where it is narrowest, on the outside face.",
    "half-pin": "The pin at an edge. It holds the tail board flat; too thin and it breaks.",
    "slope": "How far a cheek leans: 1 across for so many along.",
    "spacing": "How the tails share the width.",
    "lap": "What a half-blind front keeps over the ends of the tails.",
    "proud": "Ends left long, to be planed flush after the glue-up.",
    "groove": "For a bottom or a panel, along the inside of both boards.",
    "mitre": "A mitred shoulder at the edge, for a moulding or over a groove.",
    "lip": "A rebated drawer front that overlaps the opening.",
    "lid": "Glued up closed, then sawn apart; the pin there is wider by what the saw takes.",
    "board": "Length along the grain, width across it, as measured.",
    "rings": "How the growth rings meet the face.",
    "runout": "How the fibres leave the face along the length.",
    "end": "Seen from outside, face edge down: its left or its right end.",
    "angle": "Between the side's lower edge and its end, for a front that leans.",
    "housing": "The dovetailed way across the host that the key slides into.",
    "taper": "Narrower to the front, so that it draws up tight at the last moment.",
    "panel": "Captured in grooves, or glued on: across its grain it moves with the seasons.",
    "across": "Its grain runs across the board it is fixed to: that board moves, this part doesn't.",
    "fit": "How much wider the tail is than its socket, dry, at one cheek.",
}
"""Terms that a beginner may not know; each has a picture in static/terms.svg."""


def forms_json() -> dict[str, Any]:
    """All fields and terms, for the page."""
    return {
        "forms": {table: [asdict(field) for field in fields] for table, fields in FORMS.items()},
        "terms": TERMS,
    }
