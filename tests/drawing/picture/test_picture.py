"""Pictures: pins on the pin board, tails on the tail board, nothing mirrored, no word on a line, each look once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dovelayout.casework.divider import Divider
from dovelayout.drawing.book import job_sheets
from dovelayout.drawing.picture.axonometric import Visible, visible
from dovelayout.drawing.picture.grain import Tone, grain_marks, tone
from dovelayout.drawing.picture.panel import LARGEST, picture
from dovelayout.drawing.picture.picture import corner_panels, slide_panels
from dovelayout.drawing.picture.picture_book import MOST_PICTURES, picture_groups, picture_pages, picture_sheet
from dovelayout.drawing.picture.slide_solid import LEAST_NECK_SHARE, slide_solids, taper_times
from dovelayout.drawing.primitives import Lines, Role, Sheet, Text
from dovelayout.drawing.sheets.frame import Legend, framed
from dovelayout.drawing.style import Style
from dovelayout.job.reader import read_job
from dovelayout.joints.board import End
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import Face
from dovelayout.joints.sliding import SlidingJoint, build_sliding
from dovelayout.paper import SIZES_MM, Paper, paper
from dovelayout.wood.species import all_woods, find_wood, maker_wood
from tests.conftest import examples
from tests.divider_jobs import divider_job
from tests.drawing.test_texts import FREE_MARGIN_MM, _check
from tests.jobs import corner_job, loaded
from tests.pictured import CORNERS, SLIDES, pictured_corner
from tests.slides import sliding_spec
from tests.strategies import corner_joints

SAMPLES = sorted((Path(__file__).parents[3] / "samples").glob("*.toml"))
PLACE_MM = 1e-3

Stroke = tuple[float, float, float, float]


def _elevation(joint: CornerJoint, *, of_tails: bool) -> Visible:
    """An outside face as the picture has it, at the size of the work."""
    panel = corner_panels(joint)[2 if of_tails else 3]
    return visible([face for timber in panel.timbers for face in timber.solid.faces], panel.view)


def _cheeks(face: Face, end: End, *, lift_mm: float, far_mm: float) -> list[Stroke]:
    """The cheeks of a face of a board that is looked at from outside with its face edge down: a right end is on the
    right (`joints.board`). x is 0 at the end."""
    way = -1.0 if end is End.RIGHT else 1.0
    return [(way * y1 + far_mm, x1 + lift_mm, way * y2 + far_mm, x2 + lift_mm) for (x1, y1), (x2, y2) in face.cheeks]


def _is_drawn(wanted: Stroke, strokes: tuple[Stroke, ...]) -> bool:
    """Whether a stroke is drawn, or is part of one."""
    x1, y1, x2, y2 = wanted
    for a, b, c, d in strokes:
        length = ((c - a) ** 2 + (d - b) ** 2) ** 0.5
        ends = [((x - a) * (c - a) + (y - b) * (d - b)) / length for x, y in ((x1, y1), (x2, y2))]
        off = [abs((x - a) * (d - b) - (y - b) * (c - a)) / length for x, y in ((x1, y1), (x2, y2))]
        if max(off) < PLACE_MM and min(ends) > -PLACE_MM and max(ends) < length + PLACE_MM:
            return True
    return False


@pytest.mark.parametrize("name", ["through", "lopsided, right", "lopsided, left", "tail at the edge", "drawer back"])
def test_faces_show_the_tails_and_the_pins_where_they_are_and_not_mirrored(name: str) -> None:
    joint = CORNERS[name]
    tails, pins = joint.end_faces()
    for faces, of_tails, lift_mm in ((tails, True, 0.0), (pins, False, joint.pin_offset_mm)):
        drawn = _elevation(joint, of_tails=of_tails)
        strokes = (*drawn.outline, *drawn.edges)
        # the board's end lies at x = 0 of the room whichever way it is looked at
        wanted = _cheeks(faces.outside, faces.end.end, lift_mm=lift_mm, far_mm=0.0)
        assert wanted
        assert all(_is_drawn(stroke, strokes) for stroke in wanted)


def test_a_left_end_and_a_right_end_dont_look_alike() -> None:
    right, left = (_elevation(CORNERS[f"lopsided, {hand}"], of_tails=True) for hand in ("right", "left"))
    assert max(s[2] for s in right.outline) == pytest.approx(0.0, abs=PLACE_MM)  # the end is on the right
    assert min(s[0] for s in left.outline) == pytest.approx(0.0, abs=PLACE_MM)
    tails = CORNERS["lopsided, right"].end_faces()[0]
    wrong = _cheeks(tails.outside, End.LEFT, lift_mm=0.0, far_mm=0.0)
    assert not any(_is_drawn(stroke, (*right.outline, *right.edges)) for stroke in wrong)
    upside_down = [
        (x1, 120 - y1, x2, 120 - y2) for x1, y1, x2, y2 in _cheeks(tails.outside, End.RIGHT, lift_mm=0, far_mm=0)
    ]
    assert not all(_is_drawn(stroke, (*right.outline, *right.edges)) for stroke in upside_down)


@pytest.mark.parametrize("name", ["half-blind", "lipped"])
def test_a_lap_is_unbroken(name: str) -> None:
    """The pin board's outside face is a plain rectangle: four strokes and nothing inside."""
    drawn = _elevation(CORNERS[name], of_tails=False)
    strokes = (*drawn.outline, *drawn.edges)
    xs, ys = [s[i] for s in strokes for i in (0, 2)], [s[i] for s in strokes for i in (1, 3)]
    box = (min(xs), min(ys), max(xs), max(ys))
    assert box[3] - box[1] == pytest.approx(120.0)
    for x1, y1, x2, y2 in strokes:
        upright = abs(x1 - x2) < PLACE_MM and min(abs(x1 - box[0]), abs(x1 - box[2])) < PLACE_MM
        level = abs(y1 - y2) < PLACE_MM and min(abs(y1 - box[1]), abs(y1 - box[3])) < PLACE_MM
        assert upright or level, (x1, y1, x2, y2)


