"""What a piece says for a symptom or against it, in sentences with figures of the same models as its checks.

Which checks and which movements bear on a symptom stands in `data/in_jobs.toml`, what is said in `repair/data/piece.toml`.
Movement is judged by the rules of the checks that look at it: see `checks.movement.rules` and `checks.drawer_rules`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from dovelayout.casework.across import AcrossKind
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.checks.drawers import BOTTOM_HELD, SIDE_DAMPEST, SIDE_FITTED, TOP
from dovelayout.checks.finding import Level, merged
from dovelayout.checks.movement.acclimatised import STEP
from dovelayout.checks.movement.across import CONFLICT
from dovelayout.checks.movement.panels import JAM
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Axis
from dovelayout.repair.advice import both
from dovelayout.repair.symptoms.piece import HAS, KnownPiece, Moved, all_moved, moved
from dovelayout.repair.symptoms.symptom import Symptom, all_symptoms
from dovelayout.texts import Texts

TEXTS = Texts("repair", "piece")

MOST_FINDINGS = 3
"""Findings said of one symptom: more would bury the rest (ours)."""
LEAST_SAID_MM = 0.01
"""Movements below this are none to a maker (ours)."""
SIZE_SLACK_MM = 0.05
"""How far a size that was said may lie over what the season explains: feelers and woods differ by as much (ours)."""


class Says(StrEnum):
    """What a fact says of a symptom: speaks for it, against it, or leaves it open."""

    FOR = "for"
    AGAINST = "against"
    OPEN = "open"

    @property
    def so(self) -> str:
        """As a sentence ends."""
        return TEXTS({"for": "likely", "against": "unlikely", "open": "possible"}[self.value])


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing that is known of the piece and bears on a symptom."""

    says: Says
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """What of a job bears on a symptom: a row of `in_jobs.toml`."""

    has: str = ""
    glue: tuple[str, ...] = ()
    checks: frozenset[str] = frozenset()
    moves: str = ""


@cache
def bearings() -> Mapping[str, Bearing]:
    """What bears on each symptom, by its id; a symptom without has no entry."""
    table = tomllib.loads((files("dovelayout.repair.symptoms") / "data" / "in_jobs.toml").read_text(encoding="utf-8"))
    return {name: _bearing(row) for name, row in table.items()}


def _bearing(row: Mapping[str, Any]) -> Bearing:
    checks, glue = frozenset(row.get("checks", "").split()), tuple(row.get("glue", ()))
    return Bearing(has=row.get("has", ""), glue=glue, checks=checks, moves=row.get("moves", ""))


def facts(piece: KnownPiece, symptom: Symptom) -> tuple[Fact, ...]:
    """What the piece says of a symptom, what speaks for it first. A size that the report said is the symptom's own."""
    bearing = bearings().get(symptom.id)
    if bearing is None:
        return ()
    if bearing.has and not HAS[bearing.has](piece):
        return (Fact(says=Says.AGAINST, text=TEXTS("lacks", called=piece.called, part=bearing.has)),)
    glue = piece.shop.glue
    if glue is not None and bearing.glue and glue.id not in bearing.glue:
        return (Fact(says=Says.AGAINST, text=TEXTS("other_glue", called=piece.called, glue=glue.name)),)
    rows = list(_of_checks(piece, bearing))
    if bearing.moves:
        rows += MOVES[bearing.moves](piece, symptom.said_mm)
    return tuple(sorted(dict.fromkeys(rows), key=lambda fact: list(Says).index(fact.says)))


def favoured(piece: KnownPiece) -> Mapping[str, float]:
    """1 for each symptom that any fact speaks for, -1 for one that none speaks for and any against; others are left out."""
    rows = {row.id: {fact.says for fact in facts(piece, row)} for row in all_symptoms().values()}
    return {name: 1.0 if Says.FOR in says else -1.0 for name, says in rows.items() if says - {Says.OPEN}}


def _of_checks(piece: KnownPiece, bearing: Bearing) -> Iterator[Fact]:
    """What the checks found, worst first; a note leaves it open, and what couldn't be checked says nothing."""
    found = [row for row in piece.findings if row.check in bearing.checks and row.measured is not None]
    for row in merged(found)[:MOST_FINDINGS]:
        says = Says.FOR if row.level.rank >= Level.WARN.rank else Says.OPEN
        yield Fact(says=says, text=TEXTS("found", where=row.where, message=row.message))


