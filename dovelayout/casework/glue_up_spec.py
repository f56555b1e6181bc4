"""The specification of a glue-up, as a job gives it: stages, captured parts, and working speed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SECONDS_A_FACE = 6.0
"""To brush glue on one cheek (common practice, no source: 5 to 8 s)."""

SECONDS_A_CORNER = 20.0
"""To seat one corner, or slide one part home; ours."""

SECONDS_A_CLAMP = 15.0
"""To set one clamp that was adjusted at the rehearsal; ours."""


class Reach(StrEnum):
    """Where a captured part is fixed from: it just goes in, or it is fixed from inside while hands can reach there."""

    OPEN = "open"
    INSIDE = "inside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Captured:
    """A part that others hold in: it goes in before the last of the corners `held_by` (their names) is closed.

    `finish_first`: its surface is finished before. `left_long`: planed flush when the glue has set. `faces`: glue faces
    to spread on it, 0 where it floats.
    """

    name: str
    held_by: tuple[str, ...]
    finish_first: bool = False
    reach: Reach = Reach.OPEN
    left_long: bool = False
    faces: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StageSpec:
    """A stage that the job defines: what it joins, and the stages that it comes before or after."""

    name: str
    joins: tuple[str, ...]
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Working speed in seconds, and what is known of the glue and the wood that day.

    `open_minutes`: from the bottle's own label, at 21 degrees C (None: the glue table's range). `wood_c`: temperature of
    the wood, which counts, not the air's (None: the shop's).
    """

    seconds_a_face: float = SECONDS_A_FACE
    seconds_a_corner: float = SECONDS_A_CORNER
    seconds_a_clamp: float = SECONDS_A_CLAMP
    open_minutes: float | None = None
    wood_c: float | None = None


USUAL_PACE = Pace()


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueUpSpec:
    """Everything that a job specifies of its glue-up."""

    stages: tuple[StageSpec, ...] = ()
    captured: tuple[Captured, ...] = ()
    pace: Pace = USUAL_PACE


DEFAULT_GLUE_UP = GlueUpSpec()
"""Used where the job specifies nothing."""
