"""Parts across a host: what is measured, and how a part is fastened anew."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.finding import Finding
from dovelayout.checks.movement.across import well_fixed
from tests.jobs import loaded, values_of
from tests.season_jobs import CHERRY, across_job, emc, found, grown

DAMP = {"shop": {"humidity": [58, 83]}, "home": {"humidity": [25, 40]}}
DRYING = 1 - grown(1, CHERRY, emc(83), emc(25))  # 0.026: 38 mm of it lose 1 mm
SHARE = grown(1, CHERRY, emc(30), emc(65)) - 1


def _eased(**keys: Any) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Glue and slots of a part as it is fastened anew."""
    job = loaded(across_job(**keys))
    (part,) = job.across
    swing = part.swing(job.shop)
    assert swing is not None
    better = well_fixed(part, swing)
    return [(s.start_mm, s.end_mm) for s in better.glue], [(s.at_mm, s.play_mm) for s in better.slots]


def test_slots_and_screws_outside_the_new_glue_keep_their_places() -> None:
    glue, slots = _eased(kind="support", glue="all", slots=[{"at": 400, "play": 0}], screws=[30, 250])
    assert glue == [(0, 76)]
    assert [at for at, _ in slots] == [250, 400]


def test_a_part_without_any_gets_one_near_its_rear_end_and_a_batten_one_near_either() -> None:
    assert [at for at, _ in _eased(kind="support", glue="all")[1]] == [508 - 25]
    glue, slots = _eased(kind="batten", glue="all")
    assert glue == [(254 - 38, 254 + 38)]
    assert [at for at, _ in slots] == [25, 508 - 25]


def test_a_slot_gets_what_the_host_moves_there_and_a_mm_more() -> None:
    """488 - 25 mm from the middle of the glue, on the next tenth."""
    ((_, play),) = _eased(kind="support", glue="all")[1]
    moves_mm = (508 - 25 - 38) * SHARE
    assert moves_mm + 1 <= play < moves_mm + 1.1


def test_glue_at_the_front_is_short_only_where_it_pushes_something_forward() -> None:
    assert _eased(kind="support", glue="all", **DAMP)[0] == [(0, 76)]
    ((start, end),) = _eased(kind="rail", glue="all", **DAMP)[0]
    assert start == 0
    assert end / 2 * DRYING <= 1 < (end / 2 + 1) * DRYING
    assert _eased(kind="rail", glue="all", shop={"built_at": 30}, home={"humidity": [30, 65]})[0] == [(0, 76)]


def _only(check: str, **keys: Any) -> Finding:
    (finding,) = found(across_job(**keys), check)
    return finding


def test_what_a_slot_lacks_is_its_movement_less_its_play() -> None:
    finding = _only("slot-play", glue=[[0, 76]], slots=[{"at": 400, "play": 2}])
    assert finding.measured == pytest.approx(362 * SHARE - 2, abs=0.006)
    assert "362 mm from what holds" in finding.message
    play_mm = float(values_of(finding)["slots"][0]["play"].removesuffix(" mm"))
    assert 362 * SHARE + 1 <= play_mm < 362 * SHARE + 1.1
    assert finding.fix.startswith(f"{play_mm:g} mm of play to either side")


def test_what_holds_is_measured_over_all_of_it() -> None:
    finding = _only("cross-grain", screws=[20, 320])
    assert finding.measured == pytest.approx(300 * SHARE, abs=0.006)
    assert "over the 300 mm" in finding.message


def test_a_runner_is_cut_to_a_length_that_leaves_a_mm_and_loses_no_more_than_it_has_to() -> None:
    finding = _only("runner-length", kind="runner", glue=[[0, 70]], length=507)
    length_mm = float(values_of(finding)["length"].removesuffix(" mm"))
    left_mm = 508 * (1 - SHARE) - length_mm
    assert 1 <= left_mm < 1.5 + 0.1
    assert length_mm * 2 == int(length_mm * 2)
    assert f"leaves {left_mm:.1f} mm" in finding.fix


def test_of_two_boards_side_by_side_the_one_whose_movement_nobody_knows_is_named() -> None:
    job = across_job(kind="neighbour", part={"width": 508, "species": "sorb"})
    job["wood"] = [{"name": "sorb", "kind": "hardwood", "sg": 0.7}]
    (finding,) = found(job, "cross-grain")
    assert "sorb" in finding.message
    job["board"][0]["species"], job["board"][1]["species"] = "sorb", "black cherry"
    (finding,) = found(job, "cross-grain")
    assert "sorb" in finding.message


def test_boards_side_by_side_are_glued_over_no_more_than_their_difference_bears() -> None:
    finding = _only("two-woods", kind="neighbour", part={"width": 508, "species": "hard maple"})
    apart = max(
        abs(grown(1, 0.00353, emc(a), emc(b)) - grown(1, CHERRY, emc(a), emc(b))) for a, b in ((30, 65), (65, 30))
    )
    assert f"at most {int(1.5 / apart)} mm" in finding.fix


def test_a_batten_shorter_than_a_glued_stretch_is_glued_over_its_length_and_a_longer_one_over_76_mm() -> None:
    assert _eased(kind="batten", glue="all", width=60, part={"length": 60})[0] == [(0, 60)]
    assert _eased(kind="batten", glue="all", width=200, part={"length": 200})[0] == [(62, 138)]


def test_a_runner_cut_shorter_keeps_what_still_lies_on_it() -> None:
    """Glue, screws and slots beyond the new end come to it; glue that would begin there goes."""
    finding = _only(
        "runner-length",
        kind="runner",
        length=507,
        glue=[[0, 70], [502, 506]],
        slots=[{"at": 200, "play": 5}, {"at": 506, "play": 9}],
        screws=[507],
    )
    values = values_of(finding)
    end = values["length"]
    assert values["glue"] == [["0 mm", "70 mm"]]
    assert [slot["at"] for slot in values["slots"]] == ["200 mm", end]
    assert values["screws"] == [end]
    assert "507 mm long and stands in 508 mm" in finding.message


def test_a_runner_that_starts_behind_the_front_is_measured_from_there() -> None:
    finding = _only("runner-length", kind="runner", **{"from": 20}, length=487, glue=[[20, 90]])
    assert "487 mm long and stands in 488 mm" in finding.message
    length_mm = float(values_of(finding)["length"].removesuffix(" mm"))
    assert 1 <= 488 * (1 - SHARE) - length_mm < 1.6
    assert values_of(finding)["glue"] == [["20 mm", "90 mm"]]


@pytest.mark.parametrize("kind", ["batten", "rail"])
def test_a_part_that_pushes_is_held_at_its_front_whatever_it_is(kind: str) -> None:
    finding = _only("runner-push", kind=kind, length=450, glue=[[200, 250]], meets="both")
    assert values_of(finding)["glue"] == [["0 mm", "76 mm"]]


def test_a_runner_for_which_no_length_is_right_is_left_out() -> None:
    """1 mm before the host's end and less than half of that once 1 mm is to be left: no length below 0 is named."""
    finding = _only("runner-length", kind="runner", **{"from": 507}, length=1, glue=[[507, 508]])
    assert (finding.fix, finding.changes) == ("leave it out: no length leaves 1 mm there in the driest month", ())
