"""Diagonals, lean and spreaders: how a case is held square, and what a measured difference says.

A box whose sides are a and b long and which leans by the angle t is a parallelogram; its diagonals are
d^2 = a^2 + b^2 +- 2 a b sin t, so d1^2 - d2^2 = 4 a b sin t whatever the lean (law of cosines). One end of side b then
stands b sin t out of square.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dovelayout.casework.assembly import Assembly
from dovelayout.change import changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import Rule
from dovelayout.place import Place

SMALL_MM = 0.5
"""Allowed difference of the diagonals of a drawer or a small box (common practice, no source)."""

CARCASE_MM = 1.0
"""The same of a carcase (common practice, no source)."""

SMALL_BOX_MM = 600.0
"""A box with a diagonal up to this is held as exact as a drawer; ours."""

FITS_MM = 2.0
"""Measured diagonals whose lengths are further than this from any that the boards give were taken elsewhere; ours."""

DIFFERENCE = Rule(
    check="diagonals",
    measures="difference of the diagonals, share of what is allowed",
    unit="of what is allowed",
    warn=1.0,
    stop=4.0,
    below=False,
    source=f"{COMMON_PRACTICE}; stop: {OURS}",
)
UNEQUAL = Rule(
    check="unequal-sides",
    measures="difference between the inside lengths of two boards opposite each other",
    unit="mm",
    warn=0.5,
    stop=3.0,
    below=False,
    source=OURS,
)
LONG_THIN = Rule(
    check="long-thin-box",
    measures="length of the box over its width",
    unit="times its width",
    note=4.0,
    below=False,
    source=OURS,
)
RULES = (DIFFERENCE, UNEQUAL, LONG_THIN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """One pair of diagonals: the sides they belong to, their length when square, and how far they may differ."""

    where: str
    sides_mm: tuple[float, float]
    allowed_mm: float

    @property
    def length_mm(self) -> float:
        """Both diagonals of the square box."""
        return math.hypot(*self.sides_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lean:
    """What two measured diagonals say of a box."""

    diagonal: Diagonal
    measured_mm: tuple[float, float]

    @property
    def difference_mm(self) -> float:
        """The longer less the shorter."""
        return abs(self.measured_mm[0] - self.measured_mm[1])

    @property
    def sine(self) -> float:
        """Sine of the angle out of square; at most 1."""
        one, other = self.measured_mm
        a, b = self.diagonal.sides_mm
        return min(1.0, abs(one**2 - other**2) / (4 * a * b))

    @property
    def degrees(self) -> float:
        """How far the corners are from 90 degrees."""
        return math.degrees(math.asin(self.sine))

    @property
    def off_mm(self) -> tuple[float, float]:
        """How far an end of the first side, and one of the second, stands out of square over its length."""
        a, b = self.diagonal.sides_mm
        return a * self.sine, b * self.sine

    @property
    def residue_mm(self) -> float:
        """Root mean square of the measured diagonals less the length expected: 0 for a true parallelogram of these
        sides, whatever its lean."""
        one, other = self.measured_mm
        return math.sqrt((one**2 + other**2) / 2) - self.diagonal.length_mm


def diagonals_of_lean(sides_mm: tuple[float, float], lean_mm: float) -> tuple[float, float]:
    """Longer and shorter diagonal of a box of sides (a, b) when one end of side b stands `lean_mm` out of square."""
    a, b = sides_mm
    cross = 2 * a * min(b, abs(lean_mm))
    return math.sqrt(a**2 + b**2 + cross), math.sqrt(max(0.0, a**2 + b**2 - cross))


def diagonals(assembly: Assembly) -> tuple[Diagonal, ...]:
    """Inside, where pinch rods reach whatever stands proud, and outside, over ends that are flush."""
    sides = assembly.grain_sides
    if sides is None:
        return ()
    first, second = sides
    inside = (first.inside_mm, second.inside_mm)
    outside = (first.outside_mm, second.outside_mm)
    drawer = any(joint.lap_mm or joint.spec.origin[0] == "drawer" for joint in assembly.corners)
    allowed_mm = SMALL_MM if drawer or math.hypot(*outside) <= SMALL_BOX_MM else CARCASE_MM
    return (
        Diagonal(where=f"{assembly.name}, inside", sides_mm=inside, allowed_mm=allowed_mm),
        Diagonal(where=f"{assembly.name}, outside", sides_mm=outside, allowed_mm=allowed_mm),
    )


def tail_boards_apart_mm(assembly: Assembly) -> float | None:
    """Inside width between the boards that clamps press on: what a spreader is cut to. None where no two boards with
    tails face each other."""
    for joint in assembly.corners:
        tails = assembly.member(joint.spec.tails)
        across = assembly.opposite(tails)
        if across is not None and assembly.carries_tails(tails) and assembly.carries_tails(across):
            return assembly.member(joint.spec.pins).inside_mm
    return None


def length_over_width(assembly: Assembly) -> float:
    """The outside of a ring, long over short; 1 for what is no ring."""
    sides = assembly.grain_sides
    if sides is None:
        return 1.0
    one, other = (side.outside_mm for side in sides)
    return max(one, other) / min(one, other)


def size_findings(assembly: Assembly) -> Iterator[Finding]:
    """Boards opposite each other that differ between their corners: such a box can't be square."""
    if not assembly.ring:
        return
    for member in assembly.members[:2]:  # neighbours: each with the one across
        across = assembly.opposite(member)
        if across is None:
            continue
        one, other = member.inside_mm, across.inside_mm
        level, limit = UNEQUAL.judge(abs(one - other))
        if level is Level.OK:
            continue
        longer, shorter = (member, across) if one > other else (across, member)
        two = longer.board.name != shorter.board.name  # of a pair both would be cut
        length_mm = round(longer.board.length_mm - abs(one - other), 3)
        yield Finding(
            check=UNEQUAL.check,
            level=level,
            place=Place(kind=assembly.name, part=f"{longer.label} and {shorter.label}"),
            measured=round(abs(one - other), 3),
            limit=limit,
            unit=UNEQUAL.unit,
            message=f"between their corners {longer.label} is {max(one, other):.1f} mm long and {shorter.label} "
            f"{min(one, other):.1f} mm: the box can't be square, equal diagonals or not",
            fix=f"{longer.board.name} cut to {mm_text(length_mm)}"
            if two
            else "the same gauge settings at both their ends",
            source=UNEQUAL.source,
            changes=changes_of("board", longer.board.name, {"length": mm_text(length_mm)}) if two else (),
        )


