"""Hatching: all of the waste and nothing but the waste, with shapely's own intersection as the judge."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import Stroke
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.wrap import Template
from dovelayout.joints.board import End
from dovelayout.joints.face import FaceName
from dovelayout.joints.through import ThroughJoint
from tests.conftest import examples
from tests.strategies import through_joints

PITCH_MM = 2.0


def _lines(polygons: Sequence[Polygon], pitch_mm: float, angle_deg: float, off_mm: float = 0.0) -> list[LineString]:
    """Hatch lines right across the polygons, half a pitch off the origin."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    reach = max(max(map(abs, polygon.bounds)) for polygon in polygons) * 1.5 + pitch_mm
    most = int(reach / pitch_mm) + 1
    lines = []
    for number in range(-most, most + 1):
        v = (number + 0.5) * pitch_mm + off_mm
        lines.append(LineString([(-reach * c - v * s, -reach * s + v * c), (reach * c - v * s, reach * s + v * c)]))
    return lines


def _length(segments: Sequence[Stroke]) -> float:
    return sum(math.dist(s[:2], s[2:]) for s in segments)


def _strings(segments: Sequence[Stroke]) -> list[LineString]:
    return [LineString([s[:2], s[2:]]) for s in segments]


def _check(polygons: Sequence[Polygon], segments: Sequence[Stroke]) -> None:
    oracle = sum(line.intersection(polygon).length for line in _lines(polygons, PITCH_MM, 45) for polygon in polygons)
    assert _length(segments) == pytest.approx(oracle, rel=1e-9, abs=1e-5)
    if not segments:
        return
    strings = _strings(segments)
    nearly = shapely.union_all([polygon.buffer(1e-9, join_style="mitre") for polygon in polygons])
    shapely.prepare(nearly)
    for string, inside in zip(strings, shapely.covers(nearly, strings), strict=True):
        assert inside or string.difference(nearly).length < 1e-9
    for x1, y1, x2, y2 in segments:
        assert x2 - x1 == pytest.approx(y2 - y1, abs=1e-9)  # 45 degrees
        number = (y1 - x1) / math.sqrt(2) / PITCH_MM - 0.5
        assert number == pytest.approx(round(number), abs=1e-7)  # in step, a pitch apart


@st.composite
def _stars(draw: st.DrawFn) -> Polygon:
    """A polygon of any shape seen whole from its middle, with or without a hole."""
    corners = draw(st.integers(3, 9))
    radii = draw(st.lists(st.integers(40, 600).map(lambda n: n / 10), min_size=corners, max_size=corners))
    x, y = draw(st.integers(-500, 500)) / 10, draw(st.integers(-500, 500)) / 10
    angles = [2 * math.pi * i / corners for i in range(corners)]
    shell = [(x + r * math.cos(a), y + r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    if not draw(st.booleans()):
        return Polygon(shell)
    share = draw(st.integers(10, 90)) / 100
    hole = [(x + share * (px - x), y + share * (py - y)) for px, py in shell]
    return Polygon(shell, [hole])


@settings(max_examples=examples(150))
@given(polygon=_stars())
def test_hatch_is_the_intersection_with_the_hatch_lines(polygon: Polygon) -> None:
    _check([polygon], hatch([polygon]))


@settings(max_examples=examples(150))
@given(
    corners=st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)), min_size=3, max_size=8, unique=True),
)
def test_corners_that_lie_on_a_hatch_line_count_once(corners: list[tuple[int, int]]) -> None:
    """Level hatch lines at 1, 3, 5 ... through corners at whole numbers: the worst case, met on purpose."""
    polygon = shapely.convex_hull(shapely.MultiPoint(corners))
    if not isinstance(polygon, Polygon):
        return
    segments = hatch([polygon], pitch_mm=PITCH_MM, angle_deg=0)
    oracle = sum(line.intersection(polygon).length for line in _lines([polygon], PITCH_MM, 0, off_mm=1e-9))
    assert _length(segments) == pytest.approx(oracle, abs=1e-5)


@settings(max_examples=examples(150))
@given(
    heights=st.lists(st.integers(-9, 9), min_size=2, max_size=8),
)
def test_a_zigzag_edge_at_whole_numbers_is_hatched_right(heights: list[int]) -> None:
    top = [(float(i), float(h)) for i, h in enumerate(heights)]
    polygon = Polygon([(0.0, -10.0), *top, (float(len(heights) - 1), -10.0)])
    segments = hatch([polygon], pitch_mm=PITCH_MM, angle_deg=0)
    oracle = sum(line.intersection(polygon).length for line in _lines([polygon], PITCH_MM, 0, off_mm=1e-9))
    assert _length(segments) == pytest.approx(oracle, abs=1e-5)


def test_a_square_by_hand() -> None:
    # 20 mm square at the origin: lines y - x = sqrt(2) (2k + 1); length of each is sqrt(2) (20 - |y - x|)
    segments = hatch([shapely.box(0, 0, 20, 20)])
    steps = [math.sqrt(2) * (2 * k + 1) for k in range(-8, 8)]
    wanted = [math.sqrt(2) * (20 - abs(step)) for step in steps if abs(step) < 20]
    assert sorted(math.dist(s[:2], s[2:]) for s in segments) == pytest.approx(sorted(wanted))


def test_nothing_to_hatch() -> None:
    assert hatch([]) == ()
    assert hatch([shapely.box(0, 0, 0.1, 0.1)]) == ()


# --- the waste of a template ---


def _waste(template: Template) -> list[Polygon]:
    """The waste of all faces in template coordinates, turned there point by point."""
    faces = template.faces
    thickness_mm = faces.end.board.thickness_mm
    sign = 1 if faces.end.end is End.RIGHT else -1

    def paper(face: FaceName, x: float, other: float) -> tuple[float, float]:
        across = {FaceName.OUTSIDE: -other, FaceName.END: other, FaceName.INSIDE: thickness_mm + other}[face]
        return (sign * across, x)

    return [
        Polygon([paper(face.name, x, other) for x, other in polygon.exterior.coords])
        for face in faces.faces
        for polygon in face.waste
    ]


@given(joint=through_joints())
def test_templates_hatch_all_of_the_waste_and_nothing_else(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        template = CornerEnd(joint=joint, faces=faces, style=Style(job="hatch")).template()
        waste, segments = _waste(template), template.hatching.segments
        _check(waste, segments)
        tree = shapely.STRtree(_strings(segments))
        for polygon in waste:
            across = [y - x for x, y in polygon.exterior.coords]
            if (max(across) - min(across)) / math.sqrt(2) > PITCH_MM:  # else it may fall between two lines
                assert len(tree.query(polygon, predicate="intersects")) > 0
