"""The template folds into the board it is for: nothing mirrored, nothing swapped, lines meeting over the arrises.

The way back from paper to wood is written here on its own, from how a template is used, without the package's
`unfold`: the paper lies printed side up over the outside face, so the way across the paper there is the way across the
board for someone who looks at its outside face, face edge down; beyond each fold it goes on over the next face.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.casework.box import box_corners
from dovelayout.drawing.primitives import Item, Role, Stroke, Text
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.tile import tile_items, whole
from dovelayout.drawing.template.wrap import FULL_SKIRTS, LEAST_SKIRTS, Template, extent
from dovelayout.joints.board import Board, BoardEnd, End, Groove
from dovelayout.joints.corner import CornerSpec
from dovelayout.joints.face import EndFaces, FaceName, Part
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.joints.through import ThroughJoint, build_through
from dovelayout.wood.species import find_wood
from tests.conftest import examples
from tests.strategies import through_joints

STYLE = Style(job="box")
NEAR_MM = 1e-6
XYZ = tuple[float, float, float]


def _segments(template: Template, role: Role) -> list[Stroke]:
    return [segment for lines in template.strokes if lines.role is role for segment in lines.segments]


def _panel(template: Template, u: float) -> FaceName:
    """The face that a place across the paper comes to lie on."""
    beyond = u if template.faces.end.end is End.RIGHT else -u  # past the first fold, on a left end to the left
    if beyond < 0:
        return FaceName.OUTSIDE
    return FaceName.END if beyond < template.faces.end.board.thickness_mm else FaceName.INSIDE


def _knife(template: Template, face: FaceName) -> list[Stroke]:
    return [s for s in _segments(template, Role.KNIFE) if _panel(template, (s[0] + s[2]) / 2) is face]


# --- the fold ---


@settings(max_examples=examples(150))
@given(joint=through_joints())
def test_the_band_over_the_end_is_the_thickness_and_baselines_stand_at_the_gauge(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        template = CornerEnd(joint=joint, faces=faces, style=STYLE).template()
        board = faces.end.board
        folds = _segments(template, Role.FOLD)
        assert {(s[1], s[3]) for s in folds} == {(0.0, board.width_mm)}
        sign = 1 if faces.end.end is End.RIGHT else -1
        assert sorted({u for s in folds for u in (s[0], s[2])}) == sorted([0.0, sign * board.thickness_mm])
        baselines = sorted({sign * u for s in _segments(template, Role.BASELINE) for u in (s[0], s[2])})
        assert baselines == pytest.approx([-faces.baseline_mm, board.thickness_mm + faces.baseline_mm], abs=1e-12)
        assert template.extent.across_mm == pytest.approx(extent(faces, FULL_SKIRTS).across_mm, abs=1e-9)
        assert (template.extent.v_min_mm, template.extent.v_max_mm) == (0.0, board.width_mm)
        outline = _segments(template, Role.OUTLINE)
        assert {u for s in outline for u in (s[0], s[2])} == {template.extent.u_min_mm, template.extent.u_max_mm}
        for lines in (*template.strokes, template.hatching):
            for u1, v1, u2, v2 in lines.segments:
                assert -1e-9 <= min(v1, v2) <= max(v1, v2) <= board.width_mm + 1e-6
                assert template.extent.u_min_mm - 1e-9 <= min(u1, u2) <= max(u1, u2) <= template.extent.u_max_mm + 1e-9


@settings(max_examples=examples(150))
@given(joint=through_joints())
def test_knife_lines_meet_over_the_folds(joint: ThroughJoint) -> None:
    for faces in joint.end_faces():
        template = CornerEnd(joint=joint, faces=faces, style=STYLE).template()
        sign = 1 if faces.end.end is End.RIGHT else -1
        for fold_u, one, other in (
            (0.0, FaceName.OUTSIDE, FaceName.END),
            (sign * faces.end.board.thickness_mm, FaceName.END, FaceName.INSIDE),
        ):
            reach = [
                sorted(v for u1, v1, u2, v2 in _knife(template, face) for u, v in ((u1, v1), (u2, v2)) if u == fold_u)
                for face in (one, other)
            ]
            assert reach[0] == pytest.approx(reach[1], abs=1e-9)
            assert len(reach[0]) == len(faces.outside.cheeks)


# --- back onto the wood ---


@dataclass(frozen=True)
class Placed:
    """A board end standing in the world: the upright line where both outside faces would meet, its outward normal
    (seen from above), the height of its face edge."""

    template: Template
    corner: tuple[float, float]
    normal: tuple[float, float]
    lift_mm: float

    @property
    def faces(self) -> EndFaces:
        return self.template.faces

    def on_the_wood(self, u: float, v: float) -> XYZ:
        """Where a point of the paper lies when it is wrapped."""
        nx, ny = self.normal
        right = (-ny, nx)  # for someone who looks at the outside face from without, head up
        thickness_mm, proud_mm = self.faces.end.board.thickness_mm, self.faces.proud_mm
        out = 1.0 if self.faces.end.end is End.RIGHT else -1.0  # the end is to the right, or to the left, of its board
        past = out * u  # past the outer arris, where the paper bends
        if past <= 0:
            along, inward = past, 0.0
        elif past <= thickness_mm:
            along, inward = 0.0, past
        else:
            along, inward = -(past - thickness_mm), thickness_mm
        along = out * (along + proud_mm)
        cx, cy = self.corner
        return (cx + right[0] * along - nx * inward, cy + right[1] * along - ny * inward, v + self.lift_mm)

    def knife(self, face: FaceName) -> list[tuple[XYZ, XYZ]]:
        return [(self.on_the_wood(u1, v1), self.on_the_wood(u2, v2)) for u1, v1, u2, v2 in _knife(self.template, face)]

    def depth_mm(self, point: XYZ) -> float:
        """How far behind its outside face."""
        return -sum(n * (p - c) for n, p, c in zip(self.normal, point, self.corner, strict=False))


def _height_at(line: tuple[XYZ, XYZ], placed: Placed, depth_mm: float) -> float:
    """Height at which a line, drawn on if need be, passes a depth behind a board's outside face."""
    d1, d2 = (placed.depth_mm(point) for point in line)
    share = (depth_mm - d1) / (d2 - d1)
    return line[0][2] + share * (line[1][2] - line[0][2])


