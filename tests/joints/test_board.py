"""Boards, ends and grooves."""

import dataclasses
import math
from dataclasses import replace

import pytest

from dovelayout.joints.board import Board, BoardEnd, Cutout, End, Groove
from dovelayout.joints.slope import Slope
from dovelayout.wood.species import find_wood


def _board(**changes: object) -> Board:
    keys = {"name": "side", "wood": find_wood("teak"), "length_mm": 500.0, "width_mm": 120.0, "thickness_mm": 15.0}
    return Board(**{**keys, **changes})  # type: ignore[arg-type]


def test_runout_in_degrees() -> None:
    assert _board().runout_deg == 0.0
    assert _board(runout_ratio=15.0).runout_deg == pytest.approx(3.8141, abs=1e-4)  # atan(1/15)


def test_there_is_one_of_a_board_and_its_cutouts_come_first_unless_it_is_said() -> None:
    board = _board(cutouts=(Cutout(from_end_mm=9, from_edge_mm=9, length_mm=9, width_mm=9, depth_mm=9),))
    assert (board.count, board.runout_deg, board.cutouts[0].cut_after) == (1, 0.0, False)


def test_boards_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        _board().width_mm = 1.0  # type: ignore[misc]


def test_ends() -> None:
    assert End.LEFT.opposite is End.RIGHT
    assert End.RIGHT.opposite is End.LEFT


def test_an_end_is_called_as_a_job_calls_it() -> None:
    assert BoardEnd(board=_board(), end=End.LEFT).label == "side, left end"
    assert BoardEnd(board=_board(), end=End.LEFT, instance="right").label == "side (right), left end"
    assert BoardEnd(board=_board(), end=End.RIGHT, instance="2").of_board == "right end of side (2)"
    post = replace(_board(), end_names=("foot", "top"))
    assert BoardEnd(board=post, end=End.RIGHT).label == "side, top end"
    assert [post.end_named(name) for name in ("foot", "top", "left", "right", "head")] == [
        End.LEFT, End.RIGHT, End.LEFT, End.RIGHT, None,
    ]  # fmt: skip


def test_a_groove_reaches_from_the_face_edge() -> None:
    assert Groove(from_edge_mm=10, width_mm=6, depth_mm=5).far_mm == 16


def test_slopes() -> None:
    assert Slope(7).degrees == pytest.approx(8.1301, abs=1e-4)
    assert Slope(8).degrees == pytest.approx(7.125, abs=1e-4)
    assert Slope(6).flare_mm(18) == 3
    assert Slope(6) < Slope(7)


@pytest.mark.parametrize("ratio", [1.0, 0.5, 0.0, -7.0, math.nan, -math.inf])
def test_a_slope_that_is_none(ratio: float) -> None:
    with pytest.raises(ValueError, match="slope ratio must be a number above 1"):
        Slope(ratio)
