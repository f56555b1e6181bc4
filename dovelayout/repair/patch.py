"""A patch for a broken corner of a board: where the clean cut goes, and what the patch is made from.

x runs inward from the broken edge, y from the end along the board, z from the outside face into its thickness. The cut is
one plane, so that two sawn and planed faces meet in it:

    a x + b z + s y = c,   (a, b) square to the growth rings as the end shows them, s / a the lean on the face

On the end the seam follows the rings and is lost between them; on the face it follows the fibres where these run out at
the edge, and else leaves them by SEAM_LEAN, so that it runs out at the edge instead of ending square across the grain.
What is said stands in `data/patch.toml`; common practice, no source, where a figure isn't marked ours.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely import Polygon

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.rule import rule
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, End, Groove
from dovelayout.place import Place
from dovelayout.repair.advice import Advice, RepairFigure, both, cautions, figures
from dovelayout.texts import Texts
from dovelayout.wood.species import Wood, WoodKind

TEXTS = Texts("repair", "patch")
RULE_WORDS = Texts("repair", "rules")

SEAM_CLEAR_MM = 1.0
"""How far the cut keeps from the break, so that it lies in sound wood: ours."""
SEAM_LEAN = 1 / 5
"""How fast the seam leaves fibres that lie along the edge: steeper shows, finer makes the patch long. Ours."""
STEEPER_LEANS = (1 / 4, 1 / 3, 1 / 2, 1.0)
"""How fast it leaves them where a cut-out in the edge leaves no room for less: ours."""
CLEAR_OF_CUTOUT_MM = 3.0
"""Wood that is left along the edge between the seam and a cut-out: ours."""
MOST_REACH = 2.5
"""The patch reaches in from the edge at most this many times as far as the break: rings that lie too flat for that are
crossed at the first whole degree that does. Ours."""
OVER_MM = 2.0
"""How far the patch stands over the edge, to be planed flush after the glue has cured: ours."""
FACE_OVER_MM = 0.5
"""How far it stands over either face: little, as the offcut comes from a board of about this thickness. Ours."""
LONG_MM = 10.0
"""How much longer than needed the patch is at the end of the board, to hold and to saw off: ours."""
OFFCUT_MM = 3.0
"""What sawing and planing the patch takes from the length and the width of the offcut: ours."""

FAR_MM = 5000.0
"""Further than any board reaches: where a plane that is cut by another ends (ours)."""
_SLACK_MM = 1e-6

PATCH_SHARE = rule("patch-size", unit="share", warn=1 / 3, stop=1 / 2, below=False, **RULE_WORDS.table("patch_share"))
RING_TURN = rule("patch-seam", unit="degrees", note=0.0, below=False, **RULE_WORDS.table("ring_turn"))
PATCH_ROOM = rule("patch-room", unit="mm", source=OURS, **RULE_WORDS.table("patch_room"))
PATCH_WOOD = rule("patch-wood", source=COMMON_PRACTICE, **RULE_WORDS.table("patch_wood"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """A broken corner: how far it reaches along the end, through the thickness, and along the edge.

    `chip`: it runs out to nothing along the edge, as splinters do; else it is a block of these three sizes.
    """

    width_mm: float
    depth_mm: float
    length_mm: float
    chip: bool = True

    @property
    def corners(self) -> tuple[tuple[float, float, float], ...]:
        """The corners (x, y, z) of what has to be replaced."""
        wide = (0.0, self.width_mm)
        rows = ((0.0, wide), (self.length_mm, wide[:1] if self.chip else wide))
        return tuple((x, y, z) for y, across in rows for x in across for z in (0.0, self.depth_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRoom:
    """What else is cut in a board at the edge and the end that broke, mm: cut-outs as (from the edge, from the end) where
    each begins, and grooves by their distance from the edge."""

    cutouts_mm: tuple[tuple[float, float], ...] = ()
    grooves_mm: tuple[float, ...] = ()

    def whole_mm(self, reach_mm: float) -> float | None:
        """How far from the end the board is whole, so far in from the edge; None: no cut-out is there."""
        return min((end for edge, end in self.cutouts_mm if edge < reach_mm), default=None)


def edge_room(board: Board, end: End, *, far_edge: bool, groove: Groove | None) -> EdgeRoom:
    """What else is cut in a board at one corner."""

    def from_the_edge(start_mm: float, width_mm: float) -> float:
        return board.width_mm - start_mm - width_mm if far_edge else start_mm

    cutouts = tuple(
        (
            from_the_edge(cutout.from_edge_mm, cutout.width_mm),
            cutout.from_end_mm if cutout.end is end else board.length_mm - cutout.from_end_mm - cutout.length_mm,
        )
        for cutout in board.cutouts
    )
    grooves = () if groove is None else (from_the_edge(groove.from_edge_mm, groove.width_mm),)
    return EdgeRoom(cutouts_mm=cutouts, grooves_mm=grooves)


@dataclass(frozen=True, kw_only=True)
class Patch:
    """A patch that is cut along one plane, a x + b z + s y = c; a and s are above 0. All lengths in mm.

    `ring_deg` is the angle of the rings to the outside face as the end shows them, above 0 where they run deeper away
    from the edge; `seam_deg` that of the seam, which differs where the rings lie too flat.
    """

    lost: Break
    thickness_mm: float
    ring_deg: float
    seam_deg: float
    a: float
    b: float
    s: float
    c: float

    def reach_mm(self, z_mm: float, y_mm: float = 0.0) -> float:
        """How far in from the edge the seam lies, at a depth and a distance from the end; below 0: past the edge."""
        return (self.c - self.b * z_mm - self.s * y_mm) / self.a

    def length_mm(self, z_mm: float) -> float:
        """How far from the end the seam runs out at the edge, at a depth; below 0: it doesn't reach this depth."""
        return (self.c - self.b * z_mm) / self.s

    @property
    def widest_mm(self) -> float:
        """The farthest that the seam reaches from the edge."""
        return max(self.reach_mm(0.0), self.reach_mm(self.thickness_mm))

    @property
    def longest_mm(self) -> float:
        """The farthest from the end that the seam runs along the edge."""
        return max(self.length_mm(0.0), self.length_mm(self.thickness_mm))

    @property
    def lean(self) -> float:
        """How fast the seam leaves the fibres on the face: 0.2 is 1 in 5."""
        return self.s / self.a

    def fits(self, whole_mm: float | None) -> bool:
        """Whether it runs out clear of a cut-out that far from the end; None: there is none."""
        return whole_mm is None or self.longest_mm <= whole_mm - CLEAR_OF_CUTOUT_MM + _SLACK_MM

    @cached_property
    def on_the_end(self) -> Polygon:
        """What goes from the end, in (x, z)."""
        return _cut((self.a, self.b, self.c), (FAR_MM, self.thickness_mm))

    @cached_property
    def on_the_outside(self) -> Polygon:
        """What goes from the outside face, in (x, y)."""
        return _cut((self.a, self.s, self.c), (FAR_MM, FAR_MM))

    @cached_property
    def on_the_inside(self) -> Polygon:
        """What goes from the inside face, in (x, y); empty where the seam doesn't reach it."""
        return _cut((self.a, self.s, self.c - self.b * self.thickness_mm), (FAR_MM, FAR_MM))

    @cached_property
    def on_the_edge(self) -> Polygon:
        """What goes from the edge, in (z, y)."""
        return _cut((self.b, self.s, self.c), (self.thickness_mm, FAR_MM))

    @property
    def turn_deg(self) -> float:
        """Angle between the seam on the end and the rings."""
        return round(abs(math.remainder(self.seam_deg - self.ring_deg, 180.0)), 6)

    @property
    def through(self) -> bool:
        """Whether the seam comes out on the inside face too."""
        return self.reach_mm(self.thickness_mm) > _SLACK_MM

    @cached_property
    def blank(self) -> tuple[tuple[float, float, float], ...]:
        """Corners (x, y, z) of the patch before it is planed flush: over the edge, the end and both faces."""
        low, high = -FACE_OVER_MM, self.thickness_mm + FACE_OVER_MM
        # the depth where the seam passes the corner of the blank's edge and end, if it does within the thickness
        if self.b > 0:
            high = min(high, (self.c + self.a * OVER_MM + self.s * LONG_MM) / self.b)
        points: list[tuple[float, float, float]] = []
        for z in (low, high):
            points += [
                (-OVER_MM, -LONG_MM, z),
                (max(-OVER_MM, self.reach_mm(z, -LONG_MM)), -LONG_MM, z),
                (-OVER_MM, max(-LONG_MM, self.length_mm(z) + self.a * OVER_MM / self.s), z),
            ]
        return tuple(points)

    @property
    def offcut_mm(self) -> tuple[float, float, float]:
        """Smallest offcut to look for: along the grain, across it, thick."""
        along, across, thick = (
            max(point[axis] for point in self.blank) - min(point[axis] for point in self.blank) for axis in (1, 0, 2)
        )
        return along + OFFCUT_MM, across + OFFCUT_MM, thick


