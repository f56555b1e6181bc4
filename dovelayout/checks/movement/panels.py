"""Panels, bottoms, lids and tops: what jams or drops out of its grooves, and what won't stay flat."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import Any

from dovelayout.casework.panel import Glued, Panel
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement.rules import (
    CHECK_GLUED,
    CHECK_JAM,
    CHECK_PLAY,
    FIT_DRY,
    FIT_WET,
    HOLD,
    JAM,
    NARROW_MM,
    PANEL_GLUED,
    PIECE,
    PLAY_MARGIN_MM,
    RIGID,
    THIN,
    WET_FACES_MM,
)
from dovelayout.checks.remedy import mm_text
from dovelayout.joints.board import Board, Rings
from dovelayout.joints.moving import Axis, Swing, swing, unknown
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.species import WoodKind

USUAL_GROOVE_MM = 6.0
"""Depth that is tried first where a panel gets grooves (common practice, no source)."""

DEEPEST_GROOVE_MM = 15.0
"""Deeper grooves are not proposed; ours."""


def check_panel(panel: Panel, shop: Shop, braced: Collection[Board] = ()) -> Iterator[Finding]:
    """All findings on one panel; `braced` are the boards that battens or ends across them keep flat."""
    swings = panel.swing(shop)
    if swings is None:
        blind = (panel.board, *(() if panel.frame is None else (panel.frame,)))
        board = next(b for b in blind if swing(b, shop) is None)
        check = CHECK_GLUED if panel.glued is Glued.ALL_ROUND else CHECK_JAM
        yield not_checked(check, place(panel), *unknown(board, shop))
    elif panel.glued is Glued.ALL_ROUND:
        yield from _glued(panel, swings)
    elif panel.groove_mm is not None:
        yield from _play(panel, swings)
        yield from _jam(panel, swings)
        yield from _hold(panel, swings)
    yield from _fit(panel, shop)
    yield from _flat(panel, panel.board in braced)


def place(panel: Panel, what: str = "") -> Place:
    """The place of a finding: 'panel bottom, grooves'."""
    return Place(kind="panel", name=panel.name, part=what)


def left_mm(panel: Panel, swings: Swing) -> float:
    """Play left in the dampest month."""
    return panel.left_mm(panel.board.width_mm * swings.grows_share)


def hold_mm(panel: Panel, swings: Swing) -> float:
    """Reach into the groove left in the driest month."""
    return panel.hold_mm(panel.board.width_mm * swings.shrinks_share)


def eased(panel: Panel, swings: Swing) -> Panel | None:
    """The panel with the play, the hold and the grooves that work, as little changed as may be; None: none does."""
    grows_mm = panel.board.width_mm * swings.grows_share
    play_mm = math.ceil((grows_mm + PLAY_MARGIN_MM) * 10 - 1e-9) / 10
    # a panel made wider for deeper grooves grows a little more
    plays = [play for play in (panel.play_mm, play_mm, play_mm + 0.5) if play is not None]
    groove_mm = panel.groove_mm or USUAL_GROOVE_MM
    ways = [Glued.NOT if panel.glued is Glued.ALL_ROUND else panel.glued, Glued.MIDDLE]
    steps = math.ceil((DEEPEST_GROOVE_MM - groove_mm) * 2)
    for deeper in range(max(1, steps + 1)):
        for glued in dict.fromkeys(ways):
            for play in plays:
                tried = panel.varied(groove_mm=groove_mm + deeper / 2, play_mm=play, glued=glued)
                tried = tried.varied(board=replace(panel.board, width_mm=_width_mm(panel, tried)))
                if all(rule.judge(value)[0] is Level.OK for rule, value in _of(tried, swings)):
                    return tried
    return None


def _of(panel: Panel, swings: Swing) -> tuple[tuple[Any, float], ...]:
    return ((JAM, left_mm(panel, swings)), (HOLD, hold_mm(panel, swings)))


def holding_words(panel: Panel) -> str:
    """How a panel sits, in words."""
    held = {
        Glued.NOT: "loose",
        Glued.MIDDLE: "held in its middle alone",
        Glued.EDGE: "glued at one edge",
        Glued.ALL_ROUND: "glued all round",
    }[panel.glued]
    if panel.groove_mm is None:
        return "lying free" if panel.glued is Glued.NOT else held
    play = "" if panel.play_mm is None else f", {panel.play_mm:g} mm of play in both together as it is fitted"
    return f"{held} in grooves {panel.groove_mm:g} mm deep{play}"


def _changes(panel: Panel, better: Panel) -> tuple[Change, ...]:
    values: dict[str, Any] = {"glued": better.glued.value}
    if better.groove_mm is not None and better.play_mm is not None:
        values |= {"groove": mm_text(better.groove_mm), "play": mm_text(better.play_mm)}
    changes = [*changes_of("panel", panel.name, values)]
    if better.board.width_mm != panel.board.width_mm:
        width_mm = better.board.width_mm
        changes += changes_of("board", panel.board.name, {"width": mm_text(width_mm)})
    return tuple(changes)


def _width_mm(panel: Panel, better: Panel) -> float:
    """Between the same groove bottoms: what the play gains, and what deeper grooves give, the width answers for."""
    if panel.play_mm is None or panel.groove_mm is None or better.play_mm is None or better.groove_mm is None:
        return panel.board.width_mm
    return panel.board.width_mm + panel.play_mm - better.play_mm + 2 * (better.groove_mm - panel.groove_mm)


def _remedy(panel: Panel, swings: Swing) -> dict[str, Any]:
    better = eased(panel, swings)
    if better is None:
        return {"fix": "two narrower panels with a muntin between them, or quarter-sawn or plywood stock"}
    width_mm = better.board.width_mm
    cut = "" if width_mm == panel.board.width_mm else f", so that it is {width_mm:g} mm wide"
    return {"fix": f"{holding_words(better)}{cut}", "changes": _changes(panel, better)}


def _glued(panel: Panel, swings: Swing) -> Iterator[Finding]:
    moves_mm = panel.board.width_mm * swings.most_share
    level, limit = PANEL_GLUED.judge(moves_mm)
    if level.rank < Level.WARN.rank and moves_mm > 0 and RIGID.judge(panel.board.width_mm)[0] is Level.WARN:
        level, limit = Level.WARN, None
    if level is Level.OK:
        return
    yield Finding(
        check=PANEL_GLUED.check,
        level=level,
        place=place(panel),
        measured=round(moves_mm, 3),
        limit=limit,
        unit=PANEL_GLUED.unit,
        message=f"{panel.board.name} moves {moves_mm:.1f} mm over its {panel.board.width_mm:g} mm and is glued all round: "
        "it cracks, or parts the case",
        source=PANEL_GLUED.source,
        **_remedy(panel, swings),
    )


def _play(panel: Panel, swings: Swing) -> Iterator[Finding]:
    if panel.play_mm is None:
        blank = not_checked(
            CHECK_PLAY, place(panel, "grooves"), "the job doesn't say how much play it has in its grooves"
        )
        yield replace(blank, **_remedy(panel, swings))


def _jam(panel: Panel, swings: Swing) -> Iterator[Finding]:
    left = left_mm(panel, swings)
    level, limit = JAM.judge(left)
    if panel.play_mm is None or level is Level.OK:
        return
    grows_mm = panel.board.width_mm * swings.grows_share
    pushes = "it bottoms out and pushes its frame apart" if left < 0 else "that is next to nothing"
    yield Finding(
        check=JAM.check,
        level=level,
        place=place(panel, "grooves"),
        measured=round(left, 3),
        limit=limit,
        unit=JAM.unit,
        message=f"{panel.board.name} grows {grows_mm:.1f} mm by the dampest month and has {panel.play_mm:g} mm of play: "
        f"{pushes}",
        source=JAM.source,
        **_remedy(panel, swings),
    )


def _hold(panel: Panel, swings: Swing) -> Iterator[Finding]:
    hold = hold_mm(panel, swings)
    level, limit = HOLD.judge(hold)
    if panel.play_mm is None or level is Level.OK:
        return
    shrinks_mm = panel.board.width_mm * swings.shrinks_share
    drops = "it drops out" if hold < 0 else f"{hold:.1f} mm of it is left in the groove"
    yield Finding(
        check=HOLD.check,
        level=level,
        place=place(panel, "grooves"),
        measured=round(hold, 3),
        limit=limit,
        unit=HOLD.unit,
        message=f"{panel.board.name} loses {shrinks_mm:.1f} mm by the driest month, and with {panel.play_mm:g} mm of play "
        f"in grooves {panel.groove_mm:g} mm deep {drops} on the worse side",
        source=HOLD.source,
        **_remedy(panel, swings),
    )


def wets(shop: Shop) -> bool:
    """Whether the shop's glue brings water into a groove; most do, so also where none is named."""
    return shop.glue is None or shop.glue.has_water