def _within(heights: list[float], joint: ThroughJoint) -> list[float]:
    """Heights of cheeks between tails and pins; not the ends of the joint, where one of the boards may just end."""
    low, high = joint.covers.start_mm, joint.covers.end_mm
    return sorted(z for z in heights if low + NEAR_MM < z < high - NEAR_MM)


def _check_corner(joint: ThroughJoint, tail: Placed, pin: Placed) -> None:
    """Every line of either template lies where the mate needs it."""
    tail_t, pin_t = joint.tail_board.thickness_mm, joint.pin_board.thickness_mm
    # the box's outside is outside: outside panels on the outside planes, inside panels a thickness behind, the ends
    # at their proud beyond the mate's outside plane
    for placed, mate, proud_mm in ((tail, pin, tail.faces.proud_mm), (pin, tail, pin.faces.proud_mm)):
        assert placed.knife(FaceName.OUTSIDE)
        for face, behind_mm in (
            (FaceName.OUTSIDE, 0.0),
            (FaceName.INSIDE, placed.faces.end.board.thickness_mm),
        ):
            for line in placed.knife(face):
                assert [placed.depth_mm(point) for point in line] == pytest.approx([behind_mm] * 2, abs=NEAR_MM)
                # from the end to the baseline, which is the inside face of the mate
                reach = [-proud_mm, mate.faces.end.board.thickness_mm]
                assert sorted(mate.depth_mm(point) for point in line) == pytest.approx(reach, abs=NEAR_MM)
        for line in placed.knife(FaceName.END):
            assert [mate.depth_mm(point) for point in line] == pytest.approx([-proud_mm] * 2, abs=NEAR_MM)

    # where the cheeks must be, by the layout the maker gave
    wanted = {
        depth: _within(
            [z for t in joint.tails for z in (t.at(depth / pin_t).start_mm, t.at(depth / pin_t).end_mm)], joint
        )
        for depth in (0.0, pin_t / 3, pin_t)
    }
    for depth, heights in wanted.items():
        for face in (FaceName.OUTSIDE, FaceName.INSIDE):
            cut = _within([_height_at(line, pin, depth) for line in tail.knife(face)], joint)
            assert cut == pytest.approx(heights, abs=NEAR_MM)
        grain = _within([_height_at(line, pin, depth) for line in pin.knife(FaceName.END)], joint)
        assert grain == pytest.approx(heights, abs=NEAR_MM)
    # sockets: level lines on the pin board's faces, at the heights of the tails there
    for face, depth in ((FaceName.OUTSIDE, 0.0), (FaceName.INSIDE, pin_t)):
        lines = pin.knife(face)
        assert all(a[2] == pytest.approx(b[2], abs=NEAR_MM) for a, b in lines)
        assert _within([a[2] for a, _ in lines], joint) == pytest.approx(wanted[depth], abs=NEAR_MM)
    if tail.faces.proud_mm == 0:
        # then the tail template's lines over the end are, point for point, the pin template's on its outside face
        mine, mates = tail.knife(FaceName.END), pin.knife(FaceName.OUTSIDE)
        low, high = _inner(joint)
        ends = sorted(p for line in mine for p in line if low < p[2] < high)
        others = [
            p if abs(tail.depth_mm(p) - tail_t) < NEAR_MM else _onto(tail, p)
            for line in mates
            for p in line
            if low < p[2] < high
        ]
        assert len(ends) == len(others)
        for point, other in zip(ends, sorted(others), strict=True):
            assert point == pytest.approx(other, abs=NEAR_MM)


