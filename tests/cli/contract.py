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
    slope=maybe(SLOPE),  # null: straight cheeks
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

SUM = thing(
    what=NAME,
    terms=rows(thing(what=NAME, mm=NUMBER, times=COUNT), least=1),
    room=thing(what=NAME, mm=NUMBER),
    into=thing(what=NAME, mm=MM),
    adds_up={"type": "boolean"},
)
DRAWER = thing(
    name=NAME,
    opening=thing(width_mm=MM, height_mm=MM, depth_mm=MM),
    front={"enum": ["inset", "lipped"]},
    fit={"enum": ["piston", "good", "workaday"]},
    moisture_pct=thing(
        driest=NUMBER,
        built=NUMBER,
        fitted=rows(NUMBER, least=1),
        dampest=NUMBER,
        assumed={"type": "boolean"},
        assumption=TEXT,
    ),
    case=thing(wood=NAME, named={"type": "boolean"}),
    size=thing(width_mm=MM, height_mm=MM, length_mm=MM),
    clearances=thing(
        side_mm=NUMBER,
        side_dampest_mm=NUMBER,
        side_driest_mm=NUMBER,
        top_mm=NUMBER,
        top_dampest_mm=NUMBER,
        top_driest_mm=NUMBER,
        behind_mm=NUMBER,
        behind_dampest_mm=NUMBER,
        behind_driest_mm=NUMBER,
        behind_least_mm=NUMBER,
    ),
    bottom=thing(overhang_mm=NUMBER, grows_mm=MM, shrinks_mm=MM, moves_mm=MM, slot_mm=MM, in_groove_mm=NUMBER),
    groove=thing(from_edge_mm=MM, width_mm=MM, depth_mm=MM, in_slips={"type": "boolean"}),
    gauge=thing(socket_mm=maybe(MM), front_inside_mm=maybe(MM), side_back_mm=maybe(MM), back_mm=maybe(MM)),
    arithmetic=rows(SUM, least=7),
    adds_up={"type": "boolean"},
    parts=rows(NAME, least=4),
    corners=rows(NAME),
    findings=rows(FINDING),
)

CHECK = thing(
    title=NAME,
    worst=WORST,
    parts=rows(PART, least=1),
    corners=rows(CORNER),
    dividers=rows(DIVIDER),
    drawers=rows(DRAWER),
    findings=rows(FINDING),
)
"""`check --json`."""

DRAWERS = thing(
    title=NAME,
    worst=WORST,
    adds_up={"type": "boolean"},
    parts=rows(PART, least=4),
    drawers=rows(DRAWER, least=1),
    findings=rows(FINDING),
)
"""`drawers JOB --json`."""

OPENINGS = thing(
    job=NAME,
    drawers=rows(NAME, least=1),
    adds_up={"type": "boolean"},
    bad=rows(thing(row=COUNT, column=TEXT, problem=NAME, remedy=TEXT)),
    findings=rows(FINDING),
)
"""`drawers CSV -o JOB --json`."""

FACTOR: Schema = {"type": "number", "minimum": 0.95, "maximum": 1.06}
CORRECTION = thing(printer=NAME, across=FACTOR, up=FACTOR)
CHART = thing(path=NAME, format={"enum": ["pdf", "svg"]}, holds=rows(NAME, least=1), pages=COUNT)
FILE = thing(
    path=NAME,
    format={"enum": ["pdf", "svg", "dxf", "png"]},
    holds=rows(NAME, least=1),
    pages=COUNT,
    corners=rows(NAME),
    dividers=rows(NAME),
    boards=rows(NAME, least=1),
    part=maybe({"enum": ["tails", "pins", "housing"]}),
    sheet_mm=maybe({"type": "array", "items": MM, "minItems": 2, "maxItems": 2}),
    corrected=maybe(CORRECTION),
)
PDF_FILE = thing(
    paper=NAME,
    media=NAME,
    nested_sheets={"type": "integer", "minimum": 0},
    least_sheets=maybe(thing(by_area=COUNT, by_any_nesting=COUNT)),
)
"""What a PDF among them says besides."""
DRAW = thing(
    title=NAME,
    only=maybe(NAME),
    paper=NAME,
    printer=maybe(CORRECTION),
    files=rows(FILE),
    worst=WORST,
    findings=rows(FINDING),
)
"""`draw --json`."""

GLUE_FIT = thing(
    glue=maybe(NAME),
    swelling_mm=maybe(MM),
    pressure_mpa=maybe(MM),
    drive_kn=maybe(MM),
    half_pin_share=maybe(MM),
    dry_fit_mm=maybe(NUMBER),
    inner_dry_fit_mm=maybe(NUMBER),
    verdict=maybe(WORST),
)
SHARE: Schema = {"type": "number", "minimum": 0, "maximum": 1}
REHEARSED = thing(
    name=NAME,
    most_mm=NUMBER,
    better=maybe({"enum": ["scribed", "template"]}),
    methods=rows(
        thing(
            method={"enum": ["scribed", "template"]},
            fit_mm=NUMBER,
            home_share=SHARE,
            home_doubt=SHARE,
            worst_gap_mm=MM,
            worst_gap_one_in_twenty_mm=MM,
            edge_step_mm=MM,
            four_of_five=thing(fit_mm=NUMBER, worst_gap_mm=MM),
        ),
        least=2,
    ),
)
HAND = thing(marking_mm=MM, sawing_mm=MM, transfer_mm=MM, placing_mm=MM, held_flush={"type": "boolean"})
FIT = thing(
    worst=WORST,
    corners=rows(
        {
            "allOf": [
                GLUE_FIT,
                thing(
                    name=NAME, fit_mm=MM, fit_given={"type": "boolean"}, others=rows(GLUE_FIT), findings=rows(FINDING)
                ),
            ]
        }
    ),
    rehearsal=thing(joints=COUNT, seed={"type": "integer", "minimum": 0}, errors=HAND, corners=rows(REHEARSED)),
    files=rows(CHART),
)
"""`fit --json`."""
MOVED = thing(
    name=NAME,
    across={"enum": ["width", "thickness"]},
    dimension_mm=MM,
    driest_mm=MM,
    dampest_mm=MM,
    change_mm=MM,
    shrinks_mm=MM,
    grows_mm=MM,
    larger_mm=rows(NUMBER, least=2),
    coefficient=MM,
    provenance=NAME,
    doubt=TEXT,
)
FIXING = thing(name=NAME, what=NAME, over_mm=MM, moves_mm=maybe(MM), now=NAME, works=NAME)
SEASON = thing(
    title=NAME,
    worst=WORST,
    built_at=rows(NUMBER, least=1),
    air=rows(thing(name=NAME, humidity_pct=NUMBER, moisture_pct=NUMBER), least=2),
    parts=rows(MOVED),
    not_known=rows(thing(name=NAME, because=NAME)),
    fixings=rows(FIXING),
    answers=rows(FINDING),
    files=rows(CHART),
    findings=rows(FINDING),
)
"""`season --json`."""

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

