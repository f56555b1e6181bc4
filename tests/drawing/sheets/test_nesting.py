"""Pieces on sheets: each once, none over another, none off the sheet, in the order of work, and on few sheets."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from rectpack import SORT_LSIDE, MaxRectsBssf, PackingBin, newPacker

from dovelayout.drawing.primitives import Size
from dovelayout.drawing.sheets.bounds import STRETCHES, area_bound, nesting_bound
from dovelayout.drawing.sheets.nesting import AHEAD, GAP_MM, Placement, Shape, fits, nested, strip
from dovelayout.drawing.sheets.widening import Widths, widened
from dovelayout.errors import PrintError
from tests.conftest import examples
from tests.strategies import lengths

ROOM: Size = (179.0, 240.0)


@st.composite
def _shapes(draw: st.DrawFn) -> Shape:
    wide, high = draw(lengths(20, 170)), draw(lengths(20, 239))
    return Shape(upright=(wide, high), turned=draw(st.sampled_from((None, (high + 3.0, wide)))))


def size(shape: Shape, place: Placement) -> Size:
    return shape.sizes[place.turned]


def check(shapes: Sequence[Shape], sheets: Sequence[Sequence[Placement]], room: Size) -> None:
    """Every piece once, whole on its sheet, a gap away from all others; all to a hundredth of a mm."""
    assert sorted(place.piece for sheet in sheets for place in sheet) == list(range(len(shapes)))
    for sheet in sheets:
        assert sheet
        boxes = []
        for place in sheet:
            wide, high = size(shapes[place.piece], place)
            assert place.x_mm >= 0
            assert place.y_mm >= 0
            assert place.x_mm + wide <= room[0] + 1e-6
            assert place.y_mm + high <= room[1] + 1e-6
            assert not place.turned or shapes[place.piece].turned is not None
            boxes.append((place.x_mm, place.y_mm, place.x_mm + wide, place.y_mm + high))
        for a, b in itertools.combinations(boxes, 2):
            apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
            assert apart >= GAP_MM - 1e-6


@settings(max_examples=examples(150))
@given(st.lists(_shapes(), min_size=0, max_size=40))
@example([Shape(upright=(ROOM[0], ROOM[1]))] * 3)
@example([Shape(upright=(88.0, 100.0))] * 5)  # two beside each other fill the width to the mm: 88 + 3 + 88
def test_pieces_lie_on_sheets_once_each_and_apart(shapes: list[Shape]) -> None:
    sheets = nested(shapes, ROOM)
    check(shapes, sheets, ROOM)
    assert sheets == nested(shapes, ROOM)
    if shapes:
        assert area_bound(shapes, ROOM) <= nesting_bound(shapes, ROOM) <= len(sheets)


@settings(max_examples=examples(100))
@given(st.lists(_shapes(), min_size=1, max_size=120))
def test_the_first_sheets_hold_the_first_pieces(shapes: list[Shape]) -> None:
    sheets = nested(shapes, ROOM)
    firsts = [min(place.piece for place in sheet) for sheet in sheets]
    assert firsts == sorted(firsts)
    assert firsts[0] == 0
    # no sheet is begun with anything but the first piece that has no place, or reaches further ahead than so far
    done: set[int] = set()
    for sheet in sheets:
        waiting = [number for number in range(len(shapes)) if number not in done]
        assert min(place.piece for place in sheet) == waiting[0]
        assert max(place.piece for place in sheet) < waiting[0] + AHEAD
        done |= {place.piece for place in sheet}


def test_a_pair_that_just_goes_and_one_that_just_does_not() -> None:
    just = [Shape(upright=((ROOM[0] - GAP_MM) / 2, 200.0))] * 2
    over = [Shape(upright=((ROOM[0] - GAP_MM) / 2 + 0.01, 200.0))] * 2
    assert len(nested(just, ROOM)) == 1
    assert len(nested(over, ROOM)) == 2


def test_what_may_not_be_turned_is_not_turned() -> None:
    long = (200.0, 50.0)
    with pytest.raises(PrintError, match=r"200 x 50 mm and the sheet has 179 x 240 mm of room; larger paper would do"):
        nested([Shape(upright=long)], ROOM)
    ((place,),) = nested([Shape(upright=long, turned=(50.0, 200.0))], ROOM)
    assert place.turned
    assert not fits(Shape(upright=long), ROOM)


@settings(max_examples=examples(60))
@given(st.lists(_shapes(), min_size=20, max_size=60))
def test_sheets_are_no_more_than_a_packer_of_others_needs(shapes: list[Shape]) -> None:
    """Against rectpack (maximal rectangles, long sides first), which may put any piece on any sheet."""
    packer = newPacker(bin_algo=PackingBin.BFF, pack_algo=MaxRectsBssf, sort_algo=SORT_LSIDE, rotation=False)
    packer.add_bin(round((ROOM[0] + GAP_MM) * 100), round((ROOM[1] + GAP_MM) * 100), count=math.inf)
    plain = [Shape(upright=shape.upright) for shape in shapes]
    for number, shape in enumerate(plain):
        packer.add_rect(*(math.ceil((side + GAP_MM) * 100 - 1e-6) for side in shape.upright), rid=number)
    packer.pack()
    assert len(packer.rect_list()) == len(shapes)
    # a short list's last sheets are half empty: one more in ten is allowed for
    assert len(nested(plain, ROOM)) <= math.ceil(1.1 * len(packer))


@settings(max_examples=examples(80))
@given(st.lists(_shapes(), min_size=1, max_size=30), lengths(260, 900))
def test_a_roll_is_long_enough_and_no_longer(shapes: list[Shape], most: float) -> None:
    places = strip(shapes, (240.0, most))
    check(shapes, places, (240.0, most))


def test_a_roll_is_used_up_from_its_end() -> None:
    shapes = [Shape(upright=(100.0, 50.0))] * 4
    ((*places,),) = strip(shapes, (203.0, 1000.0))
    assert max(place.y_mm for place in places) == pytest.approx(50.0 + GAP_MM)
    with pytest.raises(PrintError, match="the sheet has 90 x 1000 mm of room"):
        strip(shapes, (90.0, 1000.0))


# --- bounds ---


@pytest.mark.parametrize("stretch", STRETCHES)
@settings(max_examples=examples(200))
@given(st.lists(st.integers(1, 200), min_size=1, max_size=12))
def test_what_fitted_in_a_row_still_fits_when_it_is_stretched(stretch: object, sides: list[int]) -> None:
    """The one property that the bound hangs on: sides that sum to at most 1 are stretched to at most 1."""
    assert callable(stretch)
    total = max(sum(sides), 1)
    shares = [side / total for side in sides]
    assert sum(stretch(share) for share in shares) <= 1.0 + 1e-6


def test_bounds_by_hand() -> None:
    # 5 strips of 88 x 200 on 179 x 240: two on each, though their area with gaps is 0.42 of a sheet
    strips = [Shape(upright=(88.0, 200.0), turned=(203.0, 88.0))] * 5
    assert area_bound(strips, ROOM) == math.ceil(5 * 91 * 203 / (182 * 243))
    assert area_bound(strips, ROOM) == nesting_bound(strips, ROOM) == 3
    # 4 strips of 92: one on each
    assert nesting_bound([Shape(upright=(92.0, 200.0))] * 4, ROOM) == 4
    assert area_bound([Shape(upright=(92.0, 200.0))] * 4, ROOM) == 2
    assert area_bound((), ROOM) == nesting_bound((), ROOM) == 0


# --- skirts that grow again ---


@settings(max_examples=examples(80))
@given(st.lists(st.tuples(lengths(40, 80), lengths(60, 230), st.integers(0, 6)), min_size=1, max_size=16))
def test_pieces_grow_on_their_own_sheets(rows: list[tuple[float, float, int]]) -> None:
    narrow = [Shape(upright=(wide, high), turned=(high + 3, wide)) for wide, high, _ in rows]
    widths = [
        [Shape(upright=(wide + more, high), turned=(high + 3, wide + more)) for wide, high, _ in rows]
        for more in (50.0, 20.0, 0.0)
    ]
    together = [key for *_, key in rows]
    before = nested(narrow, (179.0, 240.0))
    choices = Widths(count=3, shape_of=lambda which, number: widths[which][number], groups=together)
    chosen, after = widened(before, choices, ROOM)
    shapes = [widths[which][number] for number, which in enumerate(chosen)]
    check(shapes, after, ROOM)
    assert [{place.piece for place in sheet} for sheet in after] == [
        {place.piece for place in sheet} for sheet in before
    ]
    assert len({(key, which) for key, which in zip(together, chosen, strict=True)}) == len(set(together))


def test_a_piece_alone_on_its_sheet_is_as_wide_as_can_be() -> None:
    widths = [[Shape(upright=(wide, 200.0))] for wide in (178.0, 100.0)]
    choices = Widths(count=2, shape_of=lambda which, number: widths[which][number], groups=["A"])
    found, _ = widened(nested(widths[-1], ROOM), choices, ROOM)
    assert found == (0,)