def _inner(joint: ThroughJoint) -> tuple[float, float]:
    return (joint.covers.start_mm + NEAR_MM, joint.covers.end_mm - NEAR_MM)


def _onto(placed: Placed, point: XYZ) -> XYZ:
    """The point moved square onto the plane of a board's outside face: a pin that stands proud or shy starts off it."""
    depth = placed.depth_mm(point)
    nx, ny = placed.normal
    return (point[0] + nx * depth, point[1] + ny * depth, point[2])


def _placed(
    joint: ThroughJoint,
    corner: tuple[float, float],
    tail_normal: tuple[float, float],
    pin_normal: tuple[float, float],
) -> tuple[Placed, Placed]:
    tails, pins = joint.end_faces()
    return (
        Placed(CornerEnd(joint=joint, faces=tails, style=STYLE).template(), corner, tail_normal, 0.0),
        Placed(CornerEnd(joint=joint, faces=pins, style=STYLE).template(), corner, pin_normal, joint.pin_offset_mm),
    )


@settings(max_examples=examples(150))
@given(joint=through_joints(), turn=st.sampled_from((0, 1, 2, 3)))
def test_both_templates_of_a_corner_agree_on_the_wood(joint: ThroughJoint, turn: int) -> None:
    """Wherever round the box the corner is: the neighbour to the right is a quarter turn on, seen from above."""
    normals = [(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)]
    step = 1 if joint.spec.tails.end is End.RIGHT else -1
    tail, pin = _placed(joint, (30.0, 40.0), normals[turn], normals[(turn + step) % 4])
    _check_corner(joint, tail, pin)


def _box_boards() -> dict[str, Board]:
    cherry = find_wood("black cherry")
    return {
        name: Board(name=name, wood=cherry, length_mm=length, width_mm=160, thickness_mm=thickness)
        for name, length, thickness in (("left", 300, 16), ("right", 300, 14), ("front", 420, 19), ("back", 420, 12))
    }


