"""Two woods glued together over one width, at a corner or in a housing: both move, and only the difference counts."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from dovelayout.casework.across import GIVES_MM
from dovelayout.checks.finding import Finding
from dovelayout.checks.movement.ladder import HANDBOOK
from dovelayout.checks.remedy import Remedies, by_setting, in_turn, mm_text, no_remedies
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import swing, swing_between, unknown
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.texts import Texts

TEXTS = Texts("checks.movement", "findings")

NEIGHBOURS = rule(
    "two-woods",
    "difference of two woods over the width that they share",
    unit="mm",
    warn=1.5,
    below=False,
    source=HANDBOOK,
)

LessGlue = Callable[[float], Remedies]
"""Remedies that leave no more than so many mm glued together."""


def apart_mm(one: Board, other: Board, over_mm: float, shop: Shop) -> float | None:
    """How far two boards part company over a width that they share, at worst; None: not known."""
    swings = swing_between(one, other, shop)
    return None if swings is None else swings.most_share * over_mm


def most_together_mm(over_mm: float, moves_mm: float) -> float:
    """The widest that may be glued together of boards that part company by so much over a width."""
    return (NEIGHBOURS.warn or 0.0) / moves_mm * over_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two boards that meet at corners, the corners' names, and the most that they share of a width."""

    tails: Board
    pins: Board
    names: tuple[str, ...]
    over_mm: float


def meetings(joints: Iterable[CornerJoint]) -> Iterator[Meeting]:
    """Each pair of boards that meet, once."""
    pairs: dict[tuple[Board, Board], list[CornerJoint]] = {}
    for joint in joints:
        pairs.setdefault((joint.tail_board, joint.pin_board), []).append(joint)
    for (tails, pins), meeting in pairs.items():
        yield Meeting(
            tails=tails,
            pins=pins,
            names=tuple(joint.name for joint in meeting),
            over_mm=max(joint.covers.width_mm for joint in meeting),
        )


def check_corner_woods(joints: Iterable[CornerJoint], shop: Shop) -> Iterator[Finding]:
    """Corners whose two boards move differently, each pair of boards once."""
    for pair in meetings(joints):
        boards = f"{pair.tails.name} and {pair.pins.name}"
        place = Place(kind="corner", name=pair.names[0], also=tuple(pair.names[1:]), part=boards)
        yield from check_woods(place, (pair.tails, pair.pins), pair.over_mm, shop)


def check_slide_woods(joints: Iterable[SlidingJoint], shop: Shop) -> Iterator[Finding]:
    """Keys that move differently from their hosts, where they are glued over more than gives."""
    for joint in joints:
        zone_mm = joint.spec.glue_zone_mm
        over_mm = joint.length_mm if zone_mm is None else min(zone_mm, joint.length_mm)
        if over_mm > GIVES_MM:
            place = Place(kind="divider", name=joint.name, part=f"{joint.key.name} in {joint.spec.host.label}")
            yield from check_woods(place, (joint.host, joint.key), over_mm, shop, less_glue=_front_glue(joint))


def _front_glue(joint: SlidingJoint) -> LessGlue:
    zone = {"glue_zone": mm_text(GIVES_MM)}
    return lambda _: by_setting(*joint.spec.origin, zone, TEXTS("woods.front", over=GIVES_MM))


def check_woods(
    place: Place, boards: tuple[Board, Board], over_mm: float, shop: Shop, *, less_glue: LessGlue | None = None
) -> Iterator[Finding]:
    """Two boards that are glued together over a width; `less_glue`: None where no key of the job says how far."""
    one, other = boards
    moves_mm = apart_mm(one, other, over_mm, shop)
    if moves_mm is None:
        if shop.home_humidity_pct is not None and one.wood != other.wood:
            blind = next(board for board in boards if swing(board, shop) is None)
            yield NEIGHBOURS.not_checked(place, *unknown(blind, shop))
        return
    if breach := NEIGHBOURS.breach(moves_mm):
        widest_mm = math.floor(most_together_mm(over_mm, moves_mm))
        less, alike = TEXTS("woods.less", over=widest_mm), TEXTS("woods.fix")
        yield breach.finding(
            place,
            TEXTS("woods.message", one=_sort(one), other=_sort(other), moves=f"{moves_mm:.1f} mm", over=over_mm),
            fix=f"{less}, or {alike}" if less_glue is None else alike,
            remedies=in_turn(no_remedies if less_glue is None else less_glue(widest_mm), _sawn_alike(one, other)),
            beside=True,
        )


def _sawn_alike(one: Board, other: Board) -> Remedies:
    """The second of two boards of one wood sawn as the first is."""
    if one.wood != other.wood or one.rings == other.rings:
        return no_remedies
    return by_setting("board", other.name, {"rings": one.rings.value}, f"{other.name} {one.rings.sawn}")


def _sort(board: Board) -> str:
    """'front (black cherry, flat, metered at 9 %)'."""
    metered = "" if board.moisture_pct is None else f", metered at {board.moisture_pct:g} %"
    return f"{board.name} ({board.wood.name}, {board.rings}{metered})"
