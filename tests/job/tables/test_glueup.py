"""[[stage]], [[captured]], [glueup] and cutout as a job writes them, and the one line that a slip gets."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.casework.glue_up_spec import DEFAULT_GLUE_UP, Captured, Pace, Reach, StageSpec
from dovelayout.errors import JobError
from dovelayout.joints.board import Cutout, End
from tests.glue_jobs import glue_box, shelf_between
from tests.jobs import loaded


def test_a_job_that_says_nothing_leaves_it_to_the_tool() -> None:
    assert loaded(glue_box()).glueup == DEFAULT_GLUE_UP


def test_what_is_said_comes_through() -> None:
    job = loaded(
        glue_box(
            captured=[{"name": "rail", "in": ["A", "case"], "reach": "inside", "faces": 2, "finish_first": True}],
            stage=[
                {"name": "left", "joins": ["A", "D"]},
                {"name": "right", "joins": ["B", "C", "rail"], "after": "left"},
            ],
            glueup={"seconds_a_face": 8, "open_minutes": 12, "wood_temperature": "60 F"},
        )
    ).glueup
    # a box stands for its corners, each once
    assert job.captured == (
        Captured(name="rail", held_by=("A", "B", "C", "D"), finish_first=True, reach=Reach.INSIDE, faces=2),
    )
    assert job.stages == (
        StageSpec(name="left", joins=("A", "D")),
        StageSpec(name="right", joins=("B", "C", "rail"), after=("left",)),
    )
    assert job.pace == Pace(seconds_a_face=8, open_minutes=12, wood_c=pytest.approx(15.5556, abs=1e-3))


def test_cutouts_one_or_several_in_any_unit() -> None:
    job = glue_box()
    one = {"from_end": "1 in", "from_edge": 20, "length": 30, "width": 40}
    job["board"][0]["cutout"] = one
    job["board"][1]["cutout"] = [{**one, "depth": 6, "end": "right", "cut": "after"}, one]
    side, end = loaded(job).boards
    opening = Cutout(from_end_mm=25.4, from_edge_mm=20, length_mm=30, width_mm=40, depth_mm=19)
    assert side.cutouts == (opening,)
    channel = Cutout(
        from_end_mm=25.4, from_edge_mm=20, length_mm=30, width_mm=40, depth_mm=6, end=End.RIGHT, cut_after=True
    )
    assert end.cutouts == (channel, opening)


CUT = {"from_end": 30, "from_edge": 20, "length": 30, "width": 40}
RAIL = {"name": "rail", "in": "case"}


def _with_cutout(cutout: Any) -> dict[str, Any]:
    job = glue_box()
    job["board"][0]["cutout"] = cutout
    return job


SLIPS: list[tuple[dict[str, Any], str]] = [
    (
        glue_box(stage=[{"name": "s", "joins": ["Q"]}]),
        "stage 's', key joins: there is no corner, divider or captured part 'Q'",
    ),
    (glue_box(stage=[{"name": "s", "joins": ["A"]}, {"name": "s", "joins": ["B"]}]), "stage 's': is there twice"),
    (
        glue_box(stage=[{"name": "s", "joins": ["A"]}, {"name": "t", "joins": ["A", "B"]}]),
        "stage 't', key joins: 'A' is glued in stage 's' already; name it once",
    ),
    (glue_box(stage=[{"name": "s", "joins": []}]), "stage 's', key joins: a name is wanted, or a list of names"),
    (glue_box(stage=[{"name": "s", "joins": 3}]), "stage 's', key joins: a name is wanted, or a list of names"),
    (glue_box(stage=[{"name": "s"}]), 'stage \'s\', key joins: is missing; add joins = ["A", "B"]'),
    (
        glue_box(stage=[{"name": "left", "joins": ["A"], "after": "rihgt"}, {"name": "right", "joins": ["B"]}]),
        "stage 'left', key after: there is no other stage 'rihgt'; did you mean 'right'?",
    ),
    (
        glue_box(stage=[{"name": "s", "joins": ["A"], "before": "s"}]),
        "stage 's', key before: there is no other stage 's'",
    ),
    (
        glue_box(captured=[{"name": "rail", "in": "csae"}]),
        "key in: there is no corner or box 'csae'; did you mean 'case'?",
    ),
    (glue_box(captured=[{"name": "rail"}]), "captured 'rail', key in: is missing"),
    (
        glue_box(captured=[RAIL, RAIL]),
        "captured 'rail': a corner, a divider or a captured part of that name is there already",
    ),
    (glue_box(captured=[{**RAIL, "name": "A"}]), "captured 'A': a corner, a divider or a captured part of that name"),
    (
        glue_box(captured=[{**RAIL, "name": "shelf"}], **shelf_between("side")),
        "captured 'shelf': a corner, a divider or a captured part of that name is there already; rename it",
    ),
    (glue_box(captured=[{**RAIL, "reach": "outside"}]), "captured 'rail', key reach: 'outside' is not known"),
    (glue_box(captured=[{**RAIL, "finish_first": "yes"}]), "captured 'rail', key finish_first"),
    (
        glue_box(captured=[{**RAIL, "faces": -1}]),
        "captured 'rail', key faces: -1 is out of range; at least 0 would be right",
    ),
    (glue_box(captured=[{**RAIL, "im": "case"}]), "captured 'rail', key im: this key is not known; did you mean in?"),
    (glue_box(glueup={"seconds_a_face": "six"}), "glueup, key seconds_a_face: a plain number is wanted"),
    (glue_box(glueup={"open_minutes": 0}), "glueup, key open_minutes: 0 is out of range; at least 0.1 would be right"),
    (
        glue_box(glueup={"second_a_face": 6}),
        "glueup, key second_a_face: this key is not known; did you mean seconds_a_face?",
    ),
    (glue_box(glueup={"wood_temperature": "cold"}), "glueup, key wood_temperature"),
    (_with_cutout({**CUT, "from_end": 480}), "board 'side', key cutout number 1: from_end + length is 510 mm"),
    (_with_cutout([CUT, {**CUT, "from_edge": 130}]), "board 'side', key cutout number 2: from_edge + width is 170 mm"),
    (_with_cutout({**CUT, "depth": 20}), "board 'side', key cutout number 1: 20 mm deep and the board is 19 mm thick"),
    (_with_cutout({**CUT, "dept": 5}), "dept: this key is not known; did you mean depth?"),
    (_with_cutout({**CUT, "cut": "later"}), "'later' is not known"),
    (_with_cutout("a hole"), "board 'side', key cutout: a list is wanted"),
    (_with_cutout([CUT] * 51), "board 'side', key cutout: is too long; 50 is the most"),
]


@pytest.mark.parametrize(("tables", "line"), SLIPS, ids=[line[:60] for _, line in SLIPS])
def test_a_slip_is_told_in_one_line(tables: dict[str, Any], line: str) -> None:
    with pytest.raises(JobError) as error:
        loaded(tables)
    assert line in str(error.value)
    assert str(error.value).startswith("test.toml: ")
    assert "\n" not in str(error.value)


def test_a_name_that_is_a_corner_and_a_divider() -> None:
    tables = shelf_between("side")
    tables["divider"][0]["name"] = "A"
    with pytest.raises(JobError, match="'A' is a corner and a divider; rename one of them"):
        loaded(glue_box(stage=[{"name": "s", "joins": ["A"]}], **tables))
