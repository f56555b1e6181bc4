"""A panel or a bottom in its grooves: how much it may grow before it bottoms out, and what holds it when it is driest."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from dovelayout.joints.board import Board
from dovelayout.joints.moving import Swing, swing, swing_between
from dovelayout.shop import Shop


class Glued(StrEnum):
    """Where a panel is held, by glue or by a pin."""

    NOT = "no"
    MIDDLE = "middle"
    EDGE = "one edge"
    ALL_ROUND = "all round"


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel. `groove_mm` is the depth of the two grooves that its width lies between (None: it lies free, as a lid or
    a top); `play_mm` what is free in both together as it is fitted; `clearance_mm` how much wider the grooves are than
    it is thick; `pieces` of how many boards it is glued up; `frame` a board along whose width it lies, if that moves too.
    """

    name: str
    board: Board
    groove_mm: float | None = None
    play_mm: float | None = None
    glued: Glued = Glued.NOT
    clearance_mm: float | None = None
    pieces: int = 1
    frame: Board | None = None

    def swing(self, shop: Shop) -> Swing | None:
        """How far its width moves against what it lies in; None: not known."""
        return swing(self.board, shop) if self.frame is None else swing_between(self.board, self.frame, shop)

    def left_mm(self, swing: Swing) -> float:
        """Play that is left in the dampest month; below 0 it pushes its frame apart."""
        return (self.play_mm or 0.0) - self.board.width_mm * swing.grows_share

    def hold_mm(self, swing: Swing) -> float:
        """How far it still reaches into the worse of its grooves in the driest month; below 0 it is out.

        A loose panel may lie wholly to one side, and one glued at an edge goes away from the other; one held in its
        middle goes away from both alike.
        """
        away_mm = (self.play_mm or 0.0) + self.board.width_mm * swing.shrinks_share
        return (self.groove_mm or 0.0) - (away_mm / 2 if self.glued is Glued.MIDDLE else away_mm)
