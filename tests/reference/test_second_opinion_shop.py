"""A second opinion on the depth of a sliding joint's housing and on the size of a patch.

Nothing here calls what the package works these out with. Planes come from cross products, the solid kernel (manifold3d)
cuts, a depth is found by halving, a seam by solving for the point where three planes meet. What each test holds the
program to:

- a housing: wide where the key ends, narrower by the slope towards the host's face; common practice, no source. Its limits
  as shares of the host: ours. Where the job gives no depth, a third of the host: common practice, no source.
- a router bit's slot: its diameter less 2 d tan(angle); plain trigonometry.
- a patch: one plane that follows the rings on the end and leaves the fibres by 1 in 5 on the face, 1 mm clear of the break,
  in a blank 2 mm over the edge, 10 mm over the end and 0.5 mm over either face, from an offcut 3 mm larger: all ours.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from dovelayout.casework.divider import setting_out
from dovelayout.checks.finding import Level
from dovelayout.checks.sliding.housing import sliding_findings
from dovelayout.errors import LayoutError
from dovelayout.joints.sliding import Bit, Cheek, Datum, SlidingJoint, Sloped, build_sliding
from dovelayout.joints.slope import Slope
from dovelayout.repair.patch import Break, lay_patch
from dovelayout.shop import Shop
from tests.divider_jobs import divider_job
from tests.jobs import loaded
from tests.repairs import RING_DEG
from tests.slides import sliding_joints, sliding_spec
from tests.strategies import lengths, thicknesses

KERNEL_MM = 1e-6  # coarser than the kernel, finer than any tool

# --- 9: housing depth of a sliding joint ---


def cut(solid: Manifold, *points: tuple[float, float, float], keep: tuple[float, float, float]) -> Manifold:
    """What lies on `keep`'s side of the plane through three points."""
    first, second, third = (np.array(point) for point in points)
    normal = np.cross(second - first, third - first)
    normal /= np.linalg.norm(normal)
    if normal @ (np.array(keep) - first) < 0:
        normal = -normal
    return solid.trim_by_plane(tuple(normal), float(normal @ first))


def cheeks_u(joint: SlidingJoint) -> dict[Cheek, Callable[[float, float], float]]:
    """Where each side of the housing is at a station and a depth, from the maker's keys alone.

    The tongue is `wide` at its end where it leaves the host; from there the sides go up the slope to the host's face, where
    the lower one, or the middle, stands as far from the host's end as the job says.
    """
    spec = joint.spec
    wide_mm = spec.key.board.thickness_mm if spec.wide_mm is None else spec.wide_mm
    tongue_mm = spec.depth_mm - spec.slip_mm
    rear_mm = spec.set_back_mm + spec.key.board.width_mm
    per_mm = 1 / spec.slope.ratio
    leans = {Cheek.LOWER: spec.sloped is not Sloped.UPPER, Cheek.UPPER: spec.sloped is not Sloped.LOWER}
    neck_mm = wide_mm - sum(leans.values()) * tongue_mm * per_mm
    lower_mm = spec.at_mm if spec.measured_to is Datum.LOWER else spec.at_mm - neck_mm / 2 - spec.clearance_mm
    at_face = {Cheek.LOWER: lower_mm, Cheek.UPPER: lower_mm + neck_mm + 2 * spec.clearance_mm}
    tapered = spec.taper_on or (Cheek.UPPER if spec.sloped is Sloped.UPPER else Cheek.LOWER)
    taper = {cheek: (1 / spec.taper_ratio if spec.taper_ratio and cheek is tapered else 0.0) for cheek in Cheek}
    out = {Cheek.LOWER: -1, Cheek.UPPER: 1}

    def side(cheek: Cheek) -> Callable[[float, float], float]:
        return lambda s, z: at_face[cheek] + out[cheek] * (leans[cheek] * z * per_mm - taper[cheek] * (rear_mm - s))

    return {cheek: side(cheek) for cheek in Cheek}


