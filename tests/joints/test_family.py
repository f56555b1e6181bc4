"""What holds for every kind of dovetailed corner: through, half-blind with or without a lip, mitred at the
edges, canted; and the comb."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from shapely import Polygon
from shapely.affinity import translate

from dovelayout.drawing.primitives import Role
from dovelayout.drawing.template.tile import tile_items, whole
from dovelayout.drawing.template.wrap import Caption, fold_over
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Face, FaceName, Part
from tests.conftest import examples
from tests.strategies import corner_joints

SOME = settings(max_examples=examples(150))


def _whole(joint: CornerJoint, faces: EndFaces, face: Face) -> Polygon:
    """The board itself on that face: a rectangle, or in a canted corner what plain trigonometry makes of it."""
    depth_mm = {FaceName.END: faces.band_mm, FaceName.INSIDE: faces.baseline_mm}.get(face.name, faces.first_mm)
    across = 1 / math.tan(math.radians(joint.spec.cant.angle_deg)) if joint.spec.cant.angle_deg != 90 else 0.0
    if faces.part is Part.TAILS:
        width_mm = faces.end.board.width_mm / math.sin(math.radians(joint.spec.cant.angle_deg))
        near_mm, far_mm = 0.0, 0.0 if face.name is FaceName.END else depth_mm * across
    else:
        width_mm, thick_mm = faces.end.board.width_mm, faces.end.board.thickness_mm
        near_mm = across * thick_mm if face.name is FaceName.INSIDE else 0.0
        far_mm = near_mm + (across * depth_mm if face.name is FaceName.END else 0.0)
    return Polygon(
        [(near_mm, 0), (near_mm + width_mm, 0), (far_mm + width_mm, depth_mm), (far_mm, depth_mm)],
    )


@SOME
@given(corner_joints())
def test_what_stays_and_what_goes_fill_every_face(joint: CornerJoint) -> None:
    for faces in joint.end_faces():
        for face in faces.faces:
            board = _whole(joint, faces, face)
            parts = [*(piece.polygon for piece in face.keep), *face.waste]
            assert sum(part.area for part in parts) == pytest.approx(board.area, rel=1e-9)
            assert shapely.union_all(parts).symmetric_difference(board).area < 1e-6
            for one, other in itertools.combinations(parts, 2):
                assert one.intersection(other).area < 1e-9


@SOME
@given(corner_joints())
def test_tails_fill_their_sockets(joint: CornerJoint) -> None:
    """The tails as they lie in the pin board's end are just what was cut away there, shy ends apart."""
    tails, pins = joint.end_faces()
    start_mm = joint.lap_mm - (0.0 if pins.lip is None else pins.lip.thickness_mm)
    stretch = shapely.box(joint.covers.start_mm, -1e4, joint.covers.end_mm, 1e4)
    if not joint.spec.cant.is_square:
        stretch = shapely.box(-1e4, -1e4, 1e4, 1e4)  # the joint takes all of a canted end, and its edges lean
    proud_mm = joint.spec.proud_tails_mm
    tail = shapely.union_all([piece.polygon for piece in tails.outside.keep]).intersection(stretch)
    tail = translate(tail, 0.0, start_mm - proud_mm)
    socket = translate(shapely.union_all(pins.end_grain.waste), joint.pin_offset_mm, 0.0).intersection(stretch)
    behind_shy = shapely.box(-1e4, start_mm + max(0.0, -proud_mm), 1e4, 1e4)
    before_proud = shapely.box(-1e4, start_mm, 1e4, 1e4)
    gap = tail.intersection(before_proud).symmetric_difference(socket.intersection(behind_shy))
    assert gap.area < 1e-6


@SOME
@given(corner_joints())
def test_every_line_that_reaches_a_fold_goes_on_behind_it(joint: CornerJoint) -> None:
    """Cheeks of the end grain that reach an arris meet one on the face behind it, where something is cut there."""
    for faces in joint.end_faces():
        template = fold_over(faces, Caption(letter="A", outside=(), inside=()))
        (folds,) = [lines for lines in template.strokes if lines.role is Role.FOLD]
        fold_u = {round(segment[0], 9) for segment in folds.segments}
        assert max(fold_u) - min(fold_u) == pytest.approx(faces.band_mm)
        inner_u = max(fold_u, key=abs)
        (knife,) = [lines for lines in template.strokes if lines.role is Role.KNIFE]
        for u in fold_u:
            if u != inner_u and (faces.outside_is_blank or joint.mitres):
                continue  # nothing is cut on the face behind, or a mitre's edge runs off at the arris
            at = sorted(
                round(v, 7) for u1, v1, u2, v2 in knife.segments for w, v in ((u1, v1), (u2, v2)) if abs(w - u) < 1e-9
            )
            assert at[::2] == pytest.approx(at[1::2], abs=1e-6)


@settings(max_examples=examples(100))
@given(corner_joints())
def test_hatching_is_in_the_waste_and_nowhere_else(joint: CornerJoint) -> None:
    from dovelayout.drawing.template.wrap import unfolded

    for faces in joint.end_faces():
        template = fold_over(faces, Caption(letter="A", outside=("row",) * 3, inside=("row",)))
        waste = shapely.union_all(
            [polygon for face in faces.faces for polygon in unfolded(faces, face.name, face.waste)]
        )
        lines = shapely.MultiLineString([((a, b), (c, d)) for a, b, c, d in template.hatching.segments])
        assert lines.difference(waste.buffer(1e-6)).length < 1e-6
        assert tile_items(template, whole(template))
