"""A second opinion on a corner's layout: widths of tails and pins, gauge settings, angles.

Nothing here calls what the package works these out with: lines are summed as exact fractions from the far edge inward,
a solid kernel (manifold3d) planes the tails out of a block, and angles come from series in 50 figures. What each test holds
the program to:

- widths: 2 half pins + tails + pins between them fill the width; common practice, no source. How unlike tails share it: ours.
- gauge settings: each baseline is scribed at the mate's thickness, a socket's at that less the lap, plus what stands proud;
  common practice, no source.
- angles: a slope of 1:n is atan(1/n); plain trigonometry.
"""

from __future__ import annotations

import cmath
import itertools
import math
from decimal import Decimal, localcontext
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from dovelayout.drawing.bench.settings import all_settings
from dovelayout.drawing.cards.gauge import slope_gauge
from dovelayout.drawing.primitives import Lines, Role
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import Face
from dovelayout.joints.sliding import DEFAULT_SLOPE
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Spacing
from dovelayout.units import Unit, format_slope, parse_slope, slope_degrees, slope_ratio
from tests.drawer_jobs import drawer_job
from tests.jobs import corner_job, loaded
from tests.strategies import canted_joints, half_blind_joints, lengths, mitred_joints, through_joints

HAIR_MM = 1e-9
KERNEL_MM = 1e-6  # coarser than the kernel, finer than any tool

TailLines = tuple[Fraction, Fraction, Fraction, Fraction]
"""A tail's start and end, and its neck's."""


def exact(value: float) -> Fraction:
    """The decimal that was typed, not the binary number nearest to it."""
    return Fraction(repr(value))


# --- 1: widths of tails and pins ---


def shares(count: int, spacing: Spacing) -> list[Fraction]:
    """How unlike tails share the width (ours): closer at the edges 0.65, from seven tails on 0.83 beside it; graduated
    from 1 at the face edge to 1.6."""
    if spacing is Spacing.CLOSER_AT_EDGES and count >= 3:
        from_edge = {1: Fraction(65, 100), 2: Fraction(83, 100) if count >= 7 else Fraction(1)}
        return [from_edge.get(min(place, count + 1 - place), Fraction(1)) for place in range(1, count + 1)]
    if spacing is Spacing.GRADUATED and count >= 2:
        return [1 + Fraction(6, 10) * Fraction(place, count - 1) for place in range(count)]
    return [Fraction(1)] * count


def tails_from_the_far_edge(joint: CornerJoint) -> list[TailLines]:
    """Every tail from the maker's keys alone, summed from the far edge to the face edge."""
    spec = joint.spec
    low, high = exact(joint.covers.start_mm), exact(joint.covers.end_mm)
    depth = exact(spec.pins.board.thickness_mm) - exact(spec.lap_mm or 0.0)
    lean = depth / exact(spec.slope.ratio)
    if spec.tails_at is not None:
        spans = [(exact(span.start_mm), exact(span.end_mm)) for span in spec.tails_at]
    else:
        pin, half_pin, count = (
            exact(joint.proposed[key] if given is None else given)
            for key, given in (
                ("pin", spec.pin_mm),
                ("half_pin", spec.half_pin_mm),
                ("tail_count", None if spec.tail_count is None else float(spec.tail_count)),
            )
        )
        parts = shares(int(count), spec.spacing)
        for_tails = high - low - 2 * half_pin - (count - 1) * pin
        spans, line = [], high - half_pin
        for part in reversed(parts):
            start = line - for_tails * part / sum(parts)
            spans.insert(0, (start, line))
            line = start - pin
        assert line + pin == low + half_pin  # what is left at the face edge is the other half pin, to the last bit
    # a tail at the very edge has no cheek there: the board's edge is its side
    return [(a, b, a if a == low else a + lean, b if b == high else b - lean) for a, b in spans]


@given(joint=st.one_of(through_joints(), half_blind_joints()))
def test_every_line_of_the_layout_by_exact_fractions(joint: CornerJoint) -> None:
    hold_to_fractions(joint)


