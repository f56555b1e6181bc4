"""Places: what names and parts they are made of, and their words."""

from __future__ import annotations

import pytest

from dovelayout.place import Place


@pytest.mark.parametrize(
    ("place", "words", "quoted"),
    [
        (Place(kind="corner", name="A", part="pin", number=2), "corner A, pin 2", "corner 'A', pin 2"),
        (Place(kind="corner", name="A", also=("B",), part="lap"), "corners A, B, lap", "corners 'A', 'B', lap"),
        (
            Place(kind="board", name="side, left", end="right"),
            "board side, left, right end",
            "board 'side, left', right end",
        ),
        (Place(kind="corner", name="A", key="tail_count"), "corner A, key tail_count", "corner 'A', key tail_count"),
        (Place(kind="corner", number=3, key="pins"), "corner number 3, key pins", "corner number 3, key pins"),
        (
            Place(kind="board", name="top", key="cutout.2.width"),
            "board top, key cutout number 2 width",
            "board 'top', key cutout number 2 width",
        ),
        (Place(kind="row", number=4, part="column width"), "row 4, column width", "row 4, column width"),
        (Place(kind="shop", key="glue"), "shop, key glue", "shop, key glue"),
        (Place(kind="", key="units"), "key units", "key units"),
        (Place(kind="--only"), "--only", "--only"),
    ],
)
def test_words_for_people(place: Place, words: str, quoted: str) -> None:
    assert str(place) == words
    assert place.quoted == quoted


def test_runs_of_names_are_drawn_together() -> None:
    place = Place(kind="drawer", name="reels 1", also=("reels 2", "reels 3"), part="behind it")
    assert str(place) == "drawers reels 1 to 3, behind it"


def test_names_that_look_like_words_of_a_place_stay_names() -> None:
    one, other = Place(kind="board", name="side", part="left"), Place(kind="board", name="side, left")
    assert str(one) == str(other)
    assert one != other


def test_a_key_within_a_table() -> None:
    place = Place(kind="corner", name="A").at(key="groove").at(key="depth")
    assert place == Place(kind="corner", name="A", key="groove.depth")
