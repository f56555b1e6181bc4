"""What goes in before what: captures, closing directions, the maker's own stages, and circles that are named."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from dovelayout.casework.assembly import Assembly, assemblies
from dovelayout.checks.finding import Level
from dovelayout.errors import LayoutError
from dovelayout.glueup.closing import can_close, sequence
from dovelayout.glueup.order import ordered
from dovelayout.glueup.plan import GlueUp
from dovelayout.glueup.steps import StepKind
from dovelayout.joints.corner import CornerJoint
from tests.glue_jobs import glue_box, glue_findings, glue_jobs, loudness, planned, shelf_between, with_changes
from tests.jobs import loaded


def _case(tables: dict[str, Any]) -> tuple[Assembly, dict[str, CornerJoint]]:
    (chain,) = assemblies(loaded(tables).joints)
    return chain, {joint.name: joint for joint in chain.corners}


def _told(plan: GlueUp) -> list[tuple[str, ...]]:
    return [(step.kind.value, *step.names) for step in plan.steps]


# --- which corners can close ---


def test_a_side_closes_last_and_a_pin_board_never_does() -> None:
    """Tails go on to pins along the tail board's own normal: with front and both sides glued, the back's pins would have to
    enter both sides at once."""
    chain, corner = _case(glue_box())
    a, b, c, d = (corner[name] for name in "ABCD")
    assert can_close(chain, closed=[a, d], closing=[b, c])
    assert not can_close(chain, closed=[a, b], closing=[c, d])
    assert not can_close(chain, closed=[a, b, c], closing=[d])
    # two L-shapes go together
    assert can_close(chain, closed=[a, c], closing=[b, d])
    assert can_close(chain, closed=[], closing=[a, b, c, d])


def test_a_pinwheel_closes_as_two_angles() -> None:
    """Each board with tails at its right end and pins at its left: two L-shapes first, then both corners at once."""
    job = glue_box()
    board = job["board"][0]
    job["board"] = [{**board, "name": name, "length": 400, "count": 1} for name in ("w", "n", "e", "s")]
    del job["box"]
    pairs = [("w", "n"), ("n", "e"), ("e", "s"), ("s", "w")]
    keys = {"tail_count": 4, "pin": 6, "half_pin": 8, "slope": "1:7"}
    job["corner"] = [
        {"name": f"{one}{other}", "tails": f"{one}.right", "pins": f"{other}.left", **keys} for one, other in pairs
    ]
    chain, corner = _case(job)
    assert chain.ring
    groups = sequence(chain, closed=[], closing=chain.corners)
    assert groups is not None
    assert [len(group) for group in groups] == [1, 1, 2]
    # the two that close at once lie across from each other
    assert {joint.name for joint in groups[-1]} in ({"wn", "es"}, {"ne", "sw"})
    assert not can_close(chain, closed=[corner["wn"], corner["ne"], corner["es"]], closing=[corner["sw"]])


def test_corners_of_a_drawer_without_its_back_are_no_ring() -> None:
    job = glue_box()
    del job["box"]
    keys = {"tail_count": 4, "pin": 6, "half_pin": 8, "slope": "1:7"}
    job["board"].append({**job["board"][0], "name": "other side"})
    job["corner"] = [
        {"name": "A", "tails": "side.right", "pins": "end.left", **keys},
        {"name": "B", "tails": "other side.left", "pins": "end.right", **keys},
    ]
    chain, _ = _case(job)
    assert not chain.ring
    # both sides on one front: their far ends are free
    assert [(row.where, row.length_mm) for row in planned(job).spreaders] == [
        ("corners A, B, after stage corners A, B: between the free ends of side and other side", 362.0)
    ]


# --- captures ---


def test_a_captured_rail_goes_in_before_the_last_corners_and_gets_a_spreader() -> None:
    plan = planned(glue_box(captured=[{"name": "rail", "in": "case"}]))
    assert _told(plan) == [("corners", "A", "D"), ("captured", "rail"), ("corners", "B", "C")]
    assert "nothing gets past corners B, C afterwards" in plan.steps[1].words
    # sides stand on ends 400 long, 19 mm of joint at either end
    assert [row.length_mm for row in plan.spreaders] == [362.0]
    assert plan.stages[0].stage.joins == ("A", "B", "C", "D", "rail")


def test_finish_first_fix_inside_plane_last() -> None:
    panel = {"name": "panel", "in": "case", "finish_first": True, "reach": "inside", "left_long": True}
    assert _told(planned(glue_box(captured=[panel], box={"proud": 0.4}))) == [
        ("finish", "panel"),
        ("corners", "A", "D"),
        ("captured", "panel"),
        ("inside", "panel"),
        ("corners", "B", "C"),
        ("flush", "panel"),
        ("flush", "A", "B", "C", "D"),
    ]


def test_what_only_the_first_corners_hold_goes_in_before_them() -> None:
    plan = planned(glue_box(captured=[{"name": "rail", "in": ["A", "D"]}]))
    assert _told(plan)[:2] == [("captured", "rail"), ("corners", "A", "D")]


def test_a_shelf_between_boards_with_pins_is_shut_in() -> None:
    """Boards with pins don't move when the sides close: the shelf between them goes in before."""
    plan = planned(glue_box(tails="end", **shelf_between("side")))
    assert [kind for kind, *_ in _told(plan)] == ["corners", "divider", "corners"]
    assert len(plan.stages) == 1


