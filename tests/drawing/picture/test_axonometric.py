"""Projection and hidden lines, held to exact trigonometry and to rays that are cast without the package."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from dovelayout.drawing.picture.axonometric import View, Visible, view_from, visible
from dovelayout.drawing.picture.joint_solid import corner_solids
from dovelayout.drawing.picture.slide_solid import slide_solids
from dovelayout.drawing.picture.solid import PlaneFace, Solid, Vec, fused, prism
from dovelayout.joints.corner import CornerJoint
from tests.conftest import examples
from tests.pictured import CORNERS, SLIDES, Array, before, triangles
from tests.strategies import corner_joints

ISOMETRIC_DEG = math.degrees(math.asin(1 / math.sqrt(3)))  # the view along a cube's diagonal (ISO 5456-3)
PLACE_MM = 1e-3
STEP_MM = 0.1  # how near a sample may lie to where something else begins


def _block(x1: float, y1: float, z1: float, x2: float, y2: float, z2: float) -> Solid:
    return fused([prism(box(x1, y1, x2, y2), lambda x, y, z: (x, y, z), z1, z2)])


@given(azimuth=st.floats(-math.pi, math.pi), elevation=st.floats(-80, 80))
def test_a_view_turns_and_never_mirrors(azimuth: float, elevation: float) -> None:
    view = view_from((math.cos(azimuth), math.sin(azimuth)), elevation)
    axes = np.array((view.right, view.up, view.towards))
    assert np.allclose(axes @ axes.T, np.eye(3))
    assert np.linalg.det(axes) == pytest.approx(1.0)
    assert view.right[2] == 0.0  # what is level across stays level
    assert view.towards[2] == pytest.approx(math.sin(math.radians(elevation)))


def test_from_the_front_right_is_right_and_up_is_up() -> None:
    view = view_from((0.0, -1.0), 0.0)
    assert view.flat([(3.0, 7.0, 5.0)]).tolist() == [pytest.approx([3.0, 5.0])]


def test_a_cube_along_its_diagonal_is_a_regular_hexagon() -> None:
    view = view_from((1.0, -1.0), ISOMETRIC_DEG)
    drawn = visible(_block(0, 0, 0, 10, 10, 10).faces, view)
    edge = 10 * math.sqrt(2 / 3)
    assert len(drawn.outline) == 6
    assert len(drawn.edges) == 3
    for x1, y1, x2, y2 in (*drawn.outline, *drawn.edges):
        assert math.hypot(x2 - x1, y2 - y1) == pytest.approx(edge)
    middle = view.flat([(10.0, 0.0, 10.0)])[0]
    for x1, y1, x2, y2 in drawn.outline:
        assert math.hypot(x1 - middle[0], y1 - middle[1]) == pytest.approx(edge)
        assert math.hypot(x2 - middle[0], y2 - middle[1]) == pytest.approx(edge)


def test_a_block_before_another_hides_what_it_covers() -> None:
    view = view_from((0.0, -1.0), 0.0)
    drawn = visible([*_block(0, 0, 0, 10, 5, 10).faces, *_block(4, -20, -5, 6, -10, 15).faces], view)
    across = [s for s in (*drawn.outline, *drawn.edges) if abs(s[1] - 10) < PLACE_MM and abs(s[3] - 10) < PLACE_MM]
    stretches = sorted((min(s[0], s[2]), max(s[0], s[2])) for s in across)
    assert stretches == [pytest.approx((0, 4), abs=PLACE_MM), pytest.approx((6, 10), abs=PLACE_MM)]


def test_flush_blocks_show_their_seam_thin_and_a_deep_step_thick() -> None:
    view = view_from((0.0, -1.0), 0.0)
    flush = visible([*_block(0, 0, 0, 10, 5, 10).faces, *_block(10, 0, 0, 20, 5, 10).faces], view)
    assert [s[0] for s in flush.edges] == [pytest.approx(10)]
    deep = visible([*_block(0, 0, 0, 10, 5, 10).faces, *_block(10, 4, 0, 20, 9, 10).faces], view)
    assert any(s[0] == pytest.approx(10) and s[2] == pytest.approx(10) for s in deep.outline)


def test_a_mark_on_a_hidden_face_is_hidden() -> None:
    view = view_from((0.0, -1.0), 30.0)
    front: tuple[Vec, Vec] = ((1.0, 0.0, 5.0), (9.0, 0.0, 5.0))
    back: tuple[Vec, Vec] = ((1.0, 5.0, 5.0), (9.0, 5.0, 5.0))
    drawn = visible(_block(0, 0, 0, 10, 5, 10).faces, view, [[front], [back]])
    assert len(drawn.marks[0]) == 1
    assert drawn.marks[1] == ()


# --- the property: what is drawn is free, what is free is drawn ---


def _edges(faces: Sequence[PlaneFace]) -> Array:
    """Edges of the faces, (n, 2, 3), each once."""
    found = {(min(a, b), max(a, b)) for face in faces for ring in face.rings for a, b in pairwise((*ring, ring[0]))}
    return np.array(sorted(found))


def _check(faces: Sequence[PlaneFace], view: View, drawn: Visible) -> None:
    parts, edges = triangles(faces), _edges(faces)
    towards = np.array(view.towards)
    paper = np.array((view.right, view.up))
    starts, ends = edges[:, 0] @ paper.T, edges[:, 1] @ paper.T
    along = ends - starts
    squares = np.einsum("ij,ij->i", along, along)
    strokes = np.array((*drawn.outline, *drawn.edges))
    assert len(strokes)

    # every sample of a stroke lies in a projected edge, and at least one such edge is free there
    for x1, y1, x2, y2 in strokes:
        for share in (0.13, 0.5, 0.81):
            spot = np.array((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
            with np.errstate(divide="ignore", invalid="ignore"):
                at = np.einsum("ij,ij->i", spot - starts, along) / squares
            off = np.hypot(*(starts + at[:, None] * along - spot).T)
            on = (squares > 1e-9) & (off < PLACE_MM) & (at > -1e-6) & (at < 1 + 1e-6)
            assert on.any(), f"a stroke at {spot} lies in no edge"
            points = edges[on, 0] + at[on, None] * (edges[on, 1] - edges[on, 0])
            assert min(before(point, towards, parts) for point in points) < 0.01, f"a stroke at {spot} is behind a face"

    # an edge that isn't drawn at a sample has a face before it there
    for start, end in edges:
        if np.hypot(*((end - start) @ paper.T)) < 4 * STEP_MM:
            continue
        for share in (0.21, 0.57, 0.9):
            point = start + share * (end - start)
            if _distance(point @ paper.T, strokes) < PLACE_MM:
                continue
            free = before(point, towards, parts) < 1e-6
            if free:  # perhaps a ray through an arris: then it is free on both sides too
                beside = [point + step * STEP_MM * np.array(axis) for step in (-1, 1) for axis in (view.right, view.up)]
                free = all(before(spot, towards, parts) < 1e-6 for spot in beside)
            assert not free, f"an edge is free at {point} and isn't drawn"


def _distance(spot: Array, strokes: Array) -> float:
    a, b = strokes[:, :2], strokes[:, 2:]
    along = b - a
    share = np.clip(np.einsum("ij,ij->i", spot - a, along) / np.einsum("ij,ij->i", along, along), 0, 1)
    return float(np.hypot(*(a + share[:, None] * along - spot).T).min())


VIEWS = {
    "from the right": view_from((0.62, -0.78), 28.0),
    "from the left": view_from((-0.62, -0.78), 28.0),
    "from behind": view_from((0.55, 0.84), 36.0),
    "isometric": view_from((1.0, -1.0), ISOMETRIC_DEG),
    "from the front": view_from((0.0, -1.0), 0.0),
    "from the side": view_from((1.0, 0.0), 0.0),
}


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", CORNERS)
def test_corners(name: str, view: str) -> None:
    both = corner_solids(CORNERS[name])
    apart = both.tails.moved((both.out[0] * 50, both.out[1] * 50, 0.0))
    for timbers in ((both.tails, both.pins), (apart, both.pins)):
        faces = [face for timber in timbers for face in timber.solid.faces]
        _check(faces, VIEWS[view], visible(faces, VIEWS[view]))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", SLIDES)
def test_slides(name: str, view: str) -> None:
    both = slide_solids(SLIDES[name])
    faces = [*both.host.solid.faces, *both.key.moved((both.apart[0] * 40, 0.0, 0.0)).solid.faces]
    _check(faces, VIEWS[view], visible(faces, VIEWS[view]))


@settings(max_examples=examples(25))
@given(joint=corner_joints(), view=st.sampled_from(sorted(VIEWS)))
def test_any_corner(joint: CornerJoint, view: str) -> None:
    both = corner_solids(joint)
    faces = [*both.tails.solid.faces, *both.pins.solid.faces]
    _check(faces, VIEWS[view], visible(faces, VIEWS[view]))


def test_the_rays_would_notice() -> None:
    """A stroke on the far side of a block is behind a face."""
    view = VIEWS["from the front"]
    faces = _block(0, 0, 0, 10, 5, 10).faces
    assert before(np.array((4.0, 5.0, 7.3)), np.array(view.towards), triangles(faces)) == pytest.approx(5.0)
    drawn = visible(faces, view)
    wrong = Visible(outline=(*drawn.outline, (2.0, 2.0, 8.0, 8.0)), edges=drawn.edges, marks=())
    with pytest.raises(AssertionError, match="lies in no edge"):
        _check(faces, view, wrong)
    with pytest.raises(AssertionError, match="isn't drawn"):
        _check(faces, view, Visible(outline=drawn.outline[1:], edges=drawn.edges, marks=()))
