"""[rehearsal] and [shop] fit: what the maker's hand misses by, and how full the cheeks are cut."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.errors import JobError
from dovelayout.shop import Hand
from tests.jobs import corner_job, loaded


def hand_of(**keys: Any) -> Hand:
    return loaded({**corner_job(), "rehearsal": keys}).shop.hand


def test_what_is_left_out_is_ours() -> None:
    assert loaded(corner_job()).shop.hand == Hand()
    assert hand_of(sawing=0.1, placing="0.01 in", held_flush=True) == Hand(
        sawing_mm=0.1, placing_mm=0.254, held_flush=True
    )
    assert hand_of(marking=0, transfer=0) == Hand(marking_mm=0, transfer_mm=0)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"sawing": -0.1}, "rehearsal, key sawing: -0.1 is -0.1 mm; 0 to 2 mm would be right"),
        ({"sawing": 5}, "0 to 2 mm would be right"),
        ({"sawing": True}, "a length is wanted"),
        ({"swing": 0.1}, "this key is not known; did you mean sawing?"),
        ({"held_flush": "perhaps"}, "rehearsal, key held_flush"),
    ],
)
def test_what_is_wrong_is_told(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(JobError) as caught:
        hand_of(**keys)
    assert said in str(caught.value)


@pytest.mark.parametrize("fit", [-0.01, 2.1, "1/2 in"])
def test_a_fit_is_between_0_and_2_mm(fit: Any) -> None:
    with pytest.raises(JobError, match=r"shop, key fit: .*; 0 to 2 mm would be right"):
        loaded(corner_job(shop={"fit": fit}))
