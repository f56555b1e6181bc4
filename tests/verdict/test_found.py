"""What is compared of a job before a change and after it."""

from __future__ import annotations

import pytest

from dovelayout.checks.finding import Finding, Level
from dovelayout.place import Place
from dovelayout.verdict.found import Found

PIN, OTHER = (Place(kind="corner", name="A", part="pin", number=number) for number in (1, 2))


def finding(check: str = "pins", level: Level = Level.WARN, place: Place = PIN, measures: str = "load") -> Finding:
    return Finding(check=check, level=level, place=place, message="", measures=measures)


BEFORE = Found([finding(), finding("tails", Level.NOTE), finding("slope", Level.WARN), finding("lap", Level.STOP)])


@pytest.mark.parametrize(
    ("after", "new"),
    [
        ([], False),
        ([finding("tails", Level.NOTE)], False),
        ([finding("groove", Level.NOTE)], False),  # a note is no harm
        ([finding("tails", Level.WARN)], True),  # a note that becomes a warning is new
        ([finding("slope", Level.WARN)], False),  # as it was
        ([finding("slope", Level.STOP)], True),
        ([finding("lap", Level.WARN)], False),  # better than it was
        ([finding("slope", Level.WARN, OTHER)], True),  # at another place
        ([finding("slope", Level.WARN, measures="width")], False),  # another limit of the same check there
    ],
)
def test_a_warning_that_was_not_there_is_new(after: list[Finding], new: bool) -> None:
    assert bool(Found(after).new_since(BEFORE)) is new


@pytest.mark.parametrize(
    ("after", "cleared"),
    [
        ([], True),
        ([finding("slope")], True),
        ([finding(level=Level.NOTE)], False),  # still broken, if by less
        ([finding(place=OTHER)], False),  # the same rule elsewhere
        ([finding(measures="width", level=Level.NOTE)], False),  # another rule of the check may hide it
    ],
)
def test_a_finding_is_cleared_where_its_check_says_nothing_new(after: list[Finding], cleared: bool) -> None:
    assert (Found(after).remaining(finding(), BEFORE) == ()) is cleared


def test_what_a_check_said_elsewhere_before_may_stay() -> None:
    before = Found([finding(), finding(place=OTHER), finding(measures="width")])
    assert Found([finding(place=OTHER), finding(measures="width")]).remaining(finding(), before) == ()


def test_the_worst_of_a_place_comes_first_and_counts() -> None:
    found = Found([finding(level=Level.NOTE), finding(level=Level.STOP, measures="width")])
    assert [f.level for f in found.findings] == [Level.STOP, Level.NOTE]
    assert found.ranks == {("pins", PIN): Level.STOP.rank}
