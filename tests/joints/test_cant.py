"""Canted corners: the angle where the maker measures it, tails along the long edge, edges that stay flush.

The way back from paper to wood is written here on its own. In the world X runs along the side from the foot of its
canted end, Y through its thickness from its outside face, Z up from its face edge. The end rises at the corner's angle;
the front lies along it, its thickness square to that.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings

from dovelayout.drawing.primitives import Role, Stroke
from dovelayout.drawing.template.wrap import Caption, Template, fold_over
from dovelayout.errors import LayoutError
from dovelayout.joints.board import End
from dovelayout.joints.cant import SQUARE, Cant
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import FaceName, Part
from dovelayout.joints.slope import Slope
from tests.conftest import examples
from tests.jobs import corner_job, error_of, findings, loaded
from tests.strategies import canted_joints

SOME = settings(max_examples=examples(200))
POINT = tuple[float, float, float]
LEANING = {
    "angle": 80,
    "width": 160,
    "pin_width": 160 / math.sin(math.radians(80)),
    "thickness": 16,
    "pin_thickness": 19,
}


class World:
    """Where a canted corner's papers lie on the wood."""

    def __init__(self, joint: CornerJoint, template: Template) -> None:
        angle = math.radians(joint.spec.cant.angle_deg)
        self.up = np.array([math.cos(angle), 0.0, math.sin(angle)])  # along the canted end
        self.deep = np.array([math.sin(angle), 0.0, -math.cos(angle)])  # square to it, into the side
        self.inward = np.array([0.0, 1.0, 0.0])
        self.template = template
        self.lap_mm = joint.lap_mm
        self.angle = angle

    def at(self, u: float, v: float) -> tuple[FaceName, POINT]:
        """The face a point of the paper comes to lie on, and where."""
        faces = self.template.faces
        past = u if faces.end.end is End.RIGHT else -u
        band_mm = faces.end.board.thickness_mm
        if past <= 0:
            name, along, through = FaceName.OUTSIDE, -past, 0.0
        elif past <= band_mm:
            name, along, through = FaceName.END, 0.0, past
        else:
            name, along, through = FaceName.INSIDE, past - band_mm, band_mm
        if faces.part is Part.TAILS:
            point = v * self.up + along * self.deep + through * self.inward
        else:
            # the foot of the front: where its outside face, a lap before the side's end, meets the plane of the face edge
            foot = -self.lap_mm * self.deep - self.lap_mm / math.tan(self.angle) * self.up
            point = foot + v * self.up + through * self.deep + along * self.inward
        return name, (float(point[0]), float(point[1]), float(point[2]))

    def lines(self, role: Role) -> list[tuple[FaceName, POINT, POINT]]:
        found = []
        for lines in self.template.strokes:
            if lines.role is role:
                for segment in lines.segments:
                    found.append(self._line(segment))
        return found

    def _line(self, segment: Stroke) -> tuple[FaceName, POINT, POINT]:
        u1, v1, u2, v2 = segment
        name, _ = self.at((u1 + u2) / 2, (v1 + v2) / 2)
        one, other = sorted((self.at(u1, v1)[1], self.at(u2, v2)[1]))
        return name, one, other


def _worlds(joint: CornerJoint) -> tuple[World, World]:
    tails, pins = (
        World(joint, fold_over(faces, Caption(letter="A", outside=(), inside=()))) for faces in joint.end_faces()
    )
    return tails, pins


def _on(world: World, face: FaceName) -> np.ndarray:
    rows = sorted((*one, *other) for name, one, other in world.lines(Role.KNIFE) if name is face)
    return np.array(rows).reshape(-1, 6)


@SOME
@given(joint=canted_joints())
def test_the_knife_lines_of_both_boards_are_the_same_lines_in_the_wood(joint: CornerJoint) -> None:
    tails, pins = _worlds(joint)
    on_tail, on_pin = _on(tails, FaceName.OUTSIDE), _on(pins, FaceName.END)
    if joint.lap_mm:  # the floors of the sockets lie along the end, where the tails end
        along = np.array([not np.isclose(np.dot(row[3:] - row[:3], tails.deep), 0.0, atol=1e-7) for row in on_pin])
        on_pin = on_pin[along]
    # cheeks of the tails, all in the plane of the side's outside face
    assert on_tail.shape == on_pin.shape
    assert np.allclose(np.sort(on_tail, axis=0), np.sort(on_pin, axis=0), atol=1e-6)
    if not joint.lap_mm:
        one, other = _on(tails, FaceName.END), _on(pins, FaceName.OUTSIDE)
        assert np.allclose(np.sort(one, axis=0), np.sort(other, axis=0), atol=1e-6)


@SOME
@given(joint=canted_joints())
def test_the_edges_of_both_papers_lie_in_the_planes_of_the_sides_edges(joint: CornerJoint) -> None:
    for world in _worlds(joint):
        heights = [point[2] for _, *ends in world.lines(Role.OUTLINE) for point in ends]
        width_mm = joint.tail_board.width_mm
        assert all(min(abs(z), abs(z - width_mm)) < 1e-6 for z in heights)


@SOME
@given(joint=canted_joints())
def test_tails_follow_the_long_edge(joint: CornerJoint) -> None:
    """The two cheeks of a tail lean alike, by the slope, to either side of the side's length."""
    tails, _ = _worlds(joint)
    cheeks = [
        np.array(other) - np.array(one) for name, one, other in tails.lines(Role.KNIFE) if name is FaceName.OUTSIDE
    ]
    angles = [math.degrees(math.atan2(abs(cheek[2]), abs(cheek[0]))) for cheek in cheeks]
    assert angles == pytest.approx([joint.slope.degrees] * len(angles), abs=1e-6)


