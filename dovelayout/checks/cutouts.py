"""Openings and channels in a board, judged before the clamps go on: what is left, and what breaks it.

A strip beside an opening is a beam held at both ends with a load at its middle, F = 8 sigma S / L; at the board's end its
grain runs across it and only the strength across the grain counts. The wall of a channel is a bracket on the channel's
floor, F = sigma S / d. At the joint a clamp bends the whole board at the cut-out's section, F = sigma S / a (elementary
mechanics). Strength: MOR times what is left of it at the angle of the grain.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.checks.cutout_remedy import by_cutting, moved_across, moved_along, narrower, shallower, smaller
from dovelayout.checks.finding import Finding
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Board, Cutout, End
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.wood.strength import bending_share

CLAMP_N = 1000.0
"""Load of a light clamp turned by hand, or of a rail that is forced in; heavy bar clamps press several times as hard.
Ours."""

OPENING_SHARE = 0.2
"""A floor thinner than this share of the board holds no strip beside it: the cut-out counts as an opening; ours."""

BEHIND_JOINT = 5.0
"""A cut-out within so many thicknesses of a joint's baseline lies behind that joint; ours."""

_STRENGTH = (
    "beam and bracket; MOR: Wood Handbook Tables 5-3 and 5-5, share at an angle to the grain: its Eq 5-2; limits: ours"
)

