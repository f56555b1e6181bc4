"""Diagonals, lean and spreaders: how a case is held square, and what a measured difference says.

A box whose sides are a and b long and which leans by the angle t is a parallelogram; its diagonals are
d^2 = a^2 + b^2 +- 2 a b sin t, so d1^2 - d2^2 = 4 a b sin t whatever the lean (law of cosines). One end of side b then
stands b sin t out of square.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.assembly import Assembly
from dovelayout.change import changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import rule
from dovelayout.place import Place
from dovelayout.texts import Texts

TEXTS = Texts("glueup", "findings")
RULE_WORDS = Texts("glueup", "rules")

SMALL_MM = 0.5
"""Allowed difference of the diagonals of a drawer or a small box (common practice, no source)."""

CARCASE_MM = 1.0
"""The same of a carcase (common practice, no source)."""

SMALL_BOX_MM = 600.0
"""A box with a diagonal up to this is held as exact as a drawer; ours."""

FITS_MM = 2.0
"""Measured diagonals whose lengths are further than this from any that the boards give were taken elsewhere; ours."""

DIFFERENCE = rule(
    "diagonals",
    unit="of what is allowed",
    warn=1.0,
    stop=4.0,
    below=False,
    source=f"{COMMON_PRACTICE}; stop: {OURS}",
    **RULE_WORDS.table("difference"),
)
ELSEWHERE = rule("diagonals", unit="mm", warn=FITS_MM, below=False, **RULE_WORDS.table("elsewhere"))
UNEQUAL = rule("unequal-sides", unit="mm", warn=0.5, stop=3.0, below=False, **RULE_WORDS.table("unequal"))
LONG_THIN = rule("long-thin-box", unit="times its width", note=4.0, below=False, **RULE_WORDS.table("long_thin"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """One pair of diagonals: where they are measured, as people and as findings say it, the sides they belong to, and how
    far they may differ."""

    where: str
    place: Place
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

    @property
    def numbers(self) -> dict[str, float]:
        """All that is said of it: sides `a` and `b` with how far their ends stand off, difference, degrees."""
        named = zip(("a", "b", "off_a", "off_b"), (*self.diagonal.sides_mm, *self.off_mm), strict=True)
        return {**dict(named), "difference": self.difference_mm, "degrees": self.degrees}


def place_of(assembly: Assembly, part: str = "") -> Place:
    """A box, a drawer or corners written one by one, as findings name them."""
    table = assembly.corners[0].spec.origin[0]
    if table != "corner":
        return Place(kind="box" if table == "box" else "drawer", name=assembly.name, part=part)
    first, *others = (joint.name for joint in assembly.corners)
    return Place(kind="corner", name=first, also=tuple(others), part=part)


def diagonals(assembly: Assembly) -> tuple[Diagonal, ...]:
    """Inside, where pinch rods reach whatever stands proud, and outside, over ends that are flush."""
    if assembly.grain_sides is None:
        return ()
    one, other = assembly.grain_sides
    lengths_mm = {"inside": (one.inside_mm, other.inside_mm), "outside": (one.outside_mm, other.outside_mm)}
    drawer = any(joint.lap_mm or joint.spec.origin[0] == "drawer" for joint in assembly.corners)
    allowed_mm = SMALL_MM if drawer or math.hypot(*lengths_mm["outside"]) <= SMALL_BOX_MM else CARCASE_MM
    return tuple(
        Diagonal(
            where=f"{assembly.name}, {face}",
            place=place_of(assembly, f"{face} diagonals"),
            sides_mm=sides_mm,
            allowed_mm=allowed_mm,
        )
        for face, sides_mm in lengths_mm.items()
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
    for member in assembly.members[:2] if assembly.ring else ():  # neighbours: each with the one across
        across = assembly.opposite(member)
        if across is None:
            continue
        shorter, longer = sorted((across, member), key=lambda one: one.inside_mm)
        apart_mm = longer.inside_mm - shorter.inside_mm
        if (breach := UNEQUAL.breach(apart_mm)) is None:
            continue
        board, length = longer.board, mm_text(longer.board.length_mm - apart_mm)
        pair = board.name == shorter.board.name  # both would be cut
        changes = () if pair else changes_of("board", board.name, {"length": length})
        lengths_mm = {"long": longer.inside_mm, "short": shorter.inside_mm}
        message = TEXTS("unequal.message", longer=longer.label, shorter=shorter.label, **lengths_mm)
        fix = TEXTS("unequal.pair" if pair else "unequal.fix", board=board.name, length=length)
        place = place_of(assembly, f"{longer.label} and {shorter.label}")
        yield breach.finding(place, message, fix=fix, changes=changes)


def twist_findings(assembly: Assembly, held: Sequence[str]) -> Iterator[Finding]:
    """A long thin box with something held in it takes a twist that no diagonal shows; `held`: names of what it holds."""
    breach, sides = LONG_THIN.breach(length_over_width(assembly)), assembly.grain_sides
    if breach is not None and held and sides is not None:
        share, side_mm = breach.measured, sides[0].outside_mm
        texts = TEXTS.finding("twist", share=share, held=", ".join(held), side=side_mm)
        yield breach.finding(place_of(assembly), **texts)


def nearest(found: Sequence[Diagonal], measured_mm: tuple[float, float]) -> Lean | None:
    """The lean of the box and the faces whose diagonals come nearest to what was measured; None without a ring."""
    leans = [Lean(diagonal=diagonal, measured_mm=measured_mm) for diagonal in found]
    return min(leans, key=lambda lean: abs(lean.residue_mm), default=None)


def lean_findings(lean: Lean) -> Iterator[Finding]:
    """What to do about measured diagonals."""
    diagonal, off_mm = lean.diagonal, lean.residue_mm
    if breach := ELSEWHERE.breach(abs(off_mm)):
        key = "elsewhere_longer" if off_mm > 0 else "elsewhere_shorter"
        texts = TEXTS.finding(key, expected=diagonal.length_mm, off=abs(off_mm))
        yield replace(breach, measured=off_mm).finding(diagonal.place, **texts)
    if breach := DIFFERENCE.breach(lean.difference_mm / diagonal.allowed_mm):
        half_mm = lean.difference_mm / 2
        texts = TEXTS.finding("lean", allowed=diagonal.allowed_mm, half=half_mm, **lean.numbers)
        yield breach.finding(diagonal.place, **texts)
