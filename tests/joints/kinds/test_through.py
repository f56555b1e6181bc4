"""The through dovetail in plain numbers, and what is said when it can't be."""

from __future__ import annotations

import pytest

from dovelayout.errors import LayoutError
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Groove
from dovelayout.joints.corner import CornerSpec
from dovelayout.joints.face import Face, Part
from dovelayout.joints.kinds.through import ThroughJoint
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import MOST_TAILS, Spacing, Span
from dovelayout.wood.species import find_wood
from tests.jobs import corner_job, error_of, loaded


def _board(name: str, *, width: float = 320, thickness: float = 19) -> Board:
    return Board(name=name, wood=find_wood("black cherry"), length_mm=560, width_mm=width, thickness_mm=thickness)


def _spec(*, tail: Board | None = None, pin: Board | None = None, **keys: object) -> CornerSpec:
    """Two boards 320 x 19 mm, 1:7, five tails, pins of 6 and half pins of 8, unless something else is asked for."""
    asked: dict[str, object] = {"tail_count": 5, "pin_mm": 6.0, "half_pin_mm": 8.0, "slope": Slope(7), **keys}
    return CornerSpec(
        name="A",
        tails=BoardEnd(board=tail or _board("side"), end=End.LEFT),
        pins=BoardEnd(board=pin or _board("top"), end=End.RIGHT),
        **asked,  # type: ignore[arg-type]
    )


def _joint(**keys: object) -> ThroughJoint:
    return ThroughJoint.worked_out(_spec(**keys))  # type: ignore[arg-type]


def _refused(**keys: object) -> str:
    with pytest.raises(LayoutError) as caught:
        _joint(**keys)
    said = str(caught.value)
    assert "\n" not in said
    return said


# --- worked by hand ---


def test_the_chest_by_hand() -> None:
    joint = _joint()
    # 320 = 2 * 8 + 5 * 56 + 4 * 6; the neck is 56 - 2 * 19 / 7
    assert [tail.width_mm for tail in joint.tails] == pytest.approx([56] * 5)
    assert [tail.neck_mm for tail in joint.tails] == pytest.approx([56 - 38 / 7] * 5)
    assert [pin.width_mm for pin in joint.pins] == pytest.approx([8, 6, 6, 6, 6, 8])
    assert [pin.root_mm for pin in joint.pins] == pytest.approx(
        [8 + 19 / 7, *[6 + 38 / 7] * 4, 8 + 19 / 7]  # a half pin flares on one side only
    )
    assert [pin.half for pin in joint.pins] == [True, False, False, False, False, True]
    assert (len(joint.full_pins), len(joint.half_pins)) == (4, 2)
    assert joint.flare_mm == pytest.approx(19 / 7)
    assert joint.covers == Span(0, 320)
    assert joint.proposed == {}
    first = joint.tails[0]
    assert (first.start_mm, first.end_mm) == (8, 64)
    assert (first.neck.start_mm, first.neck.end_mm) == pytest.approx((8 + 19 / 7, 64 - 19 / 7))
    assert first.at(0.5).width_mm == pytest.approx(56 - 19 / 7)


def test_the_flare_is_over_the_pin_boards_thickness_not_the_tail_boards() -> None:
    joint = _joint(tail=_board("side", thickness=10), pin=_board("top", thickness=28))
    assert joint.flare_mm == pytest.approx(4)
    tails, pins = joint.end_faces()
    assert (tails.baseline_mm, pins.baseline_mm) == (28, 10)


Corners = list[tuple[float, float]]


def _shape(face: Face) -> dict[str, Corners]:
    """What stays on a face, to a millionth: corners of each piece, named by its number, or by where it is."""
    return {
        piece.label or f"from {piece.polygon.bounds[0]:g}": [
            (round(x, 6), round(y, 6)) for x, y in list(piece.polygon.exterior.coords)[:-1]
        ]
        for piece in face.keep
    }


