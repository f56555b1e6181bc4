"""Changes of a job: their words, their JSON, and several of them together."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.change import Change, change_words, changes_json, changes_of, merged_changes

PIN = Change(table="corner", name="A", key="pin", value="7 mm")
COUNT = Change(table="corner", name="A", key="tail_count", value=4)
WIDTH = Change(table="board", name="side", key="width", value="90 mm")


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"pin": "7 mm"}, "pin 7 mm"),
        ({"half_pin": "7.5 mm", "tail_count": 4}, "half pin 7.5 mm and tail count 4"),
        ({"slope": "1:6"}, "slope 1:6 (9.5°)"),
        ({"back_slope": "1:7"}, "back slope 1:7 (8.1°)"),
        ({"tails_at": [["8 mm", "40 mm"], ["50 mm", "90.5 mm"]]}, "tails at 8 mm to 40 mm, 50 mm to 90.5 mm"),
        ({"muntin": True, "slips": False}, "muntin on and slips off"),
        ({"lip": {"overhang": "8 mm", "thickness": "6 mm"}}, "lip overhang 8 mm, thickness 6 mm"),
        ({"glue": [["0 mm", "76 mm"]], "screws": []}, "glue 0 mm to 76 mm and screws "),
    ],
)
def test_words_name_keys_and_values_as_a_maker_does(values: dict[str, Any], words: str) -> None:
    assert change_words(changes_of("corner", "A", values)) == words


def test_json_has_the_keys_of_a_table_together() -> None:
    assert changes_json([PIN, COUNT, WIDTH]) == [
        {"table": "corner", "name": "A", "values": {"pin": "7 mm", "tail_count": 4}},
        {"table": "board", "name": "side", "values": {"width": "90 mm"}},
    ]
    assert changes_json([]) == []


def test_of_several_words_on_one_key_the_last_counts() -> None:
    other = Change(table="corner", name="A", key="pin", value="8 mm")
    elsewhere = Change(table="corner", name="B", key="pin", value="9 mm")
    assert merged_changes([PIN, WIDTH], [COUNT, other], [elsewhere]) == (other, WIDTH, COUNT, elsewhere)