LAYOUTS = {
    "front left": ((7, 40), (52, 70), (80, 151)),
    "front right": ((20, 60), (66, 120), (130, 157)),
    "back right": ((3, 30), (45, 150)),
    "back left": ((12, 33), (39, 61), (67, 99), (104, 141)),
}


def _box() -> list[tuple[str, ThroughJoint]]:
    """Four different boards, four layouts without any symmetry, something proud or shy at each corner."""
    boards = _box_boards()
    corners = box_corners(tails=(boards["left"], boards["right"]), pins=(boards["front"], boards["back"]))
    return [
        (
            corner.where,
            build_through(
                CornerSpec(
                    name=letter,
                    tails=corner.tails,
                    pins=corner.pins,
                    slope=Slope(7),
                    tails_at=tuple(Span(*pair) for pair in LAYOUTS[corner.where]),
                    proud_tails_mm=proud_tails,
                    proud_pins_mm=proud_pins,
                )
            ),
        )
        for letter, corner, (proud_tails, proud_pins) in zip(
            "ABCD", corners, ((0.4, 0.2), (0.0, 0.0), (0.0, 0.5), (-0.3, -0.2)), strict=True
        )
    ]


# seen from above, the front towards the reader: width 420 to the right, depth 300 away
NORMALS = {"front": (0.0, -1.0), "right": (1.0, 0.0), "back": (0.0, 1.0), "left": (-1.0, 0.0)}
PLACES = {
    "front left": (0.0, 0.0),
    "front right": (420.0, 0.0),
    "back right": (420.0, 300.0),
    "back left": (0.0, 300.0),
}


@pytest.mark.parametrize(("where", "joint"), _box(), ids=[where for where, _ in _box()])
def test_a_box_without_symmetry_closes_at_every_corner(where: str, joint: ThroughJoint) -> None:
    sides = where.split()
    assert {joint.tail_board.name, joint.pin_board.name} == set(sides)
    tail, pin = _placed(joint, PLACES[where], NORMALS[joint.tail_board.name], NORMALS[joint.pin_board.name])
    _check_corner(joint, tail, pin)
    # in plain numbers: sockets on the pin board's outside, up from the face edge, are the tails as written
    level = sorted(a[2] for a, _ in pin.knife(FaceName.OUTSIDE))
    assert level == pytest.approx([z for pair in LAYOUTS[where] for z in pair], abs=1e-9)
    # each template lies on its own board, between the corners: skirts run from the corner along the box's side
    middle = (210.0, 150.0)
    for placed in (tail, pin):
        for u, behind in ((placed.template.extent.u_min_mm, None), (placed.template.extent.u_max_mm, None), (0.0, 0.0)):
            x, y, _ = placed.on_the_wood(u, 10.0)
            depth = placed.depth_mm((x, y, 0.0))
            assert min(abs(depth), abs(depth - placed.faces.end.board.thickness_mm)) < 1e-9
            if behind is None:
                assert math.dist((x, y), middle) < math.dist(placed.corner, middle)


@pytest.mark.parametrize("end", list(End))
def test_a_pair_of_templates_turned_round_would_be_noticed(end: End) -> None:
    """The check above has teeth: a left end's lines taken for a right end's don't fit its mate."""
    _, joint = _box()[0 if end is End.RIGHT else 1]
    assert joint.spec.tails.end is end
    tail, pin = _placed(joint, (0.0, 0.0), NORMALS["left"], NORMALS["front"])
    turned = dataclasses.replace(
        tail.template, faces=dataclasses.replace(tail.faces, end=BoardEnd(board=joint.tail_board, end=end.opposite))
    )
    wrong = dataclasses.replace(tail, template=turned)
    with pytest.raises((AssertionError, ZeroDivisionError)):
        _check_corner(joint, wrong, pin)


# --- what is written on it ---


def _texts(items: tuple[Item, ...]) -> list[Text]:
    return [item for item in items if isinstance(item, Text)]


