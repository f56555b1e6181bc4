"""Small lengths in shavings, paper and card: thicknesses are ours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.everyday import shaving_words, spacer_words


@pytest.mark.parametrize(
    ("value_mm", "words"),
    [
        (0.0, "nothing: cut to the line"),
        (0.02, "0.4 of a fine shaving of 0.05 mm, 0.2 of a sheet of 0.1 mm office paper"),
        (0.05, "a fine shaving of 0.05 mm, 0.5 of a sheet of 0.1 mm office paper"),
        (0.25, "5 fine shavings of 0.05 mm, 2.5 sheets of 0.1 mm office paper"),
    ],
)
def test_a_fit_in_shavings(value_mm: float, words: str) -> None:
    assert shaving_words(value_mm) == words


@pytest.mark.parametrize(
    ("gap_mm", "words"),
    [
        (0.05, "too little for a spacer"),
        (0.1, "one sheet of office paper (0.1 mm) as a spacer"),
        (0.2, "two sheets of office paper (0.2 mm) as a spacer"),
        (0.3, "one thickness of thin card (0.3 mm) as a spacer"),
        (0.6, "two thicknesses of thin card (0.6 mm) as a spacer"),
        (0.65, "two thicknesses of thin card (0.6 mm) as a spacer"),
        (0.66, "that is too little here: a strip planed to 0.7 mm"),
        (3.2, "two thicknesses of thin card (about 0.6 mm) make a handy spacer, but that is too little here"),
    ],
)
def test_a_spacer_for_a_gap_or_that_card_is_too_little(gap_mm: float, words: str) -> None:
    assert words in spacer_words(gap_mm)


@given(st.floats(0, 50))
def test_any_length_has_words(value_mm: float) -> None:
    assert shaving_words(value_mm)
    assert spacer_words(value_mm)
