"""Panels, bottoms, lids and tops: what jams or drops out of its grooves, and what won't stay flat."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import partial
from typing import Any

from dovelayout.casework.panel import Glued, Panel
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.movement.across import RIGID
from dovelayout.checks.movement.ladder import HANDBOOK, held
from dovelayout.checks.remedy import Remedy, by_setting, mm_text
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Board, Rings
from dovelayout.joints.moving import Axis, Swing, swing, unknown
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.texts import Texts
from dovelayout.wood.species import WoodKind

TEXTS = Texts("checks.movement", "findings")

WET_FACE_MM = (0.1, 0.2)
"""What one face that PVA wets takes in a groove, at least and to be sure: it swells, and the film of glue has its own
thickness (common practice, no source)."""

PANEL_GLUED = held("panel-glued", "movement of a panel that is glued all round")
PANEL_RIGID = rule("panel-glued", "width of a panel that is glued all round", unit="mm", warn=RIGID.warn, below=False)
PLAY = rule("panel-play", "whether the play of a panel in its grooves is known")
JAM = rule(
    "panel-jam",
    "play left in a panel's grooves in the dampest month",
    unit="mm",
    note=0.5,
    warn=0.0,
    stop=-1.0,
    source=HANDBOOK,
)
HOLD = rule(
    "panel-hold",
    "how far a panel still reaches into its groove in the driest month",
    unit="mm",
    warn=1.5,
    stop=0.0,
    source=HANDBOOK,
)
FIT_DRY = rule(
    "groove-fit",
    "clearance in a groove less what the panel grows in thickness",
    unit="mm",
    warn=0.0,
    source=HANDBOOK,
)
FIT_WET = rule(
    "groove-fit",
    "clearance in a groove less growth, for each face that glue wets, as for one that swells like PVA",
    unit="mm a wet face",
    warn=WET_FACE_MM[1],
    stop=WET_FACE_MM[0],
    source=COMMON_PRACTICE,
)
THIN = rule(
    "thin-wide", "width of a plain-sawn lid or panel, times its thickness", unit="times", warn=20.0, below=False
)
PIECE = rule(
    "wide-piece",
    "width of one plain-sawn board in a lid or a top",
    unit="mm",
    warn=127.0,
    below=False,
    source=COMMON_PRACTICE,
)

PLAY_MARGIN_MM = 0.5
"""What a panel's play is given beyond its growth; ours."""

NARROW_MM = 4 * 25.4
"""Boards of at most 4 in stay flat best in a panel (common practice, no source)."""

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
        unchecked = PANEL_GLUED if panel.glued is Glued.ALL_ROUND else JAM
        yield unchecked.not_checked(place(panel), *unknown(board, shop))
    elif panel.glued is Glued.ALL_ROUND:
        yield from _glued(panel, swings)
    elif panel.groove_mm is not None:
        yield from _grooved(panel, swings)
    yield from _fit(panel, shop)
    if panel.board not in braced:
        yield from _flat(panel)


def place(panel: Panel, what: str = "") -> Place:
    """The place of a finding: 'panel bottom, grooves'."""
    return Place(kind="panel", name=panel.name, part=what)


def well_held(panel: Panel, swings: Swing) -> Panel | None:
    """The panel with the play, the hold and the grooves that work, as little changed as may be; None: none does."""
    return next(_ways_to_hold(panel, swings), None)


def _ways_to_hold(panel: Panel, swings: Swing) -> Iterator[Panel]:
    play_mm = math.ceil((panel.board.width_mm * swings.grows_share + PLAY_MARGIN_MM) * 10 - 1e-9) / 10
    # a panel made wider for deeper grooves grows a little more
    plays = [play for play in (panel.play_mm, play_mm, play_mm + 0.5) if play is not None]
    held_at = dict.fromkeys((Glued.NOT if panel.glued is Glued.ALL_ROUND else panel.glued, Glued.MIDDLE))
    groove_mm = panel.groove_mm or USUAL_GROOVE_MM
    steps = max(0, math.ceil((DEEPEST_GROOVE_MM - groove_mm) * 2))
    for step, glued, play in itertools.product(range(steps + 1), held_at, plays):
        better = replace(panel, groove_mm=groove_mm + step / 2, play_mm=play, glued=glued)
        better = replace(better, board=replace(panel.board, width_mm=_width_mm(panel, better)))
        if not JAM.breach(better.left_mm(swings)) and not HOLD.breach(better.hold_mm(swings)):
            yield better


def holding_words(panel: Panel) -> str:
    """How a panel sits, in words."""
    if panel.groove_mm is None and panel.glued is Glued.NOT:
        return TEXTS("holding.free")
    words = TEXTS(f"holding.{panel.glued.name.lower()}")
    if panel.groove_mm is not None:
        words = TEXTS("holding.grooved", held=words, deep=panel.groove_mm)
        words += "" if panel.play_mm is None else TEXTS("holding.play", play=panel.play_mm)
    return words


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


def _well_held(panel: Panel, swings: Swing) -> Iterator[Remedy]:
    for better in _ways_to_hold(panel, swings):
        width_mm = better.board.width_mm
        cut = "" if width_mm == panel.board.width_mm else TEXTS("holding.cut", width=width_mm)
        yield Remedy(changes=_changes(panel, better), words=holding_words(better) + cut)


