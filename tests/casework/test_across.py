"""A still part across a moving host: what holds, what lets go, and a piece of wood that is moved to see whether it does."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.across import Across, AcrossKind, Slot
from dovelayout.checks.finding import Level
from dovelayout.checks.movement.across import well_fixed
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board
from dovelayout.joints.spacing import Span
from dovelayout.wood.species import find_wood
from tests.jobs import loaded
from tests.season_jobs import CHERRY, across_job, airs, built_at, close, emc, grown, loudest


def _part(**keys: object) -> Across:
    wood = find_wood("black cherry")
    host, part = (
        Board(name=name, wood=wood, length_mm=500, width_mm=width, thickness_mm=19)
        for name, width in (("side", 500.0), ("runner", 40.0))
    )
    given = {"kind": AcrossKind.SUPPORT, "from_mm": 0.0, "length_mm": 480.0, "rear_stop_mm": 500.0, **keys}
    return Across(name="x", part=part, host=host, **given)  # type: ignore[arg-type]


def test_what_holds_and_where_it_stays() -> None:
    assert _part().held is None
    assert _part().rigid_mm == 0
    assert _part().anchor_mm == 240
    short = _part(glue=(Span(0, 76),))
    assert (short.rigid_mm, short.anchor_mm, short.in_the_middle) == (0, 38, False)
    assert _part(glue=(Span(0, 77),)).rigid_mm == 77
    # a screw behind the front edge locks what was glued at the front alone
    assert _part(glue=(Span(0, 76),), screws_mm=(300.0,)).rigid_mm == 300
    assert _part(screws_mm=(25.0,)).rigid_mm == 0
    assert _part(glue=(Span(0, 30), Span(400, 430))).rigid_mm == 430
    assert _part(slots=(Slot(at_mm=100, play_mm=1), Slot(at_mm=300, play_mm=1))).anchor_mm == 200
    assert _part(glue=(Span(200, 250),)).in_the_middle
    assert _part().room_mm == 20


@pytest.mark.parametrize(
    "keys",
    [
        {"glue": (Span(0, 481),)},
        {"glue": (Span(50, 50),)},
        {"screws_mm": (-1.0,)},
        {"slots": (Slot(at_mm=481, play_mm=1),)},
        {"from_mm": 10.0, "screws_mm": (9.0,)},
    ],
    ids=str,
)
def test_a_fixing_off_the_part_can_not_be(keys: dict[str, object]) -> None:
    with pytest.raises(LayoutError, match="; "):
        _part(**keys)


@given(
    air=airs(),
    width=st.integers(100, 800),
    kind=st.sampled_from([k for k in AcrossKind if k is not AcrossKind.NEIGHBOUR]),
)
def test_a_part_fixed_as_advised_lets_its_host_move_freely(
    air: dict[str, object], width: int, kind: AcrossKind
) -> None:
    """The host is moved from every state it may be built in to both its extremes: no slot is used up, and what is glued
    is short."""
    job = loaded(across_job(kind=kind, width=width, glue="all", **air))  # type: ignore[arg-type]
    (part,) = job.across
    swing = part.swing(job.shop)
    assert swing is not None
    better = well_fixed(part, swing)
    assert better.rigid_mm == 0
    low, high = job.shop.home_humidity_pct or (0, 0)
    for start in built_at(air):
        for end in (emc(low), emc(high)):
            for slot in better.slots:
                reach_mm = slot.at_mm - better.anchor_mm
                slid_mm = abs(grown(abs(reach_mm), CHERRY, start, end) - abs(reach_mm))
                assert slid_mm <= slot.play_mm + close(slid_mm)


@given(air=airs(), width=st.integers(150, 800), short=st.integers(0, 40))
def test_a_runner_that_passes_never_reaches_what_stands_behind_it(
    air: dict[str, object], width: int, short: int
) -> None:
    tables = across_job(kind="runner", width=width, length=width - short, **air)  # type: ignore[arg-type]
    passes = loudest(tables, "runner-length") is Level.OK
    low, _ = loaded(tables).shop.home_humidity_pct or (0, 0)
    driest_mm = min(grown(width, CHERRY, start, emc(low)) for start in built_at(air))
    fits = width - short <= min(width, driest_mm) + 1e-6
    assert passes is fits
