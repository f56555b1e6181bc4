"""The stock itself against the air: wetter or drier than its home will make it, and what its thickness does at corners."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from dovelayout.change import changes_of
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.movement.ladder import HANDBOOK
from dovelayout.checks.rule import rule
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
from dovelayout.texts import Texts

TEXTS = Texts("checks.movement", "findings")

STEP = rule(
    "thickness-step",
    "change of a board's thickness that shows at its corners",
    unit="mm",
    note=0.15,
    warn=0.5,
    below=False,
    source=HANDBOOK,
)
WET = rule(
    "stock-moisture",
    "moisture content of the stock outside what its home will make of it",
    unit="points",
    note=0.5,
    warn=2.0,
    below=False,
    source=HANDBOOK,
)
AIR = rule(
    "shop-air",
    "moisture content that the shop's air gives, outside what the home's will",
    unit="points",
    note=0.5,
    warn=2.0,
    below=False,
    source=HANDBOOK,
)

THE_AIR = Place(kind="the shop's air")


def check_air(shop: Shop, boards: Iterable[Board]) -> Iterator[Finding]:
    """Whether the shop's air while fitting is one that the home has as well; where it isn't said, what is assumed."""
    if shop.home_humidity_pct is None:
        return
    if shop.built_at_pct is None:
        if assumption(shop) and any(board.moisture_pct is None and _moves(board, shop) for board in boards):
            yield AIR.said(Level.NOTE, THE_AIR, assumption(shop), fix=TEXTS("air.unknown"))
        return
    built = shop_moisture_pct(shop.built_at_pct, shop)
    driest, dampest = (home_moisture_pct(humidity, shop) for humidity in shop.home_humidity_pct)
    if breach := AIR.breach(max(built - dampest, driest - built)):
        then, home_pct = ("damper", max) if built > dampest else ("drier", min)
        air = {"humidity": shop.built_at_pct, "built": built, "driest": driest, "dampest": dampest}
        texts = TEXTS.finding("air", then=then, home=home_pct(shop.home_humidity_pct), **air)
        yield breach.finding(THE_AIR, **texts)


def _moves(board: Board, shop: Shop) -> bool:
    swings = (swing(board, shop, axis) for axis in Axis)
    return any(known is not None and known.most_share > 0 for known in swings)


def check_moisture(board: Board, shop: Shop) -> Iterator[Finding]:
    """Whether a metered board is wetter or drier than its home will ever make it."""
    at, metered = moisture(board, shop), board.moisture_pct
    if at is None or metered is None:
        return
    breach = WET.breach(max(metered - at.dampest_pct, at.driest_pct - metered))
    if breach is None:
        return
    wetter = metered > at.dampest_pct
    # to a tenth on the right side
    near_pct = int(at.dampest_pct * 10) / 10 if wetter else (int(at.driest_pct * 10) + 1) / 10
    wide, thick = (movement(board, shop, axis) for axis in Axis)
    if wide is None or thick is None:
        then = TEXTS("wet.unknown", part=board.wood.name)
    elif wetter:
        then = TEXTS("wet.loses", loses=wide.shrinks_mm, step=thick.shrinks_mm)
    else:
        then = TEXTS("wet.gains", grows=wide.grows_mm, step=thick.grows_mm)
    home = {"driest": at.driest_pct, "dampest": at.dampest_pct, "home": near_pct}
    texts = TEXTS.finding("wet", part=board.name, built=metered, then=then, **home)
    place = Place(kind="board", name=board.name, part="moisture")
    yield breach.finding(place, **texts, changes=changes_of("board", board.name, {"moisture": near_pct}))


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
                yield STEP.not_checked(place, *unknown(board, shop))
        elif breach := STEP.breach(max(thick.shrinks_mm, thick.grows_mm)):
            middle_pct = (thick.moisture.driest_pct + thick.moisture.dampest_pct) / 2
            verb = "lose" if thick.shrinks_mm >= thick.grows_mm else "gain"
            sizes = {"thick": board.thickness_mm, "step": breach.measured, "low": steps[0], "high": steps[1]}
            yield breach.finding(place, **TEXTS.finding("step", verb=verb, middle=middle_pct, **sizes))
