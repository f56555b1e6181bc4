"""What the page shows of a job: its tables as typed, what was understood of them, the verdict and one drawing."""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache, partial
from pathlib import PurePath
from typing import Any

from dovelayout.casework.drawer.cut_list import all_add_up
from dovelayout.checks.finding import Finding
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.screen import ScreenDrawing, Spot, corner_drawing
from dovelayout.errors import DovelayoutError, JobError
from dovelayout.job.reader import MOST_BYTES, Job, load_job, parsed
from dovelayout.joints import KINDS
from dovelayout.joints.corner import CornerJoint, CornerSpec, Pin
from dovelayout.place import Place
from dovelayout.render.svg import svg_text
from dovelayout.report.findings import finding_json
from dovelayout.units import format_both, format_mm
from dovelayout.verdict.verdict import Verdict, judged

MOST_ROWS = 2000
MOST_FRONTS = 40


def job_of(text: str, name: str) -> Job:
    """The job of a text. Raises JobError."""
    raw = text.encode("utf-8", "replace")
    if len(raw) > MOST_BYTES:
        raise JobError(file=name, problem="is larger than 1 MB", remedy="a job is a few kB of text")
    return load_job(parsed(raw, source=name), source=name, stem=PurePath(name).stem or "job")


def look(text: str, *, name: str, show: str = "") -> dict[str, Any]:
    """Everything the page shows of a text, the corner or divider called `show` drawn; an error where it is no job."""
    tables = _tables(text)
    try:
        verdict = judged(job_of(text, name))
    except DovelayoutError as error:
        return {"tables": tables, "error": error_json(error, tables)}
    return {"tables": tables, "error": None, **understood(verdict, show)}


def understood(verdict: Verdict, show: str) -> dict[str, Any]:
    """A job that was understood: corners and dividers in short, findings with their places, one drawing."""
    job = verdict.job
    joints = {joint.name: joint for joint in job.joints}
    chosen = joints.get(show) or next(iter(joints.values()), None)
    drawn = None if chosen is None else _drawn(chosen)
    return {
        "title": job.title,
        "unit": job.unit.value,
        "worst": verdict.worst.value,
        "boards": [
            {
                "name": board.name,
                "wood": board.wood.name,
                "count": board.count,
                "size": " × ".join(
                    format_both(mm, unit=job.unit) for mm in (board.length_mm, board.width_mm, board.thickness_mm)
                ),
            }
            for board in job.boards[:MOST_ROWS]
        ],
        "sums": _sums(job),
        "corners": [_corner(joint, findings) for joint, findings in verdict.corners[:MOST_ROWS]],
        "dividers": [
            {"name": divider.name, "levels": _levels(findings)} for divider, findings in verdict.dividers[:MOST_ROWS]
        ],
        "findings": [_finding(finding, drawn, chosen) for finding in verdict.for_people[:MOST_ROWS]],
        "drawing": None if drawn is None or chosen is None else _drawing(chosen, drawn, verdict),
    }


def _sums(job: Job) -> list[str]:
    """Whether the drawers' parts add up, and how high each front comes out."""
    if not job.drawers:
        return []
    fronts = [
        f"{drawer.name} {format_mm(part.board.width_mm)}"
        for drawer in job.drawers[:MOST_FRONTS]
        for part in drawer.parts
        if part.role == "front"
    ]
    return [all_add_up(job.drawers), f"Fronts are so high: {', '.join(fronts)}"]


def error_json(error: DovelayoutError, tables: Mapping[str, Any]) -> dict[str, Any]:
    """An error and the field it belongs to, as far as its place says."""
    if not isinstance(error, JobError):
        return {"problem": str(error), "remedy": "", "table": "", "name": "", "key": "", "place": ""}
    table, name, key = _field_of(error.place, tables)
    place = "" if error.place is None else error.place.quoted
    return {
        "problem": " ".join(error.problem.split()),
        "remedy": " ".join(error.remedy.split()),
        "place": place,
        "table": table,
        "name": name,
        "key": key,
    }


def _field_of(place: Place | None, tables: Mapping[str, Any]) -> tuple[str, str, str]:
    """The table, the name of the entry and the key that a place speaks of: ('corner', 'A', 'tail_count')."""
    if place is None:
        return "", "", ""
    name = place.name
    if not name and place.number is not None:
        rows = tables.get(place.kind)
        row = rows[place.number - 1] if isinstance(rows, list) and place.number <= len(rows) else {}
        name = str(row.get("name", "")) if isinstance(row, dict) else ""
    keys = itertools.takewhile(lambda key: not key.isdigit(), place.key.split("."))
    return place.kind, name, ".".join(keys)


def _tables(text: str) -> dict[str, Any]:
    """The tables as typed, for the fields to show; empty where the text isn't TOML."""
    try:
        found = tomllib.loads(text)
    except (ValueError, RecursionError):
        return {}
    return {key: _plain(value, 0) for key, value in list(found.items())[:200]}


