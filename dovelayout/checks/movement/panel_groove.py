"""A captured panel's groove when there is glue in it: a panel that slid in dry is stuck a minute later, half way."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import Rule
from dovelayout.place import Place
from dovelayout.wood.glue import Glue

CHECK_PANEL_GROOVE = "panel-groove"

WET_FACE_MM = (0.1, 0.2)
"""What one wet face of a panel needs, at least and to be sure (common practice, no source)."""

PANEL_GROOVE = Rule(
    check=CHECK_PANEL_GROOVE,
    measures="clearance of a panel in its groove for each face that gets wet, for a glue that swells like PVA",
    unit="mm a wet face",
    warn=WET_FACE_MM[1],
    stop=WET_FACE_MM[0],
    source=COMMON_PRACTICE,
)
RULES = (PANEL_GROOVE,)


def wet_clearance_mm(glue: Glue | None, *, wet_faces: int = 2) -> float:
    """Clearance that lets a panel go home for sure with that glue on so many of its faces, mm; 0 where it stays dry."""
    return 0.0 if glue is None else WET_FACE_MM[1] * wet_faces * glue.swell_factor


def panel_groove_findings(
    place: Place, *, clearance_mm: float, glue: Glue | None, wet_faces: int = 2
) -> Iterator[Finding]:
    """Whether a panel goes home in its groove: `clearance_mm` is the groove's width less the panel's thickness, `glue`
    what is in the groove (None: nothing), `wet_faces` how many faces of the panel it touches."""
    if clearance_mm < 0:
        yield Finding(
            check=CHECK_PANEL_GROOVE,
            level=Level.STOP,
            place=place,
            measured=round(clearance_mm, 3),
            limit=0.0,
            unit="mm",
            message=f"the panel is {-clearance_mm:.2f} mm thicker than its groove is wide",
            fix=f"plane it {mm_text(math.ceil(-clearance_mm * 10 + 1 - 1e-9) / 10)} thinner where it enters",
            source=COMMON_PRACTICE,
        )
        return
    if glue is None or not glue.swell_factor or wet_faces == 0:
        return
    # a glue that swells less needs less: measured as for PVA, so that one limit holds for all
    per_face_mm = clearance_mm / wet_faces / glue.swell_factor
    level, limit = PANEL_GROOVE.judge(per_face_mm)
    if level is Level.OK:
        return
    wanted_mm = math.ceil(wet_clearance_mm(glue, wet_faces=wet_faces) * 100 - 1e-9) / 100
    yield Finding(
        check=CHECK_PANEL_GROOVE,
        level=level,
        place=place,
        measured=round(per_face_mm, 3),
        limit=limit,
        unit=PANEL_GROOVE.unit,
        message=f"{clearance_mm:.2f} mm of clearance with {glue.name} in the groove: each wet face swells and takes 0.1 to "
        "0.2 mm with its film of glue. What slid in dry doesn't move a minute later",
        fix=f"leave the groove dry, or {mm_text(wanted_mm)} of clearance, and bring one part home at a time",
        source=PANEL_GROOVE.source,
    )