def _reheld(panel: Panel, swings: Swing) -> dict[str, Any]:
    """What mends a finding on how a panel is held."""
    return {"fix": TEXTS("holding.narrower"), "remedies": partial(_well_held, panel, swings)}


def _glued(panel: Panel, swings: Swing) -> Iterator[Finding]:
    width_mm = panel.board.width_mm
    moves_mm = width_mm * swings.most_share
    breach = PANEL_GLUED.breach(moves_mm)
    if moves_mm > 0 and (breach is None or breach.level is Level.NOTE):
        breach = PANEL_RIGID.breach(width_mm) or breach  # in whatever air, so much width is not held rigidly
    if breach:
        message = TEXTS("glued.message", part=panel.board.name, moves=f"{moves_mm:.1f} mm", width=width_mm)
        yield breach.finding(place(panel), message, **_reheld(panel, swings))


def _grooved(panel: Panel, swings: Swing) -> Iterator[Finding]:
    """Its play in the dampest month and its hold in the driest."""
    at, board, mended = place(panel, "grooves"), panel.board, _reheld(panel, swings)
    if panel.play_mm is None:
        yield replace(PLAY.not_checked(at, TEXTS("play.because")), **mended)
        return
    held_by = {"part": board.name, "play": panel.play_mm, "deep": panel.groove_mm}
    if breach := JAM.breach(left_mm := panel.left_mm(swings)):
        pushes = TEXTS("jam.parts" if left_mm < 0 else "jam.little")
        moves = f"{board.width_mm * swings.grows_share:.1f} mm"
        yield breach.finding(at, TEXTS("jam.message", moves=moves, pushes=pushes, **held_by), **mended)
    if breach := HOLD.breach(left_mm := panel.hold_mm(swings)):
        drops = TEXTS("hold.out") if left_mm < 0 else TEXTS("hold.little", left=left_mm)
        moves = f"{board.width_mm * swings.shrinks_share:.1f} mm"
        yield breach.finding(at, TEXTS("hold.message", moves=moves, drops=drops, **held_by), **mended)


def _fit(panel: Panel, shop: Shop) -> Iterator[Finding]:
    """Whether it goes home in grooves of its thickness, dry or wet with the shop's glue; a glue that isn't named is taken
    as PVA. A drawer's bottom isn't looked at: the job doesn't say how much wider than it its grooves are."""
    if panel.clearance_mm is None:
        return
    thick = swing(panel.board, shop, Axis.THICKNESS)
    grows_mm = 0.0 if thick is None else panel.board.thickness_mm * thick.grows_share
    swells = 1.0 if shop.glue is None else shop.glue.swell_factor
    wet = panel.glued is not Glued.NOT and swells > 0
    fit, faces = (FIT_WET, 2 * swells) if wet else (FIT_DRY, 1.0)
    if breach := fit.breach((panel.clearance_mm - grows_mm) / faces):
        clearance_mm = math.ceil((grows_mm + faces * (fit.warn or 0.0)) * 10 + 1) / 10
        takes = f" {TEXTS('fit.faces', low=faces * WET_FACE_MM[0], high=faces * WET_FACE_MM[1])}" if wet else ""
        sizes = {"clearance": panel.clearance_mm, "grows": grows_mm}
        yield breach.finding(
            place(panel, "thickness in its groove"),
            TEXTS("fit.message", part=panel.board.name, faces=takes, **sizes),
            fix=TEXTS("fit.wet" if wet else "fit.dry", clearance=clearance_mm),
            changes=changes_of("panel", panel.name, {"clearance": mm_text(clearance_mm)}),
        )


def _flat(panel: Panel) -> Iterator[Finding]:
    """A plain-sawn lid or top that nothing keeps flat: grooves are a frame, and so is a case it is glued to."""
    board = panel.board
    free = panel.groove_mm is None and panel.glued is Glued.NOT
    if not free or board.rings is not Rings.FLAT or board.wood.kind is WoodKind.PLYWOOD:
        return
    metered = "" if board.moisture_pct is not None else f" {TEXTS('piece.metered')}"
    if breach := THIN.breach(board.width_mm / board.thickness_mm):
        thick_mm = math.ceil(board.width_mm / (THIN.warn or 1) * 2) / 2
        sizes = {"width": board.width_mm, "thick": board.thickness_mm}
        yield breach.finding(
            place(panel),
            TEXTS("thin.message", part=board.name, metered=metered, **sizes),
            fix=TEXTS("thin.fix", thick=thick_mm),
            changes=changes_of("board", board.name, {"thickness": mm_text(thick_mm)}),
            remedies=by_setting("board", board.name, {"rings": "quarter"}),
        )
    if breach := PIECE.breach(board.width_mm / panel.pieces):
        pieces = math.ceil(board.width_mm / NARROW_MM)
        yield breach.finding(
            place(panel),
            TEXTS("piece.message", part=board.name, metered=metered, size=breach.measured),
            fix=TEXTS("piece.fix", pieces=pieces, size=board.width_mm / pieces),
            changes=changes_of("panel", panel.name, {"pieces": pieces}),
            remedies=by_setting("board", board.name, {"rings": "rift"}),
        )