def _fit(panel: Panel, shop: Shop) -> Iterator[Finding]:
    if panel.clearance_mm is None:
        return
    thick = swing(panel.board, shop, Axis.THICKNESS)
    grows_mm = 0.0 if thick is None else panel.board.thickness_mm * thick.grows_share
    wet = panel.glued is not Glued.NOT and wets(shop)
    rule = FIT_WET if wet else FIT_DRY
    needed_mm = grows_mm + (WET_FACES_MM if wet else 0.0)
    level, limit = rule.judge(panel.clearance_mm - needed_mm)
    if level is Level.OK:
        return
    clearance_mm = math.ceil(needed_mm * 10 + 1) / 10
    swells = f" and {WET_FACES_MM:g} mm where water-based glue wets both faces" if wet else ""
    yield Finding(
        check=rule.check,
        level=level,
        place=place(panel, "thickness in its groove"),
        measured=round(panel.clearance_mm - needed_mm, 3),
        limit=limit,
        unit=rule.unit,
        message=f"the groove is {panel.clearance_mm:g} mm wider than {panel.board.name} is thick, which grows {grows_mm:.2f} "
        f"mm by the dampest month{swells}: it won't go home, or never moves again",
        fix=f"{clearance_mm:g} mm of clearance, {'glue in one spot, ' if wet else ''}and the groove dry elsewhere",
        source=rule.source,
        changes=changes_of("panel", panel.name, {"clearance": mm_text(clearance_mm)}),
    )