@given(joint=sliding_joints())
def test_a_housing_cut_by_planes_is_as_deep_and_as_wide_as_the_program_says(joint: SlidingJoint) -> None:
    spec, host = joint.spec, joint.spec.host.board
    sides = cheeks_u(joint)
    front, behind = spec.stop_mm, host.width_mm
    waste = Manifold.cube((host.length_mm, behind - front, spec.depth_mm)).translate((0, front, 0))
    middle = ((sides[Cheek.LOWER](front, 0) + sides[Cheek.UPPER](front, 0)) / 2, front, 0.0)
    for u in sides.values():
        corners = [(u(s, z), s, z) for s, z in ((front, 0.0), (behind, 0.0), (front, spec.depth_mm))]
        waste = cut(waste, *corners, keep=middle)
    box = waste.bounding_box()
    assert box[5] == pytest.approx(joint.depth_mm, abs=KERNEL_MM)
    assert box[4] - box[1] == pytest.approx(behind - joint.front_mm, abs=KERNEL_MM)
    ends = (
        (front, waste.trim_by_plane((0, -1, 0), -(front + KERNEL_MM))),
        (behind, waste.trim_by_plane((0, 1, 0), behind - KERNEL_MM)),
    )
    for station, slab in ends:
        floor = slab.trim_by_plane((0, 0, 1), joint.depth_mm - KERNEL_MM).bounding_box()
        neck = slab.trim_by_plane((0, 0, -1), -KERNEL_MM).bounding_box()
        for box, span in ((floor, joint.floor_at(station)), (neck, joint.neck_at(station))):
            assert (box[0], box[3]) == pytest.approx((span.start_mm, span.end_mm), abs=3 * KERNEL_MM)
    widths = [joint.floor_at(s).width_mm + joint.neck_at(s).width_mm for s in (front, behind)]
    assert waste.volume() == pytest.approx(sum(widths) / 4 * joint.depth_mm * (behind - front), rel=1e-6)


@given(joint=sliding_joints())
def test_setting_out_distances_of_housing_and_tongue(joint: SlidingJoint) -> None:
    spec, sides = joint.spec, cheeks_u(joint)
    rear_mm = spec.set_back_mm + spec.key.board.width_mm
    rows = {row.what: row.value_mm for row in setting_out(joint)}
    expected = {
        "depth of the housing, gauged from the host's face": spec.depth_mm,
        "height of the tongue, gauged from the key's end": spec.depth_mm - spec.slip_mm,
        "free behind the key, to the host's back edge": spec.host.board.width_mm - rear_mm,
        "left end of side to the housing's lower side, at the rear": sides[Cheek.LOWER](rear_mm, 0.0),
        "left end of side to its upper side, at the rear": sides[Cheek.UPPER](rear_mm, 0.0),
    }
    if spec.taper_ratio is not None:
        expected["left end of side to its lower side, at the front"] = sides[Cheek.LOWER](spec.stop_mm, 0.0)
        expected["left end of side to its upper side, at the front"] = sides[Cheek.UPPER](spec.stop_mm, 0.0)
    for what, value_mm in expected.items():
        assert rows[what] == pytest.approx(value_mm, abs=1e-9), what


@given(n=lengths(3, 12), wide_mm=lengths(8, 15), slip_mm=lengths(0, 0.4), sloped=st.sampled_from(Sloped))
def test_the_deepest_housing_that_leaves_a_neck_of_3_mm(
    n: float, wide_mm: float, slip_mm: float, sloped: Sloped
) -> None:
    """Found by halving; 3 mm: ours."""
    cheeks = 2 if sloped is Sloped.BOTH else 1
    low, high = 0.0, 1000.0
    for _ in range(100):
        depth = (low + high) / 2
        neck = wide_mm - cheeks * math.tan(math.atan2(1, n)) * (depth - slip_mm)
        low, high = (depth, high) if neck > 3 else (low, depth)
    keys: dict[str, Any] = {"host_mm": (500, 300, 200), "key_mm": (600, 240, 20), "wide_mm": wide_mm}
    keys |= {"slope": Slope(n), "sloped": sloped, "slip_mm": slip_mm}
    assert build_sliding(sliding_spec(depth_mm=low - 1e-6, **keys)).depth_mm < low
    with pytest.raises(LayoutError) as caught:
        build_sliding(sliding_spec(depth_mm=low + 0.5, **keys))
    said = re.search(r"; ([\d.]+) mm deep at this slope leaves 3 mm", str(caught.value))
    assert said is not None
    assert -1e-9 <= low - float(said[1]) < 0.01 + 1e-9  # said in hundredths, rounded down