STAGE = thing(
    name=NAME,
    joins=rows(NAME, least=1),
    faces={"type": "integer", "minimum": 0},
    area_mm2=MM,
    glue_g=maybe(MM),
    clamps={"type": "integer", "minimum": 0},
    spread_minutes=MM,
    minutes=MM,
    open_minutes=maybe(MM),
    open_minutes_hopeful=maybe(MM),
)
GLUEUP = thing(
    worst=WORST,
    glue=maybe(NAME),
    hands=COUNT,
    wood_celsius=maybe(NUMBER),
    stages=rows(STAGE, least=1),
    order=rows(
        thing(
            kind={"enum": ["finish", "corners", "captured", "inside", "divider", "flush"]},
            names=rows(NAME, least=1),
            stage=NAME,
            step=NAME,
        ),
        least=1,
    ),
    spreaders=rows(thing(where=NAME, length_mm=MM)),
    diagonals=rows(
        thing(where=NAME, length_mm=MM, allowed_difference_mm=MM, sides_mm=rows(MM, least=2)),
    ),
    cauls=rows(
        thing(
            corner=NAME,
            length_mm=MM,
            notch_depth_mm=MM,
            notches=rows(thing(start_mm=MM, end_mm=MM)),
        )
    ),
    lean=maybe(
        thing(where=NAME, difference_mm=MM, degrees=MM, off_mm=rows(thing(side_mm=MM, off_mm=MM), least=2)),
    ),
    findings=rows(FINDING),
    files=rows(CHART),
)
"""`glueup --json`."""

SPECIES = thing(woods=rows(thing(id=NAME, name=NAME, kind=NAME, sg_12=maybe(NUMBER), mor_mpa=maybe(NUMBER)), least=1))
"""`species --json`."""

FIGURE = thing(what=NAME, value=NUMBER, unit=NAME, source=NAME)
REPAIR = thing(
    trouble=NAME,
    method=NAME,
    worst=WORST,
    looks=NAME,
    glue=NAME,
    steps=rows(NAME, least=1),
    cautions=rows(NAME, least=1),
    figures=rows(FIGURE, least=2),
    findings=rows(FINDING),
    files=rows(NAME),
)
"""`repair gap`, `corner`, `loose`, `broken`, `panel`, `sliding` and `crack --json`."""

SYMPTOM = thing(
    id=NAME,
    also=rows(NAME),
    title=NAME,
    seen=NAME,
    cause=NAME,
    causes=rows(NAME, least=1),
    tell=NAME,
    remedy=NAME,
    glue_open=NAME,
    glue_set=NAME,
    finished=NAME,
    leave=NAME,
    next_time=NAME,
    asks=rows(NAME, least=1),
    cautions=rows(NAME, least=1),
    command=TEXT,
    air={"enum": ["", "drier", "damper"]},
    level=WORST,
    source=NAME,
    piece=rows(thing(says={"enum": ["for", "against", "open"]}, text=NAME)),
    now=TEXT,
)
QUESTION = thing(ask=NAME, answers=rows(thing(symptom=NAME, answer=NAME), least=2))
DIAGNOSIS = thing(
    sure={"type": "boolean"},
    likely={"type": "boolean"},
    doubt=TEXT,
    question=maybe(QUESTION),
    symptoms=rows(SYMPTOM, least=1),
)
"""`repair diagnose --json`."""
FACETS = thing(
    questions=rows(thing(ask=NAME, option={"type": "string", "pattern": "^--[a-z]+$"}, words=rows(NAME, least=2)))
)
"""The same where nothing was said and nobody can be asked; exit code 2."""
BAR_READ = thing(bar_mm={"enum": [100, 150, 250]}, measured_mm=MM, off_pct=NUMBER, factor=FACTOR)
PRINTER = thing(name=maybe(NAME), paper=maybe(NAME), across=BAR_READ, up=BAR_READ, good_as_it_is={"type": "boolean"})
CALIBRATE = thing(
    sheet=maybe(NAME),
    reading=maybe(PRINTER),
    worst=WORST,
    findings=rows(FINDING),
    printers=rows(PRINTER),
    default=maybe(NAME),
    file=NAME,
)
"""`calibrate --json`."""


def broken(value: Any, schema: Schema) -> list[str]:
    """Where a value breaks a schema, in words; empty when it keeps it."""
    return [f"{error.json_path}: {error.message}" for error in Draft202012Validator(schema).iter_errors(value)]
