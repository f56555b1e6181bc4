"""Templates wider than the paper: as few tiles as can be, none parted through a pin or a cheek, all lines going on."""

from __future__ import annotations

import dataclasses
import itertools
from functools import cache

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Lines, Role, Stroke, Text
from dovelayout.drawing.sheets.frame import AIR_MM, room_mm
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.drawing.template.tile import OVERLAP_MM, Tile, tile_items, tiles, whole
from dovelayout.drawing.template.wrap import LEAST_SKIRTS, Template
from dovelayout.errors import PrintError
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.face import FaceName, Part
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Span
from dovelayout.joints.through import ThroughJoint, build_through
from dovelayout.paper import paper
from dovelayout.wood.species import find_wood
from tests.conftest import examples
from tests.strategies import corner_joints, lengths, through_joints

STYLE = Style(job="tiles")


def _template(joint: CornerJoint, part: Part) -> Template:
    (faces,) = [faces for faces in joint.end_faces() if faces.part is part]
    return CornerEnd(joint=joint, faces=faces, style=STYLE).template(LEAST_SKIRTS)


def _fewest(template: Template, room: float) -> int | None:
    """Fewest tiles by trying every set of places to cut; None when there is no such set."""
    places = (0.0, *template.faces.cut_places_mm, template.extent.v_max_mm)
    last = len(places) - 1

    @cache
    def from_place(start: int) -> float:
        best = float("inf")
        for end in range(start + 1, last + 1):
            overlaps = ((start > 0) + (end < last)) * OVERLAP_MM / 2
            stretch = places[end] - places[start]
            long_enough = end == last or stretch > OVERLAP_MM  # room for a match line at either end
            if long_enough and stretch + overlaps <= room:
                best = min(best, 1 + (0 if end == last else from_place(end)))
        return best

    fewest = from_place(0)
    return None if fewest == float("inf") else int(fewest)


def _wide(**keys: object) -> ThroughJoint:
    """Boards 470 mm wide: twenty tails, evenly spread, unless something else is asked for."""
    spec: dict[str, object] = {
        "name": "A",
        "tails": BoardEnd(board=_board("side", 470, 16), end=End.RIGHT),
        "pins": BoardEnd(board=_board("front", 470, 19), end=End.LEFT),
        "slope": Slope(7),
        "tail_count": 20,
        "pin_mm": 5.0,
        "half_pin_mm": 6.0,
    }
    return build_through(CornerSpec(**{**spec, **keys}))  # type: ignore[arg-type]


def _board(name: str, width_mm: float, thickness_mm: float) -> Board:
    wood = find_wood("eastern white pine")
    return Board(name=name, wood=wood, length_mm=600, width_mm=width_mm, thickness_mm=thickness_mm)


@settings(max_examples=examples(200))
@given(joint=through_joints(), part=st.sampled_from(Part), room=lengths(40, 300))
def test_tiles_cover_the_width_fit_the_room_and_are_the_fewest(joint: ThroughJoint, part: Part, room: float) -> None:
    template = _template(joint, part)
    fewest = _fewest(template, room)
    if fewest is None:
        with pytest.raises(PrintError, match="larger paper would do"):
            tiles(template, room_mm=room)
        return
    found = tiles(template, room_mm=room)
    assert len(found) == fewest
    assert (found[0].start_mm, found[-1].end_mm) == (0.0, template.extent.v_max_mm)
    assert [tile.first for tile in found] == [True] + [False] * (len(found) - 1)
    assert [tile.last for tile in found] == [False] * (len(found) - 1) + [True]
    for one, other in itertools.pairwise(found):
        assert one.end_mm == other.start_mm
        assert one.window.end_mm - other.window.start_mm == pytest.approx(OVERLAP_MM)
        assert one.matches_mm[-1] == other.matches_mm[0]
    for tile in found:
        assert tile.end_mm > tile.start_mm
        assert tile.window.width_mm <= room + 1e-9
    assert sum(len(tile.matches_mm) for tile in found) == 2 * (len(found) - 1)