def test_apart_the_boards_dont_cover_each_other_and_are_named() -> None:
    for name, joint in CORNERS.items():
        apart = corner_panels(joint)[0]
        tails, pins = (apart.bounds([timber]) for timber in apart.timbers)
        left_of = tails[2] < pins[0] if joint.spec.tails.end is End.RIGHT else pins[2] < tails[0]
        assert left_of, name  # a tail board's right end lies left of the corner, as one sees it from outside
        assert [timber.part for timber in apart.timbers] == ["TAILS", "PINS"]
        assert [timber.end.label for timber in apart.timbers] == [joint.spec.tails.label, joint.spec.pins.label]


def test_the_paths_run_from_the_tails_to_where_they_end_up() -> None:
    joint = CORNERS["half-blind"]
    for start, _ in corner_panels(joint)[0].paths:
        assert start[0] == pytest.approx(-joint.lap_mm)
        assert start[1] == 0.0


def test_a_taper_is_drawn_so_that_it_is_seen_and_says_so() -> None:
    joint = SLIDES["tapered below"]
    times = taper_times(joint)
    assert times > 1
    words = [word for panel in slide_panels(joint) for word in panel.words]
    assert words.count(f"taper drawn {times} times as steep as it is") == 2
    panel = slide_panels(joint)[2]
    drawn = visible(panel.timbers[0].solid.faces, panel.view)
    cheeks = [
        s for s in (*drawn.outline, *drawn.edges) if abs(s[2] - s[0]) > 0.8 * joint.length_mm and 150 < s[1] < 250
    ]
    leans = sorted(abs((s[3] - s[1]) / (s[2] - s[0])) for s in cheeks)
    assert leans[0] == pytest.approx(0.0, abs=1e-9)
    assert leans[-1] == pytest.approx(times / joint.spec.taper_ratio)  # type: ignore[operator]
    neck = joint.tongue_at(joint.rear_mm, 0.0).width_mm
    assert joint.length_mm / 320 * times <= neck * (1 - LEAST_NECK_SHARE)


