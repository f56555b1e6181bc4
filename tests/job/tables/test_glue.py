"""[shop] glue and [glue]: a row of the glue table, the label's own numbers over it, or a glue of the maker's own."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dovelayout.errors import JobError
from dovelayout.wood.glue import Glue, find_glue
from tests.jobs import corner_job, loaded

OWN: dict[str, Any] = {
    "name": "The blue bottle",
    "open": 7,
    "closed": [9, 12],
    "clamp": 45,
    "floor": "55 F",
    "gap": 0.2,
    "water": 0.5,
    "spread": 160,
    "swell": 0.8,
}


def glue_of(*, shop: str | None = None, label: dict[str, Any] | None = None) -> Glue | None:
    tables = corner_job(shop={} if shop is None else {"glue": shop})
    if label is not None:
        tables["glue"] = label
    return loaded(tables).shop.glue


def test_a_job_without_a_glue_has_none() -> None:
    assert glue_of() is None
    assert glue_of(shop="") is None
    assert glue_of(shop="  ") is None


@pytest.mark.parametrize("name", ["pva", "PVA", " white  pva ", "wood glue", "White-Glue"])
def test_a_glue_is_found_by_any_of_its_names(name: str) -> None:
    assert glue_of(shop=name) is find_glue("pva")


def test_the_labels_numbers_lie_over_the_row() -> None:
    glue = glue_of(shop="pva", label={"name": "Slow white", "open": [12, 15], "floor": "50 F", "gap": "0.005 in"})
    expected = replace(
        find_glue("pva"), name="Slow white", open_minutes=(12, 15), closed_minutes=(12, 15), floor_c=10.0, gap_mm=0.127
    )
    assert glue == expected


def test_a_label_may_name_the_row_itself() -> None:
    assert glue_of(label={"name": "liquid hide", "open": 20}) == replace(
        find_glue("liquid hide"), name="liquid hide", open_minutes=(20, 20)
    )


@pytest.mark.parametrize("shop", [None, "the BLUE bottle"])
def test_a_glue_of_the_makers_own_needs_no_row(shop: str | None) -> None:
    glue = glue_of(shop=shop, label=OWN)
    assert glue is not None
    assert (glue.id, glue.name) == ("own", "The blue bottle")
    assert (glue.open_minutes, glue.closed_minutes, glue.clamp_minutes) == ((7, 7), (9, 12), (45, 45))
    assert glue.floor_c == pytest.approx((55 - 32) / 1.8)
    assert (glue.gap_mm, glue.water_share, glue.spread_g_m2, glue.swell_factor) == (0.2, 0.5, 160, 0.8)


def test_a_label_with_only_a_closed_time_shortens_the_rows_open_time() -> None:
    glue = glue_of(shop="pva", label={"closed": 8})
    assert glue is not None
    assert (glue.open_minutes, glue.closed_minutes) == ((5, 8), (8, 8))


def test_without_water_nothing_swells_and_with_water_the_worst_is_taken() -> None:
    dry = glue_of(shop="pva", label={"water": 0})
    wet = glue_of(shop="epoxy", label={"water": 0.4})
    assert dry is not None
    assert wet is not None
    assert (dry.has_water, dry.swell_factor) == (False, 0.0)
    assert (wet.has_water, wet.swell_factor) == (True, 1.0)


@pytest.mark.parametrize(
    ("shop", "label", "said"),
    [
        ("pvaa", None, "shop, key glue: glue 'pvaa' is not known; did you mean pva?"),
        ("yelow glue", None, "did you mean yellow pva?"),
        ("spit", None, "known: pva, yellow pva"),
        (None, {"open": 5}, 'glue: says which numbers, but not of which glue; name its type: [shop] glue = "pva"'),
        (
            None,
            {"name": "blue", "open": 5},
            "its closed, clamp, floor, gap, water, spread, swell are missing; add them",
        ),
        (None, {**OWN, "gap": None}, "its gap is missing"),
        ("spit", {**OWN}, "shop, key glue: glue 'spit' is not known"),
        ("pva", {"open": 0}, "glue, key open: 0"),
        ("pva", {"open": [10, 5]}, "the cautious figure first"),
        ("pva", {"open": [1, 2, 3]}, "minutes are wanted"),
        ("pva", {"open": "5"}, "minutes are wanted, such as 8 or [5, 10], not a text"),
        ("pva", {"open": True}, "minutes are wanted"),
        ("pva", {"open": float("nan")}, "minutes, the cautious figure first"),
        ("pva", {"open": 20, "closed": 10}, "glue, key closed: 10 minutes is less than the 20"),
        ("pva", {"water": 1}, "glue, key water: 1 is out of range; less than 1 would be right"),
        ("epoxy", {"swell": 0.5}, "glue, key swell: 0.5 of no water at all"),
        ("pva", {"opn": 5}, "glue, key opn: this key is not known; did you mean open?"),
        ("pva", {"name": "\u200b"}, "prints as nothing"),
    ],
)
def test_what_is_wrong_is_told_in_one_line(shop: str | None, label: dict[str, Any] | None, said: str) -> None:
    given = None if label is None else {key: value for key, value in label.items() if value is not None}
    with pytest.raises(JobError) as caught:
        glue_of(shop=shop, label=given)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)