def _cut(line: tuple[float, float, float], face_mm: tuple[float, float]) -> Polygon:
    """The part of a face, [0, wide] x [0, high], where u x + v y <= c for the line (u, v, c)."""
    (u, v, c), (wide_mm, high_mm) = line, face_mm
    corners = [(0.0, 0.0), (wide_mm, 0.0), (wide_mm, high_mm), (0.0, high_mm)]
    kept: list[tuple[float, float]] = []
    for (x1, y1), (x2, y2) in itertools.pairwise([*corners, corners[0]]):
        first, second = u * x1 + v * y1 - c, u * x2 + v * y2 - c
        if first <= 0:
            kept.append((x1, y1))
        if first * second < 0:
            share = first / (first - second)
            kept.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
    found = Polygon(kept) if len(kept) >= 3 else Polygon()
    return found if found.area > _SLACK_MM else Polygon()


def lay_patch(
    lost: Break,
    *,
    thickness_mm: float,
    ring_deg: float,
    runout_ratio: float | None = None,
    room: EdgeRoom | None = None,
) -> Patch:
    """The patch for a break: its seam along the rings on the end, along the fibres on the face where they allow it.

    `runout_ratio` is n where the fibres run out at the broken edge by 1:n towards the inner part of the board, `room` what
    else is cut at that edge: the seam leans more to run out before a cut-out, if any lean does. Raises LayoutError for a
    break that is no part of the board.
    """
    if lost.depth_mm > thickness_mm + _SLACK_MM:
        problem = f"the break is {lost.depth_mm:g} mm deep in a board {thickness_mm:g} mm thick"
        raise LayoutError(problem, remedy="at most its thickness would do")
    least_lean = SEAM_LEAN if runout_ratio is None else max(SEAM_LEAN, 1 / runout_ratio)
    leans = (least_lean, *(lean for lean in STEEPER_LEANS if lean > least_lean))
    patches = (_leaning(lost, thickness_mm=thickness_mm, ring_deg=ring_deg, lean=lean) for lean in leans)
    first = next(patches)
    if room is None:
        return first
    return next((patch for patch in (first, *patches) if patch.fits(room.whole_mm(patch.widest_mm))), first)


