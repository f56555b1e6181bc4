"""The cards of a repair: lines where the plane's own arithmetic puts them, all waste hatched, no word on a line."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.drawing.cards.card import card_sheets
from dovelayout.drawing.cards.patch import corner_cards, slip_card
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Item, Lines, Role, Stroke, Text
from dovelayout.drawing.sheets.frame import Legend
from dovelayout.drawing.style import Heading
from dovelayout.errors import PrintError
from dovelayout.paper import paper
from dovelayout.repair.gap import Slip
from dovelayout.repair.patch import LONG_MM, OVER_MM, Break, Patch, lay_patch
from tests.repairs import patches, slips

CHIP = Break(width_mm=8.0, depth_mm=19.0, length_mm=14.0)
HEAD = Heading(job="repair", what="Patch")


def lines(items: tuple[Item, ...], role: Role) -> list[Stroke]:
    return [row for item in items if isinstance(item, Lines) and item.role is role for row in item.segments]


def lengths(rows: list[Stroke]) -> list[float]:
    return sorted(math.dist(row[:2], row[2:]) for row in rows)


@given(patch=patches(), right=st.booleans())
def test_the_seam_on_the_paper_is_the_planes_trace_on_every_face(patch: Patch, right: bool) -> None:
    """Each knife stroke is measured and compared with the trace worked out from the plane, face by face."""
    thick = patch.thickness_mm
    x0, x1 = patch.reach_mm(0.0), patch.reach_mm(thick)
    y0, y1 = patch.length_mm(0.0), patch.length_mm(thick)
    wanted = [math.hypot(x0, y0)]  # outside: from the end to the edge
    if x1 > 1e-4:
        wanted += [math.hypot(x1, y1), math.hypot(x1 - x0, thick), math.hypot(y1 - y0, thick)]
    elif x1 < -1e-4:
        through = patch.c / patch.b  # the depth where it leaves through the edge
        wanted += [math.hypot(x0, through), math.hypot(y0, through)]
    else:
        return
    cards = corner_cards(patch, right=right)
    assert lengths(lines(cards[0].items, Role.KNIFE)) == pytest.approx(sorted(wanted), abs=1e-3)


@given(patch=patches())
def test_folded_round_the_board_the_seams_ends_meet_on_the_arrises(patch: Patch) -> None:
    knife = lines(corner_cards(patch)[0].items, Role.KNIFE)
    folds = lines(corner_cards(patch)[0].items, Role.FOLD)
    upright = sorted({row[0] for row in folds if row[0] == row[2]})
    assert upright[1] - upright[0] == pytest.approx(patch.thickness_mm)
    points = [point for row in knife for point in (row[:2], row[2:])]
    # on the fold between outside face and edge two strokes meet, and on the one between outside face and end
    on_fold = [point for point in points if abs(point[0] - upright[1]) < 1e-6]
    assert len(on_fold) >= 2
    assert any(math.dist(a, b) < 1e-6 for a, b in itertools.combinations(on_fold, 2))


@given(patch=patches())
def test_all_that_goes_is_hatched_and_nothing_else(patch: Patch) -> None:
    """The hatching's length times its pitch is the area that goes, within the last stroke."""
    gone = [patch.on_the_end, patch.on_the_outside, patch.on_the_inside, patch.on_the_edge]
    area = sum(polygon.area for polygon in gone)
    around = sum(polygon.length for polygon in gone)
    hatched = sum(lengths(lines(corner_cards(patch)[0].items, Role.HATCH))) * 1.5
    assert abs(hatched - area) <= 1.5 * around


@given(patch=patches())
def test_the_right_hand_paper_is_the_left_one_turned_over_words_apart(patch: Patch) -> None:
    left, right = (corner_cards(patch, right=hand) for hand in (False, True))
    for one, other in zip(left, right, strict=True):
        assert one.width_mm == other.width_mm
        for role in Role:
            assert lengths(lines(one.items, role)) == pytest.approx(lengths(lines(other.items, role)), abs=1e-9)
    folds = lines(right[0].items, Role.FOLD)
    across = next(row for row in folds if row[1] == row[3])
    assert min(across[0], across[2]) < min(row[0] for row in folds if row[0] == row[2])


