"""Tails and pins fill the corner exactly, at every depth and on every face."""

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from dovelayout.joints.face import EndFaces, Face, FaceName, Part
from dovelayout.joints.kinds.through import ThroughJoint
from tests.conftest import examples
from tests.strategies import through_joints

EXACT_MM = 1e-9


def _width_mm(faces: EndFaces) -> float:
    return faces.end.board.width_mm


def _depth_mm(faces: EndFaces, face: Face) -> float:
    return faces.end.board.thickness_mm if face.name is FaceName.END else faces.baseline_mm


def _line(polygon: Polygon, depth_mm: float) -> tuple[float, float] | None:
    """Where a face's trapezoid, its near side at 0, is at a depth; worked out from its own four corners."""
    corners = list(polygon.exterior.coords)[:-1]
    far_mm = max(y for _, y in corners)
    near = sorted(x for x, y in corners if y == 0.0)
    far = sorted(x for x, y in corners if y == far_mm)
    share = depth_mm / far_mm
    start = near[0] + share * (far[0] - near[0])
    end = near[-1] + share * (far[-1] - near[-1])
    return (start, end) if end - start > 1e-7 else None


def _lines(polygons: list[Polygon], depth_mm: float) -> list[tuple[float, float]]:
    return sorted(line for polygon in polygons if (line := _line(polygon, depth_mm)))