def nearest(found: Sequence[Diagonal], measured_mm: tuple[float, float]) -> Lean | None:
    """The lean of the box and the faces whose diagonals come nearest to what was measured; None without a ring."""
    leans = [Lean(diagonal=diagonal, measured_mm=measured_mm) for diagonal in found]
    return min(leans, key=lambda lean: abs(lean.residue_mm), default=None)


def lean_findings(lean: Lean) -> Iterator[Finding]:
    """What to do about measured diagonals."""
    where, share = lean.diagonal.where, lean.difference_mm / lean.diagonal.allowed_mm
    if abs(lean.residue_mm) > FITS_MM:
        yield Finding(
            check="diagonals",
            level=Level.WARN,
            place=Place(kind=where),
            measured=round(lean.residue_mm, 2),
            limit=FITS_MM,
            unit="mm",
            message=f"no box of these boards has such diagonals: they should be about {lean.diagonal.length_mm:.1f} mm, the "
            f"measured ones are {abs(lean.residue_mm):.1f} mm {'longer' if lean.residue_mm > 0 else 'shorter'}. Measured "
            "from proud ends, or is a board not as long as the job says?",
            fix=f"measure again, inside, from corner to corner: {lean.diagonal.length_mm:.1f} mm",
        )
    level, limit = DIFFERENCE.judge(share)
    if level is Level.OK:
        return
    a, b = lean.diagonal.sides_mm
    yield Finding(
        check="diagonals",
        level=level,
        place=Place(kind=where),
        measured=round(share, 3),
        limit=limit,
        unit=DIFFERENCE.unit,
        message=f"the diagonals differ by {lean.difference_mm:.2f} mm and {lean.diagonal.allowed_mm:g} mm is allowed: "
        f"{lean.degrees:.2f}° out of square, {lean.off_mm[1]:.2f} mm over the {b:.0f} mm side, {lean.off_mm[0]:.2f} mm over "
        f"the {a:.0f} mm one",
        fix="slacken the clamps, set their heads over towards the ends of the longer diagonal, or put one light clamp along "
        f"it, and draw it in by {lean.difference_mm / 2:.2f} mm; then look for wind again",
        source=DIFFERENCE.source,
    )
