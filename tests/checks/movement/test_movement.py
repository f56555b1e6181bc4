"""Every limit on movement: passes, speaks beyond it, holds its tongue at it, and a fix passes when applied."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.movement.job import MOVEMENT_CHECKS
from dovelayout.joints.moving import swing
from tests.conftest import examples
from tests.divider_jobs import divider_job
from tests.jobs import applied, corner_job, loaded
from tests.season_jobs import CHERRY, across_job, airs, emc, found, grown, loudest, panel_job

Tables = dict[str, Any]


def _share() -> float:
    """How much of its width cherry moves between 30 and 65 %, as the package has it."""
    job = loaded(across_job())
    known = swing(job.boards[0], job.shop)
    assert known is not None
    return known.most_share


SHARE = _share()  # 0.0144: 100 mm move by 1.4


def _over(moves_mm: float) -> Tables:
    """Glue over just as much of a cherry side as moves so far."""
    return across_job(glue=[[0, moves_mm / SHARE]])


def _slot(lacks_mm: float) -> Tables:
    """A slot 362 mm behind the middle of its glue that lacks so much play."""
    return across_job(glue=[[0, 76]], slots=[{"at": 400, "play": 362 * SHARE - lacks_mm}])


def _behind(left_mm: float) -> Tables:
    """A runner that stands in 508 mm with so much left behind it in the driest month."""
    return across_job(kind="runner", glue=[[0, 70]], length=508 * (1 - SHARE) - left_mm)


def _play(left_mm: float) -> Tables:
    """A cherry panel with so much play left in the dampest month."""
    return panel_job("black cherry", width=300, groove=20, play=300 * SHARE + left_mm)


def _hold(left_mm: float, **keys: Any) -> Tables:
    """One with so much of it left in its groove in the driest."""
    return panel_job("black cherry", width=300, groove=2 * 300 * SHARE + 1 + left_mm, play=300 * SHARE + 1, **keys)


def _pushed(forward_mm: float) -> Tables:
    """A rail held so far behind its front end that it pushes forward by that."""
    held_mm = forward_mm / SHARE
    return across_job(kind="rail", length=450, glue=[[held_mm - 28, held_mm + 28]])


def _glued(moves_mm: float) -> Tables:
    """A cherry panel glued all round that moves so far."""
    return panel_job("black cherry", glued="all round", width=moves_mm / SHARE)


def _thick(moves_mm: float) -> Tables:
    """A corner of cherry boards, flat-sawn, whose thickness moves so far: radially, 0.00126 a point."""
    share = max(abs(grown(1, 0.00126, emc(a), emc(b)) - 1) for a, b in ((30, 65), (65, 30)))
    return corner_job(thickness=moves_mm / share, width=600, tail_count=2, shop={"humidity": [30, 65]})


def _air(points: float) -> Tables:
    """A shop whose air gives wood that many points more than a home of up to 60 % does."""
    low, high = 60.0, 95.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if emc(middle) < emc(60) + points else (low, middle)
    return panel_job(width=100, home={"humidity": [30, 60]}, shop={"built_at": low})


def _two_woods(apart_mm: float) -> Tables:
    """Cherry beside hard maple over so much width that they part company by that: 0.00353 against 0.00248 a point."""
    share = max(
        abs(grown(1, 0.00353, emc(a), emc(b)) - grown(1, CHERRY, emc(a), emc(b))) for a, b in ((30, 65), (65, 30))
    )
    return across_job(kind="neighbour", part={"width": apart_mm / share, "species": "hard maple"})


def _metered(over_points: float) -> Tables:
    return panel_job("black cherry", width=100, board={"moisture": 11.9904 + over_points})


CASES: list[tuple[str, Tables, Level]] = [
    # 1, 1.5 and 2.5 mm; over 150 mm it is a warning whatever the air
    ("cross-grain", across_job(glue=[[0, 76]]), Level.OK),
    ("cross-grain", across_job(glue=[[0, 77]]), Level.NOTE),  # 1.1 mm
    ("cross-grain", across_job(screws=[0, 0.99 / SHARE]), Level.OK),
    ("cross-grain", _over(1.49), Level.NOTE),
    ("cross-grain", _over(1.51), Level.WARN),
    ("cross-grain", _over(2.49), Level.WARN),
    ("cross-grain", _over(2.51), Level.STOP),
    ("cross-grain", across_job(glue=[[0, 150]], home={"humidity": [48, 50]}), Level.OK),
    ("cross-grain", across_job(glue=[[0, 151]], home={"humidity": [48, 50]}), Level.WARN),
    ("cross-grain", across_job(glue="all", home={"humidity": [50, 50]}), Level.OK),
    ("cross-grain", across_job("birch plywood", glue="all"), Level.OK),
    ("cross-grain", across_job(host={"species": "sorb"}, glue="all"), Level.WARN),  # its movement isn't known
    ("cross-grain", across_job(host={"species": "sorb"}, glue=[[0, 50]]), Level.NOTE),
    ("slot-play", _slot(-1), Level.OK),
    ("slot-play", _slot(0.99), Level.OK),
    ("slot-play", _slot(1.01), Level.NOTE),
    ("slot-play", _slot(1.49), Level.NOTE),
    ("slot-play", _slot(1.51), Level.WARN),
    ("slot-play", _slot(2.49), Level.WARN),
    ("slot-play", _slot(2.51), Level.STOP),
    ("glue-zone", across_job(glue=[[0, 76]]), Level.OK),
    ("glue-zone", across_job(glue=[[0, 77]], home={"humidity": [45, 55]}), Level.NOTE),
    ("glue-zone", across_job(glue=[[200, 250]]), Level.OK),
    ("glue-zone", across_job(glue=[[200, 251]]), Level.NOTE),
    ("glue-zone", across_job(kind="breadboard", glue=[[216, 292]]), Level.OK),
    ("runner-push", across_job(kind="rail", length=450, glue=[[0, 60]]), Level.OK),
    ("runner-push", across_job(kind="rail", length=450, glue=[[40, 98]]), Level.OK),  # 69 mm: 0.99
    ("runner-push", across_job(kind="rail", length=450, glue=[[42, 98]]), Level.NOTE),  # 70 mm: 1.01
    ("runner-push", _pushed(1.49), Level.NOTE),
    ("runner-push", _pushed(1.51), Level.WARN),
    ("runner-push", _pushed(2.49), Level.WARN),
    ("runner-push", _pushed(2.51), Level.STOP),
    ("runner-push", across_job(kind="rail", length=450, glue=[[200, 250]]), Level.STOP),
    ("runner-push", across_job(kind="rail", length=450, glue=[[200, 250]], meets="rear"), Level.OK),
    ("runner-length", _behind(0.01), Level.OK),
    ("runner-length", _behind(-0.01), Level.WARN),
    ("runner-length", _behind(-0.99), Level.WARN),
    ("runner-length", _behind(-1.01), Level.STOP),
    ("runner-length", across_job(kind="batten"), Level.OK),
    # cherry against itself, and against hard maple: 0.00105 more a point
    ("two-woods", across_job(kind="neighbour", part={"width": 508}), Level.OK),
    ("two-woods", across_job(kind="neighbour", part={"width": 200, "species": "hard maple"}), Level.OK),
    ("two-woods", across_job(kind="neighbour", part={"width": 300, "species": "hard maple"}), Level.WARN),
    ("two-woods", across_job(kind="neighbour", part={"width": 508, "rings": "quarter"}), Level.WARN),
    ("two-woods", _two_woods(1.49), Level.OK),
    ("two-woods", _two_woods(1.51), Level.WARN),
    ("two-woods", corner_job(width=200, pin_species="hard maple", shop={"humidity": [30, 65]}), Level.OK),
    ("two-woods", corner_job(width=300, pin_species="hard maple", shop={"humidity": [30, 65]}), Level.WARN),
    ("two-woods", corner_job(width=300, shop={"humidity": [30, 65]}), Level.OK),
    ("two-woods", divider_job(shop={"humidity": [30, 65]}), Level.OK),
    ("two-woods", divider_job(shop={"humidity": [30, 65]}, shelf={"species": "birch plywood"}), Level.WARN),
    (
        "two-woods",
        divider_job(shop={"humidity": [30, 65]}, shelf={"species": "birch plywood"}, glue_zone=76),
        Level.OK,
    ),
    ("two-woods", corner_job(pin_species="sorb", shop={"humidity": [30, 65]}), Level.NOTE),  # not checked
    ("thin-breadboard", across_job(kind="breadboard", part={"width": 75}, tongue="continuous"), Level.OK),
    ("thin-breadboard", across_job(kind="breadboard", part={"width": 74}, tongue="continuous"), Level.WARN),
    ("thin-breadboard", across_job(kind="breadboard", part={"width": 38}, tongue="tenons"), Level.OK),
    ("panel-glued", panel_job(glued="all round", width=59), Level.OK),  # poplar: 0.0168 of it
    ("panel-glued", panel_job(glued="all round", width=80), Level.NOTE),
    ("panel-glued", _glued(0.99), Level.OK),
    ("panel-glued", _glued(1.01), Level.NOTE),
    ("panel-glued", _glued(1.49), Level.NOTE),
    ("panel-glued", _glued(1.51), Level.WARN),
    ("panel-glued", _glued(2.49), Level.WARN),
    ("panel-glued", _glued(2.51), Level.STOP),
    ("panel-glued", panel_job(glued="all round", width=100), Level.WARN),
    ("panel-glued", panel_job(glued="all round", width=160), Level.STOP),
    ("panel-glued", panel_job(glued="all round", width=150, home={"humidity": [48, 50]}), Level.OK),
    ("panel-glued", panel_job(glued="all round", width=151, home={"humidity": [48, 50]}), Level.WARN),
    ("panel-glued", panel_job(glued="all round", groove=6), Level.STOP),
    ("panel-glued", panel_job("sorb", glued="all round"), Level.NOTE),  # not checked
    ("panel-jam", _play(0.51), Level.OK),
    ("panel-jam", _play(0.49), Level.NOTE),
    ("panel-jam", _play(0.01), Level.NOTE),
    ("panel-jam", _play(-0.01), Level.WARN),
    ("panel-jam", _play(-0.99), Level.WARN),
    ("panel-jam", _play(-1.01), Level.STOP),
    ("panel-jam", panel_job("sorb", groove=6, play=3), Level.NOTE),  # not checked
    ("panel-hold", _hold(1.51), Level.OK),
    ("panel-hold", _hold(1.49), Level.WARN),
    ("panel-hold", _hold(0.01), Level.WARN),
    ("panel-hold", _hold(-0.01), Level.STOP),
    ("panel-hold", _hold(-0.01, glued="one edge"), Level.STOP),
    ("panel-hold", _hold(-0.01, glued="middle"), Level.OK),
    ("panel-play", panel_job(groove=6), Level.NOTE),
    # a cherry board 12 mm thick gains 0.088 mm: 0.00126 x 5.81 x 12
    ("groove-fit", panel_job("black cherry", groove=20, play=5, clearance=0.09), Level.OK),
    ("groove-fit", panel_job("black cherry", groove=20, play=5, clearance=0.08), Level.WARN),
    ("groove-fit", panel_job("black cherry", groove=20, play=5, clearance=0.29, glued="middle"), Level.WARN),
    ("groove-fit", panel_job("black cherry", groove=20, play=5, clearance=0.49, glued="middle"), Level.OK),
    ("groove-fit", panel_job("black cherry", groove=20, play=5, clearance=0.28, glued="middle"), Level.STOP),
    ("thin-wide", panel_job(width=240, thickness=12, pieces=3), Level.OK),
    ("thin-wide", panel_job(width=241, thickness=12, pieces=3), Level.WARN),
    ("thin-wide", panel_job(width=300, thickness=12, groove=6, play=8), Level.OK),  # a frame holds it
    ("wide-piece", panel_job(width=127, thickness=19), Level.OK),
    ("wide-piece", panel_job(width=128, thickness=19), Level.WARN),
    ("wide-piece", panel_job(width=254, thickness=19, pieces=2), Level.OK),
    ("stock-moisture", _metered(0.49), Level.OK),
    ("stock-moisture", _metered(0.51), Level.NOTE),
    ("stock-moisture", _metered(1.99), Level.NOTE),
    ("stock-moisture", _metered(2.01), Level.WARN),
    ("stock-moisture", panel_job(width=100, board={"moisture": 5.8}), Level.OK),
    ("stock-moisture", panel_job(width=100, board={"moisture": 5.6}), Level.NOTE),
    ("stock-moisture", panel_job(width=100, board={"moisture": 4}), Level.WARN),
    ("shop-air", panel_job(width=100, home={"humidity": [30, 60]}, shop={"built_at": 60}), Level.OK),
    ("shop-air", _air(0.49), Level.OK),
    ("shop-air", _air(0.51), Level.NOTE),
    ("shop-air", _air(1.99), Level.NOTE),
    ("shop-air", _air(2.01), Level.WARN),
    ("shop-air", panel_job(width=100, home={"humidity": [30, 60]}, shop={"built_at": 75}), Level.WARN),
    ("shop-air", panel_job(width=100, home={"humidity": [30, 60]}, shop={"built_at": 25}), Level.NOTE),
    # 0.00126 x 5.81 = 0.0073 of a cherry board's thickness: 0.15 mm of 20.5
    ("thickness-step", corner_job(thickness=20, shop={"humidity": [30, 65]}), Level.OK),
    ("thickness-step", corner_job("sorb", thickness=19, shop={"humidity": [30, 65]}), Level.NOTE),  # not checked
    ("thickness-step", _thick(0.149), Level.OK),
    ("thickness-step", _thick(0.151), Level.NOTE),
    ("thickness-step", _thick(0.499), Level.NOTE),
    ("thickness-step", _thick(0.501), Level.WARN),
    ("thickness-step", corner_job(thickness=21, shop={"humidity": [30, 65]}), Level.NOTE),
    ("thickness-step", corner_job(thickness=40, board={"rings": "quarter"}, shop={"humidity": [30, 65]}), Level.WARN),
]

SORB = {"name": "sorb", "kind": "hardwood", "sg": 0.7}


def ready(tables: Tables) -> Tables:
    """With a wood whose movement nobody knows."""
    return {**tables, "wood": [SORB]}


EXAMPLES = [partial(loudest, ready(tables), check) for check, tables, _ in CASES]


@pytest.mark.parametrize(("check", "tables", "expected"), CASES, ids=lambda value: str(value)[:60])
def test_check_on_either_side_of_its_limit(check: str, tables: Tables, expected: Level) -> None:
    assert loudest(ready(tables), check) is expected


def test_every_check_of_movement_is_among_these() -> None:
    assert {check for check, _, _ in CASES} == MOVEMENT_CHECKS - {"rear-gap", "taper-travel"}  # with the dividers' own


LOUD = [tables for _, tables, level in CASES if level is not Level.OK]


@pytest.mark.parametrize("tables", LOUD, ids=range(len(LOUD)))
def test_offered_fix_passes_when_applied(tables: Tables) -> None:
    job = ready(tables)
    for finding in found(job):
        assert finding.fix
        assert finding.message
        assert finding.source
        assert finding.where
        if finding.changes:
            assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"


def _still_speaks(job: Tables, finding: Finding) -> bool:
    again = found(applied(job, finding.changes), finding.check)
    return any(other.level.rank >= finding.level.rank for other in again)


def test_only_what_no_key_mends_goes_without_changes() -> None:
    without = {
        finding.check
        for tables in LOUD
        for finding in found(ready(tables))
        if not finding.changes and not finding.message.startswith("not checked")
    }
    # the plane, the air, a wood whose movement isn't known, and the choice of woods
    assert without == {"thickness-step", "shop-air", "cross-grain", "two-woods"}


def test_two_slots_that_lack_play_are_mended_together() -> None:
    """Taking one finding's change doesn't undo the other's."""
    job = across_job(
        kind="runner", width=345, part={"length": 345}, slots=[{"at": 0, "play": 0}, {"at": 345, "play": 0}]
    )
    one, other = found(job, "slot-play")
    assert one.changes == other.changes
    assert found(applied(job, one.changes), "slot-play") == ()


