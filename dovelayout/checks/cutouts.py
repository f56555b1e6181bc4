"""Openings and channels in a board, judged before the clamps go on: what is left, and what breaks it.

A strip beside an opening is a beam held at both ends with a load at its middle, F = 8 sigma S / L; at the board's end its
grain runs across it and only the strength across the grain counts. The wall of a channel is a bracket on the channel's
floor, F = sigma S / d. At the joint a clamp bends the whole board at the cut-out's section, F = sigma S / a (elementary
mechanics). Strength: MOR times what is left of it at the angle of the grain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from dovelayout.checks.cutout_remedy import (
    change_of,
    first_of,
    moved_across,
    moved_along,
    narrower,
    shallower,
    smaller,
    words_of,
)
from dovelayout.checks.finding import OURS, Change, Finding, Level, not_checked
from dovelayout.checks.rule import Rule
from dovelayout.joints.board import Board, Cutout, End
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.wood.strength import bending_share

CHECK_JOINT = "cutout-joint"
CHECK_SECTION = "cutout-section"
CHECK_CLAMP = "cutout-clamp"
CHECK_LIGAMENT = "cutout-ligament"

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

JOINT_GAP = Rule(
    check=CHECK_JOINT,
    measures="wood between a joint's baseline and a cut-out",
    unit="mm",
    warn=10.0,
    stop=0.0,
    source=OURS,
)
SECTION = Rule(
    check=CHECK_SECTION,
    measures="share of the board's bending strength left at a cut-out",
    unit="share",
    warn=0.5,
    stop=0.2,
    source=OURS,
)
CLAMP = Rule(
    check=CHECK_CLAMP,
    measures="load on the joint that breaks the board at a cut-out behind it",
    unit="N",
    warn=CLAMP_N,
    stop=250.0,
    source=_STRENGTH,
)
LIGAMENT = Rule(
    check=CHECK_LIGAMENT,
    measures="load that breaks the strip left beside a cut-out",
    unit="N",
    warn=CLAMP_N,
    stop=250.0,
    source=_STRENGTH,
)
RULES = (JOINT_GAP, SECTION, CLAMP, LIGAMENT)

_LOUD = Level.WARN.rank


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What is left beside a cut-out: how wide it is, how long it runs free, and whether its grain runs across it."""

    where: str
    width_mm: float
    length_mm: float
    short_grained: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """How much of a board's length a corner takes at one end, and over which stretch of the width."""

    corner: str
    end: End
    across: Span
    taken_mm: float


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


def strips(board: Board, cutout: Cutout, taken: Sequence[Taking]) -> tuple[Strip, ...]:
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
            - max((row.taken_mm for row in _taken_at(cutout, end, taken)), default=0.0),
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
    """All findings on the cut-outs of these boards."""
    for board in boards:
        if board.cutouts and board.wood.mor_mpa is None:
            because = f"the bending strength of {board.wood.name} is not known"
            yield not_checked(CHECK_LIGAMENT, Place(kind="board", name=board.name, part="cut-outs"), because)
        taken = takings(board, joints) if board.cutouts else ()
        for number, cutout in enumerate(board.cutouts, 1):
            place = Place(kind="board", name=board.name, part="cut-out", number=number)
            yield from _joint_gap(board, number, taken, place)
            yield from _section(board, number, place)
            if board.wood.mor_mpa is not None:
                yield from _ligaments(board, number, taken, place, board.wood.mor_mpa)
                if not cutout.cut_after:
                    yield from _clamps(board, number, taken, place, board.wood.mor_mpa)


def _is_opening(board: Board, cutout: Cutout) -> bool:
    return board.thickness_mm - cutout.depth_mm <= OPENING_SHARE * board.thickness_mm + 1e-9


def _from_end_mm(board: Board, cutout: Cutout, end: End) -> float:
    if cutout.end is end:
        return cutout.from_end_mm
    return board.length_mm - cutout.from_end_mm - cutout.length_mm


def takings(board: Board, joints: Sequence[CornerJoint]) -> tuple[Taking, ...]:
    """What the corners take of this board's ends."""
    found = []
    for joint in joints:
        for part, shift_mm in ((joint.spec.tails, 0.0), (joint.spec.pins, joint.pin_offset_mm)):
            if part.board.name != board.name:
                continue
            faces = joint.end_faces()[0 if part is joint.spec.tails else 1]
            lip_mm = 0.0 if faces.lip is None else faces.lip.overhang_mm
            across = Span(joint.covers.start_mm - shift_mm, joint.covers.end_mm - shift_mm)
            found.append(Taking(corner=joint.name, end=part.end, across=across, taken_mm=faces.baseline_mm + lip_mm))
    return tuple(found)


def _taken_at(cutout: Cutout, end: End, taken: Sequence[Taking]) -> Iterator[Taking]:
    """Those on that end which the cut-out lies behind."""
    far_mm = cutout.from_edge_mm + cutout.width_mm
    for row in taken:
        if row.end is end and cutout.from_edge_mm < row.across.end_mm and far_mm > row.across.start_mm:
            yield row


def _behind(board: Board, cutout: Cutout, taken: Sequence[Taking]) -> Iterator[_Behind]:
    for end in End:
        away_mm = _from_end_mm(board, cutout, end)
        for row in _taken_at(cutout, end, taken):
            yield _Behind(
                corner=row.corner,
                gap_mm=away_mm - row.taken_mm,
                arm_mm=max(1e-6, away_mm + cutout.length_mm / 2 - row.taken_mm / 2),
            )


