"""One advice for two broken boards: whose turn it is, whose figure it is, and what the joint takes anyway."""

from __future__ import annotations

from collections.abc import Collection

import pytest

from dovelayout.checks.finding import OURS, Level
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.face import Part
from dovelayout.repair.mated import BrokenHalf, mated_advice
from dovelayout.repair.patch import Break, EdgeRoom, lay_patch, patch_advice
from dovelayout.wood.species import find_wood

CHERRY = find_wood("black cherry")
SIDE, FRONT = "side (left), right end", "front, left end"
ENDS = {
    Part.TAILS: BoardEnd(
        board=Board(name="side", wood=CHERRY, length_mm=300.0, width_mm=160.0, thickness_mm=16.0, count=2),
        end=End.RIGHT,
        instance="left",
    ),
    Part.PINS: BoardEnd(
        board=Board(name="front", wood=CHERRY, length_mm=420.0, width_mm=160.0, thickness_mm=19.0), end=End.LEFT
    ),
}
LOST = {
    Part.TAILS: Break(width_mm=14.0, depth_mm=16.0, length_mm=30.0),
    Part.PINS: Break(width_mm=9.0, depth_mm=19.0, length_mm=20.0),
}


def halves(cut_away: Collection[Part] = (), room: EdgeRoom | None = None) -> tuple[BrokenHalf, BrokenHalf]:
    """A side that lost a chip of 14 x 30 and a front that lost one of 9 x 20, with what else is cut in the front."""

    def half(part: Part) -> BrokenHalf:
        end, only = ENDS[part], room if part is Part.PINS else None
        patch = lay_patch(LOST[part], thickness_mm=end.board.thickness_mm, ring_deg=90.0, room=only)
        said = patch_advice(
            patch,
            CHERRY,
            board_width_mm=end.board.width_mm,
            hand=end.end.value,
            cut_away=part in cut_away,
            room=only,
        )
        return BrokenHalf(end=end, advice=said, cut_away=part in cut_away)

    return half(Part.TAILS), half(Part.PINS)


def test_the_tails_are_patched_and_trimmed_before_the_pins_and_both_dry_before_glue() -> None:
    steps = mated_advice(*halves()).steps
    order = [
        "apart first",
        f"Begin with {SIDE}",
        "Fold the template",
        "When the glue has cured",
        f"across the patch of {SIDE}",
        f"Then {FRONT}",
        f"across the patch of {FRONT}",
        "Put the joint together dry",
    ]
    places = [next(number for number, step in enumerate(steps) if words in step) for words in order]
    assert places == sorted(set(places))
    assert places[-1] == len(steps) - 1
    assert not any("nothing below is needed" in step for step in steps)  # one chip kept doesn't mend the other board


def test_each_boards_figures_are_those_of_its_own_patch_and_the_allowances_stand_once() -> None:
    both = mated_advice(*halves())
    assert len({row.what for row in both.figures}) == len(both.figures)
    for name, half in zip((SIDE, FRONT), halves(), strict=True):
        own = {f"{name}: {row.what}": row.value for row in half.advice.figures if row.source != OURS}
        named = {row.what: row.value for row in both.figures if row.what.startswith(name)}
        assert named == own
        assert [row for row in both.figures if row.source == OURS] == [
            row for row in half.advice.figures if row.source == OURS
        ]
    # by hand: rings square, so the seam keeps 1 mm square to a plane that leans 1 in 5 on the face
    by_name = {row.what: row.value for row in both.figures}
    for name, wide_mm in ((SIDE, 14), (FRONT, 9)):
        assert by_name[f"{name}: seam on the end, from the edge: outside face"] == pytest.approx(wide_mm + 1.04**0.5)


def test_what_the_joint_takes_anyway_is_left_and_only_the_other_board_is_patched() -> None:
    one = mated_advice(*halves(cut_away=[Part.TAILS]))
    assert one.method == f"patch {FRONT}"
    assert any(step.startswith(f"No patch for {SIDE}") for step in one.steps)
    assert any(step.startswith(f"Begin with {FRONT}") for step in one.steps)
    assert not any(step.startswith("Then ") for step in one.steps)
    assert not any(SIDE in row.what for row in one.figures)
    assert f"{SIDE}: Nothing shows" in one.looks
    neither = mated_advice(*halves(cut_away=list(Part)))
    assert neither.method == "leave it: the joint takes it"
    assert neither.steps == halves(cut_away=list(Part))[0].advice.steps
    assert neither.findings == ()


def test_a_cut_out_stops_the_repair_and_its_board_is_named() -> None:
    both = mated_advice(*halves(room=EdgeRoom(cutouts_mm=((0.0, 11.0),), grooves_mm=(4.0,))))
    assert both.worst is Level.STOP
    assert [(str(row.place), row.level) for row in both.findings] == [
        (f"board {FRONT}, broken corner", Level.STOP),
        (f"board {FRONT}, broken corner, groove", Level.NOTE),
    ]
