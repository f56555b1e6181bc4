"""Half-blind corners: worked numbers, what can't be, and that sockets take in the tails."""

from __future__ import annotations

import pytest
from shapely import box, unary_union

from dovelayout.errors import DovelayoutError, LayoutError
from dovelayout.joints.face import FaceName
from tests.jobs import corner_job, loaded

FRONT = {
    "joint": "half_blind",
    "thickness": 12,
    "pin_thickness": 20,
    "width": 120,
    "slope": "1:6",
    "lap": 5,
    "tail_count": 3,
    "pin": 6,
    "half_pin": 8,
}


def test_tails_are_as_long_as_the_sockets_are_deep() -> None:
    joint = loaded(corner_job(**FRONT)).joints[0]
    tails, pins = joint.end_faces()
    assert joint.depth_mm == 15  # 20 - 5
    assert tails.baseline_mm == 15
    assert pins.baseline_mm == 12
    assert pins.end_gauge_mm == 15
    assert joint.tails[0].width_mm == pytest.approx((120 - 16 - 12) / 3)
    assert joint.tails[0].neck_mm == pytest.approx((120 - 16 - 12) / 3 - 2 * 15 / 6)


def test_nothing_is_cut_on_the_outside_of_the_pin_board() -> None:
    joint = loaded(corner_job(**FRONT)).joints[0]
    outside = joint.end_faces()[1].outside
    assert outside.waste == ()
    assert outside.cheeks == ()
    assert unary_union([piece.polygon for piece in outside.keep]).area == pytest.approx(120 * 12)


def test_sockets_stop_at_the_lap_and_take_in_the_tails_exactly() -> None:
    joint = loaded(corner_job(**FRONT)).joints[0]
    tails, pins = joint.end_faces()
    end = pins.end_grain
    assert end.name is FaceName.END
    assert min(polygon.bounds[1] for polygon in end.waste) == pytest.approx(5)
    assert max(polygon.bounds[3] for polygon in end.waste) == pytest.approx(20)
    assert sum(p.area for p in end.waste) + sum(p.polygon.area for p in end.keep) == pytest.approx(120 * 20)
    # the tail as it stands in the socket: its end at the lap, its neck at the inside face
    sockets = unary_union(end.waste)
    for piece in tails.outside.keep:
        x_and_z = [(x, 5 + y) for x, y in piece.polygon.exterior.coords]
        tail = box(0, 0, 0, 0) if not x_and_z else type(piece.polygon)(x_and_z)
        assert tail.difference(sockets).area == pytest.approx(0, abs=1e-9)
    assert sum(p.polygon.area for p in tails.outside.keep) == pytest.approx(sockets.area)
    floors = [segment for segment in end.cheeks if segment[0][1] == segment[1][1] == 5]
    assert len(floors) == 3


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"lap": 20}, "leaves no socket"),
        ({"lap": None}, "needs a lap"),
        ({"proud": {"tails": 0.5}}, "can't go home"),
        ({"joint": "through"}, "has no lap"),
    ],
)
def test_what_can_not_be_is_said(keys: dict[str, object], said: str) -> None:
    tables = corner_job(**{k: v for k, v in {**FRONT, **keys}.items() if v is not None})
    with pytest.raises(DovelayoutError, match=said) as caught:
        loaded(tables)
    assert "corner 'A'" in str(caught.value)


def test_shy_tails_are_shorter_than_their_sockets() -> None:
    joint = loaded(corner_job(**FRONT, proud={"tails": -0.2})).joints[0]
    assert joint.end_faces()[0].baseline_mm == pytest.approx(14.8)


def test_varied_stays_half_blind_and_checks_again() -> None:
    joint = loaded(corner_job(**FRONT)).joints[0]
    assert joint.varied(lap_mm=6.0).depth_mm == 14
    with pytest.raises(LayoutError):
        joint.varied(lap_mm=25.0)