@pytest.mark.parametrize("spacing", list(Spacing))
@pytest.mark.parametrize("count", range(1, 13))
def test_every_line_of_many_tails_by_exact_fractions(count: int, spacing: Spacing) -> None:
    keys = {"tail_count": count, "half_pin": 9.3, "spacing": spacing.value}
    if spacing is not Spacing.KERF_PINS:  # there the saw says how wide a pin is
        keys["pin"] = 5.7
    (joint,) = loaded(corner_job(width=507.4, thickness=19.3, pin_thickness=16.1, slope="1:6.5", **keys)).joints
    assert len(joint.tails) == count
    hold_to_fractions(joint)


def hold_to_fractions(joint: CornerJoint) -> None:
    """Every line of tails and pins is where the sums say."""
    low, high = exact(joint.covers.start_mm), exact(joint.covers.end_mm)
    expected = tails_from_the_far_edge(joint)
    for tail, lines in zip(joint.tails, expected, strict=True):
        got = (tail.start_mm, tail.end_mm, tail.neck_start_mm, tail.neck_end_mm)
        assert got == pytest.approx([float(line) for line in lines], abs=HAIR_MM)
    # pins are what is left between them: narrow where the tails end, wide between the necks
    narrow = [low, *(line for tail in expected for line in tail[:2]), high]
    wide = [low, *(line for tail in expected for line in tail[2:]), high]
    gaps = [(narrow[i + 1] - narrow[i], wide[i + 1] - wide[i]) for i in range(0, len(narrow), 2)]
    gaps = [gap for gap in gaps if gap[1] > 0]
    for pin, gap in zip(joint.pins, gaps, strict=True):
        assert (pin.width_mm, pin.root_mm) == pytest.approx([float(width) for width in gap], abs=HAIR_MM)


def planed(block: Manifold, x_mm: float, n: float) -> Manifold:
    """A block planed off along a cheek that starts at (x, 0) and goes n down for 1 across; n below 0: it leans back. What
    lies on the side that it leans to stays."""
    normal = np.array([n, -1.0, 0.0]) / math.hypot(n, 1)
    return block.trim_by_plane(tuple(normal), float(normal[0] * x_mm))


@given(joint=st.one_of(through_joints(), half_blind_joints(), mitred_joints()))
def test_tails_planed_by_a_solid_kernel_leave_just_the_pins(joint: CornerJoint) -> None:
    low, high, depth = joint.covers.start_mm, joint.covers.end_mm, joint.depth_mm
    thick, n = joint.tail_board.thickness_mm, joint.slope.ratio
    left = Manifold.cube((high - low, depth, thick)).translate((low, 0, 0))
    for tail in joint.tails:
        # where it ends is the program's word; how it narrows is the plane's. It stands 1 mm out all round, to cut clean
        size = (tail.end_mm - tail.start_mm + 2, depth + 2, thick + 2)
        solid = Manifold.cube(size).translate((tail.start_mm - 1, -1, -1))
        if tail.start_mm > low + KERNEL_MM:
            solid = planed(solid, tail.start_mm, n)
        if tail.end_mm < high - KERNEL_MM:
            solid = planed(solid, tail.end_mm, -n)
        on_board = solid.trim_by_plane((1, 0, 0), low).trim_by_plane((-1, 0, 0), -high)
        foot = on_board.trim_by_plane((0, 1, 0), depth).bounding_box()
        assert (foot[0], foot[3]) == pytest.approx((tail.neck_start_mm, tail.neck_end_mm), abs=KERNEL_MM)
        left -= solid
    # between the middles of neighbouring tails, and out to the edges, there is one pin, or none beside a tail at the edge
    parts = [low, *((tail.neck_start_mm + tail.neck_end_mm) / 2 for tail in joint.tails), high]
    solids = [left.trim_by_plane((1, 0, 0), a).trim_by_plane((-1, 0, 0), -b) for a, b in itertools.pairwise(parts)]
    solids = [solid for solid in solids if solid.volume() > KERNEL_MM]
    for solid, pin in zip(solids, joint.pins, strict=True):
        box = solid.bounding_box()
        assert (box[0], box[3]) == pytest.approx((pin.root_start_mm, pin.root_end_mm), abs=KERNEL_MM)
        assert solid.volume() == pytest.approx((pin.width_mm + pin.root_mm) / 2 * depth * thick, rel=1e-6, abs=1e-5)


