"""A divider's cards: true to the joint, the right way round, read back from SVG and PDF; words clear of lines."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.divider import Divider
from dovelayout.drawing.book import job_sheets
from dovelayout.drawing.cards.card import Card, arranged
from dovelayout.drawing.cards.divider_book import divider_sheet
from dovelayout.drawing.cards.slide import slide_cards
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import PENS, Lines, Role, Sheet, Text
from dovelayout.drawing.style import Style
from dovelayout.errors import PrintError
from dovelayout.job.reader import read_job
from dovelayout.joints.board import BoardEnd, End
from dovelayout.joints.face import FaceName
from dovelayout.joints.sliding import Cheek, SlidingJoint, build_sliding
from dovelayout.joints.slope import Slope
from dovelayout.paper import paper
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.svg import svg_text
from dovelayout.units import Unit
from tests.readers import matched, pdf_segments, pdf_texts, svg_segments
from tests.slides import sliding_joints, sliding_spec

SAMPLE = Path(__file__).parents[3] / "samples" / "bobbin-cabinet.toml"
TOUCH_MM = 1e-6
STYLE = Style(job="cards")


def _segments(card: Card, role: Role) -> list[tuple[float, float, float, float]]:
    return [s for item in card.items if isinstance(item, Lines) and item.role is role for s in item.segments]


def _words(card: Card) -> str:
    return " ".join(item.text for item in card.items if isinstance(item, Text))


def _card(joint: SlidingJoint, title: str) -> Card:
    (card,) = [card for card in slide_cards(joint, STYLE) if title in card.title]
    return card


def _example(end: End = End.RIGHT, face: FaceName = FaceName.INSIDE) -> SlidingJoint:
    """Slope 1:5, 5 mm of tongue in 6 mm of housing, tapered 1:100 on the lower cheek, stopped at 10."""
    spec = sliding_spec(
        depth_mm=6.0,
        slip_mm=1.0,
        slope=Slope(5),
        wide_mm=16.0,
        taper_ratio=100.0,
        taper_on=Cheek.LOWER,
        stop_mm=10.0,
        face=face,
    )
    host = BoardEnd(board=spec.host.board, end=end)
    return build_sliding(type(spec)(**{name: getattr(spec, name) for name in spec.__slots__} | {"host": host}))


def test_housing_on_the_face_by_hand() -> None:
    # the tongue's neck is 16 - 2 x 5/5 = 14; 230 mm of taper 1:100 take 2.3 of it at the front, 40 mm behind 1.9
    front = _segments(_card(_example(), "inside face, front"), Role.KNIFE)
    lengths = sorted(shapely.LineString([s[:2], s[2:]]).length for s in front)
    assert lengths == pytest.approx([14 - 2.3, 40.0, (40**2 + 0.4**2) ** 0.5])
    (stop,) = [s for s in front if s[1] == s[3]]
    (edge,) = _segments(_card(_example(), "inside face, front"), Role.FOLD)
    assert stop[1] - edge[1] == pytest.approx(10)


@pytest.mark.parametrize(
    ("end", "face", "on_the_left"),
    [
        (End.LEFT, FaceName.OUTSIDE, True),
        (End.LEFT, FaceName.INSIDE, False),
        (End.RIGHT, FaceName.OUTSIDE, False),
        (End.RIGHT, FaceName.INSIDE, True),
    ],
)
def test_every_card_is_drawn_as_it_is_seen_on_the_work(end: End, face: FaceName, on_the_left: bool) -> None:
    """The tapered cheek, which is the lower, lies towards the end: left or right as the board is looked at."""
    joint = _example(end, face)

    def tapered_is_left(title: str) -> bool:
        sides = [s for s in _segments(_card(joint, title), Role.KNIFE) if s[1] != s[3]]
        slanted = max(sides, key=lambda s: abs(s[2] - s[0]))
        other = min(sides, key=lambda s: abs(s[2] - s[0]))
        return slanted[0] < other[0]

    assert tapered_is_left("face, front") is on_the_left
    assert tapered_is_left("face, rear") is on_the_left
    # on the key's front edge the lower shoulder is the wider one, as the taper stands in there
    card = _card(joint, "front edge")
    outline = _segments(card, Role.BASELINE)[0]
    shoulders = sorted(_segments(card, Role.KNIFE))
    roots = sorted(min((s[:2], s[2:]), key=lambda point: point[1])[0] for s in shoulders)
    left_mm, right_mm = roots[0] - min(outline[0], outline[2]), max(outline[0], outline[2]) - roots[1]
    assert (left_mm > right_mm) is not on_the_left
    for title, seen_left in (
        ("face, front", on_the_left),
        ("Housing in side." + end.value + ", back edge", not on_the_left),
        ("Key shelf.left, back edge", on_the_left),
        ("front edge, where", not on_the_left),
    ):
        assert f"{'left' if seen_left else 'right'} is towards the end of side.{end.value}" in _words(
            _card(joint, title)
        )


def test_an_edge_that_is_far_off_is_told_and_not_drawn() -> None:
    far = build_sliding(sliding_spec(stop_mm=90, key_mm=(600, 150, 19)))
    for title, away in (
        ("face, front", "the front edge is 50 mm away"),
        ("face, rear", "the back edge is 110 mm away"),
    ):
        card = _card(far, title)
        assert _segments(card, Role.FOLD) == []
        assert away in _words(card)


def test_sections_by_hand() -> None:
    socket = _segments(_card(_example(), "Housing in side.right, back edge"), Role.KNIFE)
    (floor,) = [s for s in socket if s[1] == s[3]]
    # at the back edge, 60 mm behind the key, the taper stands out by 0.6: 14 + 0.6 + 2 x 6/5
    assert abs(floor[2] - floor[0]) == pytest.approx(17.0)
    tongue = _segments(_card(_example(), "Key shelf.left, back edge"), Role.KNIFE)
    assert [abs(s[3] - s[1]) for s in tongue] == pytest.approx([5.0, 5.0])
    assert [abs(s[2] - s[0]) for s in tongue] == pytest.approx([1.0, 1.0])
    notch = _segments(_card(_example(), "notch"), Role.KNIFE)
    front = _segments(_card(_example(), "notch"), Role.FOLD)
    assert notch[0][0] - front[0][0] == pytest.approx(10.0)


@given(joint=sliding_joints())
def test_cards_are_as_large_as_they_say_and_their_words_stand_clear(joint: SlidingJoint) -> None:
    for card in slide_cards(joint, Style(job="x", unit=Unit.IN)):
        texts = [box(item) for item in card.items if isinstance(item, Text)]
        lines = [s for item in card.items if isinstance(item, Lines) for s in item.segments]
        boxes = [*texts, *((min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in lines)]
        assert min(b[0] for b in boxes) >= -TOUCH_MM
        assert min(b[1] for b in boxes) >= -TOUCH_MM
        assert max(b[2] for b in boxes) <= card.width_mm + TOUCH_MM
        assert max(b[3] for b in boxes) <= card.height_mm + TOUCH_MM
        strokes = [shapely.LineString([(a, b), (c, d)]) for a, b, c, d in lines]
        for words in texts:
            assert not any(shapely.box(*words).intersects(stroke) for stroke in strokes)


@given(joint=sliding_joints(), size=st.sampled_from(("A4", "A3", "Letter")))
def test_sheets_of_any_divider(joint: SlidingJoint, size: str) -> None:
    on = paper(size, 8.0)
    try:
        sheets = job_sheets([], Style(job="Årets ÉTAGÈRE"), on, (Divider(name="x", joints=(joint,)),))
    except PrintError:
        return  # a card too large for that paper, and said so
    for sheet in (*sheets, divider_sheet(joint, Style(job="x", stamp="drawn all the same"))):
        _check(sheet)


def _check(sheet: Sheet) -> None:
    """No word on a line or on another word, nothing off the sheet."""
    texts = [shapely.box(*box(item)).buffer(-TOUCH_MM) for item in sheet.items if isinstance(item, Text)]
    segments = [s for item in sheet.items if isinstance(item, Lines) for s in item.segments]
    strokes = shapely.linestrings([((a, b), (c, d)) for a, b, c, d in segments])
    assert shapely.STRtree(strokes).query(texts, predicate="intersects").shape[1] == 0
    assert shapely.STRtree(texts).query(texts, predicate="intersects").shape[1] == len(texts)
    bounds = shapely.union_all([*strokes, *texts]).bounds
    assert min(bounds[:2]) >= 5.0 - TOUCH_MM
    assert bounds[2] <= sheet.width_mm - 5.0 + TOUCH_MM
    assert bounds[3] <= sheet.height_mm - 5.0 + TOUCH_MM


def test_a_card_too_large_for_the_sheet_says_what_room_it_has() -> None:
    with pytest.raises(PrintError, match=r"the sheet has 40 x 250 mm of room; larger paper would do"):
        arranged(slide_cards(_example(), STYLE), (40, 250))


def test_cards_go_on_to_a_second_sheet_where_one_is_full() -> None:
    cards = slide_cards(_example(), STYLE)
    pages = arranged(cards, (180, 150))
    assert len(pages) > 1
    assert sum(len(page) for page in pages) == sum(len(card.items) for card in cards)


def _wanted(sheet: Sheet) -> list[tuple[float, ...]]:
    return [(*s, 100 * PENS[i.role].width_mm) for i in sheet.items if isinstance(i, Lines) for s in i.segments]


@pytest.mark.parametrize("number", range(2))
def test_true_scale_in_svg_and_pdf(number: int) -> None:
    joint = read_job(SAMPLE).dividers[number].joint
    sheet = divider_sheet(joint, Style(job="Bobbin cabinet"))
    for found in (svg_segments(svg_text(sheet)), pdf_segments(pdf_bytes([sheet], title="x"))):
        read = [(*stroke.ends, 100 * stroke.width_mm) for stroke in found]
        result = matched(_wanted(sheet), read)
        assert (result.missing, result.extra) == ([], [])


def test_the_job_s_sheets_hold_every_divider_and_its_numbers() -> None:
    job = read_job(SAMPLE)
    sheets = job_sheets(job.joints, Style(job=job.title), job.paper, job.dividers)
    data = pdf_bytes(sheets, title=job.title)
    text = " ".join(" ".join(pdf_texts(data, page).split()) for page in range(len(sheets)))
    assert "Divider shelf: shelf.left into side.left" in text
    assert "Divider shelf: shelf.right into side.right" in text
    assert "tapers 1:320, 0.51 mm over the tongue's 162 mm" in text
    assert "front edge of the host to the stop" in text
    assert "Glue on the front 50 mm" in text
    assert "one pass leaves 8.09 mm at the face" in text
    assert "Never widen a slot" in text