def _leaning(lost: Break, *, thickness_mm: float, ring_deg: float, lean: float) -> Patch:
    """The patch whose seam leaves the fibres so fast, 1 being 45 degrees."""

    def patch_at(seam_deg: float) -> Patch:
        angle = math.radians(seam_deg)
        a, b = math.sin(angle), -math.cos(angle)  # square to (cos, sin)
        if a < 0:
            a, b = -a, -b  # it points into the board
        s = a * lean
        c = max(a * x + b * z + s * y for x, y, z in lost.corners) + SEAM_CLEAR_MM * math.sqrt(a * a + b * b + s * s)
        return Patch(lost=lost, thickness_mm=thickness_mm, ring_deg=ring_deg, seam_deg=seam_deg, a=a, b=b, s=s, c=c)

    tried = (patch_at(seam_deg) for seam_deg in _seams_deg(ring_deg))
    return next((patch for patch in tried if patch.widest_mm <= MOST_REACH * lost.width_mm), patch_at(90.0))


def _seams_deg(ring_deg: float) -> Iterator[float]:
    """Angles that the seam may have on the end, best first: the rings' own, then ever steeper."""
    folded = math.remainder(ring_deg, 180.0)  # a line at 120 degrees is one at -60
    signs = (1.0, -1.0) if folded == 0 else (math.copysign(1.0, folded),)
    yield from (sign * abs(folded) for sign in signs if folded)
    yield from (sign * whole for whole in range(math.floor(abs(folded)) + 1, 90) for sign in signs)


def break_on(lost: Break, face: str, thickness_mm: float) -> Polygon:
    """The break as a face shows it: 'end' in (x, z), 'outside' and 'inside' in (x, y), 'edge' in (z, y)."""
    w, d, length = lost.width_mm, lost.depth_mm, lost.length_mm
    match face:
        case "end":
            return shapely.box(0.0, 0.0, w, d)
        case "edge":
            return shapely.box(0.0, 0.0, d, length)
        case "inside" if d < thickness_mm - _SLACK_MM:
            return Polygon()
    return Polygon([(0.0, 0.0), (w, 0.0), (0.0, length)]) if lost.chip else shapely.box(0.0, 0.0, w, length)