# --- 2: gauge settings ---


def reach_mm(face: Face) -> float:
    """How far from the board's end (or its outside face) a face's outlines reach."""
    return max(polygon.bounds[3] for polygon in (*(piece.polygon for piece in face.keep), *face.waste))


@given(joint=st.one_of(through_joints(), half_blind_joints()))
def test_both_gauge_settings_and_the_lines_drawn_at_them(joint: CornerJoint) -> None:
    spec = joint.spec
    tails, pins = joint.end_faces()
    tail_t, pin_t = exact(spec.tails.board.thickness_mm), exact(spec.pins.board.thickness_mm)
    lap = exact(spec.lap_mm or 0.0)
    assert tails.baseline_mm == pytest.approx(float(pin_t - lap + exact(spec.proud_tails_mm)), abs=HAIR_MM)
    assert pins.baseline_mm == pytest.approx(float(tail_t + exact(spec.proud_pins_mm)), abs=HAIR_MM)
    assert reach_mm(tails.inside) == reach_mm(tails.outside) == pytest.approx(tails.baseline_mm, abs=HAIR_MM)
    assert reach_mm(pins.inside) == pytest.approx(pins.baseline_mm, abs=HAIR_MM)
    if spec.lap_mm is None:
        assert pins.end_gauge_mm is None
        return
    assert pins.end_gauge_mm == pytest.approx(float(pin_t - lap), abs=HAIR_MM)
    # the sockets on the end grain, behind a lip counted from the rebate, are as long as the second gauge says
    for socket in pins.end_grain.waste:
        assert socket.bounds[3] - socket.bounds[1] == pytest.approx(float(pin_t - lap), abs=HAIR_MM)
    if spec.lip is not None:
        assert reach_mm(pins.end_grain) == pytest.approx(float(pin_t - exact(spec.lip.thickness_mm)), abs=HAIR_MM)


@pytest.mark.parametrize(
    ("tail_t", "pin_t", "proud", "lap", "settings"),
    [
        (19, 19, 0, None, {"19"}),
        (12, 20, 0.4, None, {"20.4", "12.4"}),
        (12.7, 15.88, -0.2, None, {"15.68", "12.5"}),
        (12, 20, 0, 5, {"15", "12"}),
        (9.5, 22, 0, 6.5, {"15.5", "9.5"}),
    ],
)
def test_settings_as_the_bench_sheet_says_them(
    tail_t: float, pin_t: float, proud: float, lap: float | None, settings: set[str]
) -> None:
    # each by hand: the mate's thickness, less the lap, plus what stands proud
    keys = {"joint": "half_blind", "lap": lap} if lap else {"proud": proud}
    job = loaded(corner_job(thickness=tail_t, pin_thickness=pin_t, tail_count=4, pin=6, half_pin=8, **keys))
    rows = [row for row in all_settings(job.joints, (), Unit.MM) if not row.scribes[0].startswith("bevel")]
    assert {row.setting.text.removesuffix(" mm").removeprefix("≈ ") for row in rows} == settings


@pytest.mark.parametrize("style", ["inset", "lipped"])
@pytest.mark.parametrize(("side_t", "front_t", "lap"), [(12, 20, 6), (9.5, 19, 7), (15, 22, 6.5)])
def test_a_drawers_front_is_gauged_a_shaving_under_its_side(
    style: str, side_t: float, front_t: float, lap: float
) -> None:
    # a shaving of 0.2 mm: common practice, no source
    job = loaded(drawer_job(front=style, side_thickness=side_t, front_thickness=front_t, lap=lap))
    joint = next(joint for joint in job.joints if joint.kind == "half_blind")
    tails, pins = joint.end_faces()
    got = (tails.baseline_mm, pins.baseline_mm, pins.end_gauge_mm)
    assert got == pytest.approx((front_t - lap, side_t - 0.2, front_t - lap), abs=HAIR_MM)


# --- 3: angles ---