@given(thick_mm=lengths(12, 40), percent=st.integers(10, 75))
def test_the_share_of_the_host_that_a_housing_takes(thick_mm: float, percent: int) -> None:
    # under a fifth a note, over a half a warning, over six tenths a stop: ours
    depth_mm = round(thick_mm * percent / 100, 2)
    joint = build_sliding(
        sliding_spec(host_mm=(500, 300, thick_mm), key_mm=(600, 240, 40), depth_mm=depth_mm, slope=Slope(12.0))
    )
    share = Fraction(repr(depth_mm)) / Fraction(repr(thick_mm))  # of the decimals typed: a fifth is a fifth
    found = [f for f in sliding_findings(joint, Shop()) if f.check == "housing-depth"]
    expected = Level.NOTE if share < Fraction(1, 5) else Level.OK
    if share > Fraction(1, 2):
        expected = Level.STOP if share > Fraction(3, 5) else Level.WARN
    assert [f.level for f in found] == ([] if expected is Level.OK else [expected])
    for finding in found:
        assert finding.measured == pytest.approx(float(share), abs=0.5e-4 + 1e-9)


@pytest.mark.parametrize(("thick_mm", "third_mm"), [(18, 6.0), (19, 6.3), (20, 6.7), (25.4, 8.5), (30, 10.0)])
def test_a_housing_that_the_job_leaves_open_takes_a_third_of_the_host(thick_mm: float, third_mm: float) -> None:
    tables = divider_job(side={"thickness": thick_mm})
    del tables["divider"][0]["depth"]
    (divider,) = loaded(tables).dividers
    assert divider.joint.depth_mm == pytest.approx(third_mm)


@pytest.mark.parametrize(
    ("diameter_in", "degrees", "depth_in", "neck_in"),
    [(0.5, 14, 0.375, 0.313), (0.5, 14, 0.5, 0.251), (0.5, 8, 0.75, 0.289), (0.375, 9, 0.3125, 0.276)],
)
def test_the_slot_of_a_router_bit(diameter_in: float, degrees: float, depth_in: float, neck_in: float) -> None:
    # usual bits (common practice, no source), worked by hand to a thousandth of an inch
    angle = math.radians(degrees)
    bit = Bit(diameter_mm=diameter_in * 25.4, slope=Slope(math.cos(angle) / math.sin(angle)))
    assert bit.neck_mm(depth_in * 25.4) / 25.4 == pytest.approx(neck_in, abs=0.0006)


# --- 10: patch size of a repair ---

OVER_EDGE, OVER_END, OVER_FACE, OFFCUT, CLEAR, MOST_REACH = 2.0, 10.0, 0.5, 3.0, 1.0, 2.5


class Seam:
    """The plane of a seam, from the two lines that it draws: along the rings on the end, across the fibres on the face."""

    def __init__(self, lost: Break, degrees: float, lean: float) -> None:
        angle = math.radians(degrees)
        rings, face = np.array([math.cos(angle), 0.0, math.sin(angle)]), np.array([-lean, 1.0, 0.0])
        normal = np.cross(rings, face)
        self.normal = normal / np.linalg.norm(normal) * (1 if normal[0] > 0 else -1)  # into the board
        along = [0.0] if lost.chip else [0.0, lost.width_mm]
        points = [(x, 0.0, z) for x in (0.0, lost.width_mm) for z in (0.0, lost.depth_mm)]
        points += [(x, lost.length_mm, z) for x in along for z in (0.0, lost.depth_mm)]
        self.offset = max(float(self.normal @ point) for point in points) + CLEAR

    def meets(self, first: tuple[list[float], float], second: tuple[list[float], float]) -> np.ndarray:
        """The point that it shares with two other planes, each a normal and an offset."""
        rows = np.array([self.normal, first[0], second[0]])
        return np.linalg.solve(rows, np.array([self.offset, first[1], second[1]]))

    def reach(self, z: float) -> float:
        """How far in it lies on the end, at a depth."""
        return float(self.meets(([0, 1, 0], 0.0), ([0, 0, 1], z))[0])

    def runs_out(self, z: float) -> float:
        """How far from the end it comes to the edge, at a depth."""
        return float(self.meets(([1, 0, 0], 0.0), ([0, 0, 1], z))[1])


