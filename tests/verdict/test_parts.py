"""What a change of one row can reach: what hangs together by the names of boards, and all that holds for the whole job."""

from __future__ import annotations

from typing import Any

from dovelayout.change import Change
from dovelayout.verdict.parts import Parts, Tables

BOARD = {"species": "black cherry", "length": 400, "width": 120, "thickness": 16}
JOB: dict[str, Any] = {
    "title": "Parts",
    "units": "mm",
    "shop": {"kerf": 0.6},
    "drawers": {"species": "beech"},
    "board": [{"name": name, **BOARD} for name in ("side", "end", "left.over", "shelf", "host", "lid", "spare")],
    "corner": [{"name": "A", "tails": "side.left", "pins": "end.right"}],
    "divider": [{"name": "D", "host": ["host.left", "left.over.right"], "key": "shelf", "at": 90}],
    "across": [{"name": "batten", "kind": "batten", "part": "lid", "host": "shelf"}],
    "panel": [{"name": "bottom", "board": "end", "frame": "side"}],
    "drawer": [{"name": "d", "width": 300, "height": 90, "depth": 300}],
    "bank": [{"name": "b", "width": 300, "height": 290, "depth": 300, "count": 3}],
    "stage": [{"name": "one", "joins": ["A"]}],
    "glueup": {"pace": 1},
}


def reached(tables: Tables, *rows: tuple[str, str]) -> dict[str, list[str]]:
    """Names of the rows that a change of these reaches, by table."""
    changes = [Change(table=table, name=name, key="any", value=1) for table, name in rows]
    part = Parts(tables).reached_by(changes)
    return {table: [row["name"] for row in found] for table, found in part.items() if isinstance(found, list) and found}


def test_a_corner_reaches_its_boards_and_what_else_they_are_in() -> None:
    both = {"board": ["side", "end"], "corner": ["A"], "panel": ["bottom"]}
    for row in (("corner", "A"), ("board", "side"), ("board", "end"), ("panel", "bottom")):
        assert reached(JOB, row) == both


def test_hosts_keys_and_parts_hang_together_by_their_names_with_dots_in_them_too() -> None:
    part = {"board": ["left.over", "shelf", "host", "lid"], "divider": ["D"], "across": ["batten"]}
    for row in (("divider", "D"), ("across", "batten"), ("board", "left.over")):
        assert reached(JOB, row) == part


def test_drawers_and_banks_stand_alone() -> None:
    assert reached(JOB, ("drawer", "d")) == {"drawer": ["d"]}
    assert reached(JOB, ("bank", "b")) == {"bank": ["b"]}
    assert reached(JOB, ("bank", "b"), ("corner", "A")).keys() == {"bank", "board", "corner", "panel"}


def test_what_holds_for_all_of_the_job_goes_with_every_part_and_reaches_all_of_it() -> None:
    part = Parts(JOB).reached_by([Change(table="drawer", name="d", key="any", value=1)])
    assert {key: part[key] for key in ("title", "units", "shop", "drawers")} == {
        key: JOB[key] for key in ("title", "units", "shop", "drawers")
    }
    assert "stage" not in part  # the glue-up is judged by itself, and may name what is elsewhere
    for row in (("shop", "shop"), ("drawers", "drawers"), ("home", "home")):
        assert Parts(JOB).reached_by([Change(table=row[0], name=row[1], key="any", value=1)]) is JOB


def test_boards_without_a_joint_are_no_job_by_themselves() -> None:
    assert Parts(JOB).reached_by([Change(table="board", name="spare", key="any", value=1)]) is JOB


def test_with_a_box_all_corners_hang_together_by_their_letters() -> None:
    boxes = [{"name": "case", "tails": "host", "pins": "shelf"}, {"name": "tray", "tails": "lid", "pins": "spare"}]
    found = reached({**JOB, "box": boxes}, ("corner", "A"))
    assert found["box"] == ["case", "tray"]
    assert found["corner"] == ["A"]
    assert len(found["board"]) == len(JOB["board"])
