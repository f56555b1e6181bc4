"""Boards, their ends, the grooves that run along them and the openings cut into them.

Conventions (tests hold them exactly): x runs along a board's width from the face edge (0) to the far edge (W);
y runs along its length from the end inward; z runs through its thickness from the outside (show) face.
A board seen from its outside face with the face edge down has a left and a right end, whatever the job calls them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.place import Place
from dovelayout.wood.moisture import Direction
from dovelayout.wood.species import Wood


class Rings(StrEnum):
    """How the growth rings meet the face of the board."""

    FLAT = "flat"
    QUARTER = "quarter"
    RIFT = "rift"

    @property
    def sawn(self) -> str:
        """As cut lists say it: 'quarter-sawn'."""
        return f"{self}-sawn"

    @property
    def across_width(self) -> Direction:
        """How the width of such a board lies to its rings."""
        return {Rings.FLAT: Direction.TANGENTIAL, Rings.QUARTER: Direction.RADIAL}.get(self, Direction.MEAN)

    @property
    def across_thickness(self) -> Direction:
        """How its thickness does: a quarter-sawn board grows in thickness by the larger rate."""
        return {Rings.FLAT: Direction.RADIAL, Rings.QUARTER: Direction.TANGENTIAL}.get(self, Direction.MEAN)


class Grain(StrEnum):
    """How the fibres lie: grain that turns breaks out of laps and corners whatever the figures say."""

    STRAIGHT = "straight"
    FIGURED = "figured"
    INTERLOCKED = "interlocked"


class End(StrEnum):
    """An end of a board, seen from its outside face with the face edge down."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def opposite(self) -> End:
        """The other end: the one that a neighbour's end of this name can meet."""
        return End.RIGHT if self is End.LEFT else End.LEFT


class When(StrEnum):
    """Whether something is cut before or after: a groove, than the joint is set out; a cut-out, than the glue-up."""

    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutout:
    """A rectangular opening, or a channel, in a board: `depth_mm` as deep as the board is thick cuts right through.

    `length_mm` lies along the board and is counted from `from_end_mm` behind the end `end`; `width_mm` lies across it
    and is counted from `from_edge_mm` off the face edge. `cut_after`: it is only cut when the glue has set.
    """

    from_end_mm: float
    from_edge_mm: float
    length_mm: float
    width_mm: float
    depth_mm: float
    end: End = End.LEFT
    cut_after: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board as measured, not as bought.

    `runout_ratio` is n of a grain run-out of 1:n along the face (None: straight grained, or not looked at).
    `out_of_square_mm` is how far the worse end leans from square over the whole width. `moisture_pct` is its moisture
    content as it was measured (None: it has come to the shop's air). `cutouts`: openings and channels in it.
    `end_names`: what the job calls its left and its right end.
    """

    name: str
    wood: Wood
    length_mm: float
    width_mm: float
    thickness_mm: float
    rings: Rings = Rings.FLAT
    grain: Grain = Grain.STRAIGHT
    runout_ratio: float | None = None
    out_of_square_mm: float = 0.0
    count: int = 1
    moisture_pct: float | None = None
    cutouts: tuple[Cutout, ...] = ()
    end_names: tuple[str, str] = (End.LEFT, End.RIGHT)

    def end_name(self, end: End) -> str:
        """What the job calls an end."""
        return self.end_names[end is End.RIGHT]

    def end_named(self, name: str) -> End | None:
        """The end that the job calls so, or that is on that side; None where it is neither."""
        return dict(zip((*End, *self.end_names), (*End, *End), strict=True)).get(name)

    @property
    def runout_deg(self) -> float:
        """Angle between the fibres and the board's length, 0 when no run-out was given."""
        return 0.0 if self.runout_ratio is None else math.degrees(math.atan(1.0 / self.runout_ratio))


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardEnd:
    """One end of one board: what a template is made for."""

    board: Board
    end: End
    instance: str = ""  # which of several equal boards, such as 'left' of a pair of sides

    @property
    def board_label(self) -> str:
        """The board, and which one of a pair of equal ones: 'side (right)'."""
        return f"{self.board.name} ({self.instance})" if self.instance else self.board.name

    @property
    def label(self) -> str:
        """The end as texts say it: 'side, left end'; 'side (right), top end' where a pair of equal boards has ends of
        those names."""
        return str(Place(kind="", name=self.board_label, end=self.board.end_name(self.end)))

    @property
    def of_board(self) -> str:
        """The end within a sentence: 'left end of side'."""
        return f"{self.board.end_name(self.end)} end of {self.board_label}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lip:
    """What a rebate on the inside of a front's end leaves: a lip that reaches `overhang_mm` past the drawer's side."""

    overhang_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Groove:
    """A groove along the inside face of both boards of a corner, for a bottom or a panel.

    `ploughed_first`: it is there before the joint is set out, so a line can't be knifed across it.
    """

    from_edge_mm: float
    width_mm: float
    depth_mm: float
    ploughed_first: bool = True

    @property
    def far_mm(self) -> float:
        """The side of the groove away from the face edge."""
        return self.from_edge_mm + self.width_mm
