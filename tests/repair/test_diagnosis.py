"""Symptoms: each is found by its own words, and what is in doubt is listed, never guessed."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.checks.finding import Level
from dovelayout.errors import LayoutError
from dovelayout.repair.diagnosis import (
    MOST_LETTERS,
    MOST_LISTED,
    Symptom,
    air_change,
    all_symptoms,
    diagnose,
    find_symptom,
)
from dovelayout.wood.moisture import Direction, emc_pct, size_change_share
from dovelayout.wood.species import find_wood

ROWS = tuple(all_symptoms().values())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_each_symptom_is_found_by_its_title_and_by_its_name(row: Symptom) -> None:
    found = diagnose(row.title)
    assert found.sure
    assert found.symptoms == (row,)
    assert find_symptom(row.id.upper().replace("-", " ")) is row


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_each_symptom_says_cause_test_and_remedy_and_needs_two_words_of_its_own(row: Symptom) -> None:
    assert all((row.cause, row.tell, row.remedy, row.source))
    assert len(row.words) >= 2
    assert all(row.words)
    assert row.air in ("", "drier", "damper")


@pytest.mark.parametrize(
    ("report", "symptom"),
    [
        ("gap at the lap, one socket only", "lap-gap-one-socket"),
        ("there's an opening at the front beside a single socket", "lap-gap-one-socket"),
        ("every socket has a gap at its lap", "lap-gap-all-sockets"),
        ("I sawed on the wrong side of the line", "wrong-side-of-the-line"),
        ("Cut to the wrong side of the knife line!", "wrong-side-of-the-line"),
        ("back transferred mirror-image", "back-mirrored"),
        ("drawer stuck after moving to a drier place", "drawer-stuck-drier"),
        ("the drawers are sticking in the summer", "drawer-stuck-damper"),
        ("drawer jammed, it is humid", "drawer-stuck-damper"),
        ("joints open in winter, flush in summer", "open-in-winter"),
        ("went half-way and stopped", "half-way-and-stopped"),
        ("it slid half way home and seized", "half-way-and-stopped"),
        ("laps blown out", "laps-blown-out"),
        ("tails proud in winter", "proud-in-winter"),
        ("a corner of the tail chipped", "corner-broken"),
        ("box rocks on the bench", "twisted"),
    ],
)
def test_words_of_a_maker(report: str, symptom: str) -> None:
    found = diagnose(report)
    assert [row.id for row in found.symptoms] == [symptom]
    assert found.sure


@pytest.mark.parametrize(
    ("report", "among"),
    [
        ("drawer stuck", "drawer-stuck-drier"),
        ("a gap", "not-home"),
        ("half-blind drawer is stuck", "drawer-stuck-damper"),
        ("gap when I dry fit it", "open-in-winter"),
        ("the lap isn't open at that one socket", "lap-gap-one-socket"),
        ("the joints don't open in winter", "open-in-winter"),
    ],
)
def test_what_is_in_doubt_is_listed_and_not_guessed(report: str, among: str) -> None:
    found = diagnose(report)
    assert not found.sure
    assert found.doubt
    assert among in [row.id for row in found.symptoms]
    assert len(found.symptoms) <= MOST_LISTED


def test_the_air_decides_between_the_two_stuck_drawers() -> None:
    assert air_change((60.0, 35.0)) == "drier"
    assert air_change((35.0, 60.0)) == "damper"
    assert air_change((50.0, 50.0)) == ""
    drier = diagnose("drawer stuck", air="drier")
    assert [row.id for row in drier.symptoms] == ["drawer-stuck-drier"]
    assert drier.symptoms[0].cause.startswith("not movement")
    assert drier.symptoms[0].asks
    assert [row.id for row in diagnose("drawer stuck", air="damper").symptoms] == ["drawer-stuck-damper"]
    # what the maker says of the air isn't believed against the humidity
    assert "drawer-stuck-damper" not in [row.id for row in diagnose("drawer stuck in summer", air="drier").symptoms]


def test_a_mirrored_back_is_recut() -> None:
    assert find_symptom("back-mirrored").level is Level.STOP
    assert [row.id for row in ROWS if row.level is Level.STOP] == ["back-mirrored"]


@pytest.mark.parametrize("report", ["", "   ", "xyzzy", "12 34", "x" * (MOST_LETTERS + 1)])
def test_nothing_known_is_told_in_one_line(report: str) -> None:
    with pytest.raises(LayoutError):
        diagnose(report)


def test_an_unknown_name_lists_the_known() -> None:
    with pytest.raises(LayoutError, match="twisted"):
        find_symptom("wobbly")


@given(report=st.text(max_size=80))
def test_any_text_is_answered_or_told(report: str) -> None:
    try:
        found = diagnose(report)
    except LayoutError:
        return
    assert found.symptoms
    assert found.sure is (found.doubt == "")
    assert not found.sure or len(found.symptoms) == 1


def test_the_growth_and_the_shrinkage_in_the_table_are_the_handbooks() -> None:
    # 100 mm of flat-sawn hard maple, 40 to 70 % relative humidity: Eq 4-5 and 13-2
    maple = size_change_share(
        find_wood("hard maple"), Direction.TANGENTIAL, from_mc_pct=emc_pct(40), to_mc_pct=emc_pct(70)
    )
    assert maple is not None
    assert 100 * maple == pytest.approx(1.9, abs=0.05)
    assert "grows 1.9 mm" in find_symptom("drawer-stuck-damper").next_time
    cherry = [
        size_change_share(find_wood("cherry"), one, from_mc_pct=emc_pct(65), to_mc_pct=emc_pct(25))
        for one in (Direction.RADIAL, Direction.TANGENTIAL)
    ]
    assert [round(-19 * share, 2) for share in cherry if share is not None] == [0.16, 0.31]
    assert "0.16 to 0.31 mm" in find_symptom("proud-in-winter").tell


LENGTH = re.compile(r"([\d.]+)(?: to ([\d.]+))? mm \((?:≈ )?([\d./]+)(?: to ([\d./]+))? in\)")


def test_lengths_in_the_table_say_the_same_in_mm_and_inches() -> None:
    pairs = [
        (mm, inches)
        for row in ROWS
        for text in (row.cause, row.tell, row.remedy, row.next_time)
        for low, high, low_in, high_in in LENGTH.findall(text)
        for mm, inches in ((low, low_in), (high, high_in))
        if mm
    ]
    assert len(pairs) >= 8
    for mm, inches in pairs:
        assert float(Fraction(inches)) * 25.4 == pytest.approx(float(mm), abs=0.06), (mm, inches)
