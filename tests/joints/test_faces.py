"""What faces are made of: waste and cheeks by hand, what is no polygon, and where a template may be parted."""

from __future__ import annotations

import pytest

from dovelayout.errors import LayoutError
from dovelayout.joints.face import FaceName
from dovelayout.joints.faces import face, polygon
from dovelayout.joints.spacing import Span
from tests.jobs import corner_job, loaded


def test_a_polygon_may_be_small_but_not_cross_itself() -> None:
    assert polygon([(0, 0), (1, 0), (1, 0.5), (0, 0.5)]).area == 0.5
    with pytest.raises(LayoutError, match=r"impossible shape near x = 3\.0 mm"):
        polygon([(3, 0), (5, 2), (5, 0), (3, 2)])


def test_a_cheek_that_meets_the_edge_at_one_side_of_a_face_alone_is_a_cheek() -> None:
    """Two pieces that run out to nothing at the near side: the lines between are cut, only the board's edges aren't."""
    whole, start, end = Span(0, 100), Span(0, 0), Span(100, 100)
    found = face(
        FaceName.OUTSIDE,
        edges=(whole, whole),
        depth_mm=10,
        near=(("", start), ("1", Span(40, 60)), ("", end)),
        far=(Span(0, 10), Span(45, 55), Span(90, 100)),
    )
    assert found.cheeks == (
        ((0, 0), (10, 10)),
        ((40, 0), (45, 10)),
        ((60, 0), (55, 10)),
        ((100, 0), (90, 10)),
    )
    # the waste between: (40 + 35) / 2 x 10 on either side
    assert [piece.area for piece in found.waste] == [375, 375]


def test_a_template_is_parted_in_the_plain_stretches_every_20_mm_but_not_within_5_mm_of_their_ends() -> None:
    """The joint covers 44 to 135 mm of 200: before it 20 (40 is too near to 44), behind it 155, 175 and 195. The one
    tail's middle is at 90."""
    job = corner_job(covers=[44, 135], pin_width=91, tails_at=[[70, 110]])
    tails, _ = loaded(job).joints[0].end_faces()
    assert tails.cut_places_mm == (20, 90, 155, 175, 195)


@pytest.mark.parametrize(("inner_mm", "places"), [(0.42, 1), (0.38, 0)])
def test_a_template_is_parted_through_what_is_tail_at_every_depth(inner_mm: float, places: int) -> None:
    """A tail leans by 12 / 6 = 2 mm a side in 12 mm stock; no line straight through it that would meet a cheek."""
    job = corner_job(width=20, thickness=12, tails_at=[[8, 12 + inner_mm]])
    assert len(loaded(job).joints[0].end_faces()[0].cut_places_mm) == places