def _flat(panel: Panel, braced: bool) -> Iterator[Finding]:
    """A plain-sawn lid or top that nothing keeps flat: grooves are a frame, and so is a case it is glued to."""
    board = panel.board
    free = panel.groove_mm is None and panel.glued is Glued.NOT and not braced
    if not free or board.rings is not Rings.FLAT or board.wood.kind is WoodKind.PLYWOOD:
        return
    metered = "" if board.moisture_pct is not None else " Nothing says what moisture it has: meter it."
    times = board.width_mm / board.thickness_mm
    level, limit = THIN.judge(times)
    if level is not Level.OK:
        thick_mm = math.ceil(board.width_mm / (THIN.warn or 1) * 2) / 2
        yield Finding(
            check=THIN.check,
            level=level,
            place=place(panel),
            measured=round(times, 2),
            limit=limit,
            unit=THIN.unit,
            message=f"{board.name} is {board.width_mm:g} mm wide and {board.thickness_mm:g} thick, plain-sawn, and nothing "
            f"keeps it flat: such lids have warped within months.{metered}",
            fix=f"{thick_mm:g} mm thick, or quarter-sawn, or battens or a frame; let it come to the room's air in stickers "
            "before it is planed, and keep it there",
            source=THIN.source,
            changes=changes_of("board", board.name, {"thickness": mm_text(thick_mm)}),
        )
    piece_mm = board.width_mm / panel.pieces
    level, limit = PIECE.judge(piece_mm)
    if level is not Level.OK:
        pieces = math.ceil(board.width_mm / NARROW_MM)
        yield Finding(
            check=PIECE.check,
            level=level,
            place=place(panel),
            measured=round(piece_mm, 2),
            limit=limit,
            unit=PIECE.unit,
            message=f"one plain-sawn board {piece_mm:.0f} mm wide very likely cups in {board.name}.{metered}",
            fix=f"rip it and glue it up from {pieces} boards of {board.width_mm / pieces:.0f} mm (pieces = {pieces}), or "
            "take it rift or quarter-sawn",
            source=PIECE.source,
            changes=changes_of("panel", panel.name, {"pieces": pieces}),
        )
