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
    tails, pins = joint.end_faces()
    assert (tails.outside_is_blank, pins.outside_is_blank) == (False, True)
    outside = pins.outside
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
        ({"lap": 20}, "leaves no socket in top, 20 mm thick; 4 mm is a fifth of it"),
        ({"lap": None}, "needs a lap; lap = 4 mm is a fifth of 20 mm"),
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


LIPPED = {**FRONT, "lip": {"overhang": 8, "thickness": 5}}


def test_sockets_of_a_lipped_front_are_measured_from_the_rebates_shoulder() -> None:
    plain = loaded(corner_job(**FRONT)).joints[0]
    joint = loaded(corner_job(**LIPPED)).joints[0]
    tails, pins = joint.end_faces()
    assert tails.baseline_mm == plain.end_faces()[0].baseline_mm  # the side is what it was
    assert pins.baseline_mm == 12  # from the shoulder, not from the front's end
    assert pins.band_mm == 15  # 20 - 5: the shoulder
    assert pins.outside.name is FaceName.LIP
    assert unary_union([piece.polygon for piece in pins.outside.keep]).bounds == (0, 0, 120, 8)
    # the lap equals the lip: the floors lie on the rebate, and the sockets take up the whole shoulder
    assert sum(p.area for p in pins.end_grain.waste) == pytest.approx(
        sum(p.area for p in plain.end_faces()[1].end_grain.waste)
    )
    assert min(p.bounds[1] for p in pins.end_grain.waste) == 0
    assert max(p.bounds[3] for p in pins.end_grain.waste) == 15


def test_a_lap_thicker_than_the_lip_leaves_a_step_between_them() -> None:
    joint = loaded(corner_job(**{**LIPPED, "lap": 7})).joints[0]
    end = joint.end_faces()[1].end_grain
    assert min(p.bounds[1] for p in end.waste) == pytest.approx(2)
    whole = sum(p.area for p in end.waste) + sum(p.polygon.area for p in end.keep)
    assert whole == pytest.approx(120 * 15)
    with pytest.raises(DovelayoutError, match="into the sockets"):
        loaded(corner_job(**{**LIPPED, "lap": 4}))
    with pytest.raises(DovelayoutError, match="has no lip"):
        loaded(corner_job(tail_count=3, lip={"overhang": 8, "thickness": 5}))


def test_a_lipped_fronts_template_folds_over_lip_shoulder_and_inside() -> None:
    from dovelayout.drawing.primitives import Role
    from dovelayout.drawing.template.wrap import Caption, fold_over

    for end, sign in (("left", -1), ("right", 1)):
        other = "right" if end == "left" else "left"
        job = corner_job(**LIPPED)
        job["corner"][0] |= {"tails": f"side.{other}", "pins": f"top.{end}"}
        faces = loaded(job).joints[0].end_faces()[1]
        template = fold_over(faces, Caption(letter="A", outside=(), inside=()))
        folds = next(lines for lines in template.strokes if lines.role is Role.FOLD)
        assert sorted(segment[0] for segment in folds.segments) == sorted((0.0, sign * 15.0))
        edges = (-8.0 * sign, sign * (15 + 12 + template.skirts.inside_mm))
        assert (template.extent.u_min_mm, template.extent.u_max_mm) == pytest.approx((min(edges), max(edges)))
        # every cheek of the shoulder meets one of the inside face on their common fold
        knife = next(lines for lines in template.strokes if lines.role is Role.KNIFE)
        at_fold = [v for u1, v1, u2, v2 in knife.segments for u, v in ((u1, v1), (u2, v2)) if abs(u - sign * 15) < 1e-9]
        assert len(at_fold) == 12
        assert sorted(at_fold)[::2] == pytest.approx(sorted(at_fold)[1::2])