def _cheeks(face: Face) -> list[Corners]:
    return sorted([(round(x, 6), round(y, 6)) for x, y in cheek] for cheek in face.cheeks)


def test_every_face_of_one_tail_by_hand() -> None:
    # 40 mm wide, one tail from 10 to 30; tail board 12, pin board 14, 1:7: a flare of 2; tails 0.7 proud: 0.1 more
    joint = _joint(
        tail=_board("side", width=40, thickness=12),
        pin=_board("top", width=40, thickness=14),
        tails_at=(Span(10, 30),),
        proud_tails_mm=0.7,
        proud_pins_mm=-0.5,
    )
    tails, pins = joint.end_faces()
    assert (tails.part, pins.part) == (Part.TAILS, Part.PINS)
    assert (tails.baseline_mm, pins.baseline_mm) == (14.7, 11.5)
    assert _shape(tails.outside) == {"1": [(9.9, 0), (30.1, 0), (28, 14.7), (12, 14.7)]}
    assert _shape(tails.inside) == _shape(tails.outside)
    assert _shape(tails.end_grain) == {"1": [(9.9, 0), (30.1, 0), (30.1, 12), (9.9, 12)]}
    assert _shape(pins.outside) == {
        "from 0": [(0, 0), (10, 0), (10, 11.5), (0, 11.5)],
        "from 30": [(30, 0), (40, 0), (40, 11.5), (30, 11.5)],
    }
    assert _shape(pins.end_grain) == {
        "from 0": [(0, 0), (10, 0), (12, 14), (0, 14)],
        "from 28": [(30, 0), (40, 0), (40, 14), (28, 14)],
    }
    assert _shape(pins.inside) == {
        "from 0": [(0, 0), (12, 0), (12, 11.5), (0, 11.5)],
        "from 28": [(28, 0), (40, 0), (40, 11.5), (28, 11.5)],
    }
    assert _cheeks(tails.outside) == [[(9.9, 0), (12, 14.7)], [(30.1, 0), (28, 14.7)]]
    assert _cheeks(pins.end_grain) == [[(10, 0), (12, 14)], [(30, 0), (28, 14)]]
    assert tails.cut_places_mm == pytest.approx((20,))
    assert pins.cut_places_mm == pytest.approx((20,))


def test_tails_and_pins_are_numbered_from_the_face_edge() -> None:
    tails, pins = _joint().end_faces()
    for face in tails.faces:
        assert [piece.label for piece in face.keep] == ["1", "2", "3", "4", "5"]
    for face in pins.faces:
        labels = [piece.label for piece in face.keep]
        assert (labels[0], labels[-1]) == ("", "")  # half pins
        numbers = [int(label) for label in labels if label]
        assert numbers == sorted(numbers)
        assert len(set(numbers)) == 4


def test_a_tail_at_the_edge_is_square_there_and_has_no_half_pin() -> None:
    joint = _joint(tails_at=(Span(0, 50), Span(60, 320)))
    first, last = joint.tails
    assert (first.neck_start_mm, first.neck_end_mm) == pytest.approx((0, 50 - 19 / 7))
    assert (last.neck_start_mm, last.neck_end_mm) == pytest.approx((60 + 19 / 7, 320))
    assert [(pin.start_mm, pin.end_mm, pin.half) for pin in joint.pins] == [(50, 60, False)]


def test_what_the_tool_proposes_is_told_apart_from_what_was_asked() -> None:
    assert set(_joint(tail_count=None, pin_mm=None, half_pin_mm=None).proposed) == {"tail_count", "pin", "half_pin"}
    joint = _joint(half_pin_mm=None)
    assert joint.proposed == {"half_pin": 7.5}
    assert joint.pins[0].width_mm == pytest.approx(7.5)
    assert _joint(tail_count=None).proposed == {"tail_count": len(_joint(tail_count=None).tails)}


# --- boards of different widths, joints over a part of the width ---


