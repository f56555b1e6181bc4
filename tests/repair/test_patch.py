"""The patch for a broken corner: its seam along the grain by plain trigonometry, its cover, its offcut."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import Any

import pytest
import shapely
from hypothesis import given

from dovelayout.checks.finding import Level
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, Cutout, End
from dovelayout.repair.advice import Advice
from dovelayout.repair.patch import (
    FACE_OVER_MM,
    LONG_MM,
    MOST_REACH,
    OFFCUT_MM,
    OVER_MM,
    SEAM_CLEAR_MM,
    SEAM_LEAN,
    Break,
    EdgeRoom,
    Patch,
    break_on,
    edge_room,
    lay_patch,
    patch_advice,
)
from dovelayout.wood.species import find_wood
from tests.repairs import patches
from tests.strategies import lengths

CHIP = Break(width_mm=8.0, depth_mm=19.0, length_mm=14.0)
CHERRY = find_wood("black cherry")


@given(patch=patches())
def test_the_seam_on_the_end_lies_at_its_angle_by_plain_trigonometry(patch: Patch) -> None:
    thick = patch.thickness_mm
    x_out, x_in = patch.reach_mm(0.0), patch.reach_mm(thick)
    measured = math.degrees(math.atan2(thick, x_in - x_out))
    assert math.remainder(measured - patch.seam_deg, 180.0) == pytest.approx(0.0, abs=1e-6)


@given(patch=patches())
def test_the_seam_follows_the_rings_unless_they_lie_too_flat_for_the_break(patch: Patch) -> None:
    turn = abs(math.remainder(patch.seam_deg - patch.ring_deg, 180.0))
    if turn > 1e-9:
        along = lay_patch_at(patch, patch.ring_deg)
        assert along is None or along > MOST_REACH * patch.lost.width_mm
        # and it is stood up no farther than it has to be: a degree flatter reaches too far
        assert abs(patch.seam_deg) >= abs(math.remainder(patch.ring_deg, 180.0)) - 1e-9
    if abs(patch.seam_deg) < 90:
        assert patch.widest_mm <= MOST_REACH * patch.lost.width_mm + 1e-9


def lay_patch_at(patch: Patch, deg: float) -> float | None:
    """How far in a seam at this angle would reach, from the corner points, without the patch's own formulas."""
    angle = math.radians(deg)
    if abs(math.sin(angle)) < 1e-9:
        return None  # along the face: it never comes to an end
    lean = patch.s / patch.a
    cot = math.cos(angle) / math.sin(angle)
    # the seam's x at a point's own depth and distance, brought back to y = 0 and to either face
    at_zero = max(x - z * cot + y * lean for x, y, z in patch.lost.corners)
    clear = SEAM_CLEAR_MM * math.sqrt(1 + cot * cot + lean * lean)
    return max(at_zero + clear, at_zero + clear + patch.thickness_mm * cot)


@given(patch=patches())
def test_the_patch_covers_the_break_by_its_clearance_everywhere(patch: Patch) -> None:
    length = math.sqrt(patch.a**2 + patch.b**2 + patch.s**2)
    distances = [(patch.c - patch.a * x - patch.b * z - patch.s * y) / length for x, y, z in patch.lost.corners]
    assert min(distances) == pytest.approx(SEAM_CLEAR_MM)
    for face, polygon in (
        ("end", patch.on_the_end),
        ("outside", patch.on_the_outside),
        ("inside", patch.on_the_inside),
        ("edge", patch.on_the_edge),
    ):
        lost = break_on(patch.lost, face, patch.thickness_mm)
        assert lost.is_empty or polygon.buffer(1e-6).covers(lost), face


@given(patch=patches())
def test_the_seam_on_the_face_runs_out_at_the_edge_along_the_fibres_or_leaves_them_slowly(patch: Patch) -> None:
    lean = patch.reach_mm(0.0) / patch.length_mm(0.0)
    assert lean >= SEAM_LEAN - 1e-9
    assert patch.reach_mm(0.0, patch.length_mm(0.0)) == pytest.approx(0.0, abs=1e-6)


def test_fibres_that_run_out_steeper_than_the_lean_are_followed() -> None:
    steep = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0, runout_ratio=3.0)
    assert steep.reach_mm(0.0) / steep.length_mm(0.0) == pytest.approx(1 / 3)
    gentle = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0, runout_ratio=12.0)
    assert gentle.reach_mm(0.0) / gentle.length_mm(0.0) == pytest.approx(1 / 5)