def test_a_straight_or_a_steep_one_is_drawn_as_it_is() -> None:
    assert taper_times(SLIDES["straight, through"]) == 1
    steep = build_sliding(sliding_spec(taper_ratio=20.0, key_mm=(600, 240, 30)))
    assert taper_times(steep) == 1
    assert not any("times" in word for panel in slide_panels(steep) for word in panel.words)


def test_a_stop_doesnt_show_at_the_front_and_a_through_housing_does() -> None:
    def lines(joint: SlidingJoint) -> int:
        panel = slide_panels(joint)[4]
        drawn = visible([face for timber in panel.timbers for face in timber.solid.faces], panel.view)
        return len(drawn.outline) + len(drawn.edges)

    stopped = build_sliding(sliding_spec(stop_mm=12.0))
    assert lines(stopped) < lines(build_sliding(sliding_spec()))
    assert "the housing stops short and doesn't show" in slide_panels(stopped)[4].words


@pytest.mark.parametrize("name", SLIDES)
def test_the_key_lies_clear_of_its_housing_when_apart(name: str) -> None:
    """From where it is seen, the key stands before no more of the housing than its own tongue's root."""
    panel = slide_panels(SLIDES[name])[0]
    host, _ = panel.timbers
    alone = visible(host.solid.faces, panel.view)
    both = visible([face for timber in panel.timbers for face in timber.solid.faces], panel.view)
    whole, left = (sum(_long(s) for s in (*drawn.outline, *drawn.edges)) for drawn in (alone, both))
    assert left > 0.9 * whole


def _long(stroke: Stroke) -> float:
    return float(((stroke[2] - stroke[0]) ** 2 + (stroke[3] - stroke[1]) ** 2) ** 0.5)


# --- grain ---


def test_end_grain_and_long_grain_differ_and_darker_woods_have_more_of_both() -> None:
    joint = pictured_corner(tail_count=3, woods=("black walnut", "sugar maple"))
    together = corner_panels(joint)[1]
    tails, pins = (grain_marks(timber, scale=0.5, towards=together.view.towards) for timber in together.timbers)
    assert tails
    assert pins
    dark, light = pictured_corner(woods=("black walnut",) * 2), pictured_corner(woods=("sugar maple",) * 2)
    lengths = []
    for corner in (dark, light):
        timber = corner_panels(corner)[1].timbers[0]
        marks = grain_marks(timber, scale=0.5, towards=together.view.towards)
        lengths.append(sum(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5 for a, b in marks))
    assert lengths[0] > 1.5 * lengths[1]


def test_long_grain_runs_along_the_board_and_rings_across_it() -> None:
    joint = CORNERS["through"]
    panel = corner_panels(joint)[1]
    tail = panel.timbers[0]
    for (x1, y1, z1), (x2, y2, z2) in grain_marks(tail, scale=0.5, towards=panel.view.towards):
        along = abs(x2 - x1)  # the tail board runs along x
        on_end = abs(x1) < PLACE_MM or abs(abs(x1) - joint.pin_board.thickness_mm) < PLACE_MM
        if on_end and abs(x1 - x2) < PLACE_MM:
            assert abs(y2 - y1) + abs(z2 - z1) > 0
        else:
            assert along > 0
            assert abs(z2 - z1) <= along / joint.slope.ratio + PLACE_MM  # along a cheek it leans with it


@pytest.mark.parametrize(
    ("wood", "wanted"),
    [
        ("black walnut", Tone.DARK),
        ("sugar maple", Tone.LIGHT),
        ("eastern white pine", Tone.LIGHT),
        ("black cherry", Tone.MIDDLE),
        ("white oak", Tone.MIDDLE),
        ("birch plywood", Tone.LIGHT),
    ],
)
def test_tones(wood: str, wanted: Tone) -> None:
    assert tone(find_wood(wood)) is wanted