def _moved_text(piece: KnownPiece, row: Moved, says: Says) -> str:
    values: dict[str, object] = {
        "wood": row.board.wood.name,
        "board": row.board.name,
        "fitted": " or ".join(dict.fromkeys(f"{value:.0f}" for value in row.moisture.fitted_pct)),
        "size": both(row.size_mm),
        "across": row.axis.value,
        "so": says.so,
    }
    lost, gained = both(round(row.lost_mm, 2)), both(round(row.gained_mm, 2))
    if piece.now_pct is None:
        return TEXTS("moved_year", lost=lost, gained=gained, **values)
    change = TEXTS("lost", lost=lost) if row.lost_mm >= row.gained_mm else TEXTS("gained", gained=gained)
    change = TEXTS("still") if row.most_mm < LEAST_SAID_MM else change
    return TEXTS("moved_now", now=piece.now_pct, change=change, **values)


def _held(boards: Callable[[KnownPiece], tuple[Board, ...]]) -> Callable[[KnownPiece, float | None], Iterator[Fact]]:
    """Of some of a piece's boards the one whose width moves most: so far it pulls where it is held across its grain."""

    def said(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
        row = max(all_moved(piece, boards(piece), Axis.WIDTH), key=lambda row: row.most_mm, default=None)
        if row is not None:
            happened = Says.OPEN if piece.now_pct is None else Says.FOR
            says = happened if CONFLICT.breach(row.most_mm) else Says.AGAINST
            held = "" if says is Says.AGAINST else f" {TEXTS('held')}"
            yield Fact(says=says, text=_moved_text(piece, row, says) + held)

    return said


def _sides(piece: KnownPiece) -> tuple[Board, ...]:
    return tuple(board for joint in piece.joints for board in (joint.tail_board, joint.pin_board))


def _panels(piece: KnownPiece) -> tuple[Board, ...]:
    bottoms = (drawer.board("bottom") for drawer in piece.drawers)
    return (*(panel.board for panel in piece.panels), *(part.host for part in piece.across), *bottoms)


def _hosts(kind: AcrossKind) -> Callable[[KnownPiece], tuple[Board, ...]]:
    return lambda piece: tuple(part.host for part in piece.across if part.kind is kind)


def _steps(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The pin board whose thickness has shrunk most: the tails' ends stand proud of it by as much."""
    yield from _shrunk(piece, said_mm, cheek=False)


def _cheeks(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The same, with what a cheek opens by."""
    yield from _shrunk(piece, said_mm, cheek=True)


def _shrunk(piece: KnownPiece, said_mm: float | None, *, cheek: bool) -> Iterator[Fact]:
    boards = tuple(joint.pin_board for joint in piece.joints)
    row = max(all_moved(piece, boards, Axis.THICKNESS), key=lambda row: row.lost_mm, default=None)
    if row is None:
        return
    slope = next(joint.slope for joint in piece.joints if joint.pin_board == row.board)
    shows_mm = row.lost_mm / slope.ratio if cheek else row.lost_mm
    too_much = said_mm is not None and said_mm > shows_mm + SIZE_SLACK_MM
    says = Says.FOR if STEP.breach(row.lost_mm) and not too_much else Says.AGAINST
    yield Fact(says=says, text=_moved_text(piece, row, says))
    shows = both(round(shows_mm, 2))
    if shows_mm >= LEAST_SAID_MM:
        text = TEXTS("cheek", ratio=slope.ratio, opens=shows) if cheek else TEXTS("step", step=shows)
        yield Fact(says=says, text=text)
    if too_much:
        yield Fact(says=says, text=TEXTS("less_than_said", opens=shows, said=both(said_mm or 0.0)))


def _air(mm: float) -> str:
    return both(round(mm, 2)) if mm >= 0 else TEXTS("jammed", much=both(round(-mm, 2)))


def _when(piece: KnownPiece) -> str:
    return TEXTS("in_dampest") if piece.now_pct is None else TEXTS("in_now", now=piece.now_pct)


def _over(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The drawer with the least air over it."""
    least: tuple[float, Drawer] | None = None
    for drawer in piece.drawers:
        left_mm = drawer.clearances.top_dampest_mm
        if piece.now_pct is not None:
            grown = [moved(piece, drawer.board(role), Axis.WIDTH) for role in ("front", "side")]
            known = [row.gained_mm - row.lost_mm for row in grown if row is not None]
            left_mm = drawer.clearances.top_mm - max(known, default=0.0)
        least = min(filter(None, (least, (left_mm, drawer))), key=lambda row: row[0])
    if least is not None:
        left_mm, drawer = least
        says = Says.FOR if TOP.breach(left_mm) else Says.AGAINST
        air = {"air": _air(drawer.clearances.top_mm), "left": _air(left_mm)}
        yield Fact(says=says, text=TEXTS("over", drawer=drawer.name, when=_when(piece), so=says.so, **air))


def _beside(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The drawer with the least air at its sides."""
    drawer = min(piece.drawers, key=lambda drawer: drawer.clearances.side_dampest_mm)
    air = drawer.clearances
    tight = SIDE_FITTED.breach(air.side_mm) or SIDE_DAMPEST.breach(air.side_dampest_mm)
    says = Says.FOR if tight else Says.AGAINST
    sizes = {"air": _air(air.side_mm), "left": _air(air.side_dampest_mm), "when": TEXTS("in_dampest")}
    yield Fact(says=says, text=TEXTS("beside", drawer=drawer.name, so=says.so, **sizes))


def _case_depth(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The deepest opening: its case moves most."""
    drawer = max(piece.drawers, key=lambda drawer: drawer.spec.opening.clear_depth_mm)
    depth_mm = drawer.spec.opening.clear_depth_mm
    if "case" not in drawer.sizes.unknown:
        moves_mm = drawer.sizes.case.year_share * depth_mm
        says = Says.FOR if STEP.breach(moves_mm) else Says.AGAINST
        sizes = {"depth": both(depth_mm), "moves": both(round(moves_mm, 1))}
        yield Fact(says=says, text=TEXTS("behind", drawer=drawer.name, so=says.so, **sizes))


def _bottom(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The bottom that moves most: only one that is held splits or presses."""
    drawer = max(piece.drawers, key=lambda drawer: drawer.bottom.moves_mm)
    if drawer.sizes.solid_bottom and "bottom" in drawer.sizes.unknown:
        return
    says = Says.OPEN if BOTTOM_HELD.breach(drawer.bottom.moves_mm) else Says.AGAINST
    moves = both(round(drawer.bottom.moves_mm, 1))
    yield Fact(says=says, text=TEXTS("bottom", drawer=drawer.name, moves=moves, so=says.so))


def _play(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The panel with the least play left in the dampest month."""
    rows = [(panel.left_mm(moves), panel) for panel in piece.panels if (moves := panel.swing(piece.shop)) is not None]
    rows = [row for row in rows if row[1].play_mm is not None]
    if rows:
        left_mm, panel = min(rows, key=lambda row: row[0])
        says = Says.FOR if JAM.breach(left_mm) else Says.AGAINST
        play = {"play": both(panel.play_mm or 0.0), "left": _air(left_mm)}
        yield Fact(says=says, text=TEXTS("play", panel=panel.name, so=says.so, **play))


def _fit(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """Whether the cheeks are to be fuller or slacker than their sockets."""
    fit_mm = piece.shop.fit_mm
    if fit_mm is not None and fit_mm >= 0:
        yield Fact(says=Says.OPEN, text=TEXTS("fit_full", fit=both(fit_mm)))
    elif fit_mm is not None:
        yield Fact(says=Says.AGAINST, text=TEXTS("fit_slack", fit=both(-fit_mm), so=Says.AGAINST.so))


def _slack(piece: KnownPiece, said_mm: float | None) -> Iterator[Fact]:
    """The same for a joint that is loose."""
    fit_mm = piece.shop.fit_mm
    if fit_mm is not None and fit_mm < 0:
        yield Fact(says=Says.FOR, text=TEXTS("fit_slack", fit=both(-fit_mm), so=Says.FOR.so))


MOVES: Mapping[str, Callable[[KnownPiece, float | None], Iterator[Fact]]] = {
    "sides": _held(_sides),
    "panels": _held(_panels),
    "breadboard end": _held(_hosts(AcrossKind.BREADBOARD)),
    "moulding": _held(_hosts(AcrossKind.MOULDING)),
    "steps": _steps,
    "cheeks": _cheeks,
    "over": _over,
    "beside": _beside,
    "case depth": _case_depth,
    "bottom": _bottom,
    "play": _play,
    "fit": _fit,
    "slack": _slack,
}
"""What is worked out anew for the piece, by the name that `in_jobs.toml` calls it."""