def test_a_square_seam_worked_by_hand() -> None:
    # rings square to the face, chip 8 wide and 14 long: the corner (8, 0) is the worst, and lies 1 mm from the plane
    # x + y/5 = c, so c = 8 + sqrt(1 + 1/25)
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    c = 8 + math.sqrt(1.04)
    assert patch.reach_mm(0.0) == pytest.approx(c)
    assert patch.reach_mm(19.0) == pytest.approx(c)
    assert patch.length_mm(0.0) == pytest.approx(5 * c)
    along, across, thick = patch.offcut_mm
    assert along == pytest.approx(LONG_MM + 5 * (c + OVER_MM) + OFFCUT_MM)
    assert across == pytest.approx(OVER_MM + c + LONG_MM / 5 + OFFCUT_MM)
    assert thick == pytest.approx(19 + 2 * FACE_OVER_MM)


@given(patch=patches())
def test_the_offcut_holds_the_patch_and_the_patch_stands_over_what_it_replaces(patch: Patch) -> None:
    along, across, thick = patch.offcut_mm
    xs, ys, zs = zip(*patch.blank, strict=True)
    assert max(xs) - min(xs) <= across - OFFCUT_MM + 1e-9
    assert max(ys) - min(ys) <= along - OFFCUT_MM + 1e-9
    assert max(zs) - min(zs) <= thick + 1e-9
    # every corner of what goes from the board lies within the box of the blank
    for x, z in patch.on_the_end.exterior.coords:
        assert min(xs) <= x <= max(xs) + 1e-6
        assert min(zs) <= z <= max(zs) + 1e-6
    for x, y in patch.on_the_outside.exterior.coords:
        assert min(xs) <= x <= max(xs) + 1e-6
        assert min(ys) <= y <= max(ys) + 1e-6
    assert min(xs) == -OVER_MM
    assert min(ys) == -LONG_MM
    assert min(zs) == -FACE_OVER_MM


@given(patch=patches())
def test_no_corner_of_the_blank_lies_beyond_the_seam(patch: Patch) -> None:
    for x, y, z in patch.blank:
        beyond = patch.a * x + patch.b * z + patch.s * y - patch.c
        corner_of_the_blank = x == -OVER_MM or y == -LONG_MM
        assert beyond <= 1e-6 or corner_of_the_blank
    seen_through = shapely.MultiPoint([(x, y) for x, y, _ in patch.blank]).convex_hull
    assert seen_through.buffer(1e-6).covers(patch.on_the_outside)


def test_a_line_at_120_degrees_is_one_at_minus_60() -> None:
    shallow = replace(CHIP, depth_mm=6.0)
    one, other = (lay_patch(shallow, thickness_mm=19.0, ring_deg=deg) for deg in (120.0, -60.0))
    assert one.seam_deg == other.seam_deg == -60.0
    assert one.reach_mm(0.0) == other.reach_mm(0.0)


def test_rings_along_the_face_lean_the_way_that_makes_the_smaller_patch() -> None:
    shallow = lay_patch(replace(CHIP, depth_mm=4.0), thickness_mm=19.0, ring_deg=0.0)
    assert shallow.seam_deg < 0  # it leaves through the edge, not through the inside face
    assert not shallow.through


def test_a_break_deeper_than_the_board_is_no_break_of_it() -> None:
    with pytest.raises(LayoutError, match="at most its thickness"):
        lay_patch(replace(CHIP, depth_mm=19.5), thickness_mm=19.0, ring_deg=90.0)


# --- the verdict ---


def _share_of(share: float) -> Advice:
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    return patch_advice(patch, CHERRY, board_width_mm=patch.widest_mm / share)


def _ringed(ring_deg: float) -> Advice:
    return patch_advice(lay_patch(CHIP, thickness_mm=19.0, ring_deg=ring_deg), CHERRY, board_width_mm=400.0)


EXAMPLES = [partial(_share_of, share) for share in (0.3333, 0.3334, 0.5, 0.501)]
EXAMPLES += [partial(_ringed, ring_deg) for ring_deg in (20.0, 75.0)]


@pytest.mark.parametrize(
    ("share", "level"),
    [(0.2, Level.OK), (1 / 3, Level.OK), (0.34, Level.WARN), (0.5, Level.WARN), (0.51, Level.STOP)],
)
def test_a_patch_of_a_third_of_the_width_passes_and_of_over_half_is_a_new_end(share: float, level: Level) -> None:
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    advice = patch_advice(patch, CHERRY, board_width_mm=patch.widest_mm / share)
    assert advice.worst is level


def test_the_width_named_in_a_warning_passes() -> None:
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    (finding,) = patch_advice(patch, CHERRY, board_width_mm=22.0).findings
    assert finding.level is Level.WARN
    assert f"{patch.widest_mm * 3:.1f} mm" in finding.fix
    assert patch_advice(patch, CHERRY, board_width_mm=patch.widest_mm * 3).findings == ()


