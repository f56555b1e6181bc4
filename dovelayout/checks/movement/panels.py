"""Panels, bottoms, lids and tops: what jams or drops out of its grooves, and what won't stay flat."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import Any

from dovelayout.casework.panel import Glued, Panel
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement import rules
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import Rule
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
        check = rules.CHECK_GLUED if panel.glued is Glued.ALL_ROUND else rules.CHECK_JAM
        yield not_checked(check, place(panel), *unknown(board, shop))
    elif panel.glued is Glued.ALL_ROUND:
        yield from _glued(panel, swings)
    elif panel.groove_mm is not None:
        yield from _grooved(panel, swings)
    yield from _fit(panel, shop)
    yield from _flat(panel, panel.board in braced)


def place(panel: Panel, what: str = "") -> Place:
    """The place of a finding: 'panel bottom, grooves'."""
    return Place(kind="panel", name=panel.name, part=what)


def well_held(panel: Panel, swings: Swing) -> Panel | None:
    """The panel with the play, the hold and the grooves that work, as little changed as may be; None: none does."""
    play_mm = math.ceil((panel.board.width_mm * swings.grows_share + rules.PLAY_MARGIN_MM) * 10 - 1e-9) / 10
    # a panel made wider for deeper grooves grows a little more
    plays = [play for play in (panel.play_mm, play_mm, play_mm + 0.5) if play is not None]
    held = dict.fromkeys((Glued.NOT if panel.glued is Glued.ALL_ROUND else panel.glued, Glued.MIDDLE))
    groove_mm = panel.groove_mm or USUAL_GROOVE_MM
    steps = max(0, math.ceil((DEEPEST_GROOVE_MM - groove_mm) * 2))
    for step, glued, play in itertools.product(range(steps + 1), held, plays):
        better = replace(panel, groove_mm=groove_mm + step / 2, play_mm=play, glued=glued)
        better = replace(better, board=replace(panel.board, width_mm=_width_mm(panel, better)))
        limits = ((rules.JAM, better.left_mm(swings)), (rules.HOLD, better.hold_mm(swings)))
        if all(rule.judge(value)[0] is Level.OK for rule, value in limits):
            return better
    return None


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
    better = well_held(panel, swings)
    if better is None:
        return {"fix": "two narrower panels with a muntin between them, or quarter-sawn or plywood stock"}
    width_mm = better.board.width_mm
    cut = "" if width_mm == panel.board.width_mm else f", so that it is {width_mm:g} mm wide"
    return {"fix": f"{holding_words(better)}{cut}", "changes": _changes(panel, better)}


def _reheld(
    panel: Panel, rule: Rule, measured: float, swings: Swing, *, message: str, at: str = ""
) -> Iterator[Finding]:
    """A finding where a limit is crossed, whose fix is to hold the panel as `well_held` does."""
    level, limit = rule.judge(measured)
    if level is not Level.OK:
        yield Finding(
            check=rule.check,
            level=level,
            place=place(panel, at),
            message=message,
            measured=round(measured, 3),
            limit=limit,
            unit=rule.unit,
            source=rule.source,
            **_remedy(panel, swings),
        )


def _glued(panel: Panel, swings: Swing) -> Iterator[Finding]:
    width_mm = panel.board.width_mm
    moves_mm = width_mm * swings.most_share
    rule, measured = rules.PANEL_GLUED, moves_mm
    warned = rule.judge(moves_mm)[0].rank >= Level.WARN.rank
    if not warned and moves_mm > 0 and rules.RIGID.judge(width_mm)[0] is Level.WARN:
        # in whatever air, so much width is not held rigidly
        rule, measured = replace(rules.RIGID, check=rule.check), width_mm
    yield from _reheld(
        panel,
        rule,
        measured,
        swings,
        message=f"{panel.board.name} moves {moves_mm:.1f} mm over its {width_mm:g} mm and is glued all round: it cracks, or "
        "parts the case",
    )


def _grooved(panel: Panel, swings: Swing) -> Iterator[Finding]:
    """Its play in the dampest month and its hold in the driest."""
    if panel.play_mm is None:
        because = "the job doesn't say how much play it has in its grooves"
        yield replace(not_checked(rules.CHECK_PLAY, place(panel, "grooves"), because), **_remedy(panel, swings))
        return
    left, hold = panel.left_mm(swings), panel.hold_mm(swings)
    pushes = "it bottoms out and pushes its frame apart" if left < 0 else "that is next to nothing"
    drops = "it drops out" if hold < 0 else f"{hold:.1f} mm of it is left in the groove"
    yield from _reheld(
        panel,
        rules.JAM,
        left,
        swings,
        at="grooves",
        message=f"{panel.board.name} grows {panel.board.width_mm * swings.grows_share:.1f} mm by the dampest month and has "
        f"{panel.play_mm:g} mm of play: {pushes}",
    )
    yield from _reheld(
        panel,
        rules.HOLD,
        hold,
        swings,
        at="grooves",
        message=f"{panel.board.name} loses {panel.board.width_mm * swings.shrinks_share:.1f} mm by the driest month, and "
        f"with {panel.play_mm:g} mm of play in grooves {panel.groove_mm:g} mm deep {drops} on the worse side",
    )


def _fit(panel: Panel, shop: Shop) -> Iterator[Finding]:
    """Whether it goes home in grooves of its thickness, dry or wet with the shop's glue; a glue that isn't named is taken
    as PVA. A drawer's bottom isn't looked at: the job doesn't say how much wider than it its grooves are."""
    if panel.clearance_mm is None:
        return
    thick = swing(panel.board, shop, Axis.THICKNESS)
    grows_mm = 0.0 if thick is None else panel.board.thickness_mm * thick.grows_share
    swells = 1.0 if shop.glue is None else shop.glue.swell_factor
    wet = panel.glued is not Glued.NOT and swells > 0
    rule, faces = (rules.FIT_WET, 2 * swells) if wet else (rules.FIT_DRY, 1.0)
    measured = (panel.clearance_mm - grows_mm) / faces
    level, limit = rule.judge(measured)
    if level is Level.OK:
        return
    clearance_mm = math.ceil((grows_mm + faces * (rule.warn or 0.0)) * 10 + 1) / 10
    takes = (
        f" and {faces * rules.WET_FACE_MM[0]:.2g} to {faces * rules.WET_FACE_MM[1]:.2g} mm go where glue wets both faces"
        if wet
        else ""
    )
    yield Finding(
        check=rule.check,
        level=level,
        place=place(panel, "thickness in its groove"),
        measured=round(measured, 3),
        limit=limit,
        unit=rule.unit,
        message=f"the groove is {panel.clearance_mm:g} mm wider than {panel.board.name} is thick, which grows {grows_mm:.2f} "
        f"mm by the dampest month{takes}: it won't go home, or never moves again",
        fix=f"{clearance_mm:g} mm of clearance, {'glue in one spot, ' if wet else ''}and the groove dry elsewhere"
        + ("; bring one part home at a time: what slid in dry doesn't move a minute later" if wet else ""),
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
    level, limit = rules.THIN.judge(times)
    if level is not Level.OK:
        thick_mm = math.ceil(board.width_mm / (rules.THIN.warn or 1) * 2) / 2
        yield Finding(
            check=rules.THIN.check,
            level=level,
            place=place(panel),
            measured=round(times, 2),
            limit=limit,
            unit=rules.THIN.unit,
            message=f"{board.name} is {board.width_mm:g} mm wide and {board.thickness_mm:g} thick, plain-sawn, and nothing "
            f"keeps it flat: such lids have warped within months.{metered}",
            fix=f"{thick_mm:g} mm thick, or quarter-sawn, or battens or a frame; let it come to the room's air in stickers "
            "before it is planed, and keep it there",
            source=rules.THIN.source,
            changes=changes_of("board", board.name, {"thickness": mm_text(thick_mm)}),
        )
    piece_mm = board.width_mm / panel.pieces
    level, limit = rules.PIECE.judge(piece_mm)
    if level is not Level.OK:
        pieces = math.ceil(board.width_mm / rules.NARROW_MM)
        yield Finding(
            check=rules.PIECE.check,
            level=level,
            place=place(panel),
            measured=round(piece_mm, 2),
            limit=limit,
            unit=rules.PIECE.unit,
            message=f"one plain-sawn board {piece_mm:.0f} mm wide very likely cups in {board.name}.{metered}",
            fix=f"rip it and glue it up from {pieces} boards of {board.width_mm / pieces:.0f} mm (pieces = {pieces}), or "
            "take it rift or quarter-sawn",
            source=rules.PIECE.source,
            changes=changes_of("panel", panel.name, {"pieces": pieces}),
        )