def arctangent(x: Decimal) -> Decimal:
    """By its series (x - x^3/3 + ...), after halving the angle four times: atan x = 2 atan(x / (1 + sqrt(1 + x^2)))."""
    for _ in range(4):
        x /= 1 + (1 + x * x).sqrt()
    total, power, k = Decimal(0), x, 1
    while abs(power) > Decimal("1e-60"):
        total += power / k
        power, k = -power * x * x, k + 2
    return 16 * total


def degrees_of(n: float) -> float:
    """The angle of 1:n, in 50 figures; a half turn is 4 atan 1."""
    with localcontext() as context:
        context.prec = 50
        return float(arctangent(1 / Decimal(repr(n))) * 45 / arctangent(Decimal(1)))


def ratio_of(degrees: float) -> float:
    """The n of 1:n, cosine over sine by their series, in 50 figures."""
    with localcontext() as context:
        context.prec = 50
        angle = Decimal(repr(degrees)) * arctangent(Decimal(1)) / 45
        term, sums = Decimal(1), [Decimal(0), Decimal(0)]
        for k in range(60):
            sums[k % 2] += term * (-1) ** (k // 2)
            term *= angle / (k + 1)
        return float(sums[0] / sums[1])


@given(n=lengths(1.2, 60))
def test_a_ratio_in_degrees_and_back_in_fifty_figures(n: float) -> None:
    expected = degrees_of(n)
    for got in (slope_degrees(n), Slope(n).degrees):
        assert got == pytest.approx(expected, rel=1e-14)
    assert slope_ratio(expected) == pytest.approx(n, rel=1e-13)
    assert parse_slope(f"1:{n}") == pytest.approx(n, rel=1e-15)
    said = format_slope(n)
    assert float(said.partition("(")[2].rstrip("°)")) == pytest.approx(expected, abs=0.05 + 1e-9)


@given(degrees=lengths(0.5, 44))
def test_degrees_as_a_ratio(degrees: float) -> None:
    assert parse_slope(f"{degrees} deg") == pytest.approx(ratio_of(degrees), rel=1e-13)


def test_the_slope_of_dividers_that_the_job_leaves_open_is_8_degrees() -> None:
    assert DEFAULT_SLOPE.ratio == pytest.approx(ratio_of(8.0), rel=1e-15)


@given(n=lengths(2, 20), thick_mm=lengths(4, 45))
def test_the_bevel_card_and_the_saddle_stand_at_the_angle(n: float, thick_mm: float) -> None:
    # all knife lines of the gauge but the square ones over the end: their phase in the complex plane, off the upright
    leaning = []
    for item in slope_gauge(Slope(n), thick_mm):
        if isinstance(item, Lines) and item.role is Role.KNIFE:
            vectors = [complex(x2 - x1, y2 - y1) for x1, y1, x2, y2 in item.segments]
            leaning += [vector for vector in vectors if vector.real]
    assert len(leaning) == 6  # two on the card, two on each face of the saddle
    for vector in leaning:
        off = abs(math.degrees(cmath.phase(complex(abs(vector.imag), vector.real))))
        assert off == pytest.approx(degrees_of(n), rel=1e-12)


@given(joint=canted_joints())
def test_cheeks_of_a_canted_corner_follow_their_bevels(joint: CornerJoint) -> None:
    """The long edge leans by 90 degrees less the corner's angle, the cheeks by the slope to either side of it (plain
    trigonometry; that tails follow the edge, not the canted end: common practice, no source)."""
    upright = 1j * cmath.exp(-1j * math.radians(90 - joint.spec.cant.angle_deg))  # along the canted end: real
    turn = complex(joint.slope.ratio, 1) / abs(complex(joint.slope.ratio, 1))
    near, far = (ray * joint.depth_mm / ray.imag for ray in (upright / turn, upright * turn))
    for tail in joint.tails:
        assert tail.neck_start_mm - tail.start_mm == pytest.approx(near.real, abs=HAIR_MM)
        assert tail.neck_end_mm - tail.end_mm == pytest.approx(far.real, abs=HAIR_MM)
    bevels = [90 - math.degrees(cmath.phase(ray)) for ray in (near, far)]
    assert joint.spec.cant.cheek_deg(joint.slope) == pytest.approx(bevels, abs=1e-9)
