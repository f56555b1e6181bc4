"""Boards as a job has them: ends by left and right and by names of their own, in what is read and in what is said."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.joints.board import End
from dovelayout.report.check import verdict_json
from dovelayout.verdict.verdict import judged
from tests.divider_jobs import divider_job
from tests.jobs import corner_job, error_of, loaded

POST = {"ends": ["foot", "top"]}


@pytest.mark.parametrize(
    ("tails", "pins"),
    [("side.foot", "top.right"), ("side.left", "top.right"), ("side.foot", "top"), ("side", "top.right")],
)
def test_an_end_is_found_by_its_own_name_and_by_its_side(tails: str, pins: str) -> None:
    (joint,) = loaded(corner_job(board=POST, tails=tails, pins=pins)).joints
    assert (joint.spec.tails.end, joint.spec.pins.end) == (End.LEFT, End.RIGHT)
    assert (joint.spec.tails.label, joint.spec.pins.label) == ("side, foot end", "top, right end")


def test_a_board_without_names_has_a_left_and_a_right_end() -> None:
    assert loaded(corner_job()).boards[0].end_names == ("left", "right")


def test_json_and_findings_say_the_job_s_own_names() -> None:
    job = loaded(corner_job(board=POST, tails="side.foot", half_pin=1.5))
    said = verdict_json(judged(job))
    (corner,) = said["corners"]
    assert (corner["tails_end"], corner["pins_end"]) == ("side, foot end", "top, right end")


@pytest.mark.parametrize("end", ["head", "Foot", "lift"])
def test_an_end_that_is_neither_is_refused_with_those_there_are(end: str) -> None:
    said = error_of(corner_job(board=POST, tails=f"side.{end}"))
    assert said.endswith(f"corner 'A', key tails: 'side.{end}' names no end; side.foot or side.top")


def test_two_ends_of_one_hand_are_said_by_their_names() -> None:
    said = error_of(corner_job(board=POST, tails="side.foot", pins="top.left"))
    assert "foot end of side and left end of top can't meet" in said
    assert said.endswith("top.right would meet the first")


@pytest.mark.parametrize(
    "ends",
    [
        ["foot", "foot"],
        ["right", "left"],
        ["right", "top"],
        ["foot", "left"],
        ["foot"],
        ["foot", "top", "side"],
        ["a.b", "c"],
        ["", "c"],
        [" ", "c"],
        "foot",
        [1, 2],
    ],
)
def test_names_that_mislead_are_refused(ends: Any) -> None:
    assert "board 'side', key ends" in error_of(corner_job(board={"ends": ends}))


def test_left_and_right_may_be_named_as_they_are() -> None:
    assert loaded(corner_job(board={"ends": ["left", "top"]})).boards[0].end_names == ("left", "top")


@pytest.mark.parametrize(("end", "found"), [("foot", End.LEFT), ("top", End.RIGHT), ("right", End.RIGHT)])
def test_a_cut_out_is_measured_from_a_named_end(end: str, found: End) -> None:
    cutout = {"from_end": 50, "from_edge": 40, "length": 20, "width": 20, "end": end}
    (board, _) = loaded(corner_job(board={**POST, "cutout": cutout})).boards
    assert board.cutouts[0].end is found


def test_a_cut_out_from_an_end_that_is_neither_is_refused() -> None:
    cutout = {"from_end": 50, "from_edge": 40, "length": 20, "width": 20, "end": "head"}
    said = error_of(corner_job(board={**POST, "cutout": cutout}))
    assert said.endswith("board 'side', key cutout number 1 end: 'head' names no end; foot or top")


def test_a_divider_is_measured_from_a_named_end() -> None:
    job = divider_job(host="side.top")
    job["board"][0]["ends"] = ["foot", "top"]
    (divider,) = loaded(job).dividers
    assert divider.joint.spec.host.label == "side, top end"
    assert divider.joint.spec.host.of_board == "top end of side"


def test_a_host_without_its_end_is_told_the_names() -> None:
    job = divider_job(host="side")
    job["board"][0]["ends"] = ["foot", "top"]
    assert error_of(job).endswith("side.foot or side.top")