def best_seam(lost: Break, thick_mm: float, ring_deg: float, lean: float) -> Seam:
    """The rings' own angle, or, if that reaches too far, the first whole degree steeper that doesn't; square last."""
    low = (ring_deg + 90) % 180 - 90  # the same line, from -90 to 90
    flat = abs(low)
    tries = [low] if flat > 1e-9 else []
    for whole in range(math.floor(flat) + 1, 90):
        tries += [float(whole), -float(whole)] if flat <= 1e-9 else [math.copysign(whole, low)]
    for degrees in tries:
        seam = Seam(lost, degrees, lean)
        if max(seam.reach(0.0), seam.reach(thick_mm)) <= MOST_REACH * lost.width_mm:
            return seam
    return Seam(lost, 90.0, lean)


@given(
    thick_mm=thicknesses(),
    share=st.just(1.0) | st.floats(0.1, 1.0),
    width_mm=lengths(0.5, 60),
    length_mm=lengths(0.5, 120),
    chip=st.booleans(),
    runout=st.none() | lengths(1.5, 30),
    ring_deg=RING_DEG,
)
def test_a_patch_by_cross_products_and_a_solid_cut_from_its_blank(
    thick_mm: float, share: float, width_mm: float, length_mm: float, chip: bool, runout: float | None, ring_deg: float
) -> None:
    hold_to_the_seam(
        Break(width_mm=width_mm, depth_mm=thick_mm * share, length_mm=length_mm, chip=chip), thick_mm, ring_deg, runout
    )


@pytest.mark.parametrize(("thick_mm", "width_mm"), [(19.0, 8.0), (12.0, 15.0), (25.0, 4.0)])
def test_a_patch_in_rings_at_every_half_degree(thick_mm: float, width_mm: float) -> None:
    # among them those where the very next whole degree is the first that doesn't reach too far
    lost = Break(width_mm=width_mm, depth_mm=thick_mm, length_mm=14.0)
    for half in range(-180, 181):
        hold_to_the_seam(lost, thick_mm, half / 2, None)


def hold_to_the_seam(lost: Break, thick_mm: float, ring_deg: float, runout: float | None) -> None:
    """The program's patch is the one that the seam's plane cuts."""
    patch = lay_patch(lost, thickness_mm=thick_mm, ring_deg=ring_deg, runout_ratio=runout)
    lean = max(0.2, 1 / runout) if runout else 0.2
    seam = best_seam(lost, thick_mm, ring_deg, lean)
    for z in (0.0, thick_mm / 3, thick_mm):
        assert patch.reach_mm(z) == pytest.approx(seam.reach(z), rel=1e-9, abs=1e-9)
        assert patch.length_mm(z) == pytest.approx(seam.runs_out(z), rel=1e-9, abs=1e-9)
    assert patch.widest_mm == pytest.approx(max(seam.reach(0.0), seam.reach(thick_mm)), rel=1e-9)
    assert max(map(patch.length_mm, (0.0, thick_mm))) == pytest.approx(
        max(map(seam.runs_out, (0.0, thick_mm))), rel=1e-9
    )
    # the patch itself: a bar of wood that stands over edge, end and faces, cut along the seam
    size = (2000.0, 4000.0, thick_mm + 2 * OVER_FACE)
    bar = Manifold.cube(size).translate((-OVER_EDGE, -OVER_END, -OVER_FACE))
    box = bar.trim_by_plane(tuple(-seam.normal), -seam.offset).bounding_box()
    across, along, thick = (box[axis + 3] - box[axis] for axis in range(3))
    assert patch.offcut_mm == pytest.approx((along + OFFCUT, across + OFFCUT, thick), rel=1e-7)