def test_the_glue_that_is_offered_at_a_front_end_does_not_push_it_forward() -> None:
    """In wood fitted damp and kept dry 76 mm of glue is already too much: its middle lies 38 mm back, and 3.4 % of that
    is over 1 mm."""
    job = across_job(
        kind="rail",
        width=243,
        part={"length": 115},
        glue=[[29, 60]],
        shop={"humidity": [58, 83]},
        home={"humidity": [25, 40]},
    )
    (finding,) = found(job, "runner-push")
    again = applied(job, finding.changes)
    assert found(again, "runner-push") == ()
    (glue,) = again["across"][0]["glue"]
    end_mm = float(glue[1].removesuffix(" mm"))
    share = 1 - grown(1, CHERRY, emc(83), emc(25))
    assert end_mm / 2 * share <= 1 < (end_mm / 2 + 1) * share


@settings(max_examples=examples(150))
@given(
    air=airs(),
    kind=st.sampled_from(["runner", "rail", "support", "batten", "moulding", "breadboard"]),
    width=st.integers(60, 900),
    length=st.integers(40, 900),
    places=st.lists(st.integers(0, 900), max_size=3),
    play=st.integers(0, 8),
    glue=st.lists(st.tuples(st.integers(0, 900), st.integers(1, 400)), max_size=2),
)
def test_offered_fix_passes_for_any_part(
    air: Tables,
    kind: str,
    width: int,
    length: int,
    places: list[int],
    play: int,
    glue: list[tuple[int, int]],
) -> None:
    length = min(length, width)
    job = across_job(
        kind=kind,
        width=width,
        part={"length": length},
        slots=[{"at": at % (length + 1), "play": play} for at in places],
        glue=[[start % length, min(length, start % length + long)] for start, long in glue],
        **air,
    )
    for finding in found(job):
        if finding.changes:
            assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"