JOINT_GAP = rule("cutout-joint", "wood between a joint's baseline and a cut-out", unit="mm", warn=10.0, stop=0.0)
SECTION = rule(
    "cutout-section", "share of the board's bending strength left at a cut-out", unit="share", warn=0.5, stop=0.2
)
CLAMP = rule(
    "cutout-clamp",
    "load on the joint that breaks the board at a cut-out behind it",
    unit="N",
    warn=CLAMP_N,
    stop=250.0,
    source=_STRENGTH,
)
LIGAMENT = rule(
    "cutout-ligament",
    "load that breaks the strip left beside a cut-out",
    unit="N",
    warn=CLAMP_N,
    stop=250.0,
    source=_STRENGTH,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What is left beside a cut-out: how wide it is, how long it runs free, and whether its grain runs across it."""

    where: str
    width_mm: float
    length_mm: float
    short_grained: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JointZone:
    """How much of a board's length a corner takes at one end, and over which stretch of the width."""

    corner: str
    end: End
    across: Span
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Behind:
    """A cut-out behind a joint: the wood between them, and how far its middle is behind the middle of the joint."""

    corner: str
    gap_mm: float
    arm_mm: float


def section_share(board: Board, cutout: Cutout) -> float:
    """Section modulus across the board at the cut-out, over that of the whole board: what stands full and the floor."""
    floor_mm = board.thickness_mm - cutout.depth_mm
    left = (board.width_mm - cutout.width_mm) * board.thickness_mm**2 + cutout.width_mm * floor_mm**2
    return left / (board.width_mm * board.thickness_mm**2)


def strips(board: Board, cutout: Cutout, zones: Sequence[JointZone]) -> tuple[Strip, ...]:
    """The strips along both edges and at both ends, the sockets and tails of a joint taken off those at the ends."""
    sides = (
        Strip(
            where="along the face edge",
            width_mm=cutout.from_edge_mm,
            length_mm=cutout.length_mm,
            short_grained=False,
        ),
        Strip(
            where="along the far edge",
            width_mm=board.width_mm - cutout.from_edge_mm - cutout.width_mm,
            length_mm=cutout.length_mm,
            short_grained=False,
        ),
    )
    ends = tuple(
        Strip(
            where=f"at the {end} end",
            width_mm=_from_end_mm(board, cutout, end)
            - max((row.length_mm for row in _zones_before(cutout, end, zones)), default=0.0),
            length_mm=cutout.width_mm,
            short_grained=True,
        )
        for end in End
    )
    # an edge that the cut-out runs out of has no strip; behind a joint that it runs into, cutout-joint speaks; and a
    # rail spreads the long walls of its channel, not those at the channel's ends
    least_mm = 0.0 if _is_opening(board, cutout) else max(cutout.length_mm, cutout.width_mm)
    return tuple(strip for strip in (*sides, *ends) if strip.width_mm > 1e-6 and strip.length_mm >= least_mm)


def strip_load_n(board: Board, cutout: Cutout, strip: Strip, mor_mpa: float) -> float:
    """Load in N that breaks a strip, the weaker of its two ways: beside an opening in the board's plane or out of it;
    beside a channel the wall that a tight rail spreads."""
    across_mpa = mor_mpa * bending_share(90.0)
    if not _is_opening(board, cutout):
        return across_mpa * strip.length_mm * strip.width_mm**2 / 6 / cutout.depth_mm
    strength_mpa = across_mpa if strip.short_grained else mor_mpa * bending_share(min(90.0, board.runout_deg))
    wide, thick = strip.width_mm, board.thickness_mm
    modulus_mm3 = min(thick * wide**2, wide * thick**2) / 6
    return 8 * strength_mpa * modulus_mm3 / strip.length_mm


def clamp_load_n(board: Board, cutout: Cutout, arm_mm: float, mor_mpa: float) -> float:
    """Load in N at the joint that breaks the board at the middle of a cut-out `arm_mm` behind it."""
    modulus_mm3 = section_share(board, cutout) * board.width_mm * board.thickness_mm**2 / 6
    return mor_mpa * bending_share(min(90.0, board.runout_deg)) * modulus_mm3 / arm_mm


def check_cutouts(boards: Iterable[Board], joints: Sequence[CornerJoint]) -> Iterator[Finding]:
    """All findings on the cut-outs of these boards, their remedies not yet tried."""
    for board in boards:
        mor_mpa = board.wood.mor_mpa
        if board.cutouts and mor_mpa is None:
            place = Place(kind="board", name=board.name, part="cut-outs")
            yield LIGAMENT.not_checked(place, f"the bending strength of {board.wood.name} is not known")
        zones = joint_zones(board, joints) if board.cutouts else ()
        for number, cutout in enumerate(board.cutouts, 1):
            one = _One(board=board, number=number, zones=zones)
            yield from _joint_gap(one)
            yield from _section(one)
            if mor_mpa is not None:
                yield from _ligaments(one, mor_mpa)
                if not cutout.cut_after:
                    yield from _clamps(one, mor_mpa)


def _is_opening(board: Board, cutout: Cutout) -> bool:
    return board.thickness_mm - cutout.depth_mm <= OPENING_SHARE * board.thickness_mm + 1e-9


def _from_end_mm(board: Board, cutout: Cutout, end: End) -> float:
    if cutout.end is end:
        return cutout.from_end_mm
    return board.length_mm - cutout.from_end_mm - cutout.length_mm


def joint_zones(board: Board, joints: Sequence[CornerJoint]) -> tuple[JointZone, ...]:
    """The stretches of this board's ends that corners take."""
    found = []
    for joint in joints:
        for part, shift_mm in ((joint.spec.tails, 0.0), (joint.spec.pins, joint.pin_offset_mm)):
            if part.board.name != board.name:
                continue
            faces = joint.end_faces()[0 if part is joint.spec.tails else 1]
            lip_mm = 0.0 if faces.lip is None else faces.lip.overhang_mm
            across = Span(joint.covers.start_mm - shift_mm, joint.covers.end_mm - shift_mm)
            found.append(
                JointZone(corner=joint.name, end=part.end, across=across, length_mm=faces.baseline_mm + lip_mm)
            )
    return tuple(found)


def _zones_before(cutout: Cutout, end: End, zones: Sequence[JointZone]) -> Iterator[JointZone]:
    """The joints at that end which the cut-out lies behind."""
    far_mm = cutout.from_edge_mm + cutout.width_mm
    for row in zones:
        if row.end is end and cutout.from_edge_mm < row.across.end_mm and far_mm > row.across.start_mm:
            yield row


@dataclass(frozen=True, slots=True, kw_only=True)
class _One:
    """One cut-out of a board, by its number, and what the joints take of the board."""

    board: Board
    number: int
    zones: Sequence[JointZone]

    @property
    def cutout(self) -> Cutout:
        return self.board.cutouts[self.number - 1]

    @property
    def place(self) -> Place:
        return Place(kind="board", name=self.board.name, part="cut-out", number=self.number)

    def behind(self, cutout: Cutout) -> Iterator[_Behind]:
        """The joints that it would lie behind."""
        for end in End:
            away_mm = _from_end_mm(self.board, cutout, end)
            for row in _zones_before(cutout, end, self.zones):
                yield _Behind(
                    corner=row.corner,
                    gap_mm=away_mm - row.length_mm,
                    arm_mm=max(1e-6, away_mm + cutout.length_mm / 2 - row.length_mm / 2),
                )

    def nearest(self, cutout: Cutout) -> _Behind | None:
        """Of those joints the one that leaves least wood."""
        return min(self.behind(cutout), key=lambda row: round(row.gap_mm, 6), default=None)

    def weakest(self, cutout: Cutout, mor_mpa: float) -> tuple[float, Strip] | None:
        """The strip beside it that breaks first, and the load in N that breaks it."""
        rows = [
            (strip_load_n(self.board, cutout, strip, mor_mpa), strip)
            for strip in strips(self.board, cutout, self.zones)
        ]
        return min(rows, key=lambda row: round(row[0], 6), default=None)


def _joint_gap(one: _One) -> Iterator[Finding]:
    def passes(cutout: Cutout) -> bool:
        near = one.nearest(cutout)
        return near is None or JOINT_GAP.breach(near.gap_mm) is None

    near = one.nearest(one.cutout)
    if near is None or not (breach := JOINT_GAP.breach(near.gap_mm)):
        return
    left = f"leaves {near.gap_mm:.1f} mm"
    if near.gap_mm < 0:
        left = f"runs {-near.gap_mm:.1f} mm into the joint and leaves none"
    yield breach.finding(
        one.place.within(f"behind corner {near.corner}"),
        f"it {left} of wood behind the baseline; short grain there breaks out when the joint is driven or clamped",
        fix="the channel cut shorter, or stopped short of the joint's stretch of the board",
        remedies=by_cutting(
            one.board,
            one.number,
            lambda: moved_along(one.board, one.cutout),
            passes=passes,
            words="further from the end: {}",
        ),
    )


def _section(one: _One) -> Iterator[Finding]:
    board, cutout = one.board, one.cutout
    share = section_share(board, cutout)
    if breach := SECTION.breach(share):
        yield breach.finding(
            one.place,
            f"{share:.0%} of the board's bending strength is left there. Glue a support block into it before the clamps go "
            f"on, {cutout.length_mm:g} mm by {cutout.width_mm:g} mm by {cutout.depth_mm:g} mm deep, grain with the board's; "
            "or slip one in dry and take it out after",
            fix="a thicker or a wider board",
            remedies=by_cutting(
                board,
                one.number,
                lambda: shallower(board, cutout) if cutout.depth_mm < board.thickness_mm else narrower(cutout),
                passes=lambda other: SECTION.breach(section_share(board, other)) is None,
                words="less of the board taken away: {}",
            ),
        )


def _clamps(one: _One, mor_mpa: float) -> Iterator[Finding]:
    board, cutout = one.board, one.cutout
    rows = [
        (clamp_load_n(board, cutout, row.arm_mm, mor_mpa), row)
        for row in one.behind(cutout)
        if 0 <= row.gap_mm < BEHIND_JOINT * board.thickness_mm
    ]
    load_n, row = min(rows, key=lambda pair: round(pair[0], 6), default=(math.inf, None))
    if row and (breach := CLAMP.breach(load_n)):
        after = replace(cutout, cut_after=True)
        yield breach.finding(
            one.place.within(f"behind corner {row.corner}"),
            f"about {load_n:.0f} N on the joint breaks the board there, and a light clamp turned by hand presses with "
            f"{CLAMP_N:.0f} N. Until the glue has set, keep a support block under it as wide as the board",
            remedies=by_cutting(board, one.number, lambda: [after], words="the cut-out made after the glue-up"),
        )


def _ligaments(one: _One, mor_mpa: float) -> Iterator[Finding]:
    def passes(cutout: Cutout) -> bool:
        row = one.weakest(cutout, mor_mpa)
        return row is None or LIGAMENT.breach(row[0]) is None

    board, cutout = one.board, one.cutout
    found = one.weakest(cutout, mor_mpa)
    if found is None or not (breach := LIGAMENT.breach(found[0])):
        return
    load_n, strip = found
    grain = ", its grain running across it," if strip.short_grained else ""
    yield breach.finding(
        one.place.within(strip.where),
        f"the strip of {strip.width_mm:g} mm{grain} breaks under about {load_n:.0f} N; a rail forced across the opening or a "
        "clamp over it does that. Plane the rail until it goes in by hand, and keep a block in the opening while the clamps "
        "are on",
        fix="a support block glued along the strip, grain with the board's, or the cut-out made after the glue-up",
        remedies=by_cutting(
            board,
            one.number,
            lambda: itertools.chain(moved_across(board, cutout), moved_along(board, cutout), smaller(cutout)),
            passes=passes,
            words="more wood left beside it: {}",
        ),
    )
