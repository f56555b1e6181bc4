"""Snapped pins, torn baselines, split tails, cracked sockets: sizes by hand, and when it is cut again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.checks.finding import Level
from dovelayout.joints.board import Board, Cutout, End
from dovelayout.repair.broken import (
    BrokenPart,
    SnappedPin,
    Split,
    TornBaseline,
    mend_baseline,
    mend_pin,
    mend_split,
    room_below,
)
from dovelayout.repair.cracked import CrackStage
from dovelayout.wood.species import find_wood
from tests.repairs import pins, torn_baselines

CHERRY, PLYWOOD = find_wood("black cherry"), find_wood("birch plywood")
PIN = SnappedPin(narrow_mm=6.0, wide_mm=10.0, length_mm=16.0, thickness_mm=20.0)


def test_a_pin_by_hand() -> None:
    assert PIN.root_mm == 16.0
    assert PIN.section() == ((-3.0, 0.0), (3.0, 0.0), (5.0, 20.0), (-5.0, 20.0))
    # 0.5 mm over at either face at a lean of 4 in 20: 10.1 wide, 21 thick; 16 + 16 + 10 long
    assert PIN.blank_mm == pytest.approx((42.0, 10.1, 21.0))
    assert replace(PIN, half=True).section() == ((0.0, 0.0), (6.0, 0.0), (10.0, 20.0), (0.0, 20.0))


@given(pin=pins())
def test_a_new_pin_has_the_old_ones_section_and_only_goes_in_from_the_wide_side(pin: SnappedPin) -> None:
    section = shapely.Polygon(pin.section())
    assert section.area == pytest.approx((pin.narrow_mm + pin.wide_mm) / 2 * pin.thickness_mm)
    assert shapely.Polygon(pin.section(0.5)).buffer(1e-6).covers(section)
    widths = [
        section.intersection(shapely.LineString([(-500, z), (500, z)])).length for z in (0.1, pin.thickness_mm - 0.1)
    ]
    assert widths[0] <= widths[1] + 1e-6
    along, across, thick = pin.blank_mm
    assert along > pin.length_mm + pin.root_mm
    assert across >= pin.wide_mm - 1e-9
    assert thick > pin.thickness_mm


@pytest.mark.parametrize(
    ("changes", "worst", "words"),
    [
        ({}, Level.OK, ""),
        ({"room_mm": 19.0}, Level.OK, ""),
        ({"room_mm": 18.0}, Level.WARN, "leaves 15 mm"),
        ({"room_mm": 10.9}, Level.STOP, "it would break off again"),
        ({"room_mm": 0.0}, Level.STOP, "it would break off again"),
        ({"lost": 2}, Level.WARN, "2 pins broke"),
        ({"lost": 3}, Level.STOP, "3 pins broke"),
        ({"wood": PLYWOOD}, Level.STOP, "in plywood"),
        ({"wood": CHERRY, "grooved": True}, Level.NOTE, "a groove runs through the notch"),
    ],
)
def test_when_a_new_pin_holds(changes: dict[str, object], worst: Level, words: str) -> None:
    advice = mend_pin(replace(PIN, **changes))  # type: ignore[arg-type]
    assert advice.worst is worst
    assert words in " ".join(row.message for row in advice.findings)
    assert advice.method == ("recut" if worst is Level.STOP else "a new pin")


@pytest.mark.parametrize(
    ("cutout", "room_mm"),
    [
        ({}, 24.0),  # 40 from the end less the baseline at 16
        ({"end": End.RIGHT}, 500 - 40 - 30 - 16),
        ({"from_edge_mm": 20.0}, None),
        ({"from_end_mm": 10.0}, 0.0),
        ({"from_end_mm": 1.0, "length_mm": 12.0}, None),  # all of it within the joint
    ],
)
def test_a_cut_out_below_a_pin_ends_its_root(cutout: dict[str, object], room_mm: float | None) -> None:
    sizes = {"from_end_mm": 40.0, "from_edge_mm": 4.0, "length_mm": 30.0, "width_mm": 10.0, "depth_mm": 6.0, **cutout}
    board = Board(name="side", wood=CHERRY, length_mm=500, width_mm=120, thickness_mm=19, cutouts=(Cutout(**sizes),))  # type: ignore[arg-type]
    assert room_below(board, End.LEFT, (8.0, 18.0), 16.0) == room_mm


TORN = TornBaseline(socket_mm=11.0, below_mm=1.5, into_mm=3.0, thickness_mm=16.0)


def test_a_patch_by_hand() -> None:
    assert TORN.outline == ((-5.5, 0.0), (5.5, 0.0), (5.5, 2.5), (0.0, 8.0), (-5.5, 2.5))
    assert (TORN.deep_mm, TORN.patch_into_mm) == (8.0, 4.0)


@given(torn=torn_baselines())
def test_a_patch_covers_the_tear_and_stays_in_the_board(torn: TornBaseline) -> None:
    patch = shapely.Polygon(torn.outline)
    half = torn.socket_mm / 2
    assert patch.buffer(1e-6).covers(shapely.box(-half, 0.0, half, torn.below_mm))
    assert torn.into_mm <= torn.patch_into_mm + 1e-9
    assert torn.patch_into_mm <= torn.thickness_mm
    assert patch.area == pytest.approx(torn.socket_mm * (torn.below_mm + 1.0) + half**2)


@pytest.mark.parametrize(
    ("into_mm", "wood", "worst"),
    [
        (4.3, CHERRY, Level.OK),
        (4.4, None, Level.WARN),
        (7.0, None, Level.WARN),
        (7.1, None, Level.STOP),
        (1.0, PLYWOOD, Level.STOP),
    ],
)
def test_a_patch_too_deep_is_left_out(into_mm: float, wood: object, worst: Level) -> None:
    advice = mend_baseline(replace(TORN, into_mm=into_mm, wood=wood))  # type: ignore[arg-type]
    assert advice.worst is worst
    assert advice.method == ("leave it" if worst is Level.STOP else "patch")


@pytest.mark.parametrize(
    ("part", "length_mm", "whole_mm", "worst"),
    [
        (BrokenPart.TAIL, 19.0, 19.0, Level.OK),
        (BrokenPart.TAIL, 19.1, 19.0, Level.WARN),
        (BrokenPart.TAIL, 57.1, 19.0, Level.STOP),
        (BrokenPart.TAIL, 10.0, None, Level.NOTE),
        (BrokenPart.SOCKET, 200.0, 400.0, Level.OK),
        (BrokenPart.SOCKET, 201.0, 400.0, Level.STOP),
        (BrokenPart.SOCKET, 20.0, None, Level.NOTE),
    ],
)
def test_how_far_a_split_may_run(part: BrokenPart, length_mm: float, whole_mm: float | None, worst: Level) -> None:
    split = Split(length_mm=length_mm, width_mm=0.1, stage=CrackStage.DRY, whole_mm=whole_mm)
    assert mend_split(split, part).worst is worst


@given(stage=st.sampled_from(CrackStage), part=st.sampled_from((BrokenPart.TAIL, BrokenPart.SOCKET)))
def test_a_split_that_set_open_gets_wood_and_all_others_are_closed(stage: CrackStage, part: BrokenPart) -> None:
    for width_mm, method in (
        (0.1, "glue and close"),
        (0.4, "a sliver" if stage is CrackStage.CURED else "glue and close"),
    ):
        advice = mend_split(Split(length_mm=12.0, width_mm=width_mm, stage=stage, whole_mm=500.0), part)
        assert advice.method == method
        assert len(advice.steps) >= 3


EXAMPLES: tuple[Callable[[], object], ...] = (
    *(partial(mend_pin, replace(PIN, room_mm=room_mm)) for room_mm in (19.0, 18.0, 11.0, 10.9)),
    *(partial(mend_pin, replace(PIN, lost=lost)) for lost in (1, 2, 3)),
    *(partial(mend_baseline, replace(TORN, into_mm=into_mm)) for into_mm in (2.0, 4.3, 4.4, 7.0, 7.1)),
    *(
        partial(mend_split, Split(length_mm=mm, width_mm=0.1, stage=CrackStage.DRY, whole_mm=19.0), BrokenPart.TAIL)
        for mm in (10.0, 19.0, 19.1, 57.0, 57.1)
    ),
)