@settings(max_examples=examples(150))
@given(
    air=airs(),
    species=st.sampled_from(["black cherry", "yellow poplar", "hard maple", "northern red oak"]),
    rings=st.sampled_from(["flat", "quarter", "rift"]),
    width=st.integers(60, 700),
    groove=st.integers(2, 14),
    play=st.integers(0, 12),
    glued=st.sampled_from(["no", "middle", "one edge", "all round"]),
    clearance=st.none() | st.integers(0, 4).map(lambda tenths: tenths / 10),
)
def test_offered_fix_passes_for_any_panel(
    air: Tables,
    species: str,
    rings: str,
    width: int,
    groove: int,
    play: int,
    glued: str,
    clearance: float | None,
) -> None:
    keys = {} if clearance is None else {"clearance": clearance}
    job = panel_job(species, width=width, board={"rings": rings}, groove=groove, play=play, glued=glued, **air, **keys)
    for finding in found(job):
        if finding.changes:
            assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"


def test_two_slots_that_are_both_short_are_mended_together() -> None:
    job = across_job(width=300, slots=[{"at": 0, "play": 0}, {"at": 300, "play": 0}])
    short = found(job, "slot-play")
    assert len(short) == 2
    for finding in short:
        assert loudest(applied(job, finding.changes), "slot-play") is Level.OK


