"""The JSON that users rely on, as JSON Schema: extend it, don't break it.

Objects are open (a later version may say more), and every key named here must be there.
"""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
NAME: Schema = {"type": "string", "minLength": 1}
NUMBER: Schema = {"type": "number"}
MM: Schema = {"type": "number", "minimum": 0}
COUNT: Schema = {"type": "integer", "minimum": 1}
WORST: Schema = {"enum": ["ok", "note", "warn", "stop"]}


def thing(**keys: Schema) -> Schema:
    """An object with at least these keys."""
    return {"type": "object", "required": sorted(keys), "properties": keys}


def rows(of: Schema, *, least: int = 0) -> Schema:
    """A list of at least so many."""
    return {"type": "array", "items": of, "minItems": least}


def maybe(of: Schema) -> Schema:
    """It, or null."""
    return {"anyOf": [of, {"type": "null"}]}


SLOPE = thing(
    ratio={"type": "number", "exclusiveMinimum": 1},
    degrees={"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 45},
)
FINDING = thing(
    check={"type": "string", "pattern": "^[a-z]+(-[a-z]+)*$"},
    level={"enum": ["note", "warn", "stop"]},
    where=NAME,
    measured=maybe(NUMBER),
    limit=maybe(NUMBER),
    unit=TEXT,
    message=NAME,
    fix=TEXT,
    source=NAME,
    changes=rows(thing(table=NAME, name=NAME, values={"type": "object", "minProperties": 1})),
)
TAIL = thing(start_mm=MM, end_mm=MM, neck_start_mm=MM, neck_end_mm=MM)
PIN = thing(start_mm=MM, end_mm=MM, root_start_mm=MM, root_end_mm=MM, half={"type": "boolean"})
CORNER = thing(
    name=NAME,
    joint=NAME,
    tails_board=NAME,
    pins_board=NAME,
    width_mm={"type": "number", "exclusiveMinimum": 0},
    slope=SLOPE,
    tails=rows(TAIL, least=1),
    pins=rows(PIN),
    findings=rows(FINDING),
)
PART = thing(name=NAME, board=NAME, species=NAME, length_mm=MM, width_mm=MM, thickness_mm=MM, count=COUNT)

SPAN = thing(start_mm=NUMBER, end_mm=NUMBER)
SECTION = thing(neck=SPAN, floor=SPAN, tongue_root=SPAN, tongue_end=SPAN)
HOUSING = thing(
    host=NAME, key_end=NAME, rear=SECTION, front=SECTION, setting_out=rows(thing(what=NAME, value_mm=NUMBER), least=1)
)
DIVIDER = thing(
    name=NAME,
    joint=NAME,
    key_board=NAME,
    depth_mm=MM,
    tongue_mm=MM,
    length_mm=MM,
    stop_mm=MM,
    notch_mm=MM,
    rear_gap_mm=MM,
    glue_zone_mm=MM,
    slope=SLOPE,
    sloped={"enum": ["both", "upper", "lower"]},
    taper=maybe(thing(ratio=NUMBER, on={"enum": ["upper", "lower"]})),
    router=maybe(
        thing(diameter_mm=MM, degrees=NUMBER, neck_mm=NUMBER, first_pass=maybe(thing(wide_mm=NUMBER, deep_mm=NUMBER)))
    ),
    housings=rows(HOUSING, least=1),
    findings=rows(FINDING),
)

CHECK = thing(
    title=NAME,
    worst=WORST,
    parts=rows(PART, least=1),
    corners=rows(CORNER),
    dividers=rows(DIVIDER),
    findings=rows(FINDING),
)
"""`check --json`."""

FILE = thing(path=NAME, format={"enum": ["pdf", "svg", "dxf"]}, holds=rows(NAME, least=1), pages=COUNT)
PDF_FILE = thing(
    paper=NAME,
    media=NAME,
    nested_sheets={"type": "integer", "minimum": 0},
    least_sheets=maybe(thing(by_area=COUNT, by_any_nesting=COUNT)),
)
"""What a PDF among them says besides."""
DRAW = thing(files=rows(FILE), worst=WORST, findings=rows(FINDING))
"""`draw --json`."""

LEAN = thing(
    slope=SLOPE,
    species=maybe(NAME),
    thickness_mm=MM,
    flare_mm=MM,
    worst=WORST,
    findings=rows(FINDING),
    gauge=maybe(NAME),
)
"""`slope --json`."""

SPECIES = thing(woods=rows(thing(id=NAME, name=NAME, kind=NAME, sg_12=maybe(NUMBER), mor_mpa=maybe(NUMBER)), least=1))
"""`species --json`."""


def broken(value: Any, schema: Schema) -> list[str]:
    """Where a value breaks a schema, in words; empty when it keeps it."""
    return [f"{error.json_path}: {error.message}" for error in Draft202012Validator(schema).iter_errors(value)]