def test_every_wood_has_a_tone() -> None:
    assert {tone(wood) for wood in all_woods()} == set(Tone)
    assert tone(maker_wood(name="bog log", sg_12=0.7)) is Tone.MIDDLE


# --- on the paper ---


def _shown(sheet: Sheet) -> list[str]:
    return [item.text for item in sheet.items if isinstance(item, Text)]


def _is_picture(sheet: Sheet) -> bool:
    return any(isinstance(item, Lines) and item.role is Role.PICTURE for item in sheet.items)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_pictures_of_every_sample_stand_after_the_words_and_before_the_templates(path: Path) -> None:
    job = read_job(path)
    style = Style(job=job.title, unit=job.unit, stamp="NOT TO BE CUT")
    plain = job_sheets(job.joints, style, job.paper, job.dividers)
    sheets = job_sheets(job.joints, style, job.paper, job.dividers, pictures=True)
    pictures = [sheet for sheet in sheets if _is_picture(sheet)]
    assert pictures
    assert len(sheets) == len(plain) + len(pictures)
    first = sheets.index(pictures[0])
    assert sheets[first : first + len(pictures)] == tuple(pictures)
    templates = [n for n, s in enumerate(sheets) if any(isinstance(i, Lines) and i.role is Role.KNIFE for i in s.items)]
    assert 0 < first < min(templates)
    for sheet in pictures:
        _check(sheet, job.paper.margin_mm)
        assert Legend.PICTURE.words in _shown(sheet)
        assert "NOT TO BE CUT" in _shown(sheet)
    for group in picture_groups(job.joints, job.dividers):
        sheet = picture_sheet(group, Style(job=job.title))
        _check(sheet, FREE_MARGIN_MM)
        assert group.title in _shown(sheet)
        assert any(group.title in _shown(page) for page in pictures)


@pytest.mark.parametrize("name", CORNERS)
def test_no_word_on_a_line_in_any_kind_of_corner(name: str) -> None:
    (group,) = picture_groups([CORNERS[name]], [])
    sheet = picture_sheet(group, Style(job="words"))
    _check(sheet, FREE_MARGIN_MM)
    words = _shown(sheet)
    for wanted in (
        "TAILS",
        "PINS",
        "side.right" if CORNERS[name].spec.tails.end is End.RIGHT else "side.left",
        "white oak",
    ):
        assert wanted in words


@settings(max_examples=examples(25))
@given(joint=corner_joints(), size=st.sampled_from(sorted(SIZES_MM)), margin_mm=st.sampled_from((5.0, 15.0)))
def test_any_corner_on_any_paper(joint: CornerJoint, size: str, margin_mm: float) -> None:
    on = paper(size, margin_mm)
    for page in job_sheets([joint], Style(job="Årets ÉTAGÈRE"), paper("A0", 5.0), pictures=True):
        _check(page, 5.0)
    for sheet in _pages([joint], [], on):
        _check(sheet, on.margin_mm)


@pytest.mark.parametrize("name", SLIDES)
def test_any_slide_on_any_paper(name: str) -> None:
    divider = Divider(name=name, joints=(SLIDES[name],))
    (group,) = picture_groups([], [divider])
    _check(picture_sheet(group, Style(job="Årets ÉTAGÈRE")), FREE_MARGIN_MM)
    for size in SIZES_MM:
        on = paper(size, 15.0)
        for sheet in _pages([], [divider], on):
            _check(sheet, on.margin_mm)


def _pages(joints: list[CornerJoint], dividers: list[Divider], on: Paper) -> list[Sheet]:
    pages = picture_pages(joints, dividers, Style(job="Årets ÉTAGÈRE"), on)
    assert pages
    return [framed(page, on) for page in pages]