def test_a_shelf_between_boards_with_tails_slides_in_from_the_back() -> None:
    """Dovetailed to both sides it would keep them from closing towards each other; a spreader holds its place."""
    plan = planned(glue_box(**shelf_between("side")))
    assert _told(plan) == [("corners", "A", "D"), ("corners", "B", "C"), ("divider", "shelf")]
    assert [row.name for row in plan.stages] == ["case", "divider shelf"]
    assert [(row.where, row.length_mm) for row in plan.spreaders] == [
        ("case: where shelf will come, until it is in", 362.0)
    ]


def test_a_partition_in_a_shelf_is_fitted_on_the_bench() -> None:
    tables = shelf_between("side")
    tables["board"].append(
        {"name": "partition", "species": "black cherry", "length": 90, "width": 140, "thickness": 12}
    )
    tables["divider"].append(
        {"name": "partition", "host": "shelf.left", "key": "partition.left", "at": 190, "depth": 5}
    )
    kinds = [step.names for step in planned(glue_box(**tables)).steps if step.kind is StepKind.DIVIDER]
    assert kinds == [("partition",), ("shelf",)]


# --- the maker's own stages ---


def test_stages_override_the_default() -> None:
    stages = [{"name": "right", "joins": ["B", "C"]}, {"name": "left", "joins": ["A", "D"], "before": "right"}]
    plan = planned(glue_box(stage=stages, captured=[{"name": "rail", "in": "case"}]))
    assert [row.name for row in plan.stages] == ["left", "right"]
    assert _told(plan) == [("corners", "A", "D"), ("captured", "rail"), ("corners", "B", "C")]
    # clamped on one side alone, the free ends of the pin boards are held apart as far as they are at the side
    where, length = plan.spreaders[-1].where, plan.spreaders[-1].length_mm
    assert where == "case, after stage left: between the free ends of end (front) and end (back)"
    assert length == 462.0


def test_corners_left_out_of_the_stages_are_glued_after_them() -> None:
    plan = planned(glue_box(stage=[{"name": "case", "joins": ["A", "D"]}]))
    assert [(row.name, row.stage.joins) for row in plan.stages] == [
        ("case", ("A", "D")),
        ("case, the rest", ("B", "C")),
    ]


def test_stages_that_cant_close_stop_and_the_fix_passes() -> None:
    stages = [{"name": "front", "joins": ["A", "B"]}, {"name": "back", "joins": ["C", "D"]}]
    job = glue_box(stage=stages)
    (finding,) = glue_findings(job, "closing-order")
    assert finding.level is Level.STOP
    assert finding.where == "stage back"
    assert loudness(with_changes(job, finding.changes), "closing-order") is Level.OK


def test_one_stage_that_leaves_the_rest_no_way_in() -> None:
    job = glue_box(stage=[{"name": "front", "joins": ["A", "B"]}])
    (finding,) = glue_findings(job, "closing-order")
    assert loudness(with_changes(job, finding.changes), "closing-order") is Level.OK


def test_a_shelf_glued_before_the_sides_close_stops() -> None:
    stages = [
        {"name": "shelf first", "joins": ["shelf"], "before": "case"},
        {"name": "case", "joins": ["A", "B", "C", "D"]},
    ]
    assert loudness(glue_box(stage=stages, **shelf_between("side")), "closing-order") is Level.STOP
    assert loudness(glue_box(tails="end", stage=stages, **shelf_between("side")), "closing-order") is Level.OK


# --- circles ---


def test_a_circle_names_its_members_and_why() -> None:
    stages = [
        {"name": "rail last", "joins": ["rail"], "after": "corners"},
        {"name": "corners", "joins": ["A", "B", "C", "D"]},
    ]
    with pytest.raises(LayoutError) as error:
        planned(glue_box(captured=[{"name": "rail", "in": "case"}], stage=stages))
    words = str(error.value)
    assert "goes round in a circle" in words
    assert "'rail last' before 'corners' (rail is captured by corner" in words
    assert "'corners' before 'rail last' (stage 'rail last' says so)" in words
    assert words.endswith("take one of these out")


def test_a_circle_of_stages_alone() -> None:
    stages = [
        {"name": "one", "joins": ["A"], "before": "two"},
        {"name": "two", "joins": ["D"], "before": "three"},
        {"name": "three", "joins": ["B", "C"], "before": "one"},
    ]
    with pytest.raises(LayoutError, match="circle") as error:
        planned(glue_box(stage=stages))
    assert all(f"'{name}'" in str(error.value) for name in ("one", "two", "three"))