@settings(max_examples=examples(150))
@given(joint=corner_joints(), part=st.sampled_from(Part), room=lengths(40, 120))
def test_match_lines_stay_clear_of_pins_and_cheeks(joint: CornerJoint, part: Part, room: float) -> None:
    template = _template(joint, part)
    try:
        found = tiles(template, room_mm=room)
    except PrintError:
        assume(False)
    knife = [s for lines in template.strokes if lines.role is Role.KNIFE for s in lines.segments]
    knife = [s for s in knife if s[0] != s[2]]  # a socket's floor runs on from sheet to sheet
    for match_mm in {v for tile in found for v in tile.matches_mm}:
        assert not [s for s in knife if min(s[1], s[3]) - 0.1 <= match_mm <= max(s[1], s[3]) + 0.1]
        if part is Part.PINS:
            for face in template.faces.faces:
                for piece in face.keep:
                    low, _, high, _ = piece.polygon.bounds
                    assert not piece.label or not low <= match_mm <= high, face.name


@pytest.mark.parametrize(
    ("covers", "tail_w", "pin_w"),
    [((20, 106), 110, 86), ((20, 106), 126, 126), ((40, 140), 160, 200), ((0, 100), 120, 180), ((60, 200), 260, 140)],
)
def test_plain_stretches_of_round_numbers_are_not_parted_at_their_ends(
    covers: tuple[float, float], tail_w: float, pin_w: float
) -> None:
    """20, 40 ... mm from the edge is where a maker puts the end of a joint, and the first cheek with it."""
    joint = _wide(
        tails=BoardEnd(board=_board("side", tail_w, 11), end=End.LEFT),
        pins=BoardEnd(board=_board("back", pin_w, 9), end=End.RIGHT),
        covers=Span(*covers),
        tail_count=3,
    )
    for faces in joint.end_faces():
        cheeks = {x for face in faces.faces for cheek in face.cheeks for x, _ in cheek}
        assert faces.cut_places_mm
        for place in faces.cut_places_mm:
            assert min(abs(place - x) for x in cheeks) > 1.0
            assert 1.0 < place < faces.end.board.width_mm - 1.0


def _crossings(lines: list[Lines], v: float) -> dict[Role, list[float]]:
    """Where the lines of each role pass a height."""
    found: dict[Role, list[float]] = {}
    for entry in lines:
        for u1, v1, u2, v2 in entry.segments:
            if min(v1, v2) < v < max(v1, v2):
                found.setdefault(entry.role, []).append(u1 + (v - v1) / (v2 - v1) * (u2 - u1))
    return {role: sorted(places) for role, places in found.items()}


def _drawn(template: Template, tile: Tile) -> list[Lines]:
    items = tile_items(template, tile)
    return [item for item in items if isinstance(item, Lines) and item.role is not Role.MATCH]


@settings(max_examples=examples(100))
@given(joint=through_joints(), part=st.sampled_from(Part), room=lengths(60, 200))
def test_lines_go_on_over_the_match_lines(joint: ThroughJoint, part: Part, room: float) -> None:
    template = _template(joint, part)
    try:
        found = tiles(template, room_mm=room)
    except PrintError:
        assume(False)
    assume(len(found) > 1)
    all_of_it = _drawn(template, whole(template))
    for one, other in itertools.pairwise([(tile, _drawn(template, tile)) for tile in found]):
        for off in (-OVERLAP_MM / 2 + 1e-3, -1.7, 0.0, 1.7, OVERLAP_MM / 2 - 1e-3):
            v = one[0].end_mm + off
            if v >= template.extent.v_max_mm:
                continue
            wanted = _crossings(all_of_it, v)
            assert set(wanted) >= {Role.FOLD, Role.OUTLINE, Role.BASELINE}
            for _, drawn in (one, other):
                got = _crossings(drawn, v)
                assert set(got) == set(wanted)
                for role, places in wanted.items():
                    assert got[role] == pytest.approx(places, abs=1e-9)