@pytest.mark.parametrize(
    "name", ["櫃" * 60, "M" * 60, "the corner at the far left of all the backs of the box ", "\x07<b>&amp;\u202e", "ÅÇ"]
)
def test_strange_and_long_names_are_cut_rather_than_run_over(name: str) -> None:
    board = {"name": name}
    (joint,) = loaded(corner_job(board=board, tails=f"{name}.left", name=name)).joints
    for size in ("A5", "A4"):
        sheets = job_sheets([joint], Style(job=name), paper(size, 8.0), pictures=True)
        for sheet in filter(_is_picture, sheets):
            _check(sheet, 8.0)


def test_a_picture_is_never_larger_than_the_work() -> None:
    joint = pictured_corner(tail=(30, 6), pin=(30, 6), tail_count=1)
    card = picture("A", (), corner_panels(joint), (1000, 1000))
    upright = [
        abs(y2 - y1)
        for item in card.items
        if isinstance(item, Lines) and item.role is Role.PICTURE
        for x1, y1, x2, y2 in item.segments
        if abs(x1 - x2) < PLACE_MM
    ]
    assert max(upright) == pytest.approx(30 * LARGEST)  # an elevation's edge: the board's width, full size


# --- which are pictured ---


def _box_job() -> Any:
    tables = corner_job()
    tables["board"] = [{**board, "count": 2} for board in tables["board"]]
    tables["box"] = [{"name": "box", "tails": "side", "pins": "top", "slope": "1:6", "tail_count": 3}]
    del tables["corner"]
    return tables


def test_the_four_corners_of_a_box_need_two_pictures() -> None:
    job = loaded(_box_job())
    assert [group.title for group in picture_groups(job.joints, [])] == ["Corners A, C", "Corners B, D"]
    assert len(list(picture_pages(job.joints, [], Style(job="box"), job.paper))) == 1


def test_what_differs_in_anything_that_shows_is_pictured_for_itself() -> None:
    joint = CORNERS["through"]
    same = joint.varied(name="B")
    others = [
        joint.varied(tail_count=3),
        joint.varied(proud_tails_mm=1.0),
        joint.varied(tails=replace(joint.spec.tails, board=replace(joint.tail_board, wood=find_wood("teak")))),
        joint.varied(tails=replace(joint.spec.tails, end=End.LEFT), pins=replace(joint.spec.pins, end=End.RIGHT)),
    ]
    assert len(picture_groups([joint, same], [])) == 1
    assert len(picture_groups([joint, same, *others], [])) == 1 + len(others)


def test_a_job_of_240_corners_draws_few_and_tells_the_rest() -> None:
    same = [CORNERS["through"].varied(name=f"C{number}") for number in range(240)]
    (group,) = picture_groups(same, [])
    assert group.title.endswith("and 228 more")
    other = [pictured_corner(name=f"D{n}", tail=(100 + n, 12), pin=(100 + n, 12), tail_count=1) for n in range(26)]
    pages = list(picture_pages(other, [], Style(job="many"), paper("A4", 8.0)))
    titles = [item.text for page in pages for item in page.draw() if isinstance(item, Text)]
    assert sum(title.startswith("Corner D") for title in titles) == MOST_PICTURES
    told = " ".join(item.text for item in pages[-1].draw() if isinstance(item, Text))
    assert "2 more joints" in told
    assert "D24, D25" in told


def test_a_divider_is_pictured_once_and_its_other_end_told() -> None:
    job = loaded(divider_job(host=["side.left", "side.right"]))
    (group,) = picture_groups([], job.dividers)
    words = _shown(picture_sheet(group, Style(job="case")))
    assert group.title == "Divider shelf"
    assert any(word.endswith(": the mirror image of this") for word in words)
    one, other = (slide_solids(joint) for joint in job.dividers[0].joints)
    assert one.apart == tuple(-value for value in other.apart)