def test_ordered_keeps_the_listing_where_nothing_else_says() -> None:
    assert ordered(["c", "a", "b"], {}) == ("c", "a", "b")
    assert ordered(["c", "a", "b"], {("b", "c"): "why"}) == ("a", "b", "c")


# --- whatever the job ---


@given(glue_jobs())
def test_the_order_respects_every_capture(tables: dict[str, Any]) -> None:
    job = loaded(tables)
    plan = planned(tables)
    told = _told(plan)
    place = {(kind, name): number for number, (kind, *names) in enumerate(told) for name in names}
    # every corner closes once, every part goes in once
    assert sorted(name for kind, *names in told if kind == "corners" for name in names) == ["A", "B", "C", "D"]
    for part in job.glueup.captured:
        put = place["captured", part.name]
        last = max(place["corners", name] for name in part.held_by)
        assert put < last
        if part.finish_first:
            assert place["finish", part.name] < put
        if part.reach == "inside":
            assert put < place["inside", part.name] < last
        if part.left_long:
            assert place["flush", part.name] > max(place["corners", name] for name in "ABCD")
    stages = [row.name for row in plan.stages]
    at = [stages.index(step.stage) for step in plan.steps if step.kind not in (StepKind.FINISH, StepKind.FLUSH)]
    assert at == sorted(at)


@given(glue_jobs())
def test_stages_take_what_they_claim_and_no_more(tables: dict[str, Any]) -> None:
    """Minutes are those of the faces, seats and clamps of all that a stage joins, counted once over the whole job."""
    job = loaded(tables)
    plan = planned(tables)
    pace, hands = job.glueup.pace, job.shop.hands
    for row in plan.stages:
        shut = (row.labour.seats * pace.seconds_a_corner + row.labour.clamps * pace.seconds_a_clamp) / 60
        assert row.spread_minutes == pytest.approx(row.labour.faces * pace.seconds_a_face / hands / 60)
        assert row.minutes == pytest.approx(row.spread_minutes + shut)
    joined = [name for row in plan.stages for name in row.stage.joins]
    wanted = [joint.name for joint in job.joints] + [divider.name for divider in job.dividers]
    assert sorted(joined) == sorted([*wanted, *(part.name for part in job.glueup.captured)])
    cheeks = sum(sum(1 if pin.half else 2 for pin in joint.pins) for joint in job.joints)
    housings = sum(2 * len(divider.joints) for divider in job.dividers)
    assert sum(row.labour.faces for row in plan.stages) == cheeks + housings + sum(p.faces for p in job.glueup.captured)


@given(glue_jobs())
def test_every_change_that_is_offered_passes(tables: dict[str, Any]) -> None:
    for finding in planned(tables).findings:
        if not finding.changes:
            continue
        again = planned(with_changes(tables, finding.changes))
        if finding.check == "open-time":
            # the stage itself, or the smaller ones that took its place
            names = {change.name for change in finding.changes if change.table == "stage"}
            where = {f"stage {name}" for name in names} or {finding.where}
            rows = [other for other in again.findings if other.check == "open-time" and other.where in where]
        else:
            rows = [other for other in again.findings if other.check == finding.check]
        assert all(row.level.rank < finding.level.rank for row in rows), (finding.fix, rows)


# --- equal boards, written once ---


def _drawer(corners: list[tuple[str, str, str]], count: int = 2) -> dict[str, Any]:
    job = glue_box()
    del job["box"]
    side, end = job["board"]
    job["board"] = [{**side, "count": count}, {**end, "name": "front", "count": 1}, {**end, "name": "back", "count": 1}]
    keys = {"tail_count": 4, "pin": 6, "half_pin": 8, "slope": "1:7"}
    job["corner"] = [{"name": name, "tails": tails, "pins": pins, **keys} for name, tails, pins in corners]
    return job


def test_a_pair_of_sides_written_as_one_board_closes_into_a_ring() -> None:
    job = _drawer(
        [
            ("left front", "side.right", "front.left"),
            ("right front", "side.left", "front.right"),
            ("left back", "side.left", "back.right"),
            ("right back", "side.right", "back.left"),
        ]
    )
    plan = planned(job)
    (chain,) = plan.assemblies
    assert chain.ring
    # one side holds the left corners, the other the right ones: a board can't meet both ends of the front
    assert _told(plan) == [("corners", "left front", "left back"), ("corners", "right front", "right back")]
    assert [row.length_mm for row in plan.diagonals] == [row.length_mm for row in planned(glue_box()).diagonals]


def test_a_front_with_both_sides_is_no_single_side() -> None:
    job = _drawer([("A", "side.right", "front.left"), ("B", "side.left", "front.right")])
    plan = planned(job)
    assert len(plan.assemblies[0].members) == 3
    assert [row.length_mm for row in plan.spreaders] == [362.0]
