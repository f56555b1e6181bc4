"""The stock itself against the air: wetter or drier than its home will make it, and what its thickness does at corners."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from dovelayout.change import changes_of
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement.rules import AIR, STEP, WET
from dovelayout.joints.board import Board, Rings
from dovelayout.joints.moving import (
    Axis,
    assumption,
    home_moisture_pct,
    moisture,
    movement,
    shop_moisture_pct,
    swing,
    unknown,
)
from dovelayout.place import Place
from dovelayout.shop import Shop

THE_AIR = Place(kind="the shop's air")


def check_air(shop: Shop, boards: Iterable[Board]) -> Iterator[Finding]:
    """Whether the shop's air while fitting is one that the home has as well; where it isn't said, what is assumed."""
    if shop.home_humidity_pct is None:
        return
    if shop.built_at_pct is None:
        if assumption(shop) and any(board.moisture_pct is None and _moves(board, shop) for board in boards):
            fix = "give the air while it is fitted (built_at), or the moisture that a meter shows of each board"
            yield AIR.said(Level.NOTE, THE_AIR, assumption(shop), fix=fix)
        return
    built = shop_moisture_pct(shop.built_at_pct, shop)
    driest, dampest = (home_moisture_pct(humidity, shop) for humidity in shop.home_humidity_pct)
    outside = max(built - dampest, driest - built)
    level, limit = AIR.judge(outside)
    if level is Level.OK:
        return
    damper = built > dampest
    near_pct = shop.home_humidity_pct[1 if damper else 0]
    yield Finding(
        check=AIR.check,
        level=level,
        place=THE_AIR,
        measured=round(outside, 2),
        limit=limit,
        unit=AIR.unit,
        message=f"wood fitted at {shop.built_at_pct:g} % relative humidity holds {built:.1f} % moisture, "
        f"{'damper' if damper else 'drier'} than its home ever makes it ({driest:.1f} to {dampest:.1f} %): all of the "
        "movement goes one way",
        fix=f"let stock and parts come to air of {near_pct:g} % before they are fitted (weigh a piece: it is there when "
        "it loses no more)",
        source=AIR.source,
    )


def _moves(board: Board, shop: Shop) -> bool:
    swings = (swing(board, shop, axis) for axis in Axis)
    return any(known is not None and known.most_share > 0 for known in swings)


def check_moisture(board: Board, shop: Shop) -> Iterator[Finding]:
    """Whether a metered board is wetter or drier than its home will ever make it."""
    at = moisture(board, shop)
    if at is None or board.moisture_pct is None:
        return
    outside = max(board.moisture_pct - at.dampest_pct, at.driest_pct - board.moisture_pct)
    level, limit = WET.judge(outside)
    if level is Level.OK:
        return
    wetter = board.moisture_pct > at.dampest_pct
    # to a tenth on the right side
    near_pct = int(at.dampest_pct * 10) / 10 if wetter else (int(at.driest_pct * 10) + 1) / 10
    wide, thick = (movement(board, shop, axis) for axis in Axis)
    if wide is None or thick is None:
        then = f"how far it moves isn't known for {board.wood.name}"
    elif wetter:
        then = f"it loses up to {wide.shrinks_mm:.1f} mm of its width and {thick.shrinks_mm:.2f} mm of its thickness"
    else:
        then = f"it gains up to {wide.grows_mm:.1f} mm in width and {thick.grows_mm:.2f} mm in thickness"
    yield Finding(
        check=WET.check,
        level=level,
        place=Place(kind="board", name=board.name, part="moisture"),
        measured=round(outside, 2),
        limit=limit,
        unit=WET.unit,
        message=f"{board.name} was metered at {board.moisture_pct:g} % and its home keeps wood between "
        f"{at.driest_pct:.1f} and {at.dampest_pct:.1f} %: {then}, all one way",
        fix=f"stack it in stickers until the meter says {near_pct:g} %, and only then plane it to size",
        source=WET.source,
        changes=changes_of("board", board.name, {"moisture": near_pct}),
    )


def thickness_steps_mm(board: Board, shop: Shop) -> tuple[float, float] | None:
    """The least and the most that a thickness moves from the day it is fitted, by how its rings may lie, mm. None: not
    known."""
    swings = [swing(replace(board, rings=rings), shop, Axis.THICKNESS) for rings in (Rings.FLAT, Rings.QUARTER)]
    steps = [board.thickness_mm * known.most_share for known in swings if known is not None]
    return (min(steps), max(steps)) if len(steps) == len(swings) else None


def check_steps(boards: Iterable[Board], shop: Shop) -> Iterator[Finding]:
    """What the thickness of boards that meet at corners does to ends that were planed flush."""
    for board in boards:
        place = Place(kind="board", name=board.name, part="thickness")
        thick, steps = movement(board, shop, Axis.THICKNESS), thickness_steps_mm(board, shop)
        if thick is None or steps is None:
            if shop.home_humidity_pct is not None:
                yield not_checked(STEP.check, place, *unknown(board, shop))
            continue
        step_mm = max(thick.shrinks_mm, thick.grows_mm)
        level, limit = STEP.judge(step_mm)
        if level is Level.OK:
            continue
        middle_pct = (thick.moisture.driest_pct + thick.moisture.dampest_pct) / 2
        verb = "lose" if thick.shrinks_mm >= thick.grows_mm else "gain"
        yield Finding(
            check=STEP.check,
            level=level,
            place=place,
            measured=round(step_mm, 3),
            limit=limit,
            unit=STEP.unit,
            message=f"its {board.thickness_mm:g} mm {verb} {step_mm:.2f} mm with the season ({steps[0]:.2f} to "
            f"{steps[1]:.2f} by how the rings lie): ends planed flush at its corners stand proud or shy by that much, and "
            "come back. A larger step means stock wetter than assumed, or a cup",
            fix=f"plane the ends flush at about {middle_pct:.1f} % moisture, which halves it, and fill nothing: it closes "
            "again",
            source=STEP.source,
        )