def patch_advice(  # noqa: PLR0913 - keywords, each a fact of the break or of its board
    patch: Patch,
    wood: Wood,
    *,
    board_width_mm: float | None = None,
    rings_given: bool = True,
    hand: str = "left",
    cut_away: bool = False,
    room: EdgeRoom | None = None,
) -> Advice:
    """What to do about a broken corner, with the size of offcut to look for; `cut_away`: the joint takes that wood anyway;
    `room`: what else is cut in the board at that edge."""
    lost = patch.lost
    sizes = {"width": both(lost.width_mm), "length": both(lost.length_mm), "depth": both(lost.depth_mm)}
    seam = "seam_square" if not rings_given else "seam_across" if patch.turn_deg > 0 else "seam_along"
    return Advice(
        trouble=TEXTS("trouble", hand=hand, wood=wood.name, **sizes),
        method="leave it: the joint takes it" if cut_away else "patch",
        looks=TEXTS("cut_away.looks") if cut_away else TEXTS("looks", seam=TEXTS(seam)),
        glue=TEXTS("glue"),
        steps=TEXTS.rows("cut_away.steps") if cut_away else (TEXTS("chip"), *TEXTS.rows("steps"), TEXTS("relaid")),
        cautions=cautions("chisels") if cut_away else cautions("chisels", "glues", "ca", "clamps"),
        figures=tuple(_figures(patch)),
        findings=()
        if cut_away
        else (
            *_findings(patch, wood, board_width_mm, rings_given=rings_given),
            *(_room_findings(patch, room) if room is not None else ()),
        ),
    )


def _room_findings(patch: Patch, room: EdgeRoom) -> Iterator[Finding]:
    place = Place(kind="board", part="broken corner")
    whole_mm = room.whole_mm(patch.widest_mm)
    if whole_mm is not None:
        sizes = {"whole": both(whole_mm), "runs": both(round(patch.longest_mm, 1))}
        measured = {"measured": patch.longest_mm, "limit": round(whole_mm - CLEAR_OF_CUTOUT_MM, 3)}
        if not patch.fits(whole_mm):
            yield PATCH_ROOM.said(Level.STOP, place, **TEXTS.finding("room_stop", **sizes), **measured)
        elif any(abs(patch.lean - lean) < _SLACK_MM for lean in STEEPER_LEANS):
            text = TEXTS.finding("room_note", ratio=1 / patch.lean, **sizes)
            yield PATCH_ROOM.said(Level.NOTE, place, **text, **measured)
    if any(start < patch.widest_mm for start in room.grooves_mm):
        yield PATCH_ROOM.said(Level.NOTE, place.within("groove"), **TEXTS.finding("grooved"))


def _figures(patch: Patch) -> Iterator[RepairFigure]:
    worked_out = "worked out from the break; allowances: ours"
    along, across, thick = patch.offcut_mm
    rows = {
        "seam on the end, from the edge: outside face": patch.reach_mm(0.0),
        "seam on the end, from the edge: inside face": patch.reach_mm(patch.thickness_mm),
        "seam along the edge, from the end: outside face": patch.length_mm(0.0),
        "seam along the edge, from the end: inside face": patch.length_mm(patch.thickness_mm),
        "offcut, at least: along the grain": along,
        "offcut, at least: across the grain": across,
        "offcut, at least: thick": thick,
    }
    yield from figures(worked_out, {what: value for what, value in rows.items() if value > 0})
    what = "seam to the outside face, on the end"
    yield RepairFigure(what=what, value=patch.seam_deg, unit="degrees", source=worked_out)
    allowances = {
        "cut keeps from the break by": SEAM_CLEAR_MM,
        "patch stands over the edge by": OVER_MM,
        "patch stands over either face by": FACE_OVER_MM,
        "patch is longer at the end by": LONG_MM,
        "for sawing and planing, in length and width": OFFCUT_MM,
    }
    yield from figures(OURS, allowances)


def _findings(patch: Patch, wood: Wood, board_width_mm: float | None, *, rings_given: bool) -> Iterator[Finding]:
    place = Place(kind="board", part="broken corner")
    if wood.kind is WoodKind.PLYWOOD:
        yield PATCH_WOOD.said(Level.STOP, place, **TEXTS.finding("plywood"))
    if board_width_mm is None:
        yield PATCH_SHARE.not_checked(place, **TEXTS.unchecked("no_width"))
    elif breach := PATCH_SHARE.breach(patch.widest_mm / board_width_mm):
        wide = both(patch.widest_mm / (PATCH_SHARE.warn or 1.0))
        yield breach.finding(place, **TEXTS.finding(f"size_{breach.level}", share=breach.measured, wide=wide))
    if not rings_given:
        yield RING_TURN.not_checked(place, **TEXTS.unchecked("no_rings"))
    elif breach := RING_TURN.breach(patch.turn_deg):
        yield breach.finding(place, **TEXTS.finding("rings", ring=patch.ring_deg))
