"""The cut list: equal parts in a row, names drawn together, and whether it adds up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.drawer.cut_list import all_add_up, cut_list
from dovelayout.words import listed
from tests.drawer_jobs import drawer_job
from tests.jobs import loaded


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ([], ""),
        (["top"], "top"),
        (["row 1", "row 2"], "row 1, row 2"),
        (["row 1", "row 2", "row 3"], "row 1 to 3"),
        (["row 1", "row 2", "row 3", "row 5", "A9", "A10", "A11", "A12"], "row 1 to 3, row 5, A9 to 12"),
        (["row 1 front left", "row 2 front left", "row 3 front left"], "row 1 to 3 front left"),
        (["a 01", "a 02", "a 03"], "a 01, a 02, a 03"),  # not the way we number
    ],
)
def test_names_in_a_row(names: list[str], said: str) -> None:
    assert listed(names) == said


@given(st.lists(st.text(max_size=8), max_size=8))
def test_any_names_can_be_listed(names: list[str]) -> None:
    said = listed(names)
    assert all(name in said for name in (names[:1] if len(names) == 1 else []))


def test_equal_drawers_share_their_rows() -> None:
    job = loaded(
        {
            "drawers": {"species": "white oak"},
            "bank": [{"name": "row", "width": 300, "depth": 320, "height": 640, "count": 6}],
        }
    )
    rows = {row.role: row for row in cut_list(job.drawers)}
    assert {role: row.count for role, row in rows.items()} == {"front": 6, "side": 12, "back": 6, "bottom": 6}
    assert rows["front"].drawers == tuple(f"row {n}" for n in range(1, 7))


def test_every_part_of_every_drawer_is_on_it_once() -> None:
    job = loaded(drawer_job(side_thickness=9, muntin=True, centre_guide=True, width=800, depth=560))
    rows = cut_list(job.drawers)
    assert [row.role for row in rows] == ["front", "side", "back", "bottom", "slip", "muntin", "centre guide"]
    assert sum(row.count for row in rows) == sum(part.board.count for part in job.drawers[0].parts) == 10


def test_it_says_whether_it_adds_up() -> None:
    assert all_add_up(loaded(drawer_job()).drawers) == "Every part adds up: 7 sums over 1 drawer come out."
    assert "d DON'T add up" in all_add_up(loaded(drawer_job(front_width=420)).drawers)