def test_rings_too_flat_to_follow_are_said() -> None:
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=20.0)
    advice = patch_advice(patch, CHERRY, board_width_mm=400.0)
    (finding,) = advice.findings
    assert (finding.check, finding.level) == ("patch-seam", Level.NOTE)
    assert finding.measured == pytest.approx(abs(patch.seam_deg) - 20.0)
    assert "across the rings" in advice.looks
    followed = patch_advice(lay_patch(CHIP, thickness_mm=19.0, ring_deg=75.0), CHERRY, board_width_mm=400.0)
    assert followed.findings == ()
    assert "runs with the rings" in followed.looks


def test_what_isnt_given_isnt_checked_and_plywood_isnt_patched() -> None:
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    findings = patch_advice(patch, CHERRY, rings_given=False).findings
    assert sorted(finding.check for finding in findings) == ["patch-seam", "patch-size"]
    assert all(finding.message.startswith("not checked, because") for finding in findings)
    assert patch_advice(patch, find_wood("birch plywood"), board_width_mm=300.0).worst is Level.STOP


def test_chip_first_and_planed_flush_only_after_the_cure() -> None:
    advice = patch_advice(lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0), CHERRY, board_width_mm=300.0)
    assert "keep it" in advice.steps[0]
    assert any("When the glue has cured, not before" in step for step in advice.steps)
    assert any("vapour" in caution for caution in advice.cautions)
    assert {figure.source for figure in advice.figures} >= {"ours"}


# --- what else is cut at that edge ---

CHANNEL = Cutout(from_end_mm=30.0, from_edge_mm=0.0, length_mm=14.0, width_mm=40.0, depth_mm=12.0)


def _side(**cutout: Any) -> Board:
    """A board 100 mm wide with a channel at its edge."""
    sizes = {"length_mm": 500, "width_mm": 100, "thickness_mm": 19}
    return Board(name="side", wood=CHERRY, cutouts=(replace(CHANNEL, **cutout),), **sizes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("cutout", "far_edge", "end", "whole_mm"),
    [
        ({}, False, End.LEFT, 30.0),
        ({}, False, End.RIGHT, 500 - 30 - 14),
        ({}, True, End.LEFT, None),  # it begins 60 mm in from the far edge
        ({"from_edge_mm": 50.0}, True, End.LEFT, 30.0),
        ({"from_edge_mm": 20.0}, False, End.LEFT, None),
    ],
)
def test_a_cut_out_near_the_edge_ends_it(
    cutout: dict[str, float], far_edge: bool, end: End, whole_mm: float | None
) -> None:
    assert edge_room(_side(**cutout), end, far_edge=far_edge, groove=None).whole_mm(15.0) == whole_mm


def test_a_seam_leans_more_to_run_out_before_a_cut_out() -> None:
    chip = Break(width_mm=6.0, depth_mm=19.0, length_mm=10.0)
    free = lay_patch(chip, thickness_mm=19.0, ring_deg=90.0)
    # rings square: reach 6 and 1 mm square to a seam of 1 in 5, so 5 x (6 + hypot(1, 1/5)) along the edge
    assert free.longest_mm == pytest.approx(5 * (6 + math.hypot(1, 1 / 5)))
    room = EdgeRoom(cutouts_mm=((0.0, 30.0),), grooves_mm=(4.0,))
    patch = lay_patch(chip, thickness_mm=19.0, ring_deg=90.0, room=room)
    assert patch.lean == pytest.approx(1 / 3)  # 1 in 4 runs out after 28.1, and 3 mm stay
    assert patch.longest_mm <= 27.0
    found = patch_advice(patch, CHERRY, board_width_mm=300, room=room).findings
    said = [row.message for row in found if row.check == "patch-room"]
    assert "leaves the fibres by 1 in 3" in said[0]
    assert "a groove runs through the patch" in said[1]
    near = EdgeRoom(cutouts_mm=((0.0, 11.0),))
    stuck = lay_patch(chip, thickness_mm=19.0, ring_deg=90.0, room=near)
    assert patch_advice(stuck, CHERRY, board_width_mm=300, room=near).worst is Level.STOP


@given(patch=patches(), whole_mm=lengths(1, 200))
def test_a_patch_runs_into_no_cut_out_without_a_stop(patch: Patch, whole_mm: float) -> None:
    room = EdgeRoom(cutouts_mm=((0.0, whole_mm),))
    laid = lay_patch(patch.lost, thickness_mm=patch.thickness_mm, ring_deg=patch.ring_deg, room=room)
    advice = patch_advice(laid, CHERRY, board_width_mm=1000, room=room)
    stopped = any(row.check == "patch-room" and row.level is Level.STOP for row in advice.findings)
    assert stopped is (laid.longest_mm > whole_mm - 3.0 + 1e-6)