def test_blanks_are_told() -> None:
    for tables in (across_job(glue=[[0, 50]], shop={}), panel_job(groove=6, play=3, shop={})):
        (finding,) = found(tables)
        assert finding.level is Level.NOTE
        assert finding.message.startswith("not checked, because the job doesn't say how dry and how damp")


def test_wet_stock_is_told_what_it_will_lose_in_width_and_in_thickness() -> None:
    job = panel_job("black cherry", width=100, thickness=19, board={"moisture": 14}, home={"humidity": [30, 50]})
    (finding,) = found(job, "stock-moisture")
    width_mm = 100 - grown(100, CHERRY, 14, emc(30))
    thick_mm = 19 - grown(19, 0.00126, 14, emc(30))
    assert finding.level is Level.WARN
    assert f"loses up to {width_mm:.1f} mm of its width and {thick_mm:.2f} mm of its thickness" in finding.message


def test_a_panel_without_a_word_of_its_play_is_offered_one_that_works() -> None:
    (finding,) = found(panel_job(groove=8), "panel-play")
    assert finding.message.startswith("not checked, because")
    assert finding.changes
    assert loudest(applied(panel_job(groove=8), finding.changes)) is Level.OK


def test_a_frame_that_moves_along_takes_the_movement_off_its_panel() -> None:
    """A dust panel with its grain parallel to the case sides' movement."""
    frame = {"name": "side", "species": "yellow poplar", "length": 600, "width": 300, "thickness": 19}
    still = panel_job(groove=6, play=1)
    assert loudest(still, "panel-jam") is Level.STOP
    along = panel_job(groove=6, play=1, frame="side")
    along["board"].append(frame)
    assert loudest(along, "panel-jam") is Level.OK


def test_a_moulding_whose_grain_runs_the_same_way_may_be_glued_all_along() -> None:
    same = across_job(kind="moulding", grain="along", glue="all", part={"width": 508})
    assert loudest(same) is Level.OK
    assert loudest(across_job(kind="moulding", glue="all")) is Level.STOP
