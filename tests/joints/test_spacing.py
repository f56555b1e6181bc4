"""Spacing of tails: widths by hand, what is proposed, and what an error names as the nearest that can be."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import LayoutError
from dovelayout.joints.spacing import (
    LEAST_NECK_MM,
    MOST_TAILS,
    Spacing,
    Span,
    TailRoom,
    proposed_fingers,
    proposed_half_pin_mm,
    proposed_pin_mm,
    weights,
)
from tests.strategies import lengths


def lay_out_tails(*, count: int, **room: Any) -> tuple[Span, ...]:
    return TailRoom(**room).tails(count)


def most_tails(*, room_mm: float, **room: Any) -> int:
    return TailRoom(span=Span(0, room_mm), **room).most


def proposed_count(*, room_mm: float, thickness_mm: float, **room: Any) -> int:
    return TailRoom(span=Span(0, room_mm), **room).proposed_count(thickness_mm=thickness_mm)


def test_spans() -> None:
    span = Span(10, 30)
    assert (span.width_mm, span.middle_mm) == (20, 20)
    assert span.holds(Span(10, 30))
    assert span.holds(Span(12, 13))
    assert not span.holds(Span(9, 13))
    assert not span.holds(Span(29, 31))
    assert span.overlap_mm(Span(25, 40)) == 5
    assert span.overlap_mm(Span(0, 40)) == 20
    assert span.overlap_mm(Span(30, 40)) == 0
    assert span.overlap_mm(Span(50, 60)) == 0


def test_weights() -> None:
    assert weights(3, Spacing.EVEN) == (1, 1, 1)
    assert weights(2, Spacing.CLOSER_AT_EDGES) == (1, 1)
    assert weights(4, Spacing.CLOSER_AT_EDGES) == (0.65, 1, 1, 0.65)
    assert weights(7, Spacing.CLOSER_AT_EDGES) == (0.65, 0.83, 1, 1, 1, 0.83, 0.65)


def test_graduated_by_hand() -> None:
    assert weights(1, Spacing.GRADUATED) == (1,)
    assert weights(4, Spacing.GRADUATED) == pytest.approx((1, 1.2, 1.4, 1.6))


@pytest.mark.parametrize("spacing", list(Spacing))
@pytest.mark.parametrize("count", range(1, 30))
def test_weights_are_one_a_tail_and_even_handed_unless_graduated(count: int, spacing: Spacing) -> None:
    found = weights(count, spacing)
    assert len(found) == count
    assert min(found) > 0
    if spacing is Spacing.GRADUATED:
        assert list(found) == sorted(found)
        assert found[-1] == pytest.approx(1.6 if count > 1 else 1.0)
    else:
        assert found == found[::-1]
        assert max(found) == 1


def test_five_tails_by_hand() -> None:
    # 320 = 2 * 8 + 5 tail + 4 * 6: tails of 56
    spans = lay_out_tails(span=Span(0, 320), count=5, pin_mm=6, half_pin_mm=8, spacing=Spacing.EVEN, flare_mm=19 / 7)
    assert [(span.start_mm, span.end_mm) for span in spans] == [
        (8, 64), (70, 126), (132, 188), (194, 250), (256, 312),
    ]  # fmt: skip


def test_closer_at_the_edges_by_hand() -> None:
    # 100 + 20 = 2 * 5 + 3 * 4 + (0.65 + 1 + 1 + 0.65) u: u = 98 / 3.3
    spans = lay_out_tails(
        span=Span(20, 140), count=4, pin_mm=4, half_pin_mm=5, spacing=Spacing.CLOSER_AT_EDGES, flare_mm=2
    )
    unit = 98 / 3.3
    assert [span.width_mm for span in spans] == pytest.approx([0.65 * unit, unit, unit, 0.65 * unit])
    assert spans[0].start_mm == 25
    assert spans[-1].end_mm == pytest.approx(135)


@given(
    start=lengths(0, 50),
    count=st.integers(1, 12),
    pin=lengths(0.5, 20),
    half=lengths(0, 20),
    neck=lengths(0.1, 40),
    flare=lengths(0.3, 12),
    spacing=st.sampled_from(Spacing),
)
def test_pins_come_out_as_asked_for(
    start: float, count: int, pin: float, half: float, neck: float, flare: float, spacing: Spacing
) -> None:
    shares = weights(count, spacing)
    room = 2 * half + (count - 1) * pin + (neck + 2 * flare) / min(shares) * sum(shares)
    over = Span(start, start + room)
    spans = lay_out_tails(span=over, count=count, pin_mm=pin, half_pin_mm=half, spacing=spacing, flare_mm=flare)
    assert len(spans) == count
    assert spans[0].start_mm - over.start_mm == pytest.approx(half, abs=1e-9)
    assert over.end_mm - spans[-1].end_mm == pytest.approx(half, abs=1e-9)
    for one, other in itertools.pairwise(spans):
        assert other.start_mm - one.end_mm == pytest.approx(pin, abs=1e-9)
    assert min(span.width_mm for span in spans) - 2 * flare == pytest.approx(neck, abs=1e-9)


def _said(**keys: object) -> str:
    given_keys: dict[str, object] = {
        "span": Span(0, 100),
        "count": 9,
        "pin_mm": 6.0,
        "half_pin_mm": 8.0,
        "spacing": Spacing.EVEN,
        "flare_mm": 2.7,
    }
    with pytest.raises(LayoutError) as caught:
        lay_out_tails(**{**given_keys, **keys})  # type: ignore[arg-type]
    return str(caught.value)


def test_too_many_tails_name_the_most_that_fit() -> None:
    # 9: (84 - 48) / 9 - 5.4 = -1.4; 6: (84 - 30) / 6 - 5.4 = 3.6; 7: (84 - 36) / 7 - 5.4 = 1.46, below 3
    assert _said() == "9 tails leave -1.4 mm necks in 100.0 mm; 6 fit"
    lay_out_tails(span=Span(0, 100), count=6, pin_mm=6, half_pin_mm=8, spacing=Spacing.EVEN, flare_mm=2.7)


def test_half_pins_that_are_too_wide_name_the_widest() -> None:
    # one tail needs 5.4 + 3 of 30: (30 - 8.4) / 2 = 10.8
    said = _said(span=Span(0, 30), count=1, half_pin_mm=14.0)
    assert said == "1 tail leaves -3.4 mm necks in 30.0 mm; one tail fits with half_pin 10.8 mm or less"
    (span,) = lay_out_tails(span=Span(0, 30), count=1, pin_mm=6, half_pin_mm=10.8, spacing=Spacing.EVEN, flare_mm=2.7)
    assert span.width_mm - 5.4 == pytest.approx(3.0)


def test_a_slope_that_is_too_steep_names_the_width_needed() -> None:
    said = _said(span=Span(0, 30), count=1, flare_mm=15.0)
    assert said.endswith("no tail fits: the slope and thickness alone need 33.0 mm, a wider board or a finer slope")


def test_more_tails_than_anyone_means() -> None:
    assert _said(count=MOST_TAILS + 1) == f"{MOST_TAILS + 1} tails in one corner is more than 200; check the number"


@given(
    room=lengths(20, 400),
    pin=lengths(1, 20),
    half=lengths(1, 20),
    flare=lengths(0.3, 9),
    spacing=st.sampled_from(Spacing),
)
def test_the_most_tails_fit_and_one_more_does_not(
    room: float, pin: float, half: float, flare: float, spacing: Spacing
) -> None:
    most = most_tails(room_mm=room, pin_mm=pin, half_pin_mm=half, spacing=spacing, flare_mm=flare)

    def least_neck(count: int) -> float:
        shares = weights(count, spacing)
        tails = room - 2 * half - (count - 1) * pin
        return tails * min(shares) / sum(shares) - 2 * flare

    assert most == 0 or least_neck(most) >= LEAST_NECK_MM - 1e-6
    assert all(least_neck(count) < LEAST_NECK_MM + 1e-6 for count in range(most + 1, 60))
    if most:
        spans = lay_out_tails(
            span=Span(0, room), count=most, pin_mm=pin, half_pin_mm=half, spacing=spacing, flare_mm=flare
        )
        assert len(spans) == most
        if least_neck(150) < -1e-6:
            with pytest.raises(LayoutError, match=rf"; {most} fits?$"):
                lay_out_tails(
                    span=Span(0, room), count=150, pin_mm=pin, half_pin_mm=half, spacing=spacing, flare_mm=flare
                )


def test_proposals_by_hand() -> None:
    assert proposed_pin_mm(thickness_mm=19) == 6.0  # 6.08, to the half millimetre
    assert proposed_pin_mm(thickness_mm=8) == 4.5
    assert proposed_half_pin_mm(pin_mm=6.0) == 7.5
    assert proposed_half_pin_mm(pin_mm=3.0) == 5.0
    count = proposed_count(
        room_mm=320, pin_mm=6, half_pin_mm=7.5, spacing=Spacing.EVEN, flare_mm=19 / 7, thickness_mm=19
    )
    # tails near 2.2 * (6 + 38/7) = 25.1: 10 are (305 - 54) / 10 = 25.1
    assert count == 10


def test_nothing_to_propose_is_said() -> None:
    with pytest.raises(LayoutError, match="one tail fits with half_pin"):
        proposed_count(room_mm=20, pin_mm=6, half_pin_mm=8, spacing=Spacing.EVEN, flare_mm=2, thickness_mm=12)


@given(room=lengths(40, 600), thickness=lengths(4, 45), ratio=lengths(4, 10), spacing=st.sampled_from(Spacing))
def test_a_proposed_count_can_be_laid_out(room: float, thickness: float, ratio: float, spacing: Spacing) -> None:
    pin, flare = proposed_pin_mm(thickness_mm=thickness), thickness / ratio
    half = proposed_half_pin_mm(pin_mm=pin)
    keys = {"pin_mm": pin, "half_pin_mm": half, "spacing": spacing, "flare_mm": flare}
    try:
        count = proposed_count(room_mm=room, thickness_mm=thickness, **keys)  # type: ignore[arg-type]
    except LayoutError:
        assert most_tails(room_mm=room, **keys) == 0  # type: ignore[arg-type]
        return
    assert len(lay_out_tails(span=Span(0, room), count=count, **keys)) == count  # type: ignore[arg-type]


# widths by hand: n tails in a room, (room - 2 half pins - (n - 1) pins) / n; wanted: 2.2 x (pin + 2 x flare)
BY_HAND = {"room_mm": 200, "pin_mm": 6, "half_pin_mm": 8, "flare_mm": 3, "thickness_mm": 19}
BROAD = {"pin_mm": 40, "half_pin_mm": 40, "flare_mm": 3, "thickness_mm": 40}


@pytest.mark.parametrize(
    ("given", "count"),
    [
        ({}, 6),  # 190 / 6 - 6 = 25.7 of 26.4
        ({"thickness_mm": 32}, 6),  # necks of 19.7, over 0.6 x 32 = 19.2
        ({"thickness_mm": 35}, 5),  # under 0.6 x 35 = 21
        ({"thickness_mm": 8}, 7),  # 25.7 is over 3 x 8, 21.1 isn't
        ({"room_mm": 46}, 1),  # 30, where two of 12 could be
        ({**BROAD, "room_mm": 652}, 6),  # 612 / 6 - 40 = 62, up to 65
        ({**BROAD, "room_mm": 688}, 7),  # 648 / 6 - 40 = 68 is too wide, 648 / 7 - 40 = 52.6
        # all necks are weak in 40 mm stock: the count nearest to 3.3 mm, but none with a neck under 3 mm
        ({"room_mm": 30, "pin_mm": 0.5, "half_pin_mm": 5, "flare_mm": 0.5, "thickness_mm": 40}, 4),
    ],
)
def test_proposed_count_by_hand(given: dict[str, float], count: int) -> None:
    assert proposed_count(spacing=Spacing.EVEN, **{**BY_HAND, **given}) == count  # type: ignore[arg-type]


def test_a_tail_whose_neck_vanishes_is_refused_and_one_that_has_any_is_laid_out() -> None:
    """20 mm less two half pins of 7 is 6, twice the flare of 3."""
    keys = {"count": 1, "pin_mm": 6, "half_pin_mm": 7, "spacing": Spacing.EVEN}
    with pytest.raises(LayoutError, match=r"leaves 0.0 mm necks"):
        lay_out_tails(span=Span(0, 20), flare_mm=3, **keys)  # type: ignore[arg-type]
    assert lay_out_tails(span=Span(0, 20), flare_mm=2.99, **keys) == (Span(7, 13),)  # type: ignore[arg-type]


@pytest.mark.parametrize(("pin_mm", "half_pin_mm"), [(3.0, 5.0), (6.0, 7.5), (6.1, 7.5), (6.3, 8.0), (10.0, 12.5)])
def test_a_proposed_half_pin_is_a_quarter_more_than_a_pin_in_halves(pin_mm: float, half_pin_mm: float) -> None:
    assert proposed_half_pin_mm(pin_mm=pin_mm) == half_pin_mm


@pytest.mark.parametrize(("thickness_mm", "pin_mm"), [(10.0, 4.5), (19.0, 6.0), (22.0, 7.0), (25.4, 8.0)])
def test_a_proposed_pin_is_about_a_third_of_the_board_in_halves(thickness_mm: float, pin_mm: float) -> None:
    assert proposed_pin_mm(thickness_mm=thickness_mm) == pin_mm


def test_where_not_even_one_tail_fits_its_neck_is_named() -> None:
    """30 mm less twice 12 and twice 3 of flare leaves none; with half pins of 10.5 one of 3 mm is left."""
    keys = {"room_mm": 30, "pin_mm": 6, "half_pin_mm": 12, "flare_mm": 3, "thickness_mm": 12}
    with pytest.raises(
        LayoutError, match=r"1 tail leaves 0.0 mm necks in 30.0 mm; one tail fits with half_pin 10.5 mm"
    ):
        proposed_count(spacing=Spacing.EVEN, **keys)  # type: ignore[arg-type]


def test_a_neck_of_six_tenths_of_the_thickness_is_not_weak() -> None:
    """Wanted 2.2 x (4 + 2) = 13.2: one tail of 20 misses it by 6.8, two of 8 by 5.2, with necks of 6 in 10 mm stock."""
    keys = {"room_mm": 30, "pin_mm": 4, "half_pin_mm": 5, "flare_mm": 1, "spacing": Spacing.EVEN}
    assert proposed_count(thickness_mm=10, **keys) == 2  # type: ignore[arg-type]
    assert proposed_count(thickness_mm=10.1, **keys) == 1  # type: ignore[arg-type]


def test_no_half_pin_of_nothing_is_named() -> None:
    """(9.1 - 6 - 3) / 2 is 0.05 mm, down to a tenth: none; 9.2 leaves one of a tenth."""
    assert "no tail fits" in _said(span=Span(0, 9.1), count=1, flare_mm=3.0)
    assert "one tail fits with half_pin 0.1 mm or less" in _said(span=Span(0, 9.21), count=1, flare_mm=3.0)


def test_the_most_tails_of_any_corner_is_the_documented_most() -> None:
    """200 tails in 2000 mm are (2000 - 2 - 199) / 200 = 9 mm each, and more would fit."""
    keys = {"room_mm": 2000, "pin_mm": 1, "half_pin_mm": 1, "flare_mm": 0.3, "spacing": Spacing.EVEN}
    assert most_tails(**keys) == MOST_TAILS == 200  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("room_mm", "thickness_mm", "least", "count"),
    [
        (21, 3, 1, 3),  # 7 fingers of 3 mm in all, the narrowest that are sawn
        (21, 1, 1, 3),  # no narrower in thinner stock
        (20.9, 1, 1, 2),
        (99, 9, 1, 5),  # 11 of 9 mm
        (60, 19, 1, 1),  # 3 of 20 mm
        (60, 19, 2, 2),  # 5 of 12 mm, where two are needed
    ],
)
def test_proposed_fingers_by_hand(room_mm: float, thickness_mm: float, least: int, count: int) -> None:
    assert proposed_fingers(room_mm=room_mm, thickness_mm=thickness_mm, least=least) == count


def test_one_finger_is_the_least_unless_more_are_asked_for() -> None:
    assert proposed_fingers(room_mm=20, thickness_mm=19) == 1
