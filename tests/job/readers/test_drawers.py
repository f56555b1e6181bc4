"""[drawers], [[drawer]] and [[bank]]: what they take, what they give, and what they say of a bad one."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.errors import JobError
from dovelayout.joints.board import Rings
from tests.drawer_jobs import drawer_job, made
from tests.jobs import corner_job, loaded


def refused(tables: dict[str, Any]) -> str:
    with pytest.raises(JobError) as caught:
        loaded(tables)
    line = str(caught.value)
    assert "\n" not in line
    return line


def test_an_opening_becomes_boards_and_four_corners() -> None:
    job = loaded(drawer_job())
    assert [board.name for board in job.boards] == ["d front", "d side", "d back", "d bottom"]
    assert [board.count for board in job.boards] == [1, 2, 1, 1]
    assert [joint.name for joint in job.joints] == ["d front left", "d front right", "d back right", "d back left"]


def test_what_all_drawers_have_in_common_stands_once_and_one_may_differ() -> None:
    tables = drawer_job()
    tables["drawers"] = {"species": "white oak", "side_thickness": 10, "side_rings": "quarter", "fit": "piston"}
    tables["drawer"] = [
        {"name": "a", "width": 300, "height": 90, "depth": 320},
        {"name": "b", "width": 300, "height": 90, "depth": 320, "species": "black cherry", "fit": "good"},
    ]
    first, second = loaded(tables).drawers
    assert first.board("side").wood.name == "white oak"
    assert second.board("side").wood.name == "black cherry"
    assert first.board("side").thickness_mm == second.board("side").thickness_mm == 10
    assert second.board("side").rings is Rings.QUARTER
    assert first.spec.fit.value == "piston"
    assert second.spec.fit.value == "good"


def test_drawers_stand_beside_corners_and_boards_of_the_same_job() -> None:
    tables = {**drawer_job(), **{key: value for key, value in corner_job(tail_count=4).items() if key != "title"}}
    job = loaded(tables)
    assert job.joints[0].name == "A"
    assert len(job.joints) == 5
    assert {"side", "top", "d front"} <= {board.name for board in job.boards}


@pytest.mark.parametrize(
    ("key", "role"), [("front", "front"), ("side", "side"), ("back", "back"), ("bottom", "bottom")]
)
def test_each_part_has_its_own_wood_thickness_and_rings(key: str, role: str) -> None:
    keys = {f"{key}_species": "black walnut", f"{key}_thickness": 16, f"{key}_rings": "rift"}
    board = made(drawer_job(**keys)).board(role)
    assert (board.wood.name, board.thickness_mm, board.rings) == ("black walnut", 16, Rings.RIFT)


def test_the_lengths_of_a_drawer_in_inches() -> None:
    tables = drawer_job(width="15 3/4", height="4 3/8", depth=16, front_thickness="3/4")
    tables["units"] = "in"
    drawer = made(tables)
    assert drawer.spec.opening.width_mm == pytest.approx(400.05)
    assert drawer.board("front").thickness_mm == pytest.approx(19.05)


def test_gauge_settings_of_its_corners() -> None:
    job = loaded(drawer_job(front_thickness=20, lap=5, side_thickness=12, back_thickness=10))
    tails, pins = job.joints[0].end_faces()
    assert tails.baseline_mm == 15  # the sockets' depth, on the side and across the front's end
    assert pins.end_gauge_mm == 15
    assert pins.baseline_mm == pytest.approx(11.8)  # a shaving less than the side
    tails, pins = job.joints[2].end_faces()
    assert tails.baseline_mm == 10
    assert pins.baseline_mm == pytest.approx(11.8)


def test_thin_sides_take_slips_and_stay_whole() -> None:
    thin = loaded(drawer_job(side_thickness=8))
    assert thin.drawers[0].sizes.slips
    assert thin.drawers[0].board("slip").count == 2
    assert all(joint.spec.groove is None for joint in thin.joints)
    grooved = loaded(drawer_job(side_thickness=8, slips=False))
    assert not grooved.drawers[0].sizes.slips
    assert grooved.joints[0].spec.groove is not None


def test_a_wide_drawer_with_a_muntin_has_two_panels() -> None:
    drawer = made(drawer_job(width=800, depth=560, muntin=True))
    bottom, muntin = drawer.board("bottom"), drawer.board("muntin")
    assert bottom.count == 2
    assert (muntin.width_mm, muntin.thickness_mm) == (50, 16)
    inside = drawer.width_mm - 2 * (12 - 0.2)  # pins are a shaving shorter than the sides are thick
    # two panels, each in a groove of a side and one of the muntin, and 2 mm of play
    assert 2 * bottom.length_mm + 50 == pytest.approx(inside + 4 * drawer.groove.depth_mm - 2, abs=0.2)


def test_a_lipped_front_covers_the_opening_all_year() -> None:
    job = loaded(drawer_job(front="lipped", lip={"overhang": 9, "thickness": 6}))
    drawer = job.drawers[0]
    front = drawer.board("front")
    assert front.length_mm == pytest.approx(drawer.width_mm + 18)
    assert front.length_mm > 400
    assert front.width_mm > 110
    assert all(joint.lap_mm >= 6 for joint in job.joints[:2])
    assert all(joint.spec.lip is not None for joint in job.joints[:2])


def test_moisture_as_measured_goes_before_the_air() -> None:
    dry, wet = made(drawer_job(moisture=7)), made(drawer_job(moisture=12))
    assert dry.height_mm < wet.height_mm  # the dry one has more to grow


def test_layout_keys_of_front_and_back() -> None:
    job = loaded(
        drawer_job(
            tail_count=2,
            pin=7,
            half_pin=5,
            slope="1:6",
            back_tail_count=4,
            back_pin=5,
            back_half_pin=6,
            back_slope="1:8",
        )
    )
    front, back = job.joints[0], job.joints[2]
    assert (len(front.tails), front.spec.pin_mm, front.spec.half_pin_mm, front.slope.ratio) == (2, 7, 5, 6)
    assert (len(back.tails), back.spec.pin_mm, back.spec.half_pin_mm, back.slope.ratio) == (4, 5, 6, 8)


@pytest.mark.parametrize(
    ("drawer", "said"),
    [
        ({"species": "bog myrtle"}, "drawer 'd', key species: no wood is known as 'bog myrtle'"),
        ({"side_species": "bog myrtle"}, "drawer 'd', key side_species: no wood is known as 'bog myrtle'"),
        ({"hight": 3}, "drawer 'd', key hight: this key is not known; did you mean height?"),
        ({"width": "wide"}, "drawer 'd', key width: 'wide' is not a length"),
        ({"width": -3}, "drawer 'd', key width: -3 is -3 mm"),
        ({"fit": "tight"}, "drawer 'd', key fit: 'tight' is not known; one of 'piston', 'good' or 'workaday'"),
        ({"front": "inset", "lip": {"overhang": 8, "thickness": 6}}, "drawer 'd', key lip: an inset front has no lip"),
        ({"front": "lipped", "lip": {"overhang": 8}}, "drawer 'd', key lip thickness: is missing"),
        (
            {"groove": {"from_edge": 8, "width": 6, "depth": 12}},
            "drawer 'd', key groove: 12 mm deep goes through the side",
        ),
        ({"front_width": 399, "side_gap": 0.5}, "front_width and side_gap both say how large the drawer is"),
        ({"front_height": 99, "top_gap": 0.5}, "front_height and top_gap both say how large the drawer is"),
        (
            {"height": 24},
            "drawer 'd': sides 22.9 mm high leave 4.9 mm for the back over the groove; 30 mm or more would do",
        ),
        ({"height": 0.5}, "leaves no height for a drawer"),
        ({"depth": 40}, "is no drawer; check the opening's measures"),
        ({"width": 40}, "is no drawer; check the opening's measures"),
        ({"lap": 20}, "a lap of 20 mm leaves no socket in d front"),
        ({"tail_count": 60}, "60 tails leave"),
        ({"muntin": True, "width": 80}, "leave out the muntin and the slips"),
        ({"bow": 40}, "key bow: 40 is 40 mm; -20 to 20 mm would be right"),
        ({"muntin": "yes"}, "key muntin: 'yes' is neither true nor false; write true or false"),
        ({"moisture": 50}, "key moisture: 50 is out of range; at most 30 would be right"),
    ],
)
def test_a_bad_drawer_is_said_in_one_line(drawer: dict[str, Any], said: str) -> None:
    assert said in refused(drawer_job(**drawer))


def test_a_drawer_without_a_wood() -> None:
    tables = drawer_job()
    del tables["drawer"][0]["species"]
    assert "drawer 'd': names no wood; add species" in refused(tables)


def test_names_that_are_taken() -> None:
    twice = drawer_job()
    twice["drawer"] = [*twice["drawer"], twice["drawer"][0]]
    assert "drawer 'd': is there twice" in refused(twice)
    boards = drawer_job()
    boards["board"] = [{"name": "d side", "species": "white oak", "length": 300, "width": 100, "thickness": 12}]
    assert "its 'd side' is there already" in refused(boards)
    bank = drawer_job()
    bank["bank"] = [{"name": "d", "species": "white oak", "width": 300, "depth": 300, "height": 200, "count": 2}]
    bank["drawer"][0]["name"] = "d 2"
    assert "bank 'd', drawer 2 from the top: is there twice" in refused(bank)


@pytest.mark.parametrize(
    ("bank", "said"),
    [
        ({"count": 0}, "key count: 0 is out of range; at least 1 would be right"),
        ({"count": 100}, "at most 60"),
        ({"height": 60}, "6 openings with 5 rails of 20 mm between them don't go into 60 mm"),
        ({"rule": "golden"}, "'golden' is not known"),
        ({"grows": 0.5}, "at least 1"),
    ],
)
def test_a_bad_bank_is_said_in_one_line(bank: dict[str, Any], said: str) -> None:
    row = {"name": "row", "species": "white oak", "width": 300, "depth": 300, "height": 640, "count": 6, **bank}
    assert said in refused({"bank": [row]})


def test_more_drawers_than_a_job_takes() -> None:
    banks = [
        {"name": f"b{n}", "species": "white oak", "width": 300, "depth": 300, "height": 3600, "count": 60, "rail": 0}
        for n in range(9)
    ]
    assert "is one drawer too many; 500 is the most in one job" in refused({"bank": banks})