def test_the_narrower_board_bounds_the_joint() -> None:
    for tail, pin in ((320, 200), (200, 320)):
        joint = _joint(tail=_board("side", width=tail), pin=_board("top", width=pin), tail_count=3)
        assert joint.covers == Span(0, 200)
        assert joint.pin_offset_mm == 0
        wider = joint.end_faces()[0 if tail > pin else 1]
        assert all(piece.polygon.bounds[2] == 320 for piece in (wider.outside.keep[-1], wider.inside.keep[-1]))
        assert wider.outside.keep[-1].label == ""


def test_a_drawer_back_stands_where_the_joint_is() -> None:
    joint = _joint(
        tail=_board("side", width=110, thickness=11),
        pin=_board("back", width=86, thickness=9),
        covers=Span(20, 106),
        tail_count=3,
        groove=Groove(from_edge_mm=10, width_mm=6, depth_mm=5),
    )
    assert joint.pin_offset_mm == 20
    tails, pins = joint.end_faces()
    assert [piece.label for piece in tails.outside.keep] == ["", "1", "2", "3", ""]
    assert pins.outside.keep[0].polygon.bounds[0] == 0
    assert pins.outside.keep[-1].polygon.bounds[2] == pytest.approx(86)
    assert tails.groove is not None
    assert pins.groove is None  # it starts above the groove


@pytest.mark.parametrize(("from_edge", "there"), [(10, None), (24, 4.0), (99, 79.0), (101, None)])
def test_a_groove_is_the_pin_boards_only_where_that_board_is(from_edge: float, there: float | None) -> None:
    joint = _joint(
        tail=_board("side", width=110),
        pin=_board("back", width=86),
        covers=Span(20, 106),
        tail_count=3,
        groove=Groove(from_edge_mm=from_edge, width_mm=6, depth_mm=5),
    )
    tails, pins = joint.end_faces()
    assert tails.groove is not None
    assert tails.groove.from_edge_mm == from_edge
    assert (pins.groove and pins.groove.from_edge_mm) == there


def test_a_wider_pin_board_shares_the_face_edge() -> None:
    joint = _joint(tail=_board("side", width=110), pin=_board("back", width=140), covers=Span(20, 106), tail_count=3)
    assert joint.pin_offset_mm == 0
    _, pins = joint.end_faces()
    # below 20 and from 106 to 110 the tail board runs through; above it the pin board does
    low, *_, beyond = pins.outside.keep
    assert low.polygon.bounds[0] == 20
    assert (beyond.polygon.bounds[0], beyond.polygon.bounds[2]) == (110, 140)


# --- what can't be ---


def test_too_many_tails_name_the_nearest_that_can() -> None:
    # 45 tails: (304 - 44 * 6) / 45 - 38 / 7 = -4.54; 22 leave (304 - 126) / 22 - 5.43 = 2.66, 21 leave 3.33
    assert _refused(tail_count=45) == "45 tails leave -4.5 mm necks in 320.0 mm; 21 fit"
    assert len(_joint(tail_count=21).tails) == 21


def test_covers_off_the_board() -> None:
    assert _refused(covers=Span(20, 330)) == (
        "the joint is to cover 20 to 330 mm, but side is 0 to 320 mm wide; write [from, to] within that, the smaller first"
    )
    assert "to cover -5 to 300 mm" in _refused(covers=Span(-5, 300))
    assert "to cover 100 to 100 mm" in _refused(covers=Span(100, 100))


def test_a_pin_board_that_is_too_narrow_says_which_widths_would_do() -> None:
    said = _refused(pin=_board("back", width=90), covers=Span(20, 120))
    assert said == (
        "the joint is to cover 20 to 120 mm (100 mm) of side, but back is 90 mm wide; make it 100 mm, or let both "
        "boards share a face edge and reach 120 mm"
    )
    for width in (100, 120):
        _joint(pin=_board("back", width=width), covers=Span(20, 120), tail_count=2)


