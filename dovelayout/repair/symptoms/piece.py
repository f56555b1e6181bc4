"""The piece in which a trouble was found, as far as its job says: woods, joints, drawers, panels, air, glue and findings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from dovelayout.casework.across import Across, AcrossKind
from dovelayout.casework.divider import Divider
from dovelayout.casework.drawer.drawer import Drawer
from dovelayout.casework.panel import Panel
from dovelayout.checks.finding import Finding
from dovelayout.joints.board import Board
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.moving import Axis, Moisture, direction, home_moisture_pct, moisture, shop_moisture_pct
from dovelayout.shop import Shop
from dovelayout.wood.moisture import size_change_share


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPiece:
    """What a job, or one corner or drawer of it, is made of.

    `findings` are those of its checks. `then_pct` and `now_pct` are relative humidities as the maker read them, when all was
    well and now; None where they weren't said: then the wood was fitted, and has come to the driest and the dampest air, as
    the job says.
    """

    called: str
    shop: Shop
    boards: tuple[Board, ...] = ()
    joints: tuple[CornerJoint, ...] = ()
    dividers: tuple[Divider, ...] = ()
    drawers: tuple[Drawer, ...] = ()
    across: tuple[Across, ...] = ()
    panels: tuple[Panel, ...] = ()
    findings: tuple[Finding, ...] = ()
    then_pct: float | None = None
    now_pct: float | None = None

    def moisture(self, board: Board) -> Moisture | None:
        """What a board was fitted at and has come to since; None: the air isn't known."""
        known = moisture(board, self.shop)
        fitted = () if known is None else known.fitted_pct
        if self.then_pct is not None:
            fitted = (shop_moisture_pct(self.then_pct, self.shop),)
        if self.now_pct is not None:
            ends = (home_moisture_pct(self.now_pct, self.shop),) * 2
        elif known is not None:
            ends = (known.driest_pct, known.dampest_pct)
        else:
            return None
        return Moisture(fitted_pct=fitted, driest_pct=ends[0], dampest_pct=ends[1]) if fitted else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """How far a dimension of a board has moved at most since it was fitted, mm: none below 0."""

    board: Board
    axis: Axis
    moisture: Moisture
    size_mm: float
    lost_mm: float
    gained_mm: float

    @property
    def most_mm(self) -> float:
        """The larger of loss and gain."""
        return max(self.lost_mm, self.gained_mm)


def moved(piece: KnownPiece, board: Board, axis: Axis) -> Moved | None:
    """How far a dimension has moved, or moves at most through the year where the air now isn't said; None: not known."""
    at = piece.moisture(board)
    if at is None:
        return None
    shares = [
        size_change_share(board.wood, direction(board, axis), from_mc_pct=fitted, to_mc_pct=end)
        for fitted in at.fitted_pct
        for end in (at.driest_pct, at.dampest_pct)
    ]
    known = [share for share in shares if share is not None]
    if not known:
        return None
    size_mm = board.width_mm if axis is Axis.WIDTH else board.thickness_mm
    return Moved(
        board=board,
        axis=axis,
        moisture=at,
        size_mm=size_mm,
        lost_mm=max(0.0, -min(known)) * size_mm,
        gained_mm=max(0.0, *known) * size_mm,
    )


def all_moved(piece: KnownPiece, boards: tuple[Board, ...], axis: Axis) -> Iterator[Moved]:
    """How far that dimension of each of these boards has moved, as far as that is known."""
    return (row for board in dict.fromkeys(boards) if (row := moved(piece, board, axis)) is not None)


def _across(kind: AcrossKind) -> Callable[[KnownPiece], bool]:
    return lambda piece: any(part.kind is kind for part in piece.across)


HAS: Mapping[str, Callable[[KnownPiece], bool]] = {
    "corner": lambda piece: bool(piece.joints),
    "half-blind": lambda piece: any(joint.lap_mm > 0 for joint in piece.joints),
    "groove": lambda piece: any(joint.spec.groove is not None for joint in piece.joints),
    "cut-out": lambda piece: any(board.cutouts for board in piece.boards),
    "divider": lambda piece: bool(piece.dividers),
    "drawer": lambda piece: bool(piece.drawers),
    "panel": lambda piece: bool(piece.panels),
    "breadboard end": _across(AcrossKind.BREADBOARD),
    "moulding": _across(AcrossKind.MOULDING),
}
"""Whether a piece has a part, by the name that `in_jobs.toml` calls it."""
