"""The four corners of a box: every board's right end meets the next one's left."""

from __future__ import annotations

import pytest

from dovelayout.casework.box import LENGTH_TOLERANCE_MM, BoxCorner, box_corners
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, End
from dovelayout.wood.species import find_wood


def _board(name: str, length_mm: float) -> Board:
    return Board(name=name, wood=find_wood("teak"), length_mm=length_mm, width_mm=100, thickness_mm=12)


LEFT, RIGHT = _board("left", 300), _board("right", 300)
FRONT, BACK = _board("front", 420), _board("back", 420)


def _corners() -> tuple[BoxCorner, ...]:
    return box_corners(tails=(LEFT, RIGHT), pins=(FRONT, BACK))


def test_the_corners_as_one_walks_round() -> None:
    assert [corner.where for corner in _corners()] == ["front left", "front right", "back right", "back left"]
    assert [(corner.tails.label, corner.pins.label) for corner in _corners()] == [
        ("left, right end", "front, left end"),
        ("right, left end", "front, right end"),
        ("right, right end", "back, left end"),
        ("left, left end", "back, right end"),
    ]


def test_right_ends_meet_left_ends_and_no_end_is_used_twice() -> None:
    ends = [end for corner in _corners() for end in (corner.tails, corner.pins)]
    assert len({(end.board.name, end.end) for end in ends}) == 8
    for corner in _corners():
        assert corner.tails.end is corner.pins.end.opposite
        assert {corner.tails.board.name, corner.pins.board.name} == set(corner.where.split())


def test_walking_round_to_the_right_comes_back() -> None:
    """Seen from outside, what is to the right of the front is the right side, then the back, then the left side."""
    to_the_right = {}
    for corner in _corners():
        one, other = sorted((corner.tails, corner.pins), key=lambda end: end.end is End.LEFT)
        to_the_right[one.board.name] = other.board.name
    assert to_the_right == {"front": "right", "right": "back", "back": "left", "left": "front"}


def test_one_board_given_twice_is_a_pair() -> None:
    side = _board("side", 300)
    labels = [corner.tails.label for corner in box_corners(tails=(side, side), pins=(FRONT, BACK))]
    assert labels == [
        "side (left), right end",
        "side (right), left end",
        "side (right), right end",
        "side (left), left end",
    ]
    rail = _board("rail", 420)
    labels = [corner.pins.label for corner in box_corners(tails=(LEFT, RIGHT), pins=(rail, rail))]
    assert labels == [
        "rail (front), left end",
        "rail (front), right end",
        "rail (back), left end",
        "rail (back), right end",
    ]


def test_opposite_boards_must_be_equally_long() -> None:
    box_corners(tails=(LEFT, _board("right", 300 + LENGTH_TOLERANCE_MM)), pins=(FRONT, BACK))
    said = r"^left is 300 mm long and right opposite it 300\.6 mm; a box needs equal lengths opposite each other$"
    with pytest.raises(LayoutError, match=said):
        box_corners(tails=(LEFT, _board("right", 300.6)), pins=(FRONT, BACK))
    with pytest.raises(LayoutError, match="front is 420 mm long and back"):
        box_corners(tails=(LEFT, RIGHT), pins=(FRONT, _board("back", 400)))