@pytest.mark.parametrize(
    ("spans", "said"),
    [
        ([], "tails_at is empty; give at least one [start, end]"),
        ([(30, 10)], "tail 1 of tails_at, 30 to 10 mm, ends before it starts; write the smaller number first"),
        ([(-3, 40)], "tail 1 of tails_at, -3 to 40 mm, starts before the joint starts (0 mm); start it beyond"),
        ([(8, 50), (45, 90)], "tail 2 of tails_at, 45 to 90 mm, starts before tail 1 ends (50 mm); start it beyond"),
        ([(8, 50), (50, 90)], "tail 2 of tails_at, 50 to 90 mm, touches tail 1; leave a pin between them"),
        ([(8, 50), (290, 330)], "tail 2 of tails_at, 290 to 330 mm, ends beyond the joint (320 mm); end it before"),
        ([(8, 12)], "tail 1 of tails_at is 4 mm wide and its neck would be -1.4 mm; make it wider than 5.4 mm"),
        ([(0, 320)], "one tail across the whole joint leaves no pin; give it half pins, or more tails"),
    ],
)
def test_tails_that_can_not_stand_there(spans: list[tuple[float, float]], said: str) -> None:
    assert _refused(tails_at=tuple(Span(*pair) for pair in spans)) == said


def test_too_many_explicit_tails() -> None:
    spans = tuple(Span(i, i + 0.5) for i in range(201))
    assert _refused(tails_at=spans) == "tails_at has 201 tails; 200 is the most in one corner"


def test_half_pins_of_nothing_need_more_than_one_tail() -> None:
    assert "leaves no pin" in _refused(tail_count=1, half_pin_mm=0.0)
    assert len(_joint(tail_count=2, half_pin_mm=0.0).pins) == 1


def test_proud_tails_must_leave_the_saw_its_room() -> None:
    # a pin of 1 mm between tails that flare 3.5 / 7 = 0.5 more on both sides is gone
    said = _refused(pin_mm=1.0, proud_tails_mm=3.5)
    assert said.startswith("pin 2 is 1.00 mm wide and leaves no room for the saw")
    assert said.endswith("make the pin at least 1.5 mm")
    _joint(pin_mm=1.5, proud_tails_mm=3.5)


def test_a_half_pin_loses_room_on_one_side_only() -> None:
    _joint(half_pin_mm=0.6, proud_tails_mm=3.5)
    assert "pin 1 is 0.50 mm wide" in _refused(half_pin_mm=0.5, proud_tails_mm=3.5)


def test_too_shy_to_be_a_joint() -> None:
    assert _refused(proud_tails_mm=-19.0) == "tails this shy are no tails; bring proud nearer to 0"
    assert _refused(proud_pins_mm=-19.0) == "pins this shy are no pins; bring proud nearer to 0"


# --- the rest of what others rely on ---


def test_varied_is_the_same_corner_built_again() -> None:
    joint = _joint()
    assert joint.varied(tail_count=6) == _joint(tail_count=6)
    assert joint.varied(spacing=Spacing.CLOSER_AT_EDGES).tails[0].width_mm < joint.tails[0].width_mm
    with pytest.raises(LayoutError):
        joint.varied(tail_count=45)


def test_the_kind_is_known_by_the_name_a_job_uses() -> None:
    assert KINDS["through"].worked_out(_spec()) == _joint()
    assert _joint().kind == "through"
    assert (_joint().name, _joint().tail_board.name, _joint().pin_board.name) == ("A", "side", "top")


@pytest.mark.parametrize(("count", "fits"), [(MOST_TAILS, True), (MOST_TAILS + 1, False)])
def test_the_most_tails_of_one_corner_can_be_set_out_and_one_more_cannot(count: int, fits: bool) -> None:
    spans = [[9 * n + 2, 9 * n + 8] for n in range(count)]
    job = corner_job(width=1830, thickness=5, slope="1:8", tails_at=spans)
    if fits:
        assert len(loaded(job).joints[0].tails) == MOST_TAILS
    else:
        assert f"{MOST_TAILS} is the most" in error_of(job)