@SOME
@given(joint=canted_joints())
def test_the_groove_runs_level_on_both_boards(joint: CornerJoint) -> None:
    groove = joint.spec.groove
    if groove is None:
        return
    for world in _worlds(joint):
        heights = [point[2] for name, *ends in world.lines(Role.GROOVE) if name is FaceName.INSIDE for point in ends]
        assert sorted(heights) == pytest.approx([groove.from_edge_mm] * 2 + [groove.far_mm] * 2, abs=1e-6)


def test_a_square_corner_has_its_old_numbers_to_the_last_bit() -> None:
    shifts = SQUARE.shifts(Slope(7), 19.0)
    assert (shifts.start_mm, shifts.end_mm, shifts.edge_mm) == (19 / 7, -19 / 7, 0.0)
    assert SQUARE.stretch == 1.0


@pytest.mark.parametrize("angle", [75, 82.5, 90, 98, 105])
def test_cheeks_and_edges_by_plain_trigonometry(angle: float) -> None:
    cant, slope, depth = Cant(angle), Slope(6), 17.0
    lean, alpha = math.radians(90 - angle), math.atan(1 / 6)
    shifts = cant.shifts(slope, depth)
    assert shifts.start_mm == pytest.approx(depth * math.tan(lean + alpha))
    assert shifts.end_mm == pytest.approx(depth * math.tan(lean - alpha))
    assert shifts.edge_mm == pytest.approx(depth * math.tan(lean))
    assert cant.stretch == pytest.approx(1 / math.sin(math.radians(angle)))


def test_a_leaning_front_is_laid_out_and_clean() -> None:
    job = loaded(corner_job(**LEANING))
    joint = job.joints[0]
    assert joint.end_width_mm == pytest.approx(162.468, abs=0.001)
    assert joint.covers.end_mm == pytest.approx(joint.end_width_mm)
    assert not [finding for finding in findings(corner_job(**LEANING)) if finding.level.rank > 1]


def test_a_front_of_the_sides_width_is_told_how_wide_to_be() -> None:
    said = error_of(corner_job(**{**LEANING, "pin_width": 160}))
    assert "make it 162.47 mm" in said
    assert "bevelled 10 degrees" in said


@pytest.mark.parametrize(
    ("keys", "word"),
    [
        ({"mitre": {"face_edge": 10}}, "mitre"),
        ({"proud": 0.4}, "proud"),
        ({"lid": {"at": 60}}, "lid"),
        ({"covers": [0, 100]}, "covers"),
    ],
)
def test_what_does_not_go_with_a_cant_is_said(keys: dict[str, object], word: str) -> None:
    said = error_of(corner_job(**{**LEANING, **keys}))
    assert f"{word} goes with square corners" in said


@pytest.mark.parametrize("angle", ["74.9", 60, "105.5 deg", "steep", True, [80], "1e9"])
def test_an_angle_out_of_range_is_told(angle: object) -> None:
    assert "key angle" in error_of(corner_job(**{**LEANING, "angle": angle}))


@pytest.mark.parametrize("angle", ["80", "80 deg", "80°", "80,0 degrees", 80])
def test_an_angle_as_people_write_it(angle: object) -> None:
    assert loaded(corner_job(**{**LEANING, "angle": angle})).joints[0].spec.cant == Cant(80.0)


def test_proud_without_a_place_to_stand_raises_in_the_library_too() -> None:
    joint = loaded(corner_job(**LEANING)).joints[0]
    with pytest.raises(LayoutError, match="proud"):
        joint.varied(proud_tails_mm=0.5)


def test_measured_square_across_the_board_everything_is_shorter_by_the_sine() -> None:
    """A line x along an end that leans by 10 degrees lies x cos 10 from the face edge; the board is as wide as it is."""
    joint = loaded(
        corner_job(angle=80, pin_width=200 / math.cos(math.radians(10)), tail_count=4, pin=8, half_pin=10)
    ).joints[0]
    across, shorter = joint.across(), math.cos(math.radians(10))
    assert across.covers.start_mm == pytest.approx(joint.covers.start_mm * shorter)
    assert across.covers.end_mm == pytest.approx(joint.covers.end_mm * shorter) == pytest.approx(200)
    for tail, along in zip(across.tails, joint.tails, strict=True):
        assert tail.start_mm == pytest.approx(along.start_mm * shorter)
        assert tail.end_mm == pytest.approx(along.end_mm * shorter)


def test_no_template_is_parted_where_a_leaning_tail_leaves_hardly_any_room() -> None:
    """Over 40 mm at 75 degrees a tail moves 10.7 mm along the end: one that is hardly wider has no line straight through."""
    thick = {"angle": 75, "thickness": 16, "pin_thickness": 40, "width": 160, "slope": "1:14"}
    pin_width = 160 / math.sin(math.radians(75))
    shifts = Cant(75).shifts(Slope(14), 40.0)
    for spare_mm, places in ((0.1, 1), (2.0, 2)):
        narrow = shifts.start_mm + spare_mm
        tails_at = [[8, 8 + narrow], [40, 120]]
        joint = loaded(corner_job(**thick, pin_width=pin_width, tails_at=tails_at)).joints[0]
        for faces in joint.end_faces():
            assert len(faces.cut_places_mm) == places
