"""How a limit judges, and how findings are put together for a reader."""

from __future__ import annotations

import pytest

from dovelayout.checks.finding import Finding, Level, in_unit, merged, worst_level
from dovelayout.checks.rule import Measure, Rule
from dovelayout.place import Place
from dovelayout.units import Unit

LOW = Rule(check="low", measures="anything", unit="mm", warn=10.0, stop=5.0)
HIGH = Rule(check="high", measures="anything", unit="mm", note=1.0, warn=2.0, below=False)


def _finding(corner: str, pin: int = 1, message: str = "too thin", level: Level = Level.WARN) -> Finding:
    place = Place(kind="corner", name=corner, part="pin", number=pin)
    return Finding(check="low", level=level, place=place, message=message)


def test_the_share_of_a_limit_that_is_used() -> None:
    assert LOW.share_used(20.0) == 0.5
    assert LOW.share_used(10.0) == 1.0
    assert LOW.share_used(0.5) == 20.0
    assert LOW.share_used(0.0) == float("inf")
    assert LOW.share_used(-1.0) == float("inf")
    assert HIGH.share_used(1.0) == 0.5
    stop = Rule(check="stop", measures="anything", unit="mm", stop=4.0, below=False)
    assert stop.share_used(2.0) == 0.5
    assert Rule(check="note", measures="anything", unit="mm", note=8.0, below=False).share_used(2.0) == 0.25


@pytest.mark.parametrize(("value", "clean"), [(0.9, True), (1.5, True), (2.0, True), (2.1, False)])
def test_a_note_is_clean_and_a_warning_isnt(value: float, clean: bool) -> None:
    assert Measure(rule=HIGH, value=value).clean is clean


def test_the_last_bit_of_the_arithmetic_speaks_for_nothing() -> None:
    assert LOW.judge(10.0 - 1e-9) == (Level.OK, None)
    assert LOW.judge(10.0 - 1e-7) == (Level.WARN, 10.0)
    thousand = Rule(check="big", measures="anything", unit="mm", warn=1000.0, below=False)
    assert thousand.judge(1000.0 + 5e-7) == (Level.OK, None)
    assert thousand.judge(1000.0 + 5e-6) == (Level.WARN, 1000.0)


def test_the_same_said_of_several_corners_is_said_once_with_all_their_names() -> None:
    found = merged(
        [
            _finding("A", 1),
            _finding("A", 2, "too weak", Level.STOP),
            _finding("B", 1),
            _finding("C", 1, "thinner still"),
        ]
    )
    assert [(f.where, f.message) for f in found] == [
        ("corner A, pin 2", "too weak"),  # worst first
        ("corners A, B, pin 1", "too thin"),
        ("corner C, pin 1", "thinner still"),
    ]


def test_in_a_job_in_inches_every_length_is_said_in_both() -> None:
    finding = Finding(
        check="low",
        level=Level.WARN,
        place=Place(kind="rail", name="12 mm rail", part="slot at 25.4 mm"),
        message="25.4 mm deep",
        fix="a slot of 50.8 mm",
    )
    assert in_unit(finding, Unit.MM) is finding
    said = in_unit(finding, Unit.IN)
    assert said.where.startswith("rail 12 mm rail, ")  # a name is a name
    for text, inches in ((said.where, "1 in"), (said.message, "1 in"), (said.fix, "2 in")):
        assert f"mm ({inches})" in text


def test_what_cannot_be_checked_is_a_note() -> None:
    rule = Rule(check="low", measures="anything", source="ours")
    said = rule.not_checked(Place(kind="corner", name="A"), "nobody knows")
    assert (said.level, said.measures, said.message) == (Level.NOTE, "anything", "not checked, because nobody knows")
    assert worst_level([]) is Level.OK
    assert worst_level([_finding("a", level=Level.NOTE), _finding("b", level=Level.STOP)]) is Level.STOP
