"""Words: endings, slips of the pen, and which entry of the table of concepts wins."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.repair.symptoms.ranking import index
from dovelayout.repair.symptoms.words import AMOUNT, BREAK, NOT, asks, distance, lexicon, pairs, stem, tokens

WORDS = st.text(alphabet="abcdeg", max_size=8)


def concepts(text: str) -> list[str]:
    """The concepts of a text in order."""
    return [name for _, name in lexicon().read(tokens(text)).concepts]


@pytest.mark.parametrize(
    ("words", "one"),
    [
        (("stick", "sticks", "sticking"), "stick"),
        (("stop", "stops", "stopped", "stopping"), "stop"),
        (("gap", "gaps", "gape", "gaping"), "gap"),
        (("box", "boxes"), "box"),
        (("twist", "twisted", "twists"), "twist"),
        (("moulding",), "moulding"),
        (("glass",), "glass"),
        (("thing",), "thing"),
    ],
)
def test_words_lose_their_endings(words: tuple[str, ...], one: str) -> None:
    assert {stem(word) for word in words} == {one}


def test_a_moulding_is_not_mould_and_a_housing_no_house() -> None:
    assert stem("moulding") != stem("mould")
    assert stem("housing") != stem("house")


def test_denials_and_figures_are_one_word_each() -> None:
    for text in (
        "it won't close",
        "it doesn't close",
        "it does not close",
        "it cannot close",
        "it wont close",
        "it never closes",
    ):
        assert NOT in tokens(text)
        assert "not-home" in concepts(text)
    assert tokens("a gap of 1/32 in, at 90 degrees") == ["a", "gap", "of", AMOUNT, BREAK, "at", "ninety"]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("the tails stick out", ["tail", "proud"]),
        ("the drawer sticks", ["drawer", "stuck"]),
        ("the fronts are proud", ["drawer-front", "proud"]),
        ("at the top of the case", ["case"]),
        ("the top split", ["top", "crack"]),
        ("the back of the drawer", ["drawer-back"]),
        ("the back of the cabinet", ["back-panel"]),
        ("the kerf runs past the baseline", ["kerf", "overcut", "baseline"]),
        ("slot too wide for the shelf", ["housing", "loose", "shelf"]),
    ],
)
def test_the_longest_entry_wins_and_uses_its_words_up(text: str, names: list[str]) -> None:
    assert concepts(text) == names


def test_filler_words_may_stand_between_and_others_may_not() -> None:
    assert concepts("it sticks right out") == ["stuck"]
    assert concepts("it really will not quite close") == ["not-home"]


@pytest.mark.parametrize(
    ("text", "denied"),
    [
        ("the lap isn't gaping", True),
        ("no crack anywhere", True),
        ("without any twist", True),
        ("the joint won't close", False),
        ("not flush at the corner", False),
        ("I don't know why it is twisted", False),
    ],
)
def test_a_denial_counts_unless_it_belongs_to_a_trouble(text: str, denied: bool) -> None:
    assert lexicon().read(tokens(text)).denied is denied


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("the lid is not twisted, but hollow across its width", ["lid", "cup"]),
        ("no crack, yet the tail is loose", ["tail", "loose"]),
        ("nothing, the tail is loose", ["tail", "loose"]),
        ("without a crack in the side", ["side"]),
    ],
)
def test_what_is_denied_is_not_said(text: str, names: list[str]) -> None:
    assert concepts(text) == names


def test_no_entry_goes_on_behind_a_mark() -> None:
    assert "summer" in concepts("it was flush in winter")
    assert "summer" not in concepts("it was flush, in winter it isn't")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("drawwer", "drawer"), ("drwer", "drawer"), ("dovetial", "dovetail"), ("clmaps", "clamps"), ("basline", "baseline"),
        ("sholuder", "shoulder"), ("carcse", "carcase"), ("crak", "crack"), ("breadbaord", "breadboard"),
    ],
)  # fmt: skip
def test_slips_of_the_pen_are_repaired(typed: str, meant: str) -> None:
    assert stem(index().speller.nearest(typed)) == stem(meant)


@pytest.mark.parametrize(
    "word", ["trail", "grave", "calls", "style", "stock", "world", "power", "xq", "zzzzzz", "märz"]
)
def test_plain_words_are_left_alone(word: str) -> None:
    assert index().speller.nearest(word) == word


@given(one=WORDS, other=WORDS)
def test_distance_is_a_distance(one: str, other: str) -> None:
    found = distance(one, other, 20)
    assert found == distance(other, one, 20)
    assert (found == 0) is (one == other)
    assert abs(len(one) - len(other)) <= found <= max(len(one), len(other))
    for most in (0, 1, 2):
        assert distance(one, other, most) == min(found, most + 1)


@given(word=st.text(alphabet="abcdeg", min_size=2, max_size=8), place=st.integers(0, 6))
def test_a_letter_wrong_missing_doubled_or_exchanged_is_one(word: str, place: int) -> None:
    place %= len(word) - 1
    for typed in (
        f"{word[:place]}z{word[place + 1 :]}",
        word[:place] + word[place + 1 :],
        word[:place] + word[place] + word[place:],
        word[:place] + word[place + 1] + word[place] + word[place + 2 :],
    ):
        assert distance(word, typed, 3) == (typed != word)


def test_pairs_are_of_neighbours_and_have_no_order() -> None:
    said = [(0, "gap"), (2, "lap"), (9, "one")]
    assert list(pairs(said, 4)) == ["gap lap"]
    assert list(pairs([(0, "lap"), (2, "gap")], 4)) == ["gap lap"]
    assert list(pairs([(0, "gap"), (1, "gap")], 4)) == []


@pytest.mark.parametrize("text", ["Should I glue it?", "will it crack", "What if it splits", "can I plane it"])
def test_questions_about_what_will_be_are_known(text: str) -> None:
    assert asks(text)


@pytest.mark.parametrize("text", ["Why does my drawer stick?", "it shouldn't stick", "wills box is twisted"])
def test_reports_are_no_questions(text: str) -> None:
    assert not asks(text)


@given(text=st.text(max_size=60))
def test_any_text_is_read(text: str) -> None:
    read = index().read(text)
    assert read.names <= lexicon().concepts