@settings(max_examples=examples(100))
@given(joint=through_joints(), part=st.sampled_from(Part), room=lengths(60, 200))
def test_tiles_laid_together_are_the_whole_template(joint: ThroughJoint, part: Part, room: float) -> None:
    """Cut at the match lines, the tiles' lines add up to the template's, role by role."""
    template = _template(joint, part)
    try:
        found = tiles(template, room_mm=room)
    except PrintError:
        assume(False)

    def length_mm(lines: list[Lines], low: float, high: float) -> dict[Role, float]:
        strip = shapely.box(-1e4, low, 1e4, high)
        return {
            entry.role: shapely.intersection(
                shapely.linestrings([((u1, v1), (u2, v2)) for u1, v1, u2, v2 in entry.segments]), strip
            )
            for entry in lines
        }

    total = dict.fromkeys(Role, 0.0)
    for tile in found:
        for role, parts in length_mm(_drawn(template, tile), tile.start_mm, tile.end_mm).items():
            total[role] += float(shapely.length(parts).sum())
    for entry in (*template.strokes, template.hatching):
        wanted = sum(float(shapely.LineString([s[:2], s[2:]]).length) for s in entry.segments)
        # a line right on a match line is on both tiles; only level lines could be, and none of these is parted there
        assert total[entry.role] == pytest.approx(wanted, rel=1e-9, abs=1e-6)


def test_a_wide_chest_on_a4_by_hand() -> None:
    joint = _wide()
    room = room_mm(paper("A4"))[1] - 2 * AIR_MM
    assert room == pytest.approx(297 - 16 - 24 - 17 - 4)  # 236
    # tails (470 - 12 - 19 * 5) / 20 = 18.15 wide, one every 23.15; middles at 6 + 9.075 + 23.15 i
    for part in Part:
        first, second, last = tiles(_template(joint, part), room_mm=room)
        assert first.end_mm == pytest.approx(15.075 + 23.15 * 9)  # 223.425; the next, 246.6, is beyond 236 - 5
        assert second.end_mm == pytest.approx(15.075 + 23.15 * 18)  # 431.775, within 223.425 + 236 - 10
        assert last.end_mm == 470


def test_match_lines_are_said_in_mm_from_the_face_edge_on_both_sheets() -> None:
    template = _template(_wide(), Part.TAILS)
    one, two, _ = tiles(template, room_mm=236)
    for tile in (one, two):
        items = tile_items(template, tile)
        words = [item.text for item in items if isinstance(item, Text)]
        assert "223.4" in words or "match line 223.4 mm" in words
        (match,) = [item for item in items if isinstance(item, Lines) and item.role is Role.MATCH]
        level: list[Stroke] = [s for s in match.segments if s[1] == s[3]]
        assert {s[1] for s in level} == set(tile.matches_mm)
        assert all((s[0], s[2]) == (template.extent.u_min_mm, template.extent.u_max_mm) for s in level)
        assert len(match.segments) == 5 * len(level)  # two crosses of two strokes on each


def test_reaching_less_far_at_first_can_be_the_only_way() -> None:
    template = _template(_wide(), Part.TAILS)
    faces = dataclasses.replace(template.faces, cut_places_mm=(25.0, 30.0, 38.0, 65.0))
    narrow = dataclasses.replace(template, faces=faces, extent=dataclasses.replace(template.extent, v_max_mm=80.0))
    # from 30 the next cut would have to lie beyond 40 and within 60
    assert [tile.end_mm for tile in tiles(narrow, room_mm=40)] == [25, 38, 65, 80]


@pytest.mark.parametrize("end", list(End))
def test_what_is_said_at_a_match_line_is_clear_of_all_lines_on_the_narrowest_skirt(end: End) -> None:
    joint = _wide(
        tails=BoardEnd(board=_board("side", 470, 16), end=end),
        pins=BoardEnd(board=_board("front", 470, 19), end=end.opposite),
    )
    for part in Part:
        template = _template(joint, part)
        for tile in tiles(template, room_mm=100):
            items = tile_items(template, tile)
            lines = shapely.MultiLineString(
                [(s[:2], s[2:]) for item in items if isinstance(item, Lines) for s in item.segments]
            )
            said = [
                item for item in items if isinstance(item, Text) and item.text in {f"{v:.1f}" for v in tile.matches_mm}
            ]
            assert len(said) == len(tile.matches_mm)
            assert all(lines.distance(shapely.box(*box(text))) > 0.3 for text in said)


def test_paper_that_does_not_reach_from_one_tail_to_the_next_is_refused() -> None:
    joint = _wide(tail_count=2)
    template = _template(joint, Part.PINS)
    with pytest.raises(PrintError, match=r"front\.left can't be parted: no tail's middle lies between 0 and 95 mm"):
        tiles(template, room_mm=100)
    assert len(tiles(template, room_mm=470)) == 1
    assert template.faces.outside.name is FaceName.OUTSIDE