def _joint_gap(board: Board, number: int, taken: Sequence[Taking], place: Place) -> Iterator[Finding]:
    def nearest(cutout: Cutout) -> _Behind | None:
        return min(_behind(board, cutout, taken), key=lambda row: round(row.gap_mm, 6), default=None)

    cutout = board.cutouts[number - 1]
    near = nearest(cutout)
    if near is None:
        return
    level, limit = JOINT_GAP.judge(near.gap_mm)
    if level is Level.OK:
        return
    moved = first_of(
        moved_along(board, cutout), lambda other: _quiet(JOINT_GAP, nearest(other), lambda row: row.gap_mm)
    )
    said = f"leaves {near.gap_mm:.1f} mm"
    if near.gap_mm < 0:
        said = f"runs {-near.gap_mm:.1f} mm into the joint and leaves none"
    yield _finding(
        JOINT_GAP,
        level,
        limit,
        near.gap_mm,
        place=place.within(f"behind corner {near.corner}"),
        message=f"it {said} of wood behind the baseline; short grain there breaks out when the joint is driven or clamped",
        fix="further from the end",
        spare="cut the channel shorter, or stop it short of the joint's stretch of the board",
        change=change_of(board, number, moved),
    )


def _section(board: Board, number: int, place: Place) -> Iterator[Finding]:
    cutout = board.cutouts[number - 1]
    share = section_share(board, cutout)
    level, limit = SECTION.judge(share)
    if level is Level.OK:
        return
    candidates = shallower(board, cutout) if cutout.depth_mm < board.thickness_mm else narrower(cutout)
    mended = first_of(candidates, lambda other: SECTION.judge(section_share(board, other))[0].rank < _LOUD)
    yield _finding(
        SECTION,
        level,
        limit,
        share,
        place=place,
        message=f"{share:.0%} of the board's bending strength is left there. Glue a support block into it before "
        f"the clamps go on, {cutout.length_mm:g} mm by {cutout.width_mm:g} mm by {cutout.depth_mm:g} mm deep, grain with the "
        "board's; or slip one in dry and take it out after",
        fix="less of the board taken away",
        spare="a thicker or a wider board",
        change=change_of(board, number, mended),
    )


def _clamps(board: Board, number: int, taken: Sequence[Taking], place: Place, mor_mpa: float) -> Iterator[Finding]:
    cutout = board.cutouts[number - 1]
    rows = [
        (clamp_load_n(board, cutout, row.arm_mm, mor_mpa), row)
        for row in _behind(board, cutout, taken)
        if 0 <= row.gap_mm < BEHIND_JOINT * board.thickness_mm
    ]
    if not rows:
        return
    load_n, row = min(rows, key=lambda pair: round(pair[0], 6))
    level, limit = CLAMP.judge(load_n)
    if level is Level.OK:
        return
    yield _finding(
        CLAMP,
        level,
        limit,
        load_n,
        place=place.within(f"behind corner {row.corner}"),
        message=f"about {load_n:.0f} N on the joint breaks the board there, and a light clamp turned by hand presses with "
        f"{CLAMP_N:.0f} N. Until the glue has set, keep a support block under it as wide as the board",
        fix="the cut-out made after the glue-up",
        spare="",
        change=change_of(board, number, replace(cutout, cut_after=True)),
    )


def _ligaments(board: Board, number: int, taken: Sequence[Taking], place: Place, mor_mpa: float) -> Iterator[Finding]:
    def weakest(cutout: Cutout) -> tuple[float, Strip] | None:
        rows = [(strip_load_n(board, cutout, strip, mor_mpa), strip) for strip in strips(board, cutout, taken)]
        return min(rows, key=lambda row: round(row[0], 6), default=None)

    cutout = board.cutouts[number - 1]
    found = weakest(cutout)
    if found is None:
        return
    load_n, strip = found
    level, limit = LIGAMENT.judge(load_n)
    if level is Level.OK:
        return
    candidates = (*moved_across(board, cutout), *moved_along(board, cutout), *smaller(cutout))
    mended = first_of(candidates, lambda other: _quiet(LIGAMENT, weakest(other), lambda row: row[0]))
    grain = ", its grain running across it," if strip.short_grained else ""
    yield _finding(
        LIGAMENT,
        level,
        limit,
        load_n,
        place=place.within(strip.where),
        message=f"the strip of {strip.width_mm:g} mm{grain} breaks under about {load_n:.0f} N; a rail forced across the "
        f"opening or a clamp over it does that. Ease the rail until it goes in by hand, and keep a block in the opening "
        "while the clamps are on",
        fix="more wood left beside it",
        spare="a support block glued along the strip, grain with the board's, or the cut-out made after the glue-up",
        change=change_of(board, number, mended),
    )


def _quiet(rule: Rule, row: Any, measure: Callable[[Any], float]) -> bool:
    return row is None or rule.judge(measure(row))[0].rank < _LOUD


def _finding(
    rule: Rule,
    level: Level,
    limit: float | None,
    measured: float,
    *,
    place: Place,
    message: str,
    fix: str,
    spare: str,
    change: Change | None,
) -> Finding:
    return Finding(
        check=rule.check,
        level=level,
        place=place,
        measured=round(measured, 4),
        limit=limit,
        unit=rule.unit,
        message=message,
        fix=spare if change is None else f"{fix}: {words_of(change)}",
        source=rule.source,
        changes=() if change is None else (change,),
    )
