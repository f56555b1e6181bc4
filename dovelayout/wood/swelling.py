"""How far the water of a glue swells the faces of a joint before the joint is closed."""

from __future__ import annotations

import math

from dovelayout.wood.glue import Glue
from dovelayout.wood.moisture import Direction, coefficient
from dovelayout.wood.species import Wood

WATER_G_PER_M2_MM = 1000.0
"""1 mm of water over a square metre weighs 1000 g, near enough by definition."""


def swelling_face_mm(wood: Wood, glue: Glue, direction: Direction = Direction.TANGENTIAL) -> float | None:
    """Swelling at one face of a glued line, square to it, mm; None where the wood's movement or density isn't known.

    100 C (spread x water share / 2) / (1000 SG) x the glue's swell factor. Ours: half of the line's water goes into each
    of its two faces, all of it, and swells the wood there as damp air would (C of the Wood Handbook's Eq 13-2, a change
    per percent of moisture content; SG is the density in units of water's).
    """
    if not glue.has_water or glue.swell_factor == 0:
        return 0.0
    moves = coefficient(wood, direction)
    if moves is None:
        return None
    if moves.per_pct == 0:
        return 0.0
    if wood.sg_12 is None:
        return None
    water_mm = glue.spread_g_m2 * glue.water_share / 2 / WATER_G_PER_M2_MM
    return 100 * moves.per_pct * water_mm / wood.sg_12 * glue.swell_factor


def swelling_line_mm(
    wood: Wood,
    glue: Glue,
    direction: Direction = Direction.TANGENTIAL,
    *,
    other: tuple[Wood, Direction] | None = None,
) -> float | None:
    """Swelling of both faces of a glued line together, mm; `other` is the second face where it is not like the first."""
    faces = [swelling_face_mm(wood, glue, direction)]
    faces.append(faces[0] if other is None else swelling_face_mm(other[0], glue, other[1]))
    known = [face for face in faces if face is not None]
    return math.fsum(known) if len(known) == len(faces) else None