@given(patch=patches(), right=st.booleans())
def test_everything_lies_within_its_card(patch: Patch, right: bool) -> None:
    for card in corner_cards(patch, right=right):
        for entry in card.items:
            corners = [box(entry)] if isinstance(entry, Text) else [*entry.segments]
            for x1, y1, x2, y2 in corners:
                assert min(x1, x2) >= -1e-6
                assert max(x1, x2) <= card.width_mm + 1e-6
                assert min(y1, y2) >= -1e-6
                assert max(y1, y2) <= card.height_mm + 1e-6


@given(patch=patches(), right=st.booleans())
def test_no_word_lies_on_a_line(patch: Patch, right: bool) -> None:
    for card in corner_cards(patch, right=right):
        words = [shapely.box(*box(entry)) for entry in card.items if isinstance(entry, Text)]
        strokes = shapely.MultiLineString(
            [(row[:2], row[2:]) for entry in card.items if isinstance(entry, Lines) for row in entry.segments]
        )
        for word in words:
            assert not word.intersects(strokes)
        for one, other in itertools.combinations(words, 2):
            assert one.intersection(other).area < 1e-6


def test_the_blank_stands_over_edge_and_end_by_hand() -> None:
    # rings square: the seam leaves 1 in 5, so over the end it is 10/5 farther in, and it runs out 5 x 2 farther along
    patch = lay_patch(CHIP, thickness_mm=19.0, ring_deg=90.0)
    blank = corner_cards(patch)[1]
    c = patch.reach_mm(0.0)
    wide, high = c + LONG_MM / 5 + OVER_MM, LONG_MM + 5 * (c + OVER_MM)
    assert lengths(lines(blank.items, Role.KNIFE)) == pytest.approx(sorted((wide, high, math.hypot(wide, high))))
    (arrow, *_) = (row for row in lines(blank.items, Role.MARK) if row[0] == row[2])
    assert arrow[3] - arrow[1] == pytest.approx(high - 4.0)


@given(slip=slips())
def test_a_slip_is_drawn_with_its_taper_full_size(slip: Slip) -> None:
    card = slip_card(slip, "sliver")
    knife = lines(card.items, Role.KNIFE)
    level = sorted(abs(row[2] - row[0]) for row in knife if row[1] == row[3])
    wanted = sorted((slip.tip_mm, slip.head_mm, slip.length_mm, slip.length_mm))
    assert level == pytest.approx(wanted)
    high = max(max(row[1], row[3]) for row in knife) - min(min(row[1], row[3]) for row in knife)
    assert high == pytest.approx(slip.depth_mm + slip.handle_mm)
    (surface,) = lines(card.items, Role.FOLD)
    assert surface[1] - min(min(row[1], row[3]) for row in knife) == pytest.approx(slip.depth_mm)


def test_a_patch_too_long_for_its_paper_asks_for_larger() -> None:
    long = lay_patch(Break(width_mm=60.0, depth_mm=19.0, length_mm=120.0), thickness_mm=19.0, ring_deg=90.0)
    with pytest.raises(PrintError, match="larger paper would do"):
        card_sheets(corner_cards(long), HEAD, Legend.CORNER, paper("A4"))
    assert len(card_sheets(corner_cards(long), HEAD, Legend.CORNER, None)) == 1


def test_cards_that_dont_fit_one_sheet_go_on_a_second() -> None:
    patch = lay_patch(Break(width_mm=18.0, depth_mm=19.0, length_mm=20.0), thickness_mm=19.0, ring_deg=70.0)
    sheets = card_sheets(corner_cards(patch), HEAD, Legend.CORNER, paper("A4"))
    assert len(sheets) == 2
    assert {(sheet.width_mm, sheet.height_mm) for sheet in sheets} == {(210.0, 297.0)}