def _plain(value: Any, depth: int) -> Any:
    """What JSON can hold of a TOML value."""
    if depth > 6:
        return "..."
    if isinstance(value, dict):
        return {str(key): _plain(entry, depth + 1) for key, entry in value.items()}
    if isinstance(value, list):
        return [_plain(entry, depth + 1) for entry in value[:MOST_ROWS]]
    if isinstance(value, bool | int | str) or (isinstance(value, float) and abs(value) < 1e300):
        return value
    return str(value)


def _levels(findings: Iterable[Finding]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for finding in findings:
        counts[finding.level.value] = counts.get(finding.level.value, 0) + 1
    return counts


def _corner(joint: CornerJoint, findings: Sequence[Finding]) -> dict[str, Any]:
    table, name = joint.spec.origin
    return {
        "name": joint.name,
        "kind": joint.kind,
        "table": table,
        "row": name,
        "tails": joint.spec.tails.label,
        "pins": joint.spec.pins.label,
        "levels": _levels(findings),
    }


@lru_cache(maxsize=64)
def _drawing_of(kind: str, spec: CornerSpec) -> ScreenDrawing:
    return corner_drawing(KINDS[kind].worked_out(spec))


def _drawn(joint: CornerJoint) -> ScreenDrawing:
    """Its drawing; most edits leave the corner that is looked at as it was."""
    return _drawing_of(joint.kind, joint.spec)


def _pin_words(pin: Pin, both: Callable[[float], str]) -> str:
    if pin.root_mm == pin.width_mm:
        return both(pin.width_mm)
    return f"{both(pin.width_mm)} narrow, {both(pin.root_mm)} wide"


def _drawing(joint: CornerJoint, drawn: ScreenDrawing, verdict: Verdict) -> dict[str, Any]:
    tails, pins = joint.end_faces()
    both = partial(format_both, unit=verdict.job.unit)
    full = joint.full_pins
    numbers = [
        ("cheeks", joint.slope.words),
        ("gauge for the tail board", both(tails.baseline_mm)),
        ("gauge for the pin board", both(pins.baseline_mm)),
        *([("gauge for its end", both(pins.end_gauge_mm))] if pins.end_gauge_mm is not None else []),
        (f"{joint.tail}s", f"{len(joint.tails)}, {both(joint.tails[0].width_mm)} at the end"),
        *([("pins", _pin_words(full[0], both))] if full else []),
    ]
    return {
        "corner": joint.name,
        "width_mm": drawn.sheet.width_mm,
        "height_mm": drawn.sheet.height_mm,
        "svg": inline_svg(drawn.sheet),
        "spots": [
            {"name": spot.name, "rings": [_down(ring, drawn.sheet) for ring in spot.rings]} for spot in drawn.spots
        ],
        "proposed": sorted(joint.proposed),
        "numbers": [[what, value] for what, value in numbers],
    }


def _down(ring: Sequence[tuple[float, float]], sheet: Sheet) -> list[list[float]]:
    return [[x, round(sheet.height_mm - y, 3)] for x, y in ring]


def inline_svg(sheet: Sheet) -> str:
    """A drawing to stand in the page: the same strokes as in the file, without the print rule (the page has its own)."""
    return re.sub(r"<defs>.*?</defs>|<\?xml.*?\?>", "", svg_text(sheet), flags=re.DOTALL).strip()


def _finding(finding: Finding, drawn: ScreenDrawing | None, joint: CornerJoint | None) -> dict[str, Any]:
    corners = corners_of(finding)
    here = joint is not None and joint.name in corners
    return {
        **finding_json(finding),
        "corners": corners,
        "spots": list(spots_of(finding, drawn.spots)) if here and drawn is not None else [],
    }


def corners_of(finding: Finding) -> list[str]:
    """Names of the corners a finding speaks of."""
    place = finding.place
    return [place.name, *place.also] if place.kind == "corner" else []


_ALL_OF = {
    "tails": "tail ",
    "cheeks": "tail ",
    "cheeks with glue on them": "tail ",
    "between the pins": "tail ",
    "pins": "pin ",
    "between the tails": "pin ",
    "half pins": "half pin ",
}
"""Parts of a corner that are several, and how the names of their spots begin."""


def spots_of(finding: Finding, spots: Sequence[Spot]) -> tuple[str, ...]:
    """Names of the spots that a finding is about: its own part, the board that this is of, or all parts that it speaks of;
    both boards where it speaks of none."""
    known, place = [spot.name for spot in spots], finding.place
    part = place.part if place.number is None else f"{place.part} {place.number}"
    for own in (part, f"board {place.board}"):
        if own in known:
            return (own,)
    beginning = _ALL_OF.get(part, "board ")
    return tuple(name for name in known if name.startswith(beginning))