@pytest.mark.parametrize(("where", "joint"), _box(), ids=[where for where, _ in _box()])
def test_words_stand_on_the_face_they_name_and_numbers_on_their_piece(where: str, joint: ThroughJoint) -> None:
    assert where in LAYOUTS
    for faces in joint.end_faces():
        template = CornerEnd(joint=joint, faces=faces, style=STYLE).template()
        texts = _texts(tile_items(template, whole(template)))
        for word, face in (("OUTSIDE FACE", FaceName.OUTSIDE), ("INSIDE FACE", FaceName.INSIDE)):
            (found,) = [text for text in texts if text.text == word]
            assert _panel(template, found.x_mm) is face
        feet = [text for text in texts if text.text == "▼ FACE EDGE"]
        assert len(feet) == 2
        assert max(foot.y_mm for foot in feet) < min(text.y_mm for text in texts if text.text.endswith(" FACE"))
        assert all(foot.y_mm < 10 for foot in feet)
        for face in faces.faces:
            labels = sorted(
                (text for text in texts if text.text.isdigit() and _panel(template, text.x_mm) is face.name),
                key=lambda text: text.y_mm,
            )
            assert [int(text.text) for text in labels] == sorted(int(text.text) for text in labels)
        if faces.part is Part.TAILS:
            ends = [text for text in texts if text.text.isdigit() and _panel(template, text.x_mm) is FaceName.END]
            assert {text.text for text in ends} == {str(i) for i in range(1, len(joint.tails) + 1)}
            for text in ends:
                tail = joint.tails[int(text.text) - 1]
                assert tail.start_mm < text.y_mm < tail.end_mm
        first = faces.part.value.upper()
        assert any(text.text.startswith(f"{first} on {faces.end.label}"[:20]) for text in texts)


def test_the_gauge_setting_says_whose_it_is() -> None:
    _, joint = _box()[0]
    tails, pins = (CornerEnd(joint=joint, faces=faces, style=STYLE).caption for faces in joint.end_faces())
    assert any(row.startswith("gauge 19.4 mm") for row in tails.outside)
    assert "(0.4 mm proud of its mate)" in tails.outside
    assert any(row.startswith("gauge 16.2 mm") for row in pins.outside)
    _, shy = _box()[3]
    assert "(0.3 mm shy of its mate)" in CornerEnd(joint=shy, faces=shy.end_faces()[0], style=STYLE).caption.outside


def test_skirts_are_as_wide_as_asked_on_their_own_face() -> None:
    _, joint = _box()[0]
    for faces in joint.end_faces():
        template = CornerEnd(joint=joint, faces=faces, style=STYLE).template(LEAST_SKIRTS)
        outside = faces.baseline_mm + LEAST_SKIRTS.outside_mm
        inside = faces.end.board.thickness_mm + faces.baseline_mm + LEAST_SKIRTS.inside_mm
        extent = (-outside, inside) if faces.end.end is End.RIGHT else (-inside, outside)
        assert (template.extent.u_min_mm, template.extent.u_max_mm) == pytest.approx(extent)


def test_a_groove_is_drawn_down_the_inside_and_to_its_depth_in_the_end() -> None:
    _, joint = _box()[2]
    grooved = joint.varied(groove=Groove(from_edge_mm=14, width_mm=6, depth_mm=5))
    for faces in grooved.end_faces():
        template = CornerEnd(joint=grooved, faces=faces, style=STYLE).template()
        sign = 1 if faces.end.end is End.RIGHT else -1
        lines = _segments(template, Role.GROOVE)
        assert {v for s in lines for v in (s[1], s[3])} == {14.0, 20.0}
        thickness_mm = faces.end.board.thickness_mm
        across = sorted({round(sign * u, 9) for s in lines for u in (s[0], s[2])})
        far_mm = thickness_mm + faces.baseline_mm + FULL_SKIRTS.inside_mm
        assert across == pytest.approx([thickness_mm - 5, thickness_mm, far_mm])
