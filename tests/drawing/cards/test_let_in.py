"""Cards of what is let in at a joint: read back from the files, every line where the sizes put it, at true scale."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.drawing.cards.card import Card, card_sheets
from dovelayout.drawing.cards.let_in import MOST_LONG_MM, baseline_cards, new_pin_cards, shim_card
from dovelayout.drawing.cards.patch import slip_card
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import Item, Lines, Role, Stroke, Text
from dovelayout.drawing.sheets.frame import Legend
from dovelayout.drawing.style import Heading
from dovelayout.joints.slope import Slope
from dovelayout.paper import paper
from dovelayout.render.pdf import pdf_bytes
from dovelayout.render.svg import svg_text
from dovelayout.repair.broken import SnappedPin, TornBaseline
from dovelayout.repair.loose import LooseCorner, LooseKey
from tests import readers
from tests.repairs import pins, torn_baselines
from tests.strategies import lengths

HEAD = Heading(job="repair", what="New pin")
PIN = SnappedPin(narrow_mm=6.0, wide_mm=10.0, length_mm=16.0, thickness_mm=20.0)
TORN = TornBaseline(socket_mm=11.0, below_mm=1.5, into_mm=3.0, thickness_mm=16.0)


def lines(items: tuple[Item, ...], role: Role) -> list[Stroke]:
    return [row for item in items if isinstance(item, Lines) and item.role is role for row in item.segments]


def measured(rows: list[Stroke]) -> list[float]:
    return sorted(math.dist(row[:2], row[2:4]) for row in rows)


@st.composite
def keys(draw: st.DrawFn) -> LooseKey:
    """A key that gets a shim."""
    return LooseKey(
        gap_mm=draw(lengths(0.11, 3)),
        depth_mm=draw(lengths(2, 30)),
        length_mm=draw(lengths(10, 600)),
        slope=draw(st.none() | st.just(Slope(7.0))),
    )


@st.composite
def cards(draw: st.DrawFn) -> tuple[Card, ...]:
    """The cards of any repair of this room."""
    kind = draw(st.integers(0, 2))
    if kind == 0:
        return new_pin_cards(draw(pins()), right=draw(st.booleans()))
    return baseline_cards(draw(torn_baselines())) if kind == 1 else (shim_card(draw(keys())),)


@given(made=cards())
def test_everything_lies_within_its_card_and_no_word_on_a_line(made: tuple[Card, ...]) -> None:
    for card in made:
        words = [shapely.box(*box(entry)) for entry in card.items if isinstance(entry, Text)]
        strokes = [row for entry in card.items if isinstance(entry, Lines) for row in entry.segments]
        for x1, y1, x2, y2 in [*strokes, *(word.bounds for word in words)]:
            assert min(x1, x2, y1, y2) >= -1e-6
            assert max(x1, x2) <= card.width_mm + 1e-6
            assert max(y1, y2) <= card.height_mm + 1e-6
        drawn = shapely.MultiLineString([(row[:2], row[2:]) for row in strokes])
        for word in words:
            assert not word.intersects(drawn)
        for one, other in itertools.combinations(words, 2):
            assert one.intersection(other).area < 1e-6


@given(pin=pins(), right=st.booleans())
def test_the_notch_is_the_pins_section_and_its_root_on_both_faces(pin: SnappedPin, right: bool) -> None:
    notch = new_pin_cards(pin, right=right)[0]
    slant = math.hypot(pin.thickness_mm, (pin.wide_mm - pin.narrow_mm) / (1 if pin.half else 2))
    sides = 1 if pin.half else 2
    wanted = [pin.narrow_mm, pin.wide_mm, *[pin.root_mm] * 2 * sides, *[slant] * sides]
    assert measured(lines(notch.items, Role.KNIFE)) == pytest.approx(sorted(wanted), abs=1e-6)
    folds = sorted(row[1] for row in lines(notch.items, Role.FOLD))
    assert folds[1] - folds[0] == pytest.approx(pin.thickness_mm)


@given(pin=pins(), right=st.booleans())
def test_the_hatching_is_the_notch_and_nothing_else(pin: SnappedPin, right: bool) -> None:
    section = shapely.Polygon(pin.section())
    area = section.area + pin.root_mm * (pin.narrow_mm + pin.wide_mm)
    around = section.length + 2 * (pin.narrow_mm + pin.wide_mm + 2 * pin.root_mm)
    hatched = sum(measured(lines(new_pin_cards(pin, right=right)[0].items, Role.HATCH))) * 1.5
    assert abs(hatched - area) <= 1.5 * around


def test_the_papers_of_both_edges_are_each_others_mirror_image() -> None:
    half = SnappedPin(narrow_mm=8.0, wide_mm=10.7, length_mm=16.0, thickness_mm=19.0, half=True)
    left, right = (new_pin_cards(half, right=hand) for hand in (False, True))
    for one, other in zip(left, right, strict=True):
        across = [sorted((row[0], row[2]) for row in lines(card.items, Role.KNIFE)) for card in (one, other)]
        assert across[0] != across[1]
        assert measured(lines(one.items, Role.KNIFE)) == pytest.approx(measured(lines(other.items, Role.KNIFE)))
    # seen from outside, the left one's straight side is on the left of its paper: hatching begins at the outline
    outline, hatched = (lines(left[0].items, role) for role in (Role.OUTLINE, Role.HATCH))
    assert min(min(row[0], row[2]) for row in hatched) - min(row[0] for row in outline) < 1.5


def test_a_new_pin_is_read_back_from_pdf_and_svg_at_true_scale() -> None:
    made = new_pin_cards(PIN)
    # notch 6 and 10 wide, 16 deep, its slants hypot(20, 2)
    # new pin 10.1 by 42; its end 5.9 and 10.1 wide and 21 thick, its slants hypot(21, 2.1)
    slant, end = math.hypot(20, 2), math.hypot(21, 2.1)
    wanted = sorted([6, 10, *[16] * 4, slant, slant, 10.1, 10.1, 42, 42, 5.9, 10.1, end, end])
    assert measured(lines(tuple(item for card in made for item in card.items), Role.KNIFE)) == pytest.approx(wanted)
    drawn = readers.svg_drawing(svg_text(card_sheets(made, HEAD, Legend.LET_IN, None)[0])).strokes["knife"]
    assert sorted(math.dist(row[:2], row[2:4]) for row in drawn) == pytest.approx(wanted, abs=0.01)
    page = readers.pdf_segments(pdf_bytes(card_sheets(made, HEAD, Legend.LET_IN, paper("A4")), title="pin"))
    found = sorted(math.dist(row[:2], row[2:4]) for row in page)
    for length in set(wanted):
        assert min(abs(length - one) for one in found) < 0.02


def test_a_patch_for_a_baseline_by_hand() -> None:
    (card,) = baseline_cards(TORN)
    # from the face: 11 wide, 2 over the line and 2.5 below it, two slanting sides of a point 5.5 deep; its section 4.5 by 10
    slant = math.hypot(5.5, 5.5)
    assert measured(lines(card.items, Role.KNIFE)) == pytest.approx(
        sorted([11, 4.5, 4.5, slant, slant, 4.5, 4.5, 10, 10])
    )
    (baseline,) = lines(card.items, Role.FOLD)
    top = max(row[1] for row in lines(card.items, Role.KNIFE))
    assert top - baseline[1] == pytest.approx(2.0)


@given(torn=torn_baselines())
def test_a_patch_for_a_baseline_is_as_wide_as_its_socket(torn: TornBaseline) -> None:
    (card,) = baseline_cards(torn)
    knife = lines(card.items, Role.KNIFE)
    assert min(abs(length - torn.socket_mm) for length in measured(knife)) < 1e-9
    assert sum(abs(length - torn.socket_mm / math.sqrt(2)) < 1e-6 for length in measured(knife)) >= 2


@given(key=keys())
def test_a_shim_is_drawn_as_wide_as_its_cheek(key: LooseKey) -> None:
    found = measured(lines(shim_card(key).items, Role.KNIFE))
    for length in (key.gap_mm, key.shim_wide_mm, min(key.length_mm, MOST_LONG_MM)):
        assert min(abs(length - one) for one in found) < 1e-9
    assert bool(lines(shim_card(key).items, Role.NOTE)) is (key.length_mm > MOST_LONG_MM)


def test_a_wedge_is_drawn_with_its_taper() -> None:
    wedge = LooseCorner(gap_mm=0.4, depth_mm=18.0, length_mm=16.0).wedge
    assert wedge is not None
    knife = lines(slip_card(wedge, "wedge").items, Role.KNIFE)
    level = sorted(abs(row[2] - row[0]) for row in knife if row[1] == row[3])
    assert level == pytest.approx([0.4, 0.95, 18.0, 18.0])
    high = max(max(row[1], row[3]) for row in knife) - min(min(row[1], row[3]) for row in knife)
    assert (0.95 - 0.4) / high == pytest.approx(1 / 60)