def _joined(lines: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Neighbours that touch count as one."""
    out: list[tuple[float, float]] = []
    for start, end in lines:
        if out and start - out[-1][1] < 1e-7:
            out[-1] = (out[-1][0], end)
        else:
            out.append((start, end))
    return out


def _clipped(lines: list[tuple[float, float]], low: float, high: float) -> list[tuple[float, float]]:
    cut = [(max(a, low), min(b, high)) for a, b in lines]
    return _joined([(a, b) for a, b in cut if b - a > 1e-7])


def _same(some: list[tuple[float, float]], others: list[tuple[float, float]]) -> None:
    assert len(some) == len(others), (some, others)
    for one, other in zip(some, others, strict=True):
        assert one == pytest.approx(other, abs=EXACT_MM)


@settings(max_examples=examples(600))
@given(joint=through_joints(), share=st.floats(0, 1))
def test_tails_and_pins_tile_the_joint_at_every_depth(joint: ThroughJoint, share: float) -> None:
    for at in (0.0, share, 1.0):
        spans = sorted([part.at(at) for part in (*joint.tails, *joint.pins)], key=lambda s: (s.start_mm, s.end_mm))
        assert all(span.width_mm >= -EXACT_MM for span in spans)
        assert spans[0].start_mm == pytest.approx(joint.covers.start_mm, abs=EXACT_MM)
        assert spans[-1].end_mm == pytest.approx(joint.covers.end_mm, abs=EXACT_MM)
        for one, other in itertools.pairwise(spans):
            assert one.end_mm == pytest.approx(other.start_mm, abs=EXACT_MM)
    for tail in joint.tails:
        assert tail.neck_mm > 0
        assert tail.neck_mm <= tail.width_mm
        # each cheek leans by the flare, or is square at the edge of the joint
        for lean, edge in (
            (tail.neck_start_mm - tail.start_mm, tail.start_mm - joint.covers.start_mm),
            (tail.end_mm - tail.neck_end_mm, joint.covers.end_mm - tail.end_mm),
        ):
            wanted = 0.0 if abs(edge) <= 1e-6 else joint.pin_board.thickness_mm / joint.slope.ratio
            assert lean == pytest.approx(wanted, abs=EXACT_MM)
    for pin in joint.pins:
        assert pin.root_mm > pin.width_mm > -EXACT_MM


@settings(max_examples=examples(200))
@given(joint=through_joints())
def test_what_stays_and_what_goes_fill_every_face_and_never_overlap(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        assert [face.name for face in faces.faces] == [FaceName.OUTSIDE, FaceName.END, FaceName.INSIDE]
        for face in faces.faces:
            whole = shapely.box(0, 0, _width_mm(faces), _depth_mm(faces, face))
            parts = [*(piece.polygon for piece in face.keep), *face.waste]
            assert all(part.is_valid and part.area > 0 for part in parts)
            assert sum(part.area for part in parts) == pytest.approx(whole.area, rel=1e-10)
            assert shapely.union_all(parts).symmetric_difference(whole).area < 1e-6
            for one, other in itertools.combinations(parts, 2):
                assert one.intersection(other).area < 1e-9


@given(joint=through_joints())
def test_every_cheek_parts_stay_from_waste_and_none_is_missing(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        for face in faces.faces:
            kept = shapely.union_all([piece.polygon for piece in face.keep], grid_size=1e-9)
            edge = shapely.box(0, 0, _width_mm(faces), _depth_mm(faces, face)).exterior
            between = sum(
                kept.buffer(1e-7).intersection(shapely.LineString(line)).length
                for part in face.waste
                for line in itertools.pairwise(part.exterior.coords)
                if shapely.LineString(line).interpolate(0.5, normalized=True).distance(edge) > 1e-5
            )
            cheeks = [shapely.LineString(cheek) for cheek in face.cheeks]
            assert sum(cheek.length for cheek in cheeks) == pytest.approx(between, abs=1e-4)
            assert len({tuple(cheek.coords) for cheek in cheeks}) == len(cheeks)


@settings(max_examples=examples(200))
@given(joint=through_joints())
def test_a_socket_and_the_tail_that_goes_in_match_on_outside_and_inside(joint: ThroughJoint) -> None:
    """On the pin board's outside face and on its inside face the openings are the tails, where these pass the face."""
    tails, pins = joint.end_faces()
    proud_mm, thickness_mm = joint.spec.proud_tails_mm, joint.pin_board.thickness_mm
    low, high = joint.covers.start_mm, joint.covers.end_mm
    kept = [piece.polygon for piece in tails.outside.keep]
    for face, depth_mm in ((pins.outside, 0.0), (pins.inside, thickness_mm)):
        openings = [(a + joint.pin_offset_mm, b + joint.pin_offset_mm) for a, b in _lines(list(face.waste), 0.0)]
        _same(_clipped(openings, low, high), _clipped(_lines(kept, depth_mm + proud_mm), low, high))
        # sockets are square through the face: as wide at the baseline as at the end
        _same(_lines(list(face.waste), 0.0), _lines(list(face.waste), pins.baseline_mm))
    _same(_lines(kept, tails.baseline_mm / 3), _lines([p.polygon for p in tails.inside.keep], tails.baseline_mm / 3))


@given(joint=through_joints(), share=st.floats(0, 1))
def test_what_stays_on_one_board_is_waste_on_the_other_inside_the_corner(joint: ThroughJoint, share: float) -> None:
    """The tail board's face at depth d behind the pin board's outside face, the pin board's end grain at z = d."""
    tails, pins = joint.end_faces()
    assert (tails.part, pins.part) == (Part.TAILS, Part.PINS)
    low, high = joint.covers.start_mm, joint.covers.end_mm
    depth_mm = share * joint.pin_board.thickness_mm
    y_mm = depth_mm + joint.spec.proud_tails_mm
    for shown, other in (("keep", "waste"), ("waste", "keep")):

        def polygons(face: Face, which: str) -> list[Polygon]:
            return [piece.polygon for piece in face.keep] if which == "keep" else list(face.waste)

        mine = _clipped(_lines(polygons(tails.outside, shown), y_mm), low, high)
        mates = [
            (a + joint.pin_offset_mm, b + joint.pin_offset_mm)
            for a, b in _lines(polygons(pins.end_grain, other), depth_mm)
        ]
        _same(mine, _clipped(mates, low, high))


@settings(max_examples=examples(200))
@given(joint=through_joints())
def test_baselines_are_the_mates_thickness_and_what_stands_proud(joint: ThroughJoint) -> None:
    tails, pins = joint.end_faces()
    assert tails.baseline_mm == joint.pin_board.thickness_mm + joint.spec.proud_tails_mm
    assert pins.baseline_mm == joint.tail_board.thickness_mm + joint.spec.proud_pins_mm
    assert (tails.end, pins.end) == (joint.spec.tails, joint.spec.pins)


@settings(max_examples=examples(200))
@given(joint=through_joints())
def test_grooves_lie_on_their_board_and_templates_are_parted_clear_of_pins_and_cheeks(joint: ThroughJoint) -> None:
    for faces, offset_mm in zip(joint.end_faces(), (0.0, joint.pin_offset_mm), strict=True):
        if faces.groove is not None:
            assert joint.spec.groove is not None
            assert faces.groove.from_edge_mm >= 0
            assert faces.groove.far_mm <= _width_mm(faces) + 1e-6
            assert faces.groove.from_edge_mm + offset_mm == pytest.approx(joint.spec.groove.from_edge_mm, abs=EXACT_MM)
        for place_mm in faces.cut_places_mm:
            assert 0 < place_mm < _width_mm(faces)
            for face in faces.faces:
                across = shapely.LineString([(place_mm, 0), (place_mm, _depth_mm(faces, face))])
                for cheek in face.cheeks:
                    assert across.distance(shapely.LineString(cheek)) > 1e-6, (place_mm, cheek)
                for piece in face.keep:
                    if faces.part is Part.PINS and piece.label:
                        assert not piece.polygon.intersects(across)
