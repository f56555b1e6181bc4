"""Two woods glued together over one width, at a corner or in a housing: both move, and only the difference counts."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from dovelayout.casework.across import GIVES_MM
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement.rules import NEIGHBOURS
from dovelayout.checks.remedy import mm_text
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import swing, swing_between, unknown
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.place import Place
from dovelayout.shop import Shop


def apart_mm(one: Board, other: Board, over_mm: float, shop: Shop) -> float | None:
    """How far two boards part company over a width that they share, at worst; None: not known."""
    swings = swing_between(one, other, shop)
    return None if swings is None else swings.most_share * over_mm


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
        yield from _judged(place, pair.tails, pair.pins, pair.over_mm, shop)


def check_slide_woods(joints: Iterable[SlidingJoint], shop: Shop) -> Iterator[Finding]:
    """Keys that move differently from their hosts, where they are glued over more than gives."""
    for joint in joints:
        zone_mm = joint.spec.glue_zone_mm
        over_mm = joint.length_mm if zone_mm is None else min(zone_mm, joint.length_mm)
        if over_mm <= GIVES_MM:
            continue
        table, name = joint.spec.origin
        (change,) = changes_of(table, name, {"glue_zone": mm_text(GIVES_MM)})
        place = Place(kind="divider", name=joint.name, part=f"{joint.key.name} in {joint.spec.host.label}")
        yield from _judged(place, joint.host, joint.key, over_mm, shop, change)


def _judged(
    place: Place, one: Board, other: Board, over_mm: float, shop: Shop, change: Change | None = None
) -> Iterator[Finding]:
    difference_mm = apart_mm(one, other, over_mm, shop)
    if difference_mm is None:
        if shop.home_humidity_pct is not None and one.wood != other.wood:
            blind = next(board for board in (one, other) if swing(board, shop) is None)
            yield not_checked(NEIGHBOURS.check, place, *unknown(blind, shop))
        return
    level, limit = NEIGHBOURS.judge(difference_mm)
    if level is Level.OK:
        return
    widest_mm = math.floor((NEIGHBOURS.warn or 0) / difference_mm * over_mm)
    alike = "boards of one wood, sawn alike and of the same moisture"
    yield Finding(
        check=NEIGHBOURS.check,
        level=level,
        place=place,
        measured=round(difference_mm, 3),
        limit=limit,
        unit=NEIGHBOURS.unit,
        message=f"{one.name} ({_sort(one)}) and {other.name} ({_sort(other)}) part company by {difference_mm:.1f} mm over "
        f"the {over_mm:.0f} mm that they are glued together",
        fix=f"at most {widest_mm} mm glued together, or {alike}"
        if change is None
        else f"glue on the front {GIVES_MM:g} mm alone, or {alike}",
        source=NEIGHBOURS.source,
        changes=() if change is None else (change,),
    )


def _sort(board: Board) -> str:
    """'black cherry, flat, metered at 9 %'."""
    metered = "" if board.moisture_pct is None else f", metered at {board.moisture_pct:g} %"
    return f"{board.wood.name}, {board.rings}{metered}"
