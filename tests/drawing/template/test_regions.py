"""Rings for machines: what stays and what goes fills the board's faces, on the same lines that the knife follows."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from shapely import Polygon

from dovelayout.drawing.cards.slide import slide_cards
from dovelayout.drawing.plate import CHECK_MM, Plate, corner_plate, divider_plate
from dovelayout.drawing.primitives import Lines, Role, Text
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.regions import Region, RegionKind
from dovelayout.drawing.template.wrap import FULL_SKIRTS, extent
from dovelayout.joints.board import End
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.sliding import SlidingJoint
from tests.slides import sliding_joints
from tests.strategies import corner_joints

STYLE = Style(job="Job")


def polygons(plate: Plate, kind: RegionKind) -> list[Polygon]:
    return [Polygon(region.ring) for region in plate.regions if region.kind is kind]


def strokes(plate: Plate, role: Role) -> list[tuple[float, float, float, float]]:
    return [s for item in plate.items if isinstance(item, Lines) and item.role is role for s in item.segments]


@given(corner_joints())
def test_keep_and_waste_fill_the_faces(joint: CornerJoint) -> None:
    for faces in joint.end_faces():
        plate = corner_plate(joint, faces, STYLE)
        keep, waste = polygons(plate, RegionKind.KEEP), polygons(plate, RegionKind.WASTE)
        assert keep
        assert all(polygon.is_valid for polygon in (*keep, *waste))
        width_mm = faces.width_mm
        whole = width_mm * (faces.first_mm + faces.band_mm + faces.baseline_mm)
        total = sum(polygon.area for polygon in (*keep, *waste))
        assert total == pytest.approx(whole, rel=1e-9)
        # laid out on one strip, from the face edge at y = 0, the first arris at x = 0
        sign = 1 if faces.end.end is End.RIGHT else -1
        x1, x2 = sorted((-sign * faces.first_mm, sign * (faces.band_mm + faces.baseline_mm)))
        left, low, right, high = shapely.union_all([*keep, *waste]).bounds
        assert (left, right) == pytest.approx((x1, x2), abs=1e-9)
        if joint.spec.cant.is_square:  # a canted board's edges lean on the strip
            assert (low, high) == pytest.approx((0.0, width_mm), abs=1e-9)
        # nothing is both kept and cut away
        assert sum(a.intersection(b).area for a in keep for b in waste) == pytest.approx(0, abs=1e-6)


@given(corner_joints())
def test_hatching_lies_in_the_waste_and_knife_lines_on_its_border(joint: CornerJoint) -> None:
    for faces in joint.end_faces():
        plate = corner_plate(joint, faces, STYLE)
        waste = shapely.union_all(polygons(plate, RegionKind.WASTE))
        around, border = waste.buffer(1e-6), shapely.union_all([p.boundary for p in polygons(plate, RegionKind.WASTE)])
        for role, where in ((Role.HATCH, around), (Role.KNIFE, border.buffer(1e-6))):
            for x1, y1, x2, y2 in strokes(plate, role):
                assert where.covers(shapely.LineString([(x1, y1), (x2, y2)]))


@given(sliding_joints())
def test_the_cards_of_a_sliding_dovetail_are_filled(joint: SlidingJoint) -> None:
    plate = divider_plate(joint, STYLE)
    cards = slide_cards(joint, STYLE)
    assert len({len(card.regions) > 1 for card in cards}) == 1
    keep, waste = polygons(plate, RegionKind.KEEP), polygons(plate, RegionKind.WASTE)
    assert len(waste) >= len(cards) - 2  # a square cheek has nothing beside the tongue
    around = shapely.union_all(waste).buffer(1e-6)
    for x1, y1, x2, y2 in strokes(plate, Role.HATCH):
        assert around.covers(shapely.LineString([(x1, y1), (x2, y2)]))
    # each card's border is a rectangle of outline and fold lines; kept and cut parts fill it
    for card in cards:
        parts = [Polygon(region.ring) for region in card.regions]
        x1, y1, x2, y2 = shapely.union_all(parts).bounds
        assert sum(part.area for part in parts) == pytest.approx((x2 - x1) * (y2 - y1), rel=1e-6)
        lines = [s for item in card.items if isinstance(item, Lines) for s in item.segments]
        assert x1 == pytest.approx(min(min(s[0], s[2]) for s in lines), abs=1e-6)
        assert x2 == pytest.approx(max(max(s[0], s[2]) for s in lines), abs=1e-6)
        assert y2 == pytest.approx(card.height_mm, abs=1e-6)
    assert sum(a.intersection(b).area for a in keep for b in waste) == pytest.approx(0, abs=1e-6)


@given(corner_joints())
def test_a_plate_has_a_line_to_measure_above_the_drawing(joint: CornerJoint) -> None:
    faces = joint.end_faces()[0]
    plate = corner_plate(joint, faces, STYLE)
    (x1, y1, x2, y2) = strokes(plate, Role.BAR)[0]
    assert (x2 - x1, y2 - y1) == (CHECK_MM, 0.0)
    assert y1 > faces.end.board.width_mm
    outline = strokes(plate, Role.OUTLINE)
    assert max(s[2] for s in outline) - min(s[0] for s in outline) == pytest.approx(
        extent(faces, FULL_SKIRTS).across_mm
    )
    words = " ".join(item.text for item in plate.items if isinstance(item, Text))
    assert f"{CHECK_MM:g} mm: measure this line" in words
    assert "y = 0: the face edge" in words


@settings(max_examples=5)
@given(corner_joints())
def test_a_stop_that_is_overruled_is_said_on_the_plate(joint: CornerJoint) -> None:
    plate = corner_plate(joint, joint.end_faces()[0], Style(job="Job", stamp="DRAWN AGAINST A STOP: x"))
    assert any(isinstance(item, Text) and item.text == "DRAWN AGAINST A STOP: x" for item in plate.items)


def test_a_hole_is_a_ring_of_its_own() -> None:
    from dovelayout.drawing.template.regions import piece_regions

    whole, hole = shapely.box(0, 0, 10, 10), shapely.box(4, 4, 6, 6)
    regions = piece_regions(whole, [hole])
    assert [region.kind for region in regions] == [RegionKind.KEEP, RegionKind.KEEP, RegionKind.WASTE]
    areas = [Polygon(region.ring).area for region in regions]
    assert areas == [100.0, 4.0, 4.0]
    assert all(isinstance(region, Region) and region.ring[0] != region.ring[-1] for region in regions)
